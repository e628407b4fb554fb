package piece

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// pieceForm is how a shape is written.
type pieceForm struct {
	shape   Shape
	words   []string
	fewest  int
	most    int
	example string
}

// pieceForms says, for each shape, which measures are written and in which
// order, and an example for the hint.
var pieceForms = []pieceForm{
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

// parsePiece reads a piece: its count from the front, the words at its end from
// the back, and what is left as a shape, its wall and its sizes.
func parsePiece(text string) (Piece, error) {
	r := pieceReader{text: text, rest: text, p: Piece{Count: 1, Resting: OnShelf}}
	switch {
	case strings.TrimSpace(text) == "":
		return Piece{}, r.fail("", "is empty")
	case len(text) > 200:
		return Piece{}, r.fail("", "is longer than 200 characters")
	case curlyQuotes().MatchString(text):
		return Piece{}, r.fail("type straight quotes around the piece, \" or ', and none inside it", "has curly quotes in it")
	}
	if err := r.count(); err != nil {
		return Piece{}, err
	}
	r.p.What = strings.Join(strings.Fields(r.rest), " ")
	if err := r.tail(); err != nil {
		return Piece{}, err
	}
	form, err := r.shape()
	if err != nil {
		return Piece{}, err
	}
	if err := r.wall(); err != nil {
		return Piece{}, err
	}
	sizes, err := r.sizes(form)
	if err != nil {
		return Piece{}, err
	}
	r.p.measure(sizes)
	if err := r.p.check(); err != nil {
		hint := form.hint()
		var size *sizeError
		if errors.As(err, &size) {
			hint = size.Hint()
		}
		return Piece{}, r.fail(hint, "%s", err)
	}
	return r.p, nil
}

// pieceReader is a piece that is being read.
type pieceReader struct {
	text string
	rest string // what is not read yet
	p    Piece
}

func (r *pieceReader) fail(hint, format string, args ...any) error {
	if hint == "" {
		hint = pieceHint
	}
	return &Error{Text: shorten(r.text), Reason: fmt.Sprintf(format, args...), hint: hint}
}

// count reads a count at the front.
func (r *pieceReader) count() error {
	m := countPart.FindStringSubmatchIndex(r.rest)
	if m == nil {
		return nil
	}
	number, cut := "", m[1]
	if m[2] >= 0 {
		number = r.rest[m[2]:m[3]]
	} else {
		number, cut = r.rest[m[4]:m[5]], m[6]
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > MostPieces {
		return r.fail("", "count %s: must be from 1 to %d", number, MostPieces)
	}
	r.p.Count, r.rest = n, r.rest[cut:]
	return nil
}

// tail reads the words at the end: the bore, the light, what counts, how it rests.
func (r *pieceReader) tail() error {
	rests, bore, light := "", "", ""
	for {
		m := tailPart.FindStringSubmatchIndex(r.rest)
		if m == nil {
			return nil
		}
		switch word := strings.ToLower(r.rest[m[2]:m[3]]); word {
		case "open", "open-ended", "closed":
			if bore != "" {
				return r.fail("say one of the two", "is %s and %s", word, bore)
			}
			bore, r.p.OpenEnded = word, word != "closed"
		case "clear", "dark", "opaque":
			if light != "" {
				return r.fail("say one of them", "is %s and %s", word, light)
			}
			light, r.p.Light = word, Light(word)
		case "textbook":
			r.p.Textbook = true
		default:
			if rests != "" {
				return r.fail("say one of the two", "is %s and %s", word, rests)
			}
			rests, r.p.Resting = word, Resting(word)
		}
		r.rest = r.rest[:m[0]]
	}
}

// shape reads the word for the shape.
func (r *pieceReader) shape() (pieceForm, error) {
	m := wordPart.FindStringSubmatchIndex(r.rest)
	if m == nil {
		return pieceForm{}, r.fail("", "does not begin with a shape")
	}
	word := r.rest[m[2]:m[3]]
	form := formOf(word)
	if form < 0 {
		return pieceForm{}, r.fail(shapeHint(word), "no shape %q", word)
	}
	r.p.Shape = pieceForms[form].shape
	r.p.Lens = strings.EqualFold(word, "lens")
	r.rest = r.rest[m[1]:]
	return pieceForms[form], nil
}

// shapeHint is what to write in place of a word that is no shape.
func shapeHint(word string) string {
	var shapes []string
	for _, f := range pieceForms {
		shapes = append(shapes, string(f.shape))
	}
	hint := "shapes are " + strings.Join(shapes, ", ")
	if _, err := unit.ParseLength("1 " + word); err == nil {
		return `write the shape first, then its size: "sphere 2.5in"`
	}
	if as := otherShape(word); as != "" {
		return as
	}
	return strict.DidYouMean(strings.ToLower(word), shapes, hint)
}

// hint is how a piece of the form is written.
func (f pieceForm) hint() string { return `write "` + f.example + `"` }

// wall reads the wall of a tube or a hollow sphere.
func (r *pieceReader) wall() error {
	w := wallPart.FindStringSubmatchIndex(r.rest)
	if w == nil {
		return nil
	}
	measure, more := r.rest[w[2]:w[3]], ""
	if t := timesPart.FindStringIndex(measure); t != nil { // tube 50mm wall 5mm x 100mm
		measure, more = measure[:t[0]], " x "+measure[t[1]:]
	}
	wall, err := unit.ParseLength(measure)
	if err != nil {
		return fmt.Errorf("piece %q: wall %w", shorten(r.text), err)
	}
	r.p.Wall, r.rest = wall, r.rest[:w[0]]+more
	return nil
}

// sizes reads the measures, as many as the form takes.
func (r *pieceReader) sizes(f pieceForm) (sizes []unit.Length, err error) {
	if strings.TrimSpace(r.rest) == "" {
		return nil, r.fail(f.hint(), "has no size")
	}
	for _, part := range timesPart.Split(strings.TrimSpace(r.rest), -1) {
		l, err := unit.ParseLength(part)
		if err != nil {
			return nil, fmt.Errorf("piece %q: size %w", shorten(r.text), err)
		}
		sizes = append(sizes, l)
	}
	switch n := len(sizes); {
	case n >= f.fewest && n <= f.most:
		return sizes, nil
	case f.shape == PendantShape && n == 1:
		return nil, r.fail(`write "`+r.p.What+` x THICKNESS", the thickness last`, "one size given; a pendant takes its width and its greatest thickness")
	}
	want := strconv.Itoa(f.fewest)
	if f.most > f.fewest {
		want += " to " + strconv.Itoa(f.most)
	}
	return nil, r.fail(f.hint(), "%s: %d sizes given, takes %s", f.shape, len(sizes), want)
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
