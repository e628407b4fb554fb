package glass

import "reflect"

// FileKeys lists every key that a glass file takes: those of a [[glass]] by their
// names, and those inside them behind a point ("expansion.value",
// "absorption.to", "viscosity.A", "source.cite"). A test elsewhere holds help
// against it: what a file takes is known here alone.
func FileKeys() []string {
	var out []string
	add := func(prefix string, t reflect.Type) {
		for i := range t.NumField() {
			if name := t.Field(i).Tag.Get("toml"); name != "" {
				out = append(out, prefix+name)
			}
		}
	}
	add("", reflect.TypeFor[form]())
	add("expansion.", reflect.TypeFor[entry]())
	add("absorption.", reflect.TypeFor[band]())
	add("viscosity.", reflect.TypeFor[pin]())
	add("sharp_ginther.", reflect.TypeFor[mean]())
	add("source.", reflect.TypeFor[Source]())
	return out
}
