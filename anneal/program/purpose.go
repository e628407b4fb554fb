package program

const (
	PurposeSoak  = "soak"
	PurposeHeat  = "heating"
	PurposeSlow  = "slow cooling"
	PurposeNext  = "next cooling"
	PurposeFinal = "final cooling"
	PurposeHold  = "hold"
	PurposeOff   = "power off"
)

// purpose names the i-th of n cooling ramps.
func CoolingPurpose(i, n int) string {
	switch {
	case i == n-1 && n > 1:
		return PurposeFinal
	case i == 0:
		return PurposeSlow
	}
	return PurposeNext
}
