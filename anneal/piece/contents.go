package piece

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/strict"
)

// insideWords begin what is in a piece, behind a semicolon.
var insideWords = []string{"inside", "layers", "skin", "stripe"}

// layerSign stands between the layers of one text.
const layerSign = " / "

// mostText is how long a piece may be with all that is in it.
const mostText = 1000

var insidePart = regexp.MustCompile(`(?i)[\s,.]+((?:inside|layers|skin|stripe)\s.*)$`)

// splitContents takes the words for what is in a piece off its text:
//
//	sphere 2.5in clear; inside opal 8mm, 12mm deep; skin white 1.5mm
//	disc 75mm x 25mm; layers core clear 15mm / cobalt 2mm / clear
func splitContents(text string) (head string, w contents.Words, err error) {
	fail := func(hint, format string, args ...any) error {
		return &Error{Text: shorten(text), Reason: fmt.Sprintf(format, args...), hint: hint}
	}
	if len(text) > mostText {
		return "", w, fail("", "is longer than %d characters", mostText)
	}
	parts := strings.Split(text, ";")
	if m := insidePart.FindStringSubmatchIndex(parts[0]); m != nil {
		return "", w, fail(fmt.Sprintf(`put a semicolon before it: "%s; %s"`, strings.TrimSpace(parts[0][:m[0]]), strings.TrimSpace(parts[0][m[2]:])), "what is in it has no semicolon before it")
	}
	for _, part := range parts[1:] {
		word, rest, _ := strings.Cut(strings.Join(strings.Fields(part), " "), " ")
		rest = strings.TrimSpace(rest)
		twice := false
		switch strings.ToLower(word) {
		case "":
			continue
		case "inside":
			w.Inside = append(w.Inside, rest)
		case "stripe":
			w.Stripe = append(w.Stripe, rest)
		case "skin":
			twice, w.Skin = w.Skin != "", rest
		case "layers":
			twice, w.Layers = w.Layers != nil, strings.Split(rest, layerSign)
		default:
			hint := `write "; inside opal 8mm", "; layers core clear 40mm / cobalt 2mm / clear", "; skin white 1.5mm" or "; stripe white 3mm x 1mm"`
			hint = strict.DidYouMean(strings.ToLower(word), insideWords, hint)
			return "", w, fail(hint, "%q: does not begin with inside, layers, skin or stripe", shorten(strings.TrimSpace(part)))
		}
		switch {
		case rest == "":
			return "", w, fail(`write "; inside opal 8mm"`, "%s: does not say what", word)
		case twice:
			return "", w, fail("a piece has one skin and one list of layers", "%s: is said twice", word)
		}
	}
	return parts[0], w, nil
}

// contentsText writes what is in a piece as [Parse] reads it, each part with its
// semicolon before it.
func contentsText(w contents.Words) string {
	var b strings.Builder
	put := func(word, text string) {
		b.WriteString("; " + word + " " + strings.Join(strings.Fields(text), " "))
	}
	for _, t := range w.Inside {
		put("inside", t)
	}
	if len(w.Layers) > 0 {
		put("layers", strings.Join(w.Layers, layerSign))
	}
	if w.Skin != "" {
		put("skin", w.Skin)
	}
	for _, t := range w.Stripe {
		put("stripe", t)
	}
	return b.String()
}

// Head is the piece as the person wrote it, without what is in it.
func (p *Piece) Head() string { return strings.TrimSuffix(p.What, contentsText(p.Words)) }

// Within is what is in the piece, "" for nothing: "inside opal 8mm; skin white 1.5mm".
func (p *Piece) Within() string { return strings.TrimPrefix(contentsText(p.Words), "; ") }

// empty reports whether nothing is said to be in a piece.
func empty(w contents.Words) bool {
	return len(w.Inside) == 0 && len(w.Layers) == 0 && w.Skin == "" && len(w.Stripe) == 0
}

// ShapeError is a piece in which nothing can be computed.
type ShapeError struct{ Shape Shape }

func (e *ShapeError) Error() string { return "what is in a " + string(e.Shape) + " is not computed" }

// Hint says what to describe in its place.
func (e *ShapeError) Hint() string {
	return "describe its wall as flat, with its width: slab 100mm x 4mm"
}

// SealBody returns the shape that what is in a piece lies in: the ball, the round
// rod, or the flat piece of its height. Errors: *[ShapeError], *[StoneError].
func (p Piece) SealBody() (seal.Body, error) {
	if p.IsStone() {
		return seal.Body{}, &StoneError{p.What}
	}
	switch p.Shape {
	case SphereShape:
		if p.Wall > 0 {
			return seal.Body{}, &ShapeError{"hollow sphere"}
		}
		return seal.Body{Form: sim.Sphere, Size: p.Size}, nil
	case RodShape:
		return seal.Body{Form: sim.Cylinder, Size: p.Size}, nil
	case TubeShape:
		return seal.Body{}, &ShapeError{p.Shape}
	}
	return seal.Body{Form: sim.Slab, Size: p.Size}, nil
}

// Fill gives a piece its glass and reads what is in it: the words of [Parse] and
// of a load file need the glass to be understood. It is also dark or opaque where
// what is in it makes it so.
//
// Errors: *[contents.TextError] for the words, *[seal.FitError] for what has no room
// in it, *[ShapeError].
func (p *Piece) Fill(g *glass.Glass, find Finder) error {
	p.Glass = g
	if p.IsStone() && g != nil {
		return p.fillStone(g, find)
	}
	if empty(p.Words) || g == nil {
		return nil
	}
	body, err := p.SealBody()
	if err != nil {
		return err
	}
	if p.Contents, err = (contents.Finder{Clear: g, Look: find}).Parse(p.Words); err != nil {
		return err
	}
	if err := (seal.Problem{Clear: g, Body: body, Contents: p.Contents}).Check(); err != nil {
		return err
	}
	p.dim(body)
	return nil
}

// dim makes a piece as dark as what is in it. A piece of which nobody says how
// clear it is stays so where that may still be dark or opaque.
func (p *Piece) dim(b seal.Body) {
	d, by := b.Dims(p.Contents)
	switch {
	case d == seal.AsOpaque && p.Light != Opaque:
		p.Light, p.LightBy = Opaque, by
	case d == seal.AsDark && p.Light == Clear:
		p.Light, p.LightBy = Dark, by
	}
}

// where names the key of a load file that an error of [Piece.Fill] is about.
func where(err error) string {
	var t *contents.TextError
	if errors.As(err, &t) {
		switch t.What {
		case "layer":
			return "layers"
		case "inside", "layers", "skin", "stripe":
			return t.What
		}
	}
	return ""
}
