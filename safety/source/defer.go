package source

// Deferral is a code for whoever overrules a line.
type Deferral string

// The deferrals. Their sentences are printed at the foot of a page.
const (
	ToFire   Deferral = "fire"
	ToGas    Deferral = "gas"
	ToElec   Deferral = "electrician"
	ToAir    Deferral = "air"
	ToEye    Deferral = "eye"
	ToMaker  Deferral = "maker"
	ToMedics Deferral = "medical"
)

// Text returns the sentence of the deferral.
func (d Deferral) Text() string {
	switch d {
	case ToFire:
		return "Your local fire and gas code, and whoever enforces it, overrule this list."
	case ToGas:
		return "Ask your gas supplier or a licensed gas fitter before changing anything on the supply."
	case ToElec:
		return "Kiln wiring is for a licensed electrician under your local code."
	case ToAir:
		return "A qualified industrial hygienist or ventilation engineer should design and measure the air; a figure here is only an estimate."
	case ToEye:
		return "Rely on the lens maker's measured infrared curve and an eye-care professional."
	case ToMaker:
		return "The maker's instructions for your torch, kiln or hood come first."
	case ToMedics:
		return "Call emergency services or a clinician; this is not medical advice."
	}
	return ""
}

// Deferrals lists every code in the order of the foot.
func Deferrals() []Deferral {
	return []Deferral{ToMedics, ToFire, ToGas, ToElec, ToAir, ToEye, ToMaker}
}
