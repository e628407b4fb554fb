package contents

import (
	"bytes"
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"sync"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// packedMaterials is materials.toml, packed.
//
//go:embed materials.gz
var packedMaterials []byte

// Kind is what sort of thing a material is.
type Kind string

// The kinds of material.
const (
	Glass Kind = "glass" // of the glass table
	Color Kind = "color" // a glass of the family of the clear one, by its expansion
	Stone Kind = "stone"
	Metal Kind = "metal"
)

// Value is a number with the ends of its range, which are the number itself
// where no range is known.
type Value struct {
	Number, Low, High float64 // SI
	Text              string  // as the table writes it, or as typed
	Source            string  // key of [Sources], or ""
	Status            glass.Status
	Note              string
}

// Known reports whether there is a number.
func (v Value) Known() bool { return v.Text != "" }

// Material is what may meet the clear glass of a piece.
type Material struct {
	Name, Title string
	Kind        Kind
	Glass       *glass.Glass // of a glass, and of a color that is taken to flow like it
	Expansion   Value        // [1/K]
	Young       Value        // [Pa]
	Poisson     Value
	Melting     Value // [K], of a metal
	Hydrated    bool  // holds water that must go before glass closes over it
	// StopsLight says that it absorbs, scatters or reflects the heat that clear
	// glass passes as light.
	StopsLight bool
	// Unstated says that nobody stated the expansion of this color: it is that of
	// the clear glass around it, give or take what its Expansion says.
	Unstated bool
	// Density [kg/m³], Conductivity [W/m/K] and Heat [J/kg/K] of a stone.
	Density, Conductivity, Heat Value
	// Diffusivity is how fast heat spreads in it [m²/s], 0 if not known.
	Diffusivity float64
}

// IsGlass reports whether it is glass, clear or a color.
func (m Material) IsGlass() bool { return m.Kind == Glass || m.Kind == Color }

// valueText is a value as the table writes it.
type valueText struct {
	Value  string       `toml:"value"`
	Low    string       `toml:"low"`
	High   string       `toml:"high"`
	Source string       `toml:"source"`
	Status glass.Status `toml:"status"`
	Note   string       `toml:"note"`
}

type materialText struct {
	Name         string    `toml:"name"`
	Title        string    `toml:"title"`
	Kind         Kind      `toml:"kind"`
	Words        []string  `toml:"words"`
	Family       []string  `toml:"family"`
	Hydrated     bool      `toml:"hydrated"`
	Stops        []string  `toml:"stops_light"`
	Expansion    valueText `toml:"expansion"`
	Young        valueText `toml:"young_modulus"`
	Poisson      valueText `toml:"poisson"`
	Melting      valueText `toml:"melting"`
	Density      valueText `toml:"density"`
	Conductivity valueText `toml:"conductivity"`
	Heat         valueText `toml:"specific_heat"`
	Apart        valueText `toml:"apart"`

	material Material
	apart    Value
}

// stops reports whether the material stops light under the word it was asked for.
func (m *materialText) stops(word string) bool { return slices.Contains(m.Stops, word) }

// forGlass is a value that holds for some glasses; no names, for all others.
type forGlass struct {
	Glass   []string  `toml:"glass"`
	Factor  valueText `toml:"factor"`
	Tension valueText `toml:"tension"`
	value   Value
}

type table struct {
	Material    []*materialText         `toml:"material"`
	OverTheFall []*forGlass             `toml:"over_the_fall"`
	Limit       []*forGlass             `toml:"limit"`
	Caution     []Caution               `toml:"caution"`
	Source      map[string]glass.Source `toml:"source"`
}

// loadTable reads the embedded table once. A mistake in it is one in the program, so
// it panics; the tests read it first.
var loadTable = sync.OnceValue(func() *table {
	text, err := strict.Unpack(packedMaterials)
	if err != nil {
		panic("contents: " + err.Error())
	}
	t, err := parseTable([]byte(text))
	if err != nil {
		panic("contents: " + err.Error())
	}
	return t
})

// Sources returns the sources of materials and formulas by key. It is shared:
// do not change it.
func Sources() map[string]glass.Source { return loadTable().Source }

// parseTable reads the table of materials.
func parseTable(text []byte) (*table, error) {
	t := &table{}
	if _, err := strict.Decode(bytes.NewReader(text), "materials.toml", t); err != nil {
		return nil, err
	}
	for _, m := range t.Material {
		if err := m.read(t); err != nil {
			return nil, err
		}
	}
	for _, f := range slices.Concat(t.OverTheFall, t.Limit) {
		key, text := "factor", f.Factor
		if text.Value == "" {
			key, text = "tension", f.Tension
		}
		var err error
		if f.value, err = t.read(key, key, text); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// read makes the material of its texts.
func (m *materialText) read(t *table) (err error) {
	var rho, k, c Value
	m.material = Material{Name: m.Name, Title: m.Title, Kind: m.Kind, Hydrated: m.Hydrated, StopsLight: m.Kind == Metal || m.stops(m.Name)}
	for _, p := range []struct {
		key  string
		text valueText
		into *Value
	}{{"expansion", m.Expansion, &m.material.Expansion}, {"young_modulus", m.Young, &m.material.Young}, {"poisson", m.Poisson, &m.material.Poisson},
		{"melting", m.Melting, &m.material.Melting}, {"density", m.Density, &rho}, {"conductivity", m.Conductivity, &k}, {"specific_heat", m.Heat, &c},
		{"expansion", m.Apart, &m.apart}} {
		if *p.into, err = t.read(m.Name, p.key, p.text); err != nil {
			return err
		}
	}
	if c.Known() {
		m.material.Density, m.material.Conductivity, m.material.Heat = rho, k, c
		m.material.Diffusivity = k.Number / (rho.Number * c.Number)
	}
	return nil
}

// read reads a value with its range. What is not stated is the zero value.
func (t *table) read(where, key string, v valueText) (out Value, err error) {
	if v.Value == "" {
		return out, nil
	}
	if _, known := t.Source[v.Source]; v.Source != "" && !known {
		return out, fmt.Errorf("%s: %s: source %q is not in the list", where, key, v.Source)
	}
	if v.Status == "" {
		return out, fmt.Errorf("%s: %s: has no status", where, key)
	}
	out = Value{Text: v.Value, Source: v.Source, Status: v.Status, Note: v.Note}
	for _, part := range []struct {
		text string
		into *float64
	}{{v.Value, &out.Number}, {v.Low, &out.Low}, {v.High, &out.High}} {
		if *part.into = out.Number; part.text != "" {
			if *part.into, err = number(key, part.text); err != nil {
				return out, fmt.Errorf("%s: %s: %w", where, key, err)
			}
		}
	}
	if !(out.Low <= out.Number && out.Number <= out.High) {
		return out, fmt.Errorf("%s: %s %s: must lie between low and high", where, key, v.Value)
	}
	return out, nil
}

// number reads a number of a key in its unit.
func number(key, text string) (float64, error) {
	switch key {
	case "melting":
		t, err := unit.ParseTemp(text)
		return t.Kelvin(), err
	case "tension":
		s, err := unit.ParseStress(text)
		return float64(s), err
	case "factor":
		return strconv.ParseFloat(text, 64)
	}
	x, _, err := glass.ParseProperty(key, text)
	return x, err
}

// holds returns the value for a glass: that of its name, of the glass it is
// like, or of all others.
func holds(list []*forGlass, g *glass.Glass) Value {
	for _, name := range []string{g.Name, g.Like} {
		for _, f := range list {
			if name != "" && slices.Contains(f.Glass, name) {
				return f.value
			}
		}
	}
	return list[len(list)-1].value
}

// OverTheFall returns how much more a glass shrinks for each kelvin, from where
// it sets down to the room, than its mean expansion from 20 to 300 °C says.
func OverTheFall(g *glass.Glass) Value { return holds(loadTable().OverTheFall, g) }

// SurfaceLimit returns the tension that the outer surface of a glass may carry
// for years, touched and in moist air. Where its status is not verified no one
// stated it for this glass.
func SurfaceLimit(g *glass.Glass) Value { return holds(loadTable().Limit, g) }

// Materials returns the stones, metals and colors that have a name here, in the
// order of the table.
func Materials() []Material {
	var list []Material
	for _, m := range loadTable().Material {
		list = append(list, m.material)
	}
	return list
}
