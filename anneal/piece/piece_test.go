package piece

import (
	"errors"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"lehr/anneal/formula"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// pieceOf is a piece of a test, in the grammar and the glass named.
func pieceOf(t testing.TB, text, name string) Piece {
	t.Helper()
	p, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find(name); err != nil {
		t.Fatal(err)
	}
	return p
}

func near(got, want unit.Length) bool {
	return scalar.EqualWithinAbs(float64(got), float64(want), 1e-9)
}

func TestParsePiece(t *testing.T) {
	const mm, in = unit.Millimeter, unit.Inch
	for _, c := range []struct {
		text         string
		what         string
		count        int
		shape        Shape
		size, across unit.Length
		wall         unit.Length
		resting      Resting
		open         bool
	}{
		{"sphere 2.5in", "sphere 2.5in", 1, SphereShape, 2.5 * in, 0, 0, OnShelf, false},
		{"6 x sphere 2.5in", "sphere 2.5in", 6, SphereShape, 2.5 * in, 0, 0, OnShelf, false},
		{"6 × sphere 64mm", "sphere 64mm", 6, SphereShape, 64 * mm, 0, 0, OnShelf, false},
		{"6X sphere 64 mm", "sphere 64 mm", 6, SphereShape, 64 * mm, 0, 0, OnShelf, false},
		{"6×sphere 6.4cm", "sphere 6.4cm", 6, SphereShape, 64 * mm, 0, 0, OnShelf, false},
		{"14 spheres 1 1/4 in", "spheres 1 1/4 in", 14, SphereShape, 1.25 * in, 0, 0, OnShelf, false},
		{"14 of marble 1¼ in", "marble 1¼ in", 14, SphereShape, 1.25 * in, 0, 0, OnShelf, false},
		{`3 * ball 2½"`, `ball 2½"`, 3, SphereShape, 2.5 * in, 0, 0, OnShelf, false},
		{"  SPHERE   2IN  ", "SPHERE 2IN", 1, SphereShape, 2 * in, 0, 0, OnShelf, false},
		{"sphere 2in raised", "sphere 2in raised", 1, SphereShape, 2 * in, 0, 0, Raised, false},
		{"sphere 2in Bedded", "sphere 2in Bedded", 1, SphereShape, 2 * in, 0, 0, Bedded, false},
		{"sphere 2in shelf", "sphere 2in shelf", 1, SphereShape, 2 * in, 0, 0, OnShelf, false},
		{"rod 10mm x 200mm", "rod 10mm x 200mm", 1, RodShape, 10 * mm, 200 * mm, 0, OnShelf, false},
		{"rod 10mm", "rod 10mm", 1, RodShape, 10 * mm, 0, 0, OnShelf, false},
		{"cylinder 1/2 in by 4in", "cylinder 1/2 in by 4in", 1, RodShape, 0.5 * in, 4 * in, 0, OnShelf, false},
		{"disc 75mm x 25mm", "disc 75mm x 25mm", 1, DiscShape, 25 * mm, 75 * mm, 0, OnShelf, false},
		{"disk 75mmx25mm raised", "disk 75mmx25mm raised", 1, DiscShape, 25 * mm, 75 * mm, 0, Raised, false},
		{"slab 200mm x 150mm x 20mm", "slab 200mm x 150mm x 20mm", 1, SlabShape, 20 * mm, 200 * mm, 0, OnShelf, false},
		{"block 20mm", "block 20mm", 1, SlabShape, 20 * mm, 0, 0, OnShelf, false},
		{"tube 38mm wall 4mm", "tube 38mm wall 4mm", 1, TubeShape, 38 * mm, 0, 4 * mm, OnShelf, false},
		{"tube 38mm x 200mm wall 4mm open", "tube 38mm x 200mm wall 4mm open", 1, TubeShape, 38 * mm, 200 * mm, 4 * mm, OnShelf, true},
		{"tube 38mm wall 4mm x 200mm raised open-ended", "tube 38mm wall 4mm x 200mm raised open-ended", 1, TubeShape, 38 * mm, 200 * mm, 4 * mm, Raised, true},
		{"tube 38mm wall 4mm closed", "tube 38mm wall 4mm closed", 1, TubeShape, 38 * mm, 0, 4 * mm, OnShelf, false},
		{"dome 3in x 1 3/4in", "dome 3in x 1 3/4in", 1, DomeShape, 1.75 * in, 3 * in, 0, OnShelf, false},
		{"paperweight 80mm", "paperweight 80mm", 1, DomeShape, 40 * mm, 80 * mm, 0, OnShelf, false},
		{"pendant 45mm x 12mm", "pendant 45mm x 12mm", 1, PendantShape, 12 * mm, 45 * mm, 0, OnShelf, false},
		{"pendant 45mm x 30mm x 12mm", "pendant 45mm x 30mm x 12mm", 1, PendantShape, 12 * mm, 45 * mm, 0, OnShelf, false},
		{"sphere 2”", "sphere 2”", 1, SphereShape, 2 * in, 0, 0, OnShelf, false},
		{"2 x lens 1 in x 1/2 in", "lens 1 in x 1/2 in", 2, PendantShape, 0.5 * in, 1 * in, 0, OnShelf, false},
		{"sphere 1mm", "sphere 1mm", 1, SphereShape, 1 * mm, 0, 0, OnShelf, false},
		{"10000 x sphere 300mm", "sphere 300mm", 10000, SphereShape, 300 * mm, 0, 0, OnShelf, false},
	} {
		p, err := Parse(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if p.What != c.what || p.Count != c.count || p.Shape != c.shape || !near(p.Size, c.size) || !near(p.Across, c.across) ||
			!near(p.Wall, c.wall) || p.Resting != c.resting || p.OpenEnded != c.open {
			t.Errorf("%q: %+v, want %+v", c.text, p, c)
		}
	}
}

// TestParsePiece_refusals checks the words a person reads and the one thing
// they are told to do.
func TestParsePiece_refusals(t *testing.T) {
	const all = `write "6 x sphere 2.5in", "rod 10mm x 200mm", "disc 75mm x 25mm" or "tube 38mm wall 4mm"`
	const shapes = "shapes are sphere, rod, disc, slab, tube, dome, pendant"
	for _, c := range []struct{ text, want, hint string }{
		{"", `piece "": is empty`, all},
		{"   ", `piece "   ": is empty`, all},
		{strings.Repeat("sphere ", 40) + "2in", "is longer than 200 characters", all},
		{"sphere", `piece "sphere": has no size`, `write "sphere 2.5in"`},
		{"sphere 64", `piece "sphere 64": size 64: has no unit`, `write "64 mm" or "64 in"`},
		{"rod 10mm x 200", `size 200: has no unit`, `write "200 mm" or "200 in"`},
		{"tube 38mm wall 4", `piece "tube 38mm wall 4": wall 4: has no unit`, `write "4 mm" or "4 in"`},
		{"sphere 0mm", "size 0 mm: must be from 1 mm to 300 mm", "no other size is computed; look at the number and its unit"},
		{"sphere 1µm", "size 0.001 mm: must be from 1 mm to 300 mm", "no other size is computed; look at the number and its unit"},
		{"sphere 12in", "size 12 in: must be from 0.04 in to 11.8 in", "no other size is computed; look at the number and its unit"},
		{"sphere 5m", "size 5000 mm: must be from 1 mm to 300 mm", "no other size is computed; look at the number and its unit"},
		{"rod 10mm x 9m", "size 9000 mm: must be from 1 mm to 2000 mm", "no other size is computed; look at the number and its unit"},
		{"sphere -3in", "size -3in: is negative", `write "3 mm" or "3 in"`},
		{"sphere 2,5in", "has a comma; decimals are marked by a point", `write "2.5 in"`},
		{"sphere 1/0 in", "size 1/0 in:", ""},
		{"sphere NaN mm", "is not a finite number", ""},
		{"sphere Inf mm", "is not a finite number", ""},
		{"sphere 1e999mm", "is too large a number", ""},
		{"sphere ½", "has no unit", ""},
		{"sphere 2 parsec", "is not one of length", ""},
		{"sphere 2in floating", `does not know the word "floating"`, ""},
		{"sphere 2in 3in", "goes on after the unit", ""},
		{"sphere 2in x 3in", "sphere: 2 sizes given, takes 1", `write "sphere 2.5in"`},
		{"rod 1in x 2in x 3in", "rod: 3 sizes given, takes 1 to 2", ""},
		{"disc 75mm", "disc: 1 sizes given, takes 2", `write "disc 75mm x 25mm"`},
		{"disc 25mm x 75mm", "disc 25 mm across and 75 mm high: give the width first; a tall one is a rod", `write "disc 75mm x 25mm"`},
		{"sphre 3in", `no shape "sphre"`, "did you mean sphere? " + shapes},
		{"blob 3in", `no shape "blob"`, shapes},
		{"3in sphere", `piece "3in sphere": does not begin with a shape`, `the shape comes first: "sphere 3in"`},
		{`2" sphere`, `does not begin with a shape`, `the shape comes first: "sphere 2 in"`},
		{"2.5 in spheres raised", "does not begin with a shape", `the shape comes first: "spheres 2.5 in raised"`},
		{"6 x 3in x 1in disc", "does not begin with a shape", `the shape comes first: "6 x disc 3in x 1in"`},
		{"3in blob", `no shape "in"`, `write the shape first, then its size: "sphere 2.5in"`},
		{"sphere 2in x 6", "the count stands last", `the count comes first: "6 x sphere 2in"`},
		{"sphere 2 1/2in x2", "the count stands last", `the count comes first: "2 x sphere 2 1/2in"`},
		{"disc 3in x 1in raised x 4", "the count stands last", `the count comes first: "4 x disc 3in x 1in raised"`},
		{"sphere 2in x 0", "size 0: has no unit", ""},
		{"“sphere 2in”", "has curly quotes in it", ""},
		{"sphere 2in”", "has curly quotes in it", ""},
		{"pendant 2in", "one size given; a pendant takes its width and its greatest thickness", `write "pendant 2in x THICKNESS", the thickness last`},
		{"bead 12mm", `no shape "bead"`, "a bead counts as a sphere of its diameter, or as a tube of its diameter and wall"},
		{"Cabochons 1in x 10mm", `no shape "Cabochons"`, "a cabochon counts as a dome: dome WIDTH x HEIGHT; one of stone that is warmed says of what: cabochon 10mm x 4mm of opal"},
		{"vase 3in", `no shape "vase"`, "a vase counts as a tube of its diameter and thickest wall, open if air reaches inside: tube 3in wall 1/4in open"},
		{"💎 2in", "does not begin with a shape", all},
		{"\x00\x1b[31m 2in", "does not begin with a shape", all},
		{"sphere 2in\u202egnp", "is not one of length", ""},
		{"sphère 2in", `no shape "sphère"`, "did you mean sphere? " + shapes},
		{"0 x sphere 2in", "count 0: must be from 1 to 10000", all},
		{"-4 x sphere 2in", "count -4: must be from 1 to 10000", all},
		{"10001 x sphere 2in", "count 10001: must be from 1 to 10000", all},
		{"99999999999 x sphere 2in", "does not begin with a shape", all},
		{"tube 38mm wall 4mm open closed", "is open and closed", "say one of the two"},
		{"sphere 2in raised bedded", "is raised and bedded", "say one of the two"},
		{"tube 38mm", "tube without a wall thickness", `write "tube 38mm wall 4mm"`},
		{"tube 38mm wall 19mm", "wall 19 mm: must be less than half the diameter 38 mm; a solid one is a rod", ""},
		{"tube 38mm wall 0.1mm", "wall 0.1 mm: must be from 0.5 mm to 300 mm", ""},
		{"rod 38mm wall 4mm", "only a tube or a hollow sphere has a wall", ""},
		{"sphere 38mm wall 19mm", "wall 19 mm: must be less than half the diameter 38 mm; a solid one has no wall", ""},
		{"sphere 38mm wall 4mm open", "only a tube has an open end", ""},
		{"rod 10mm open", "only a tube has an open end", ""},
	} {
		p, err := Parse(c.text)
		if err == nil {
			t.Errorf("%q: accepted as %+v", c.text, p)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %s, want %q", c.text, err, c.want)
		}
		var h interface{ Hint() string }
		if !errors.As(err, &h) || h.Hint() == "" || c.hint != "" && h.Hint() != c.hint {
			t.Errorf("%q: hint %v, want %q", c.text, h, c.hint)
		}
		if strings.ContainsAny(err.Error(), "\x00\x1b\n") || strings.HasSuffix(err.Error(), ".") {
			t.Errorf("%q: message %q", c.text, err)
		}
	}
}

// TestParsePiece_whatReadsBack checks that a report's name for a piece, given
// again, is the same piece.
func TestParsePiece_whatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawPiece(t)
		p, err := Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		q, err := Parse(p.What)
		if err != nil {
			t.Fatalf("%q, named %q: %v", text, p.What, err)
		}
		q.Count = p.Count
		if !reflect.DeepEqual(p, q) {
			t.Fatalf("%q: %+v, read back %+v", text, p, q)
		}
	})
}

// drawPiece draws a piece that is accepted, in its grammar.
func drawPiece(t *rapid.T) string {
	length := func(name string, low, high int) string {
		mm := rapid.IntRange(low, high).Draw(t, name)
		if rapid.Bool().Draw(t, name+" in inches") {
			return (unit.Length(mm) * unit.Millimeter).Text(unit.US)
		}
		return (unit.Length(mm) * unit.Millimeter).String()
	}
	var text string
	switch shape := rapid.SampledFrom([]Shape{SphereShape, RodShape, DiscShape, SlabShape, TubeShape, DomeShape, PendantShape}).Draw(t, "shape"); shape {
	case SphereShape:
		text = "sphere " + length("diameter", 5, 150)
	case RodShape:
		text = "rod " + length("diameter", 5, 60)
	case TubeShape:
		text = "tube " + length("diameter", 30, 90) + " wall " + length("wall", 2, 12)
	case SlabShape:
		text = "slab 200 mm x " + length("height", 5, 60)
	default:
		text = string(shape) + " " + length("across", 61, 120) + " x " + length("height", 5, 60)
	}
	if n := rapid.IntRange(1, 30).Draw(t, "count"); n > 1 {
		text = strconv.Itoa(n) + " x " + text
	}
	return text + rapid.SampledFrom([]string{"", " raised", " bedded", " shelf"}).Draw(t, "resting")
}

// TestBody compares every shape with the table of the design: the form that is
// simulated, its size, and the factors of the finite-element study.
func TestBody(t *testing.T) {
	const mm = 1e-3
	for _, c := range []struct {
		text          string
		form          sim.Form
		outer, inner  float64
		oneFace, held bool
		tension, left float64
		rule          formula.Form
		size          unit.Length
	}{
		// Spheres and rods: even, a shaded cap of 45°, the bound of a cap to the equator.
		{"sphere 50mm raised", sim.Sphere, 25 * mm, 0, false, false, 1, 1, formula.FormSphere, 50 * unit.Millimeter},
		{"sphere 50mm", sim.Sphere, 25 * mm, 0, false, false, 1.5, 1.1, formula.FormSphere, 50 * unit.Millimeter},
		{"sphere 50mm bedded", sim.Sphere, 25 * mm, 0, false, false, 2.8, 1.1, formula.FormSphere, 50 * unit.Millimeter},
		{"rod 10mm x 200mm raised", sim.Cylinder, 5 * mm, 0, false, false, 1, 1, formula.FormCylinder, 10 * unit.Millimeter},
		{"rod 10mm x 200mm", sim.Cylinder, 5 * mm, 0, false, false, 1.5, 1.1, formula.FormCylinder, 10 * unit.Millimeter},
		// Flat ones, also on a shelf: the slab of their thickness cooled from both
		// faces; the factors only begin the search, the outline decides.
		{"disc 75mm x 25mm", sim.Slab, 12.5 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 25 * unit.Millimeter},
		{"disc 75mm x 25mm bedded", sim.Slab, 12.5 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 25 * unit.Millimeter},
		{"slab 200mm x 20mm", sim.Slab, 10 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 20 * unit.Millimeter},
		{"dome 75mm x 45mm", sim.Sphere, 45 * mm, 0, false, false, 1.25, 1, formula.FormSphere, 90 * unit.Millimeter},
		{"rod 10mm textbook", sim.Cylinder, 5 * mm, 0, false, false, 1, 1, formula.FormCylinder, 10 * unit.Millimeter},
		{"slab 25mm textbook", sim.Slab, 12.5 * mm, 0, false, false, 1, 1, formula.FormSlab, 25 * unit.Millimeter},
		{"disc 75mm x 25mm raised", sim.Slab, 12.5 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 25 * unit.Millimeter},
		{"slab 200mm x 20mm raised", sim.Slab, 10 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 20 * unit.Millimeter},
		{"dome 75mm x 45mm raised", sim.Slab, 22.5 * mm, 0, false, false, 1.1, 1.1, formula.FormSlab, 45 * unit.Millimeter},
		{"pendant 45mm x 12mm raised", sim.Slab, 6 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 12 * unit.Millimeter},
		{"pendant 45mm x 12mm", sim.Slab, 6 * mm, 0, false, false, 1.6, 1.55, formula.FormSlab, 12 * unit.Millimeter},
		// A tube is the slab of its wall to the rules; closed inside unless open.
		{"tube 38mm wall 4mm", sim.Cylinder, 19 * mm, 15 * mm, false, false, 1.5, 1.1, formula.FormSlab, 4 * unit.Millimeter},
		{"tube 38mm wall 4mm open raised", sim.Cylinder, 19 * mm, 15 * mm, false, false, 1, 1, formula.FormSlab, 4 * unit.Millimeter},
	} {
		p := pieceOf(t, c.text, "borosilicate-33")
		b := p.Body()
		eq := func(a, b float64) bool { return scalar.EqualWithinAbs(a, b, 1e-9) }
		if b.Sim.Form != c.form || !eq(b.Sim.Outer, c.outer) || !eq(b.Sim.Inner, c.inner) || b.Sim.OneFace != c.oneFace || b.Sim.Held != c.held {
			t.Errorf("%s: simulated as %+v", c.text, b.Sim)
		}
		if !eq(b.TensionFactor, c.tension) || !eq(b.ResidualFactor, c.left) || b.Form != c.rule || !near(b.Size, c.size) {
			t.Errorf("%s: factors %.3g and %.3g, %s of %s", c.text, b.TensionFactor, b.ResidualFactor, b.Form, b.Size)
		}
		if open := strings.Contains(c.text, "open"); p.Shape == TubeShape && (b.OneFace == open || b.Sim.InnerOpen != open) {
			t.Errorf("%s: one face %v, bore open %v", c.text, b.OneFace, b.Sim.InnerOpen)
		}
	}
}

func FuzzPiece(f *testing.F) {
	for _, s := range []string{"6 x sphere 2.5in", "rod 10mm x 200mm", "tube 38mm wall 4mm open", "disc 75mm x 25mm raised", "3 domes 2½\"", "lens 1' 2\" x 1/8 in", "sphere 1e-3 m", "x x x", "sphere ∞mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Parse(text)
		if err != nil {
			if s := err.Error(); s == "" || len([]rune(s)) > 600 {
				t.Fatalf("%q: message of %d bytes", text, len(s))
			}
			return
		}
		for name, l := range map[string]unit.Length{"size": p.Size, "across": p.Across, "wall": p.Wall} {
			if x := float64(l); math.IsNaN(x) || math.IsInf(x, 0) || x < 0 || name == "size" && x <= 0 {
				t.Fatalf("%q: %s %v", text, name, x)
			}
		}
		if p.Count < 1 || p.Count > MostPieces || p.Size < SmallestPiece || p.Size > LargestPiece || p.Across > LongestPiece || p.Shape == "" || p.Resting == "" {
			t.Fatalf("%q: %+v", text, p)
		}
		b := p.Body()
		if !(b.Sim.Outer > 0) || b.Sim.Inner < 0 || b.Sim.Inner >= b.Sim.Outer || !(b.TensionFactor >= 1) || !(b.ResidualFactor >= 1) {
			t.Fatalf("%q: body %+v", text, b)
		}
		q, err := Parse(p.What)
		if err != nil {
			t.Fatalf("%q is named %q, which is refused: %v", text, p.What, err)
		}
		if q.Count = p.Count; !reflect.DeepEqual(q, p) {
			t.Fatalf("%q is named %q, which is another piece:\n%+v\n%+v", text, p.What, p, q)
		}
	})
}

// TestParse_countOfStones: a count is decimal, whatever it begins with.
func TestParse_countOfStones(t *testing.T) {
	for text, want := range map[string]int{"stone 10mm of opal": 1, "3 x stone 10mm of opal": 3, "010 x stone 10mm of opal": 10, "08 x stone 10mm of opal": 8, "0 x stone 10mm of opal": 0, "-2 x stone 10mm of opal": 0} {
		p, err := Parse(text)
		if (err == nil) != (want > 0) || err == nil && p.Count != want {
			t.Errorf("%q: %d pieces, %v", text, p.Count, err)
		}
	}
}
