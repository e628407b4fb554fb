package seal

import (
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Dimming is what becomes of the light that clear glass passes inside a piece.
type Dimming int

// The three kinds of it, the darkest last.
const (
	AsClear  Dimming = iota // nothing in it stops much of the light
	AsDark                  // no darker than glass that absorbs it within millimeters
	AsOpaque                // what lies behind conducts alone
)

// Dims returns how what lies in a body changes the heat that it passes as
// light, and the material that decides it, "" for none.
//
// A mirror (metal) up to a quarter of the way from the middle, or a black core up
// to half of it, leaves less stress than dark glass does; farther out, and over
// the whole surface, a piece comes to glass that passes no light. A dark skin on
// one face of a flat piece, a stripe, or a stone off the middle stays within dark
// glass.
//
// Source: radiation study, sec. 1.6 [derived]: of a sphere of 63.5 mm 0.320 MPa
// is left if it is clear, 0.423 dark, 0.535 opaque; 0.359 with a mirror at a
// quarter of its radius, 0.438 at half, 0.531 at nine tenths; 0.357 with a black
// core of half its radius, 0.525 of nine tenths.
func (b Body) Dims(c contents.Contents) (d Dimming, by string) {
	half, p := b.Size/2, Problem{Body: b}
	see := func(m contents.Material, as Dimming) {
		if m.StopsLight && as > d {
			d, by = as, m.Name
		}
	}
	within := func(at, dark float64) Dimming {
		if at <= dark*(1+1e-9) {
			return AsDark
		}
		return AsOpaque
	}
	const mirror, black = 0.25, 0.5
	for _, in := range c.Inside {
		switch at := 1 - float64(p.depth(in)/half); {
		case in.Shape == contents.Foil:
			see(in.Material, within(at, mirror))
		case at > 0.02: // off the middle it shades a part
			see(in.Material, AsDark)
		case in.Material.Kind == contents.Metal:
			see(in.Material, within(float64(in.Size/2/half), mirror))
		default:
			see(in.Material, within(float64(in.Size/2/half), black))
		}
	}
	end, sum := half, unit.Length(0)
	if c.Skin != nil {
		end -= c.Skin.Thick
		as := AsOpaque
		if c.Skin.OneFace && b.Form == sim.Slab {
			as = AsDark
		}
		see(c.Skin.Material, as)
	}
	for _, l := range c.Layers {
		sum += l.Depth()
	}
	at := unit.Length(0)
	for _, l := range c.Layers {
		if l.Thick == 0 {
			at += end - sum
		}
		at += l.Depth()
		where := black
		if l.Material.Kind == contents.Metal {
			where = mirror
		}
		see(l.Material, within(float64(at/half), where))
	}
	for _, s := range c.Stripes {
		see(s.Material, AsDark)
	}
	return d, by
}
