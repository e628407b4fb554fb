package rule

import (
	"bytes"
	_ "embed"
	"fmt"
	"sync"
	"time"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// packedRules is rules.toml, packed.
//
//go:embed rules.gz
var packedRules []byte

type ruleFile struct {
	rules   []Rule
	sources map[string]glass.Source
}

// loadRules reads the embedded file once. A mistake in it is a mistake in the
// program, so it panics; TestRulesFile reads it first.
var loadRules = sync.OnceValue(func() ruleFile {
	text, err := strict.Unpack(packedRules)
	if err != nil {
		panic("anneal: " + err.Error())
	}
	f, err := parseRules([]byte(text))
	if err != nil {
		panic("anneal: " + err.Error())
	}
	return f
})

const (
	kindRows   = "rows"
	kindSoaks  = "soaks"
	kindStress = "stress"
)

// hold is a duration written with its unit.
type hold time.Duration

func (h *hold) UnmarshalText(text []byte) error {
	d, err := unit.ParseDuration(string(text))
	*h = hold(d)
	return err
}

// sourceText is one entry of the source list.
type sourceText struct {
	Cite string `toml:"cite"`
	Read string `toml:"read"`
}

// ruleText is a rule as rules.toml writes it.
type ruleText struct {
	Name            string      `toml:"name"`
	Title           string      `toml:"title"`
	Kind            string      `toml:"kind"`
	Families        []string    `toml:"families"`
	Smallest        unit.Length `toml:"smallest"`
	Largest         unit.Length `toml:"largest"`
	SoakAt          unit.Temp   `toml:"soak_at"`
	SoakAboveAnneal unit.Delta  `toml:"soak_above_anneal"`
	Final           unit.Temp   `toml:"final"`
	CountsFull      bool        `toml:"counts_full"`
	AsMeasured      []string    `toml:"structural_share_as_measured"`
	HoldPer         unit.Length `toml:"one_hour_per"`
	ThinUpTo        unit.Length `toml:"thin_up_to"`
	Faces           string      `toml:"faces"`
	Source          string      `toml:"source"`
	Status          string      `toml:"status"`
	Note            string      `toml:"note"`
	Support         string      `toml:"support"`
	Deviations      []string    `toml:"deviations"`
	Row             []rowText   `toml:"row"`
	Soak            []soakText  `toml:"soak"`
}

// rowText is one row of a table rule. The rows of one expansion group run from
// thin to thick.
type rowText struct {
	Expansion      float64      `toml:"expansion"`       // [1/K] of the group, 0 if there are no groups
	ExpansionRange []float64    `toml:"expansion_range"` // of the glasses that may use it
	Size           unit.Length  `toml:"size"`
	Soak           hold         `toml:"soak"`
	Rates          []unit.Rate  `toml:"rates"` // both faces cool
	OneFaceRates   []unit.Rate  `toml:"one_face_rates"`
	To             []unit.Temp  `toml:"to"`           // where the ranges end
	BelowStrain    []unit.Delta `toml:"below_strain"` // or so far below the strain point, the last one at final
	Heat           unit.Rate    `toml:"heat"`
	OneFaceHeat    unit.Rate    `toml:"one_face_heat"`
	Status         string       `toml:"status"`
}

// soakText is one hold of a soak chart, as a share of the hold at the annealing temperature.
type soakText struct {
	At        unit.Temp `toml:"at"`
	Share     float64   `toml:"share"`
	ThinShare float64   `toml:"thin_share"` // up to ThinUpTo, 0 if it is the same
}

func parseRules(text []byte) (ruleFile, error) {
	var doc struct {
		Source map[string]sourceText `toml:"source"`
		Rule   []ruleText            `toml:"rule"`
	}
	if _, err := strict.Decode(bytes.NewReader(text), "rules.toml", &doc); err != nil {
		return ruleFile{}, err
	}
	f := ruleFile{sources: map[string]glass.Source{}}
	for key, s := range doc.Source {
		f.sources[key] = glass.Source{Cite: s.Cite, Read: s.Read}
	}
	for i := range doc.Rule {
		t := &doc.Rule[i]
		src, ok := doc.Source[t.Source]
		if !ok {
			return ruleFile{}, fmt.Errorf("rule %s: source %q is not in the list", t.Name, t.Source)
		}
		if t.Status == "memory" && t.Support == "" {
			return ruleFile{}, fmt.Errorf("rule %s: is from memory, and nothing supports it", t.Name)
		}
		f.rules = append(f.rules, Rule{Name: t.Name, Title: t.Title, Families: t.Families,
			Smallest: t.Smallest, Largest: t.Largest, Faces: t.Faces, Source: t.Source, Cite: src.Cite,
			Status: t.Status, Note: t.Note, Support: t.Support, Deviations: t.Deviations, body: t})
	}
	return f, nil
}
