package piece

import (
	"lehr/glass"
	"lehr/glass/cases"
)

// PaceCases answers how many times slower than stress the structure of a glass
// relaxes, in the two variants of its pace.
func PaceCases() map[string]cases.Compute {
	return map[string]cases.Compute{"Structure": func(t cases.T, in cases.Values) cases.Values {
		g, err := glass.Find(in.Text("glass"))
		if err != nil {
			t.Fatal(err)
		}
		shear := g.Young.Number / 2 / (1 + g.Poisson.Number)
		return cases.Values{"lambda_over_tau": []float64{shear / structuralModulus, shear / fastStructure}}
	}}
}
