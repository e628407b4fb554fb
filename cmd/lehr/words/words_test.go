package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/seal"
	"lehr/anneal/spread"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

func loadOf(t interface{ Fatal(...any) }, names ...string) *piece.Load {
	l := &piece.Load{}
	for _, n := range names {
		p, err := piece.Parse("sphere 2in")
		if err != nil {
			t.Fatal(err)
		}
		if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
			t.Fatal(err)
		}
		p.What = n
		l.Pieces = append(l.Pieces, p)
	}
	return l
}

func TestPlace(t *testing.T) {
	for _, c := range []struct {
		inner verify.Inner
		depth float64
		want  string
	}{
		{verify.Center, 1, "surface"}, {verify.Center, 0, "center"}, {verify.Center, 0.5, "0.5 of the way from center to surface"},
		{verify.ClosedFace, 0, "closed face"}, {verify.Middle, 0.01, "middle"}, {verify.Bore, 0, "bore"}, {verify.Bore, 0.99, "surface"},
	} {
		if got := Place(verify.Place{Depth: c.depth, Inner: c.inner}); got != c.want {
			t.Errorf("%+v: %q, want %q", c, got, c.want)
		}
	}
}

// TestSay_namesComeOutAsTyped: a piece, a glass or a rule may be called anything,
// and is called that in both systems of units.
func TestSay_namesComeOutAsTyped(t *testing.T) {
	odd := rapid.SampledFrom([]string{"8mm", "rods-8mm", ": ", "560 °C", "a: b; c", "1 K", "20-300 °C", "3.5 MPa", "%s %d", "; "})
	rapid.Check(t, func(t *rapid.T) {
		name, other := odd.Draw(t, "name"), odd.Draw(t, "other")
		l := loadOf(t, name+" x", other+" y")
		fs := finding.List{
			finding.OfPiece(finding.SoakNeeded, 0).Lasting(time.Hour, 0),
			finding.OfPiece(finding.SoakBandHottest, 1).At(unit.Celsius(500)),
			finding.OfGlass(finding.SoakAtAnneal, name).At(unit.Celsius(560)),
			finding.OfGlass(finding.AnnealingPoint, other).At(unit.Celsius(560)).Apart(8),
			finding.OfPiece(finding.SoakCounted, 0).Lasting(0, time.Hour),
			finding.OfPiece(finding.SoakCounted, 1).Lasting(0, time.Hour),
		}
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			w := AboutLoad(l, sys)
			for i, want := range []string{name + " x", other + " y", name, "", name + " x", other + " y"} {
				if i < 3 && !strings.Contains(w.Say(fs[i]), want) {
					t.Errorf("%q does not name %q", w.Say(fs[i]), want)
				}
			}
			all := w.Assumed(fs[3:])
			if len(all) != 2 || !strings.HasPrefix(all[0], other+": annealing point ") {
				t.Fatalf("%q", all)
			}
			want := name + " x, " + other + " y: bears 1 h above"
			if name+" x" == other+" y" {
				want = name + " x: bears"
			}
			if !strings.HasPrefix(all[1], want) {
				t.Errorf("%q, want %q", all[1], want)
			}
		}
	})
}

// everyKind lists the kinds of finding that their source declares: blocks of
// constants that begin with iota and a number.
func everyKind(t *testing.T) (out []finding.Kind) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "../../../anneal/finding/kind.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Decls {
		block, ok := d.(*ast.GenDecl)
		if !ok || block.Tok != token.CONST {
			continue
		}
		first, err := strconv.Atoi(block.Specs[0].(*ast.ValueSpec).Values[0].(*ast.BinaryExpr).Y.(*ast.BasicLit).Value)
		if err != nil {
			t.Fatal(err)
		}
		for i := range block.Specs {
			out = append(out, finding.Kind(first+i))
		}
	}
	if !slices.Contains(out, finding.OverTension) || !slices.Contains(out, finding.ReadyForFlame) || len(out) < 150 {
		t.Fatalf("%d kinds", len(out))
	}
	return out
}

// TestSay_everyKind: no kind is without words.
func TestSay_everyKind(t *testing.T) {
	l := loadOf(t, "sphere 2in")
	w := AboutLoad(l, unit.US)
	for _, k := range everyKind(t) {
		if k == finding.ElectricityEstimated || k == finding.BodyOf || k == finding.Unkeyable || k == finding.FallMeasured {
			continue // these need the report, or are told by their error
		}
		f := finding.OfPiece(k, 0).Pulled(1e6, 2e6).At(unit.Celsius(500)).Against(unit.Celsius(400))
		text := w.Say(f)
		if text == k.String() || text == "" || strings.HasSuffix(text, ".") {
			t.Errorf("%v: %q", k, text)
		}
		if k == finding.OtherScale {
			continue // it asks which of two units was meant
		}
		if strings.Contains(text, "°C") || strings.Contains(text, "MPa") {
			t.Errorf("%v: %q mixes units", k, text)
		}
	}
}

// TestSay_form: who fills in a form is told of its fields, not of keys of files; what
// no form has may keep its file.
func TestSay_form(t *testing.T) {
	ofFiles := regexp.MustCompile(`[a-z]_[a-z]|\[[a-z]+\]|studio|= "`)
	w := AboutLoad(loadOf(t, "sphere 2in"), unit.US).For(func(key string) (string, bool) { return "the field of it", false })
	noField := []finding.Kind{finding.ElectricityUnknown, finding.ResidualLimitGiven, finding.KilnHighest, finding.StaysOn, finding.StaysOnAfter, finding.SwitchesOff}
	named := 0
	for _, k := range everyKind(t) {
		if k == finding.ElectricityEstimated || k == finding.BodyOf || k == finding.Unkeyable || k == finding.FallMeasured || slices.Contains(noField, k) {
			continue
		}
		f := finding.OfPiece(k, 0).Pulled(3e6, 2e6).At(unit.Celsius(500)).Against(unit.Celsius(400))
		f.Yes, f.Time, f.Own, f.OwnMost = true, time.Hour, 3e6, 2e6
		text := w.Say(f)
		if ofFiles.MatchString(text) {
			t.Errorf("%v: %q", k, text)
		}
		if strings.Contains(text, "the field of it") {
			named++
		}
	}
	if named < 10 {
		t.Errorf("%d findings name a field", named)
	}
}

// TestAssumed_merges: what is said of several stands behind all their names, and
// what differs in one number gives both ends.
func TestAssumed_merges(t *testing.T) {
	w := AboutLoad(loadOf(t, "a", "b", "c"), unit.Metric)
	bears := func(p int) finding.Finding { return finding.OfPiece(finding.SoakCounted, p).Lasting(0, time.Hour) }
	rule := func(x float64) finding.Finding {
		f := finding.Of(finding.SlowedRanges).Counting(x)
		f.Rule = "design-stress"
		return f
	}
	got := w.Assumed(finding.List{bears(0), bears(1), bears(2), rule(0.997), rule(0.984), finding.Of(finding.OneGlass), finding.Of(finding.OneGlass)})
	want := []string{
		"every piece: " + w.Say(bears(0)),
		"rule design-stress: slow ranges at 0.984 to 0.997 of the plain rate, since some of the stress still sets below the slow range",
		w.Say(finding.Of(finding.OneGlass)),
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// TestAssumed_namesakes: a piece of another glass that is called alike is not among
// every piece of which something is said.
func TestAssumed_namesakes(t *testing.T) {
	l := loadOf(t, "a", "b", "c", "a")
	var err error
	if l.Pieces[3].Glass, err = glass.Find("float"); err != nil {
		t.Fatal(err)
	}
	var fs finding.List
	for i, want := range []string{"a: ", "a, b: ", "a, b, c: ", "every piece: "} {
		fs.Add(finding.OfPiece(finding.SoakCounted, i).Lasting(0, time.Hour))
		if got := AboutLoad(l, unit.Metric).Assumed(fs); len(got) != 1 || !strings.HasPrefix(got[0], want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestLimits_oneSystem: what a limit rests on is named without its numbers where
// those of the print stand in other units than the report.
func TestLimits_oneSystem(t *testing.T) {
	metric := strings.Join(AboutLoad(loadOf(t, "a"), unit.Metric).Limits(), "\n")
	if !strings.Contains(metric, "7 N/mm² permitted") || !strings.Contains(metric, "3.50 MPa in average glass") {
		t.Errorf("%s", metric)
	}
	us := strings.Join(AboutLoad(loadOf(t, "a"), unit.US).Limits(), "\n")
	for _, foreign := range []string{"MPa", "N/mm", "°C", "nm/cm", "√m"} {
		if strings.Contains(us, foreign) {
			t.Errorf("in US units: %s in %s", foreign, us)
		}
	}
	if !strings.Contains(us, "508 psi in average glass") || !strings.Contains(us, "EN 1595") {
		t.Errorf("%s", us)
	}
}

// TestShares: what a worst case is made of is named in words, a question with the
// answer that was taken, and only the question where it is to be answered.
func TestShares(t *testing.T) {
	c := spread.Combined{Factor: 1.4, Parts: []spread.Part{{Of: spread.Light, Answer: "opaque", Share: 0.26, Costs: 0.2}, {Of: spread.LiquidExpansion, Share: 0.18, Costs: 0.1},
		{Of: spread.Structure, Answer: "fast", Share: 0.09}, {Of: spread.Young, Share: 0.03}, {Of: spread.StrainPoint, Share: 0.02}, {Of: spread.SpecificHeat, Share: 0.004}}}
	if got, want := Shares(c), "how clear the glass is: opaque +26 %, liquid expansion +18 %, pace of structural relaxation: fast +9 %, Young's modulus +3 %, strain point +2 %"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := dearest(c), "of it 14 % would go if how clear the glass is were known"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for _, u := range spread.Unknowns() {
		if strings.ContainsAny(Unknown(u), "_:") || Unknown(u) == "" {
			t.Errorf("%s: %q", u, Unknown(u))
		}
	}
}

// TestAssumed_ownRanges: the fixed points of which somebody gave a range are named,
// each once, whichever pieces are of that glass.
func TestAssumed_ownRanges(t *testing.T) {
	table, err := glass.Load(strings.NewReader("[[glass]]\nname = \"mine\"\nlike = \"borosilicate-33\"\nstrain_point = \"510 ± 8 °C\"\nsoftening_point = \"821 ± 20 °C\"\n"), "mine.toml")
	if err != nil {
		t.Fatal(err)
	}
	l := loadOf(t, "a", "b", "c")
	l.Pieces[1].Glass, l.Pieces[2].Glass = table.Glasses[0], table.Glasses[0]
	all := strings.Join(AboutLoad(l, unit.Metric).Assumed(finding.List{finding.Of(finding.WorstVariants)}), "\n")
	if !strings.Contains(all, "annealing point, strain point, softening point, liquid expansion") {
		t.Errorf("%s", all)
	}
}

// TestWarmUp: no reason of a warm-up is without words, and no two have the same.
func TestWarmUp(t *testing.T) {
	seen := map[string]bool{"": true}
	for why := seal.FreeWater; why <= seal.SizeSetsHolds; why++ {
		if text := WarmUp(why); seen[text] {
			t.Errorf("%d: %q", why, text)
		} else {
			seen[text] = true
		}
	}
}

// TestVerdict: every verdict has its three forms, none that of another, and what
// lies in a piece is judged in the same words.
func TestVerdict(t *testing.T) {
	seen := map[string]bool{"": true}
	for v := verify.WithinLimits; v <= verify.OverLimit; v++ {
		for _, text := range []string{Verdict(v), "cell " + VerdictCell(v), "head " + VerdictHead(v, false)} {
			if seen[text] || text == "cell " || text == "head " {
				t.Errorf("%v: %q", v, text)
			}
			seen[text] = true
		}
		if hot := VerdictHead(v, true); (hot != VerdictHead(v, false)) != (v == verify.NotJudged) {
			t.Errorf("%v, ends hot: %q", v, hot)
		}
	}
	for v, want := range map[seal.Verdict]string{seal.Within: "within limits", seal.NotJudged: "not judged to its end", seal.NotProven: "not proven for this glass", seal.Over: "over limit", 0: "over limit"} {
		if got := SealVerdict(v); got != want {
			t.Errorf("%v: %q", v, got)
		}
	}
}
