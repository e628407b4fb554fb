package sim

// The heat equation is stepped by ROS34PW2 (Rang and Angermann 2005, BIT
// Numerical Mathematics 45, 761 [memory; its conditions of order, its
// stability at infinity and the order it reaches are tested in
// rosenbrock_test.go and order_test.go]): linearly implicit, four stages,
// third order whatever the accuracy of the Jacobian, L-stable, with an
// embedded solution of second order for the error.
//
// In the usual notation k_i = F(y + dt Σ α_ij k_j) + dt J Σ γ_ij k_j and
// y' = y + dt Σ b_i k_i. The stages kept are u_i = dt Σ γ_ij k_j, which need no
// product with J; the arrays below are the same method in those.
const rosGamma = 0.435866521508459

var (
	publishedAlpha = [4][4]float64{
		{},
		{0.87173304301691801},
		{0.84457060015369423, -0.11299064236484185},
		{0, 0, 1},
	}
	publishedGamma = [4][4]float64{
		{rosGamma},
		{-0.87173304301691801, rosGamma},
		{-0.90338057013044082, 0.054180672388095326, rosGamma},
		{0.24212380706095346, -1.2232505839045147, 0.54526025533510214, rosGamma},
	}
	publishedB    = [4]float64{0.24212380706095346, -1.2232505839045147, 1.545260255335102, rosGamma}
	publishedBHat = [4]float64{0.37810903145819369, -0.096042292212423178, 0.5, 0.2179332607542295}

	rosA, rosC       [4][4]float64 // stage values; γ times the sum over earlier stages
	rosM, rosE       [4]float64    // new value; error
	rosAlpha, rosSum [4]float64    // time of a stage; Σ γ_ij
)

func init() {
	var inv [4][4]float64 // of the lower triangle γ
	for j := range inv {
		for i := j; i < 4; i++ {
			sum := 0.0
			if i == j {
				sum = 1
			}
			for k := j; k < i; k++ {
				sum -= publishedGamma[i][k] * inv[k][j]
			}
			inv[i][j] = sum / rosGamma
		}
	}
	for i := range inv {
		for j := range inv {
			rosAlpha[i] += publishedAlpha[i][j]
			rosSum[i] += publishedGamma[i][j]
			for k := range inv {
				rosA[i][j] += publishedAlpha[i][k] * inv[k][j]
			}
			if j < i {
				rosC[i][j] = -rosGamma * inv[i][j]
			}
			rosM[j] += publishedB[i] * inv[i][j]
			rosE[j] += (publishedB[i] - publishedBHat[i]) * inv[i][j]
		}
	}
}
