package piece

import (
	"fmt"
	"time"

	"lehr/anneal/seal/contents"
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
	// person wrote it, which [Load.ResolveTimes] reads.
	In     time.Duration
	InText string
	Light  Light // how clear the glass is, "" if nobody said
	// LightBy is the material in it that made it darker than anybody said, "" if
	// none did.
	LightBy string
	// Words say what is in it, as typed, and Contents what that is once the glass
	// is known; see Fill.
	Words    contents.Words
	Contents contents.Contents
	// Stone is what a piece is that IsStone, once it was filled.
	Stone contents.Inside
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
	what, glass        string // the piece, and the name of a glass that stands behind it
}

func (e *Error) Error() string { return fmt.Sprintf("piece %q: %s", e.Text, e.Reason) }

// Hint returns one thing to do.
func (e *Error) Hint() string { return e.hint }

// sizeError is a size that no torch piece has.
type sizeError struct{ message string }

func (e *sizeError) Error() string { return e.message }

// Hint names the one thing to do: the message says the range.
func (e *sizeError) Hint() string {
	return "no other size is computed; look at the number and its unit"
}

// check refuses sizes that no torch piece has.
func (p *Piece) check() error {
	limit := func(name string, l, low, high unit.Length) error {
		if l < low || l > high {
			return &sizeError{fmt.Sprintf("%s %s: must be %s", name, unit.AsTyped(l), unit.RangeFor(l, low, high))}
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
func shorten(s string) string { return strict.Short(s, 60) }
