package formula

import (
	"fmt"
)

// Form is the one-dimensional body that stands for a piece.
type Form int

// The three forms that heat flow and stress are known for in closed form.
const (
	FormSlab     Form = iota // a flat slab, edges ignored
	FormCylinder             // a long rod
	FormSphere               // a solid sphere
)

// String returns "slab", "cylinder" or "sphere".
func (f Form) String() string {
	switch f {
	case FormSlab:
		return "slab"
	case FormCylinder:
		return "cylinder"
	case FormSphere:
		return "sphere"
	}
	return fmt.Sprintf("Form(%d)", int(f))
}
