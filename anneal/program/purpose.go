package program

import "slices"

// Purpose says what a segment is for. The file of a program may hold any words
// of a person's own.
type Purpose string

// The purposes that the planners give.
const (
	PurposeSoak    Purpose = "soak"
	PurposeHeat    Purpose = "heating"
	PurposeCool    Purpose = "cooling"
	PurposeSlow    Purpose = "slow cooling"
	PurposeNext    Purpose = "next cooling"
	PurposeFinal   Purpose = "final cooling"
	PurposeHold    Purpose = "hold"
	PurposeOff     Purpose = "power off"
	PurposeToSet   Purpose = "to the setting range"
	PurposeSetting Purpose = "setting range" // numbered where there are several
)

// SoakTemperature is what a piece decides that decides how hot the soak is; no
// segment has it for its purpose.
const SoakTemperature Purpose = "soak temperature"

// CoolingPurpose names the i-th of n cooling ramps.
func CoolingPurpose(i, n int) Purpose {
	switch {
	case i == n-1 && n > 1:
		return PurposeFinal
	case i == 0:
		return PurposeSlow
	}
	return PurposeNext
}

// Purposes are purposes, each once.
type Purposes []Purpose

// Add appends a purpose unless it is there already.
func (l *Purposes) Add(p Purpose) {
	if !slices.Contains(*l, p) {
		*l = append(*l, p)
	}
}
