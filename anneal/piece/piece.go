package piece

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/seal"
	"lehr/anneal/spread"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Shape is what a piece is, in the trade's words.
type Shape string

// The shapes that a piece may have.
const (
	SphereShape  Shape = "sphere"
	RodShape     Shape = "rod"
	DiscShape    Shape = "disc"
	SlabShape    Shape = "slab"
	TubeShape    Shape = "tube"
	DomeShape    Shape = "dome"
	PendantShape Shape = "pendant"
)

// Resting is how a piece lies in the kiln.
type Resting string

// Ways to rest.
const (
	OnShelf Resting = "shelf"  // on a shelf or a fiber dimple
	Raised  Resting = "raised" // air or a point support all around
	Bedded  Resting = "bedded" // sunk in fiber, powder or sand up to its middle
)

// Light is how much of its own heat a piece lets through.
type Light string

// How clear a piece can be: one that is clear passes heat as light, one with a
// dark core or backing over most of it absorbs that within millimeters, an opaque
// one (opal, black, leaf near the surface) passes none.
const (
	LightUnknown Light = ""
	Clear        Light = "clear"
	Dark         Light = "dark"
	Opaque       Light = "opaque"
)

// Piece is one kind of piece in a load.
type Piece struct {
	What  string // as the person wrote it, without the count; Parse reads it
	Count int
	Shape Shape
	// Size is the measure that decides how slowly the piece cools: the diameter
	// of a sphere, rod or tube, the height of a disc, slab or dome, the greatest
	// thickness of a pendant.
	Size unit.Length
	// Across is the other measure where the shape has one: the diameter of a
	// disc or dome, the width of a slab or pendant, the length of a rod or tube.
	Across    unit.Length
	Wide      unit.Length // the second side of a rectangular slab, 0 if it was not given
	Wall      unit.Length // of a tube or a hollow sphere, 0 for a solid one
	Lens      bool        // a pendant that is two caps, not flat with a round rim
	OpenEnded bool        // a tube whose bore is open to the kiln
	Resting   Resting
	Glass     *glass.Glass
	// LongestSoak and HottestSoak are what the piece bears, zero for no limit.
	LongestSoak time.Duration
	HottestSoak unit.Temp
	// Core is how hot the piece is in its middle when it goes in, zero if nobody
	// said; Even says that it is as hot as the kiln, reheated work.
	Core unit.Temp
	Even bool
	// In is how long before the start of the program it went in; InText is as the
	// person wrote it, which [Load.Settle] reads.
	In     time.Duration
	InText string
	Light  Light // how clear the glass is, "" if nobody said
	// LightBy is the material in it that made it darker than anybody said, "" if
	// none did.
	LightBy string
	// Words say what is in it, as typed, and Contents what that is once the glass
	// is known; see Fill.
	Words    seal.Words
	Contents seal.Contents
	// Stone is what a piece is that IsStone, once it was filled.
	Stone seal.Inside
	stone string      // as typed
	Wear  spread.Wear // what the piece is asked to bear beside its program
	// Textbook says that the piece is exactly its body: endless, hanging free, even
	// at the start, without factors or ranges.
	Textbook bool
	Profile  *Profile // of a body of revolution, nil for the others; its Shape is then the disc that stands for it
	Note     string
}

// The sizes that a torch piece may have. Below, it cools like its kiln; above,
// the one-dimensional shapes no longer stand for it.
const (
	SmallestPiece = 1 * unit.Millimeter
	LargestPiece  = 300 * unit.Millimeter
	LongestPiece  = 2 * unit.Meter
	MostPieces    = 10000
)

// Error is a piece that cannot be understood.
type Error struct {
	Text, Reason, hint string
	glass              string // the name of a glass that stands at its end
}

func (e *Error) Error() string { return fmt.Sprintf("piece %q: %s", e.Text, e.Reason) }

// Hint returns one thing to do.
func (e *Error) Hint() string { return e.hint }

// pieceForms says, for each shape, which measures are written and in which
// order, and an example for the hint.
var pieceForms = []struct {
	shape   Shape
	words   []string
	fewest  int
	most    int
	example string
}{
	{SphereShape, []string{"sphere", "spheres", "ball", "marble", "marbles"}, 1, 1, "sphere 2.5in"},
	{RodShape, []string{"rod", "rods", "cylinder"}, 1, 2, "rod 10mm x 200mm"},
	{DiscShape, []string{"disc", "disk", "discs", "disks"}, 2, 2, "disc 75mm x 25mm"},
	{SlabShape, []string{"slab", "slabs", "block"}, 1, 3, "slab 200mm x 150mm x 20mm"},
	{TubeShape, []string{"tube", "tubes"}, 1, 2, "tube 38mm wall 4mm"},
	{DomeShape, []string{"dome", "domes", "paperweight", "paperweights"}, 1, 2, "dome 75mm x 45mm"},
	{PendantShape, []string{"pendant", "pendants", "lens"}, 2, 3, "pendant 45mm x 12mm"},
}

const pieceHint = `write "6 x sphere 2.5in", "rod 10mm x 200mm", "disc 75mm x 25mm" or "tube 38mm wall 4mm"`

var (
	countPart = regexp.MustCompile(`^\s*(-?[0-9]{1,9})\s*(?:x|X|×|\*|of)\s+|^\s*(-?[0-9]{1,9})\s*[x×]?\s*([a-zA-Z])`)
	tailPart  = regexp.MustCompile(`(?i)\s+(` + strings.Join(tailWords, "|") + `)\s*$`)
	wallPart  = regexp.MustCompile(`(?i)\s+wall\s+(.+)$`)
	timesPart = regexp.MustCompile(`(?i)\s*(?:×|\bby\b|x)\s*`)
	wordPart  = regexp.MustCompile(`^\s*(\p{L}+)\s*`)
)

// Parse reads the piece grammar: an optional count, the shape, its
// measures with units, for a tube its wall, and words for how it rests, how
// clear it is and what counts.
//
//	6 x sphere 2.5in          sphere 64mm
//	rod 10mm x 200mm          disc 75mm x 25mm raised
//	tube 38mm wall 4mm open   dome 3in x 1 3/4in
//	pendant 45mm x 12mm       slab 200mm x 150mm x 20mm
//	sphere 3in clear          rod 25mm textbook
//	sphere 3in wall 4mm       (hollow and closed)
//
// The last measure of a disc, slab, dome or pendant is its height or thickness.
// What is in the piece stands behind semicolons, and is read by [Piece.Fill]:
//
//	sphere 2.5in; inside opal 8mm, 12mm deep; skin white 1.5mm
//	disc 75mm x 25mm; layers core clear 15mm / cobalt 2mm / clear
//
// A stone that is only warmed is one of its material: stone 10mm of opal, dry.
// Errors: *Error for the words, *unit.ParseError (wrapped) for a measure.
func Parse(text string) (Piece, error) {
	head, words, err := splitContents(text)
	if err != nil {
		return Piece{}, err
	}
	if p, ok, err := parseStone(head); ok {
		if err == nil && !empty(words) {
			err = &Error{Text: shorten(text), Reason: "there is nothing inside a stone", hint: stoneHint}
		}
		return p, err
	}
	p, err := parsePiece(head)
	if err != nil {
		if len(head) <= 200 {
			if order := reordered(head); order != nil {
				return Piece{}, order
			}
			if of := withGlass(head); of != nil {
				return Piece{}, of
			}
			if odd := tidied(head); odd != nil {
				return Piece{}, odd
			}
		}
		return Piece{}, err
	}
	p.Words = words
	p.What += contentsText(words)
	return p, nil
}

// parsePiece reads a piece word by word. It is the grammar, a branch a word.
func parsePiece(text string) (Piece, error) {
	fail := func(hint, format string, args ...any) (Piece, error) {
		if hint == "" {
			hint = pieceHint
		}
		return Piece{}, &Error{Text: shorten(text), Reason: fmt.Sprintf(format, args...), hint: hint}
	}
	if strings.TrimSpace(text) == "" {
		return fail("", "is empty")
	}
	if len(text) > 200 {
		return fail("", "is longer than 200 characters")
	}
	if curlyQuotes().MatchString(text) {
		return fail("type straight quotes around the piece, \" or ', and none inside it", "has curly quotes in it")
	}
	p := Piece{Count: 1, Resting: OnShelf}
	rest := text
	if m := countPart.FindStringSubmatchIndex(rest); m != nil {
		number, cut := "", m[1]
		if m[2] >= 0 {
			number = rest[m[2]:m[3]]
		} else {
			number, cut = rest[m[4]:m[5]], m[6]
		}
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 || n > MostPieces {
			return fail("", "count %s: must be from 1 to %d", number, MostPieces)
		}
		p.Count, rest = n, rest[cut:]
	}
	p.What = strings.Join(strings.Fields(rest), " ")
	rests, bore, light := "", "", ""
	for {
		m := tailPart.FindStringSubmatchIndex(rest)
		if m == nil {
			break
		}
		switch word := strings.ToLower(rest[m[2]:m[3]]); word {
		case "open", "open-ended", "closed":
			if bore != "" {
				return fail("say one of the two", "is %s and %s", word, bore)
			}
			bore, p.OpenEnded = word, word != "closed"
		case "clear", "dark", "opaque":
			if light != "" {
				return fail("say one of them", "is %s and %s", word, light)
			}
			light, p.Light = word, Light(word)
		case "textbook":
			p.Textbook = true
		default:
			if rests != "" {
				return fail("say one of the two", "is %s and %s", word, rests)
			}
			rests, p.Resting = word, Resting(word)
		}
		rest = rest[:m[0]]
	}
	m := wordPart.FindStringSubmatchIndex(rest)
	if m == nil {
		return fail("", "does not begin with a shape")
	}
	word := rest[m[2]:m[3]]
	form := formOf(word)
	if form < 0 {
		var near []string
		for _, f := range pieceForms {
			near = append(near, string(f.shape))
		}
		hint := "shapes are " + strings.Join(near, ", ")
		if _, err := unit.ParseLength("1 " + word); err == nil {
			hint = `write the shape first, then its size: "sphere 2.5in"`
		} else if as := otherShape(word); as != "" {
			hint = as
		} else if n := strict.Nearest(strings.ToLower(word), near); n != "" {
			hint = "did you mean " + n + "? " + hint
		}
		return fail(hint, "no shape %q", word)
	}
	f := pieceForms[form]
	p.Shape = f.shape
	p.Lens = strings.EqualFold(word, "lens")
	rest = rest[m[1]:]
	if w := wallPart.FindStringSubmatchIndex(rest); w != nil {
		measure, more := rest[w[2]:w[3]], ""
		if t := timesPart.FindStringIndex(measure); t != nil { // tube 50mm wall 5mm x 100mm
			measure, more = measure[:t[0]], " x "+measure[t[1]:]
		}
		wall, err := unit.ParseLength(measure)
		if err != nil {
			return Piece{}, fmt.Errorf("piece %q: wall %w", shorten(text), err)
		}
		p.Wall, rest = wall, rest[:w[0]]+more
	}
	if strings.TrimSpace(rest) == "" {
		return fail(`write "`+f.example+`"`, "has no size")
	}
	var sizes []unit.Length
	for _, part := range timesPart.Split(strings.TrimSpace(rest), -1) {
		l, err := unit.ParseLength(part)
		if err != nil {
			return Piece{}, fmt.Errorf("piece %q: size %w", shorten(text), err)
		}
		sizes = append(sizes, l)
	}
	if len(sizes) < f.fewest || len(sizes) > f.most {
		if f.shape == PendantShape && len(sizes) == 1 {
			return fail(`write "`+p.What+` x THICKNESS", the thickness last`, "one size given; a pendant takes its width and its greatest thickness")
		}
		want := strconv.Itoa(f.fewest)
		if f.most > f.fewest {
			want += " to " + strconv.Itoa(f.most)
		}
		return fail(`write "`+f.example+`"`, "%s: %d sizes given, takes %s", f.shape, len(sizes), want)
	}
	p.measure(sizes)
	if err := p.check(); err != nil {
		return fail(`write "`+f.example+`"`, "%s", err)
	}
	return p, nil
}

// measure gives the sizes, in the order they are written, their meaning.
func (p *Piece) measure(sizes []unit.Length) {
	last := len(sizes) - 1
	switch p.Shape {
	case SphereShape, RodShape, TubeShape:
		p.Size = sizes[0]
		if last > 0 {
			p.Across = sizes[1]
		}
	default:
		p.Size = sizes[last]
		if last > 0 {
			p.Across = sizes[0]
		}
		if last > 1 {
			p.Wide = sizes[1]
		}
		if p.Shape == DomeShape && last == 0 {
			p.Across, p.Size = sizes[0], sizes[0]/2
		}
	}
}

// check refuses sizes that no torch piece has.
func (p *Piece) check() error {
	limit := func(name string, l, low, high unit.Length) error {
		if l < low || l > high {
			return fmt.Errorf("%s %s: must be %s", name, unit.AsTyped(l), unit.RangeFor(l, low, high))
		}
		return nil
	}
	if err := limit("size", p.Size, SmallestPiece, LargestPiece); err != nil {
		return err
	}
	for _, side := range []unit.Length{p.Across, p.Wide} {
		if side == 0 {
			continue
		}
		if err := limit("size", side, SmallestPiece, LongestPiece); err != nil {
			return err
		}
	}
	solid := map[Shape]string{TubeShape: "is a rod", SphereShape: "has no wall"}[p.Shape]
	if p.Wall != 0 && solid != "" {
		if err := limit("wall", p.Wall, SmallestPiece/2, LargestPiece); err != nil {
			return err
		}
		if 2*p.Wall >= p.Size {
			return fmt.Errorf("wall %s: must be less than half the diameter %s; a solid one %s", unit.AsTyped(p.Wall), unit.AsTyped(p.Size), solid)
		}
	}
	switch p.Shape {
	case TubeShape:
		if p.Wall == 0 {
			return fmt.Errorf("tube without a wall thickness")
		}
	case DiscShape, PendantShape, DomeShape:
		if p.Across != 0 && p.Across < p.Size*999/1000 {
			return fmt.Errorf("%s %s across and %s high: give the width first; a tall one is a rod", p.Shape, p.Across, p.Size)
		}
	}
	switch {
	case p.Wall != 0 && solid == "":
		return fmt.Errorf("only a tube or a hollow sphere has a wall")
	case p.OpenEnded && p.Shape != TubeShape:
		return fmt.Errorf("only a tube has an open end")
	}
	return nil
}

// shorten keeps a message to one line.
func shorten(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}
