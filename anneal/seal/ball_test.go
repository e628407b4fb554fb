package seal

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"lehr/glass/unit"
)

// TestBall_sameAsMatrix solves the same equations as one matrix, however thin and
// however relaxed the layers are. Glasses and metals are less than ten times as stiff
// as each other; from the middle out, digits are lost with that ratio.
func TestBall_sameAsMatrix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := func(low, high float64, name string) float64 {
			return math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, name))
		}
		var shells []Shell
		outer := 1e-3
		for range rapid.IntRange(1, 7).Draw(t, "layers") {
			shells = append(shells, Shell{unit.Length(outer), Elastic{unit.Stress(log(2e10, 2e11, "Young")), rapid.Float64Range(0, 0.45).Draw(t, "Poisson"), log(1e-7, 3e-5, "expansion")}})
			outer *= 1 + log(1e-3, 20, "ratio")
		}
		s := newBall(shells)
		s.shrinkAll(450)
		for i := 1; i < len(shells); i++ {
			s.stiff[i], s.held[i] = log(1e-9, 1, "stiff"), rapid.Float64Range(-1e-3, 1e-3).Draw(t, "held")
		}
		s.solve()

		n := len(shells)
		m, rhs := mat.NewDense(2*n, 2*n, nil), mat.NewVecDense(2*n, nil)
		row := 0
		put := func(col int, x float64) { m.Set(row, col, m.At(row, col)+x) }
		const modulus = 1e10
		pull := func(i int, r, sign float64) {
			c := math.Pow(s.outer[i]/r, 3)
			put(2*i, sign*3*s.bulk[i]/modulus)
			put(2*i+1, -sign*4*s.shear[i]*s.stiff[i]*c/modulus)
			rhs.SetVec(row, rhs.AtVec(row)-sign*(3*s.bulk[i]*s.shrunk[i]-4*s.shear[i]*s.held[i]*c)/modulus)
		}
		put(1, 1) // b of the core is zero
		row++
		for i := range n - 1 {
			r := s.outer[i]
			put(2*i, 1)
			put(2*i+1, 1)
			put(2*i+2, -1)
			put(2*i+3, -math.Pow(s.outer[i+1]/r, 3))
			row++
			pull(i, r, 1)
			pull(i+1, r, -1)
			row++
		}
		pull(n-1, s.outer[n-1], 1)
		var x mat.VecDense
		if err := x.SolveVec(m, rhs); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				t.Fatal(err)
			}
		}
		// b counts by the cube of how far the inside of a layer lies from its outside.
		most, off := 0.0, 0.0
		for i := range shells {
			c := 1.0
			if i > 0 {
				c = math.Pow(s.outer[i]/s.outer[i-1], 3)
			}
			a, b := x.AtVec(2*i), x.AtVec(2*i+1)
			most = max(most, math.Abs(a), math.Abs(b)*c)
			off = max(off, math.Abs(a-s.a[i]), math.Abs(b-s.b[i])*c)
		}
		if off > 1e-10*most {
			t.Fatalf("%v: the strains are %g off, of %g: %v and %v, from the matrix %v", shells, off, most, s.a, s.b, x.RawVector().Data)
		}
	})
}
