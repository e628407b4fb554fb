package picture

import (
	"image"
	"image/color"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// blank is a canvas that keeps nothing, for finding out where things go.
type blank struct{}

// vg.Canvas.
func (blank) SetLineWidth(vg.Length)                 {}
func (blank) SetLineDash([]vg.Length, vg.Length)     {}
func (blank) SetColor(color.Color)                   {}
func (blank) Rotate(float64)                         {}
func (blank) Translate(vg.Point)                     {}
func (blank) Scale(float64, float64)                 {}
func (blank) Push()                                  {}
func (blank) Pop()                                   {}
func (blank) Stroke(vg.Path)                         {}
func (blank) Fill(vg.Path)                           {}
func (blank) FillString(font.Face, vg.Point, string) {}
func (blank) DrawImage(vg.Rectangle, image.Image)    {}
