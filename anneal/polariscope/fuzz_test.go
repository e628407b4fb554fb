package polariscope

import "testing"

// FuzzReading: no text makes the parser panic, and what is read is a finite
// retardation within bounds.
func FuzzReading(f *testing.F) {
	for _, s := range []string{"60 nm", "60 ± 15 nm", "20 deg at 546nm", "sky blue order 2", "2.5 discs", "±", " at  order ", "0e9 nm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseNoted(text)
		if err == nil && !(r.Retardation >= Faint && r.Retardation <= Greatest && r.Error >= 0 && r.Error < 1) {
			t.Errorf("%q: %+v", text, r)
		}
	})
}
