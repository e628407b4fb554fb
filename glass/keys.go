package glass

import (
	"slices"

	"lehr/glass/strict"
)

// FileKeys lists every key that a glass file takes: those of a [[glass]] by their
// names, and those inside them behind a point ("expansion.value",
// "absorption.to", "viscosity.A", "source.cite"). A test elsewhere holds help
// against it: what a file takes is known here alone.
func FileKeys() []string {
	return slices.Concat(strict.Keys[form](""), strict.Keys[entry]("expansion."), strict.Keys[band]("absorption."),
		strict.Keys[pin]("viscosity."), strict.Keys[mean]("sharp_ginther."), strict.Keys[Source]("source."))
}
