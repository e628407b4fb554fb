package spread

import (
	"math"
	"strings"
	"testing"
	"time"

	"lehr/glass"
	"lehr/glass/unit"
)

// TestLimits: the four, with what they may not go beyond and what they rest on.
func TestLimits(t *testing.T) {
	list := Limits()
	if len(list) != 4 {
		t.Fatalf("%d limits", len(list))
	}
	for _, l := range list {
		for _, p := range []Pair{l.Ordinary, l.Abused, l.Worked, l.Doubtful} {
			if !(0 < p.Expected && p.Expected < p.Worst && p.Worst <= 5*mpa) {
				t.Errorf("%s: %v", l.Key, p)
			}
			if p.Worst > l.Ordinary.Worst || p.Expected > l.Ordinary.Expected {
				t.Errorf("%s: a worn piece may bear more", l.Key)
			}
		}
		// Half while in the kiln; what is left is that of a piece that soaked.
		half := Pair{l.Ordinary.Expected / 2, l.Ordinary.Worst / 2}
		if strings.HasPrefix(l.Key, "left") {
			half = l.Ordinary
		}
		if l.Doubtful != half {
			t.Errorf("%s: unknown history may bear %v, want %v", l.Key, l.Doubtful, half)
		}
		if l.Reserve == "" || l.Name == "" {
			t.Errorf("%s has no words", l.Key)
		}
	}
	// Inside, no flaw runs at the worst case, dry, in any size: of spheres up
	// to 90 mm by the limit itself, above by its fall. Slabs count as spheres.
	inside := limit(t, "inside-hours")
	for _, d := range []float64{10, 25, 63.5, 90, 100, 150, 200, 400} {
		size := unit.Length(d) * unit.Millimeter
		if w, s := inside.At(Sphere(size, false), Ordinary).Worst, anyFlaw(size, toughDry); w > s {
			t.Errorf("sphere %g mm: worst case %v, a flaw runs at %v", d, w, s)
		}
		if w, s := inside.At(Sphere(size, true), Ordinary).Worst, anyFlawSlab(size, toughDry); w > s {
			t.Errorf("slab %g mm: worst case %v, a flaw runs at %v", d, w, s)
		}
	}
	// What is left bears two and a half times as much before any flaw runs.
	if s := anyFlaw(90*unit.Millimeter, toughDry); s < 2.5*limit(t, "left-inside").Ordinary.Worst {
		t.Errorf("a flaw runs at %v", s)
	}
	// At the surface the worst case is five sevenths of what is permitted for
	// good, and the weakest beam bears it for ten hours.
	if w := limit(t, "surface-hours").Ordinary.Worst; w > lasting(9.4*mpa, time.Minute, 10*time.Hour, 16) || w > 7*mpa {
		t.Errorf("worst case %v", w)
	}
	if w := limit(t, "surface-hours").At(300*unit.Millimeter, Worked); w != (Pair{2.5 * mpa, 3.5 * mpa}) {
		t.Errorf("worked: %v", w)
	}
	if w := limit(t, "left-inside").At(360*unit.Millimeter, Abused); w.Expected != 0.6*mpa || math.Abs(float64(w.Worst/mpa)-0.5) > 1e-12 {
		t.Errorf("abused, four times 90 mm: %v", w)
	}
}

// TestLimits_memoryIsNeverAlone: for every glass of the table each limit stands
// on a text that was read, or on one that such a text quotes, and for soft
// glass on one that is about soft glass.
func TestLimits_memoryIsNeverAlone(t *testing.T) {
	for _, g := range glass.Builtin() {
		for _, l := range Limits() {
			read, own := 0, 0
			for _, s := range l.For(g) {
				if s.Text == "" || s.Status == "" || s.Of != AnyGlass && s.Of != kindOf(g) {
					t.Errorf("%s, %s: support %+v", g.Name, l.Key, s)
				}
				if s.Status == glass.Verified || s.Status == glass.Corroborated || s.Status == glass.Quoted {
					read++
					if s.Of == kindOf(g) {
						own++
					}
				}
				if s.Status == glass.Memory {
					t.Errorf("%s, %s: %q is from memory", g.Name, l.Key, s.Text)
				}
			}
			if read == 0 || own == 0 {
				t.Errorf("%s, %s: rests on %d texts, %d on such glass", g.Name, l.Key, read, own)
			}
		}
	}
	for name, want := range map[string]Kind{"borosilicate-33": Hard, "neutral-50": Hard, "float": Soft, "soda-104": Soft, "lead-crystal": Soft, "bk7": Soft, "fused-silica": Hard} {
		if got := kindOf(mustGlass(t, name)); got != want {
			t.Errorf("%s: kind %v", name, got)
		}
	}
	if limit(t, "left-inside").For(mustGlass(t, "float"))[0] != float || limit(t, "left-inside").For(mustGlass(t, "borosilicate-33"))[0] != permanent {
		t.Error("a limit does not name the text of its glass first")
	}
}

func mustGlass(t testing.TB, name string) *glass.Glass {
	t.Helper()
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestJudge(t *testing.T) {
	p := Pair{1 * mpa, 2 * mpa}
	nan := unit.Stress(math.NaN())
	for _, row := range []struct {
		expected, worst unit.Stress
		want            Verdict
	}{{0.5, 0.9, Within}, {1, 2, Within}, {1, 2.1, NotProven}, {1.1, 1.2, TooMuch}, {1.1, 3, TooMuch}, {nan / mpa, 1, TooMuch}, {0.5, nan / mpa, TooMuch}, {-1, -0.5, Within}} {
		if got := p.Judge(row.expected*mpa, row.worst*mpa); got != row.want {
			t.Errorf("%v, %v: %v, want %v", row.expected, row.worst, got, row.want)
		}
	}
	if u := p.Use(0.5*mpa, 1.5*mpa); u != 0.75 {
		t.Errorf("used up %g", u)
	}
}
