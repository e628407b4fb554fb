package gather

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Body is a solid of glass: a piece, or a part that lies in one.
type Body struct {
	Kind   Kind
	Sizes  []unit.Length // in the order they are written
	Wall   unit.Length   // of a tube or a shell
	Text   string        // as written, without extra blanks
	Volume float64       // [m³]
}

// Kind is the form of a body.
type Kind string

// The forms.
const (
	SphereKind  Kind = "sphere"
	RodKind     Kind = "rod"
	DiscKind    Kind = "disc"
	SlabKind    Kind = "slab"
	TubeKind    Kind = "tube"
	DomeKind    Kind = "dome"    // across × high, the top of a sphere
	PendantKind Kind = "pendant" // across × thick, two equal caps
	CapKind     Kind = "cap"     // sphere it is cut from × high
	ConeKind    Kind = "cone"    // base × high
	FrustumKind Kind = "frustum" // base × top × high
	ShellKind   Kind = "shell"   // outside, wall
)

// forms says how each kind is written.
var forms = []struct {
	kind    Kind
	words   string
	sizes   int
	wall    bool
	example string
}{
	{SphereKind, "sphere spheres ball marble marbles", 1, false, "sphere 2.5in"},
	{RodKind, "rod rods cylinder", 2, false, "rod 10mm x 200mm"},
	{DiscKind, "disc discs disk disks", 2, false, "disc 75mm x 25mm"},
	{SlabKind, "slab slabs block", 3, false, "slab 200mm x 150mm x 20mm"},
	{TubeKind, "tube tubes", 2, true, "tube 38mm x 100mm wall 4mm"},
	{DomeKind, "dome domes paperweight paperweights", 2, false, "dome 75mm x 45mm"},
	{PendantKind, "pendant pendants", 2, false, "pendant 45mm x 12mm"},
	{CapKind, "cap caps", 2, false, "cap 63.5mm x 18mm"},
	{ConeKind, "cone cones", 2, false, "cone 30mm x 40mm"},
	{FrustumKind, "frustum", 3, false, "frustum 40mm x 20mm x 25mm"},
	{ShellKind, "shell casing", 1, true, "shell 63.5mm wall 3mm"},
}

// The sizes that a piece of torch work may have.
const (
	smallest = 0.1 * unit.Millimeter
	largest  = 2 * unit.Meter
)

// BodyError is a body that cannot be understood.
type BodyError struct{ Text, Reason, hint string }

func (e *BodyError) Error() string { return fmt.Sprintf("piece %q: %s", e.Text, e.Reason) }

// Hint returns one thing to do.
func (e *BodyError) Hint() string { return e.hint }

var (
	wallPart = regexp.MustCompile(`(?i)\s+wall\s+(.+?)((?:\s*(?:×|x)\s*[^×x]+)?)$`)
	times    = regexp.MustCompile(`(?i)\s*(?:×|\bby\b|x)\s*`)
	restings = regexp.MustCompile(`(?i)\s+(raised|bedded|shelf|open|open-ended|closed)$`)
)

// ParseBody reads a body: the form, its sizes with units, and for a tube or a
// shell its wall. How a piece rests may follow, and counts for nothing here.
//
//	sphere 2.5in               rod 10mm x 200mm        disc 75mm x 25mm
//	slab 200mm x 150mm x 20mm  tube 38mm x 100mm wall 4mm
//	dome 75mm x 45mm           pendant 45mm x 12mm     cone 30mm x 40mm
//	frustum 40mm x 20mm x 25mm cap 63.5mm x 18mm       shell 63.5mm wall 3mm
//
// A dome is given across and high, a pendant across and thick and taken as two
// equal caps, a cap by the sphere that it is cut from and its height.
//
// Errors: *[BodyError] for the words, *unit.ParseError (wrapped) for a size.
func ParseBody(text string) (Body, error) {
	b := Body{Text: strings.Join(strings.Fields(text), " ")}
	fail := func(hint, format string, args ...any) (Body, error) {
		return Body{}, &BodyError{b.Text, fmt.Sprintf(format, args...), hint}
	}
	if len(b.Text) > 100 {
		return fail("", "is longer than 100 characters")
	}
	word, rest, _ := strings.Cut(b.Text, " ")
	at, all := -1, []string{}
	for i, f := range forms {
		all = append(all, string(f.kind))
		for _, w := range strings.Fields(f.words) {
			if strings.EqualFold(w, word) {
				at = i
			}
		}
	}
	if at < 0 {
		if word == "" || word[0] >= '0' && word[0] <= '9' {
			return fail(`write "sphere 2.5in"`, "does not begin with a form")
		}
		return fail(strict.DidYouMean(strings.ToLower(word), all, "forms are "+strings.Join(all, ", ")), "no form %q", word)
	}
	f := forms[at]
	if f.kind == SphereKind && wallPart.MatchString(" "+rest) {
		f = forms[len(forms)-1] // a hollow one is a shell
	}
	b.Kind = f.kind
	write := `write "` + f.example + `"`
	rest = restings.ReplaceAllString(restings.ReplaceAllString(rest, ""), "")
	if m := wallPart.FindStringSubmatchIndex(" " + rest); m != nil {
		full := " " + rest
		wall, err := unit.ParseLength(full[m[2]:m[3]])
		if err != nil {
			return Body{}, fmt.Errorf("piece %q: wall %w", b.Text, err)
		}
		b.Wall, rest = wall, full[:m[0]]+full[m[4]:m[5]]
	}
	if strings.TrimSpace(rest) == "" {
		return fail(write, "has no size")
	}
	for _, part := range times.Split(strings.TrimSpace(rest), -1) {
		l, err := unit.ParseLength(part)
		if err != nil {
			return Body{}, fmt.Errorf("piece %q: size %w", b.Text, err)
		}
		if l < smallest || l > largest {
			return fail("", "size %s: must be from %s to %s", unit.AsTyped(l), unit.LimitFor(l, smallest), unit.LimitFor(l, largest))
		}
		b.Sizes = append(b.Sizes, l)
	}
	switch {
	case len(b.Sizes) != f.sizes:
		return fail(write, "%d sizes given, a %s takes %d", len(b.Sizes), f.kind, f.sizes)
	case f.wall && b.Wall == 0:
		return fail(write, "has no wall")
	case !f.wall && b.Wall != 0:
		return fail(write, "a %s has no wall", f.kind)
	}
	if why := b.measure(); why != "" {
		return fail(write, "%s", why)
	}
	return b, nil
}

// measure computes the volume, or says why there is none.
func (b *Body) measure() (why string) {
	s := b.Sizes
	last := s[len(s)-1]
	name := unit.AsTyped
	switch b.Kind {
	case SphereKind:
		b.Volume = sphereVolume(s[0])
	case RodKind, DiscKind:
		b.Volume = frustumVolume(s[0], s[0], last)
	case SlabKind:
		b.Volume = float64(s[0]) * float64(s[1]) * float64(s[2])
	case TubeKind, ShellKind:
		if 2*b.Wall >= s[0] {
			return fmt.Sprintf("wall %s: must be less than half of %s", name(b.Wall), name(s[0]))
		}
		if b.Kind == ShellKind {
			b.Volume = shellVolume(s[0], b.Wall)
		} else {
			in := s[0] - 2*b.Wall
			b.Volume = frustumVolume(s[0], s[0], s[1]) - frustumVolume(in, in, s[1])
		}
	case DomeKind, PendantKind:
		high := last
		if b.Kind == PendantKind {
			high /= 2
		}
		if high > s[0] {
			return fmt.Sprintf("%s across and %s high: give what is across first", name(s[0]), name(last))
		}
		a, h := float64(s[0]/2), float64(high)
		b.Volume = math.Pi * h * (3*a*a + h*h) / 6
		if b.Kind == PendantKind {
			b.Volume *= 2
		}
	case CapKind:
		if last > s[0] {
			return fmt.Sprintf("a cap %s high does not fit in a sphere of %s; the sphere comes first", name(last), name(s[0]))
		}
		b.Volume = capVolume(s[0], last)
	case ConeKind:
		b.Volume = frustumVolume(s[0], 0, last)
	case FrustumKind:
		b.Volume = frustumVolume(s[0], s[1], last)
	}
	return ""
}

// Size returns the measure by which a body is called: the first that is written.
func (b Body) Size() unit.Length { return b.Sizes[0] }

// Scaled returns the body with every measure times a factor.
func (b Body) Scaled(factor float64) Body {
	out := b
	out.Sizes = make([]unit.Length, len(b.Sizes))
	for i, s := range b.Sizes {
		out.Sizes[i] = s * unit.Length(factor)
	}
	out.Wall *= unit.Length(factor)
	out.Volume *= factor * factor * factor
	return out
}

// Words writes the body in a display system: "sphere 2.5 in".
func (b Body) Words(sys unit.System) string { return string(b.Kind) + " " + b.Measures(sys) }

// Measures writes its sizes: "2.5 in".
func (b Body) Measures(sys unit.System) string {
	var parts []string
	for _, s := range b.Sizes {
		parts = append(parts, s.Text(sys))
	}
	text := strings.Join(parts, " × ")
	if b.Wall > 0 {
		text += " wall " + b.Wall.Text(sys)
	}
	return text
}

// height returns how high the parts of a body stand when it is cut by planes
// into shares that follow each other from the front; ok is false for a body in
// which a height by share is not computed.
func (b Body) height(from, to float64) (h unit.Length, ok bool) {
	switch b.Kind {
	case SphereKind:
		return b.Sizes[0] / 2 * unit.Length(capHeight(to)-capHeight(from)), true
	case RodKind, DiscKind, SlabKind, TubeKind:
		return b.Sizes[len(b.Sizes)-1] * unit.Length(to-from), true
	}
	return 0, false
}

// shareOf returns the share of the body between its front and a plane at a
// depth behind it; ok is false where it is not computed.
func (b Body) shareOf(depth unit.Length) (share float64, ok bool) {
	switch b.Kind {
	case SphereKind:
		return capShare(float64(2 * depth / b.Sizes[0])), true
	case RodKind, DiscKind, SlabKind, TubeKind:
		return float64(depth / b.Sizes[len(b.Sizes)-1]), true
	}
	return 0, false
}

// depth returns how deep the body is from its front, where [Body.height] is computed.
func (b Body) depth() unit.Length {
	if b.Kind == SphereKind {
		return b.Sizes[0]
	}
	return b.Sizes[len(b.Sizes)-1]
}

var countPart = regexp.MustCompile(`^\s*(-?[0-9]{1,9})\s*(?:x|X|×|\*|of)\s+|^\s*(-?[0-9]{1,9})\s+([a-zA-Z])`)

// mostPieces is the largest count that is read.
const mostPieces = 10000

// ParsePieces reads a body with a count before it: "6 x sphere 2.5in". The
// count is 1 if there is none.
//
// Errors: those of [ParseBody], and a count below 1 or above [mostPieces].
func ParsePieces(text string) (count int, b Body, err error) {
	count = 1
	if m := countPart.FindStringSubmatchIndex(text); m != nil {
		number, cut := "", m[1]
		if m[2] >= 0 {
			number = text[m[2]:m[3]]
		} else {
			number, cut = text[m[4]:m[5]], m[6]
		}
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 || n > mostPieces {
			return 0, Body{}, &BodyError{text, fmt.Sprintf("count %s: must be from 1 to %d", number, mostPieces), `write "6 x sphere 2.5in"`}
		}
		count, text = n, text[cut:]
	}
	b, err = ParseBody(text)
	return count, b, err
}
