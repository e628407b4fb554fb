package picture

import (
	"bytes"
	"fmt"
	"html"
	"regexp"
	"strings"
	"sync"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Size is the size of a picture and of its letters, in points (1/72 inch).
type Size struct{ Width, Height, Letters float64 }

// Page is the size of a picture in a file, Column that of one in a page that is
// read on a phone and on paper: as wide as the screen of the one and the column
// of the other.
var (
	Page   = Size{Width: 560, Height: 460, Letters: 9.5}
	Column = Size{Width: 268, Height: 270, Letters: 8.8}
)

const margin = 5

// sized is a size with room for a key of more lines than usual, and for the names
// of two programs.
func (c *Curve) sized(s Size) Size {
	rows := max(0, len(c.Pieces)-MostPieces)
	if c.Other != nil {
		rows = len(c.Pieces) + 1
	}
	s.Height += keyRow * s.Letters * float64(rows)
	return s
}

func (c *Curve) on(canvas vg.CanvasSizer, s Size, alone bool) *drawing {
	dc := draw.New(canvas)
	if !alone {
		return c.draw(draw.Crop(dc, 1, -1, 1, -1), vg.Length(s.Letters), false)
	}
	return c.draw(draw.Crop(dc, margin, -margin, margin, -margin), vg.Length(s.Letters), true)
}

var pdfDate = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`/(Creation|Mod)Date \(D:[0-9]+\)`) })

// PDF returns the picture as one page of PDF. It states no date, so that the
// same curve gives the same bytes; blanks keep the places of everything else.
func (c *Curve) PDF(s Size) ([]byte, error) {
	s = c.sized(s)
	canvas := vgpdf.New(vg.Length(s.Width), vg.Length(s.Height))
	c.on(canvas, s, true)
	var buf bytes.Buffer
	_, err := canvas.WriteTo(&buf)
	return pdfDate().ReplaceAllFunc(buf.Bytes(), func(date []byte) []byte { return bytes.Repeat([]byte(" "), len(date)) }), err
}

// PNG returns the picture on white at 192 dots per inch.
func (c *Curve) PNG(s Size) ([]byte, error) {
	s = c.sized(s)
	canvas := vgimg.NewWith(vgimg.UseWH(vg.Length(s.Width), vg.Length(s.Height)), vgimg.UseDPI(192), vgimg.UseBackgroundColor(paper))
	c.on(canvas, s, true)
	var buf bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: canvas}.WriteTo(&buf)
	return buf.Bytes(), err
}

var (
	svgHead = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)^.*?<svg[^>]*>\n?`) })
	svgFont = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`font-family:[^;]*;font-variant:[^;]*;font-weight:normal;font-style:normal`)
	})
)

// svgFamily are letters of the same widths as those measured with, then any.
const svgFamily = `font-family:Liberation Sans,Arial,Helvetica,sans-serif`

// SVG returns the picture as a file of its own, on white. Its text is text.
func (c *Curve) SVG(s Size) ([]byte, error) {
	s = c.sized(s)
	body, err := c.svgBody(s, true)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gpt\" height=\"%gpt\" viewBox=\"0 0 %g %g\" role=\"img\" aria-labelledby=\"title desc\">\n",
		s.Width, s.Height, s.Width, s.Height)
	fmt.Fprintf(&b, "<title id=\"title\">%s</title>\n<desc id=\"desc\">%s</desc>\n", html.EscapeString(c.Title), html.EscapeString(c.Desc))
	fmt.Fprintf(&b, "<rect width=\"100%%\" height=\"100%%\" fill=\"#FFFFFF\"/>\n")
	b.WriteString(body)
	return []byte(b.String()), nil
}

// Inline returns the picture as an element of a page of HTML: without heading
// and background, in the colors of the page's style sheet (--ink, --tone, --over,
// --line, --hair, --wash, --zone, --paper).
func (c *Curve) Inline(s Size) (string, error) {
	s = c.sized(s)
	body, err := c.svgBody(s, false)
	if err != nil {
		return "", err
	}
	var swap []string
	for name, color := range pageColors {
		hex := fmt.Sprintf("#%02X%02X%02X", color.R, color.G, color.B)
		swap = append(swap, ":"+hex, ":var(--"+name+","+hex+")")
	}
	body = strings.NewReplacer(swap...).Replace(body)
	head := fmt.Sprintf("<svg viewBox=\"0 0 %g %g\" role=\"img\" aria-labelledby=\"curve-title curve-desc\">\n", s.Width, s.Height)
	head += fmt.Sprintf("<title id=\"curve-title\">%s</title>\n<desc id=\"curve-desc\">%s</desc>\n", html.EscapeString(c.Title), html.EscapeString(c.Desc))
	return head + body, nil
}

// svgBody returns what stands between the head of an SVG and its end, end
// included.
func (c *Curve) svgBody(s Size, alone bool) (string, error) {
	canvas := vgsvg.New(vg.Length(s.Width), vg.Length(s.Height))
	c.on(canvas, s, alone)
	var buf bytes.Buffer
	if _, err := canvas.WriteTo(&buf); err != nil {
		return "", err
	}
	text := svgHead().ReplaceAllString(buf.String(), "")
	return svgFont().ReplaceAllString(text, svgFamily), nil
}
