package gather

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// Part is one part of a piece: a layer by its share of the volume or by its
// height, a body that lies inside, a weighed amount, or the rest.
type Part struct {
	Name  string
	Text  string // as written
	Share float64
	High  unit.Length
	Body  *Body
	Mass  unit.Mass
	Rest  bool
}

// PartError is a part that cannot be understood.
type PartError struct{ Text, Reason, hint string }

func (e *PartError) Error() string { return fmt.Sprintf("part %q: %s", e.Text, e.Reason) }

// Hint returns one thing to do.
func (e *PartError) Hint() string { return e.hint }

const partHint = `write "lens 50%", "backing 18mm", "flower cone 30mm x 40mm", "frit 12g" or "core rest"`

// ParsePart reads a part: its name in one word, and how much of it there is.
//
//	lens 50%                   a layer by its share of the volume
//	backing 18mm               a layer by its height
//	flower cone 30mm x 40mm    a body inside, see [ParseBody]
//	frit 12g                   weighed
//	core rest                  what is left
//
// Errors: *[PartError], *[BodyError].
func ParsePart(text string) (Part, error) {
	p := Part{Text: strings.Join(strings.Fields(text), " ")}
	name, amount, _ := strings.Cut(p.Text, " ")
	p.Name = strings.TrimSuffix(name, ":")
	fail := func(format string, args ...any) (Part, error) {
		return Part{}, &PartError{p.Text, fmt.Sprintf(format, args...), partHint}
	}
	if p.Name == "" || p.Name[0] >= '0' && p.Name[0] <= '9' || amount == "" {
		return fail("needs a name and an amount")
	}
	if strings.EqualFold(amount, "rest") {
		p.Rest = true
		return p, nil
	}
	if strings.HasSuffix(amount, "%") {
		share, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(amount, "%")), 64)
		if err != nil || !(share > 0 && share <= 100) {
			return fail("%s: must be above 0 %% and at most 100 %%", amount)
		}
		p.Share = share / 100
		return p, nil
	}
	if m, err := unit.ParseMass(amount); err == nil {
		if m == 0 {
			return fail("%s: must be above 0 g", amount)
		}
		p.Mass = m
		return p, nil
	}
	if l, err := unit.ParseLength(amount); err == nil {
		if l == 0 {
			return fail("%s: must be above 0 mm", amount)
		}
		p.High = l
		return p, nil
	}
	if amount[0] >= '0' && amount[0] <= '9' || amount[0] == '-' {
		return fail("%s: is no share, mass or length", amount)
	}
	b, err := ParseBody(amount)
	if err != nil {
		return Part{}, fmt.Errorf("part %q: %w", p.Name, err)
	}
	p.Body = &b
	return p, nil
}

// Rod is what the glass is taken from.
type Rod struct {
	Text     string      // as written
	Diameter unit.Length // 0 if only its mass per length is known
	PerMeter unit.Mass   // mass of a meter, 0 if only its diameter is known
}

// length returns the length of the rod that holds a mass of a glass of this
// density [kg/m³].
func (r Rod) length(m unit.Mass, density float64) unit.Length {
	if r.PerMeter > 0 {
		return unit.Length(m / r.PerMeter)
	}
	return rodLength(float64(m)/density, r.Diameter)
}

// rodForms are the spellings of a mass per length.
const rodHint = `write "19mm", "3/4in", or its mass per length: "632 g/m"`

// ParseRod reads a rod: its diameter, "19mm", or its mass per length, "632
// g/m", "6.3 g/cm" or "5.6 oz/ft", for rod that is not round or not solid.
//
// Errors: *[PartError].
func ParseRod(text string) (Rod, error) {
	r := Rod{Text: strings.Join(strings.Fields(text), " ")}
	fail := func(why string) (Rod, error) {
		return Rod{}, &PartError{r.Text, why, rodHint}
	}
	if amount, per, ok := strings.Cut(r.Text, "/"); ok {
		if m, err := unit.ParseMass(amount); err == nil {
			length, err := unit.ParseLength("1 " + strings.TrimSpace(per))
			if err != nil || length == 0 {
				return fail("has no length after the /")
			}
			r.PerMeter = m / unit.Mass(length)
			if r.PerMeter < 0.001 || r.PerMeter > 100 {
				return fail("a meter of it would weigh " + r.PerMeter.String() + "; must be from 1 g to 100 kg")
			}
			return r, nil
		}
	}
	d, err := unit.ParseLength(r.Text)
	if err != nil {
		return Rod{}, fmt.Errorf("rod %q: %w", r.Text, err)
	}
	if d < unit.Millimeter/2 || d > 150*unit.Millimeter {
		return fail("diameter must be from " + unit.LimitFor(d, unit.Millimeter/2) + " to " + unit.LimitFor(d, 150*unit.Millimeter))
	}
	r.Diameter = d
	return r, nil
}

// Recipe is a piece, what it is built of, and how the person works.
type Recipe struct {
	Piece   Body
	Count   int
	Parts   []Part // none: one glass throughout
	Rods    []Rod  // alternatives
	Density float64
	Loss    float64     // share of the glass taken up that is lost at the torch, below 1
	Stub    unit.Length // of each rod that cannot be worked
	Stubs   int         // how many rods leave one
}

// Portion is how much of one part a single piece takes.
type Portion struct {
	Name   string
	Share  float64 // of the volume of the piece
	Volume float64 // [m³]
	Mass   unit.Mass
	Height unit.Length // of a layer; 0 if it has none
	Inside bool        // lies in the rest
}

// Portions returns how much of each part a single piece takes, in the order
// written. Layers follow each other from the front. What lies inside and what
// is weighed is taken out of the rest.
//
// Errors: *[PartError] when the parts do not make up the piece.
func (r Recipe) Portions() ([]Portion, error) {
	if len(r.Parts) == 0 {
		return nil, nil
	}
	whole := r.Piece.Volume
	layers, inside, rest := 0.0, 0.0, -1
	out := make([]Portion, len(r.Parts))
	for i, p := range r.Parts {
		fail := func(hint, format string, args ...any) ([]Portion, error) {
			return nil, &PartError{p.Text, fmt.Sprintf(format, args...), hint}
		}
		if slices.ContainsFunc(r.Parts[:i], func(q Part) bool { return strings.EqualFold(q.Name, p.Name) }) {
			return fail("give each part a name of its own", "the name is there twice")
		}
		q := &out[i]
		q.Name = p.Name
		switch {
		case p.Rest && rest >= 0:
			return fail("only one part can be the rest", "%q is the rest already", r.Parts[rest].Name)
		case p.Rest:
			rest = i
		case p.Share > 0:
			q.Share = p.Share
			layers += q.Share
		case p.High > 0:
			share, err := r.layer(i)
			if err != nil {
				return nil, err
			}
			q.Share = share
			layers += share
		case p.Body != nil:
			q.Volume, q.Inside = p.Body.Volume, true
		default:
			q.Volume, q.Inside = float64(p.Mass)/r.Density, true
		}
		if q.Inside {
			q.Share = q.Volume / whole
			inside += q.Share
		}
	}
	if err := r.addUp(layers, inside, rest); err != nil {
		return nil, err
	}
	at := 0.0
	for i := range out {
		q := &out[i]
		layer := q.Share
		if i == rest {
			layer = 1 - layers
			q.Share = layer - inside
		}
		if !q.Inside {
			if h, ok := r.Piece.height(min(at, 1), min(at+layer, 1)); ok {
				q.Height = h
			}
			at += layer
		}
		q.Volume = q.Share * whole
		q.Mass = unit.Mass(q.Volume * r.Density)
	}
	return out, nil
}

// layer returns the share of a part that is given by its height. It depends on
// where the part begins: at the front only a first layer does, at the back only a
// last.
func (r Recipe) layer(i int) (float64, error) {
	p := r.Parts[i]
	fail := func(hint, format string, args ...any) (float64, error) {
		return 0, &PartError{p.Text, fmt.Sprintf(format, args...), hint}
	}
	if !(i == 0 || i == len(r.Parts)-1) {
		return fail("give a share for what lies between: \"core 30%\" or \"core rest\"", "a height is read for the first and the last layer only")
	}
	if p.High >= r.Piece.depth() {
		return fail("", "%s is the whole piece or more", unit.AsTyped(p.High))
	}
	share, ok := r.Piece.shareOf(p.High)
	if !ok {
		return fail("give a share of the volume instead", "a layer by height is computed for a sphere, rod, disc, slab and tube, not for a %s", r.Piece.Kind)
	}
	return share, nil
}

// addUp refuses shares that do not make up the piece: of the layers, and of what
// lies inside the rest, whose index is below zero if there is none.
func (r Recipe) addUp(layers, inside float64, rest int) error {
	const hair = 1e-9
	switch all := layers + inside; {
	case layers > 1+hair || all > 1+hair:
		return &PartError{textsOf(r.Parts), fmt.Sprintf("together they make %.4g %% of the piece", 100*all), "they may make 100 % at most"}
	case rest < 0 && inside > 0 && all < 1-hair:
		return &PartError{textsOf(r.Parts), "nothing says what they lie in", `add --part "core rest"`}
	case rest < 0 && all < 1-hair:
		return &PartError{textsOf(r.Parts), fmt.Sprintf("together they make %.4g %% of the piece", 100*all), `add what is missing: --part "core rest"`}
	case rest >= 0 && all >= 1-hair:
		return &PartError{r.Parts[rest].Text, "nothing is left for it", "leave it out, or make another part smaller"}
	}
	return nil
}

func textsOf(parts []Part) string {
	var out []string
	for _, p := range parts {
		out = append(out, p.Text)
	}
	return strings.Join(out, ", ")
}

// Mass returns the mass of one piece.
func (r Recipe) Mass() unit.Mass { return unit.Mass(r.Piece.Volume * r.Density) }

// Take is a length of rod.
type Take struct {
	Rod Rod
	Net unit.Length // what the glass takes
	Buy unit.Length // with what is lost and the stubs
}

// Take returns the rod for a mass: net, and with loss and stubs.
//
//	buy = net/(1 − loss) + stub · stubs
func (r Recipe) Take(rod Rod, m unit.Mass) Take {
	net := rod.length(m, r.Density)
	return Take{rod, net, net/unit.Length(1-r.Loss) + r.Stub*unit.Length(r.Stubs)}
}

// Weigh returns the mass to take up for a mass that is to stay: with what is lost.
func (r Recipe) Weigh(m unit.Mass) unit.Mass { return m / unit.Mass(1-r.Loss) }

// SizeOf returns the body that a weighed amount gives when the proportions of
// this one stay.
func (r Recipe) SizeOf(m unit.Mass) Body {
	return r.Piece.Scaled(math.Cbrt(float64(m) / float64(r.Mass())))
}

// Scaled returns the recipe at another size: every measure times a factor, and
// with it every part, a weighed one by its cube.
func (r Recipe) Scaled(factor float64) Recipe {
	out := r
	out.Piece = r.Piece.Scaled(factor)
	out.Parts = make([]Part, len(r.Parts))
	for i, p := range r.Parts {
		p.High *= unit.Length(factor)
		p.Mass *= unit.Mass(factor * factor * factor)
		if p.Body != nil {
			b := p.Body.Scaled(factor)
			p.Body = &b
		}
		out.Parts[i] = p
	}
	return out
}
