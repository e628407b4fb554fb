package seal

import (
	"fmt"
	"math"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// FitError says why contents cannot lie in a piece.
type FitError struct {
	Reason string
	// AboveMelting says that a metal runs where the glass closes over it; the
	// temperatures of the reason are metric.
	AboveMelting bool
	hint         string
}

func (e *FitError) Error() string { return e.Reason }

// Hint returns one thing to do.
func (e *FitError) Hint() string { return e.hint }

func unfit(hint, format string, args ...any) error {
	return &FitError{Reason: fmt.Sprintf(format, args...), hint: hint}
}

// Check returns an error unless the contents can lie in the piece: layers
// thicker than it, a stone that reaches its surface or a skin, a metal above its
// melting point where the glass closes over it, and shapes that are not computed.
//
// Errors: *[FitError] and those of [History.check].
func (p Problem) Check() error {
	c, half := p.Contents, p.Body.Size/2
	switch {
	case p.Clear == nil || !(p.Body.Size > 0):
		return unfit("", "a piece needs its glass and its size")
	case c.Empty():
		return unfit("say what is in it: inside, layers, skin or stripe", "there is nothing in the piece")
	case p.Body.Form == sim.Cylinder && len(c.Layers) > 0:
		return unfit("name the outermost color as its skin, or describe a sphere of the rod's diameter", "layers are computed in spheres and flat pieces, not in rods and tubes")
	}
	if p.At != nil {
		for _, depth := range []float64{0, 1} {
			if err := p.At(depth).check(); err != nil {
				return err
			}
		}
	}
	if len(p.History.Seconds) > 0 {
		if err := p.History.check(); err != nil {
			return err
		}
	}
	if err := p.checkLayers(half); err != nil {
		return err
	}
	for _, s := range c.Stripes {
		if s.Thick >= half {
			return unfit("a stripe lies on a thick body; name thick color as a layer", "stripe %q: %s thick on a piece of %s", s.Text, unit.AsTyped(s.Thick), unit.AsTyped(p.Body.Size))
		}
	}
	middle := 0
	for _, in := range c.Inside {
		if err := p.checkInside(in, half); err != nil {
			return err
		}
		if p.concentric(in) {
			middle++
		}
	}
	if middle > 1 || middle == 1 && len(c.Layers) > 0 && c.Layers[0].Core {
		return unfit(`say how deep each lies: "opal 5mm, 12mm deep"`, "two things lie in the middle")
	}
	return p.checkMelting()
}

// checkLayers refuses layers that the piece has no room for.
func (p Problem) checkLayers(half unit.Length) error {
	c, sum, open := p.Contents, unit.Length(0), false
	for _, b := range c.Layers {
		sum += b.Depth()
		open = open || b.Thick == 0
	}
	if s := c.Skin; s != nil {
		if s.OneFace && p.Body.Form != sim.Slab {
			return unfit("leave out: one face", "skin %q: only a flat piece has faces", s.Text)
		}
		sum += s.Thick
	}
	for _, in := range c.Inside {
		if p.concentric(in) && len(c.Layers) > 0 {
			sum += in.Size / 2
		}
	}
	has := "radius"
	if p.Body.Form == sim.Slab {
		has = "half thickness"
	}
	switch {
	case sum > half*(1+1e-9), (open || len(c.Layers) == 0) && sum >= half*(1-1e-9) && (len(c.Layers) > 0 || c.Skin != nil):
		return unfit(fmt.Sprintf("they must leave room within the %s %s", has, unit.AsTyped(half)),
			"layers thicker than the piece: %s of layers from the middle outward, and its %s is %s", unit.AsTyped(round(sum)), has, unit.AsTyped(half))
	}
	return nil
}

func round(l unit.Length) unit.Length {
	return unit.Length(math.Round(float64(l)*1e7) / 1e7)
}

// checkInside refuses a stone that reaches the surface.
func (p Problem) checkInside(in contents.Inside, half unit.Length) error {
	deep, end := p.depth(in), unit.Length(0)
	if s := p.Contents.Skin; s != nil {
		end = s.Thick
	}
	if in.Shape == contents.Foil {
		if in.Size >= half {
			return unfit("", "foil %q: thicker than half the piece", in.Text)
		}
		return nil
	}
	switch {
	case deep > half*(1+1e-9):
		return unfit(fmt.Sprintf("the middle of the piece is %s deep", unit.AsTyped(half)), "%q: %s deep, and the piece is %s thick", in.Text, unit.AsTyped(deep), unit.AsTyped(p.Body.Size))
	case deep-in.Reach() <= end:
		what := "the surface"
		if end > 0 {
			what = "the skin"
		}
		return unfit(fmt.Sprintf("its middle must lie more than %s deep", unit.AsTyped(round(in.Reach()+end))),
			"%q: reaches %s: its middle lies %s deep, and it reaches %s from there", in.Text, what, unit.AsTyped(round(deep)), unit.AsTyped(round(in.Reach())))
	case in.Count > 1 && in.Depth == 0 && in.Apart == 0:
		return unfit(fmt.Sprintf(`write "%s, 12mm deep, 20mm apart"`, in.Text), "%q: %d of them cannot all lie in the middle", in.Text, in.Count)
	}
	return nil
}

// checkMelting refuses a metal that runs where the glass closes over it.
func (p Problem) checkMelting() error {
	closed := p.filled().ClosedAt
	var list []contents.Material
	for _, in := range p.Contents.Inside {
		list = append(list, in.Material)
	}
	for _, b := range p.Contents.Layers {
		list = append(list, b.Material)
	}
	for _, m := range list {
		if m.Melting.Known() && !closed.IsZero() && m.Melting.Number <= closed.Kelvin() {
			at := closed.Text(unit.Metric)
			return &FitError{
				Reason: fmt.Sprintf("%s: above its melting point: it melts at %s, and %s closes over it at %s", m.Name,
					unit.Kelvin(m.Melting.Number).Text(unit.Metric), p.Clear.Name, at),
				AboveMelting: true,
				hint:         fmt.Sprintf("take a metal that stands %s, or say how hot the glass is when it closes over it", at),
			}
		}
	}
	return nil
}
