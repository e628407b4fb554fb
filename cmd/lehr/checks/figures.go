package checks

import (
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// sig2 writes an upper bound with two significant digits, rounded up.
func sig2(x float64) string { return quantity.DigitsUp(x, 2) }

// percentDown writes a greatest allowed share with two significant digits,
// rounded down.
func percentDown(x float64) string { return quantity.DigitsDown(100*x, 2) + " %" }

// lengthUp writes a least distance with two significant digits, rounded up.
func lengthUp(l unit.Length, sys unit.System) string {
	x, u := l.In(sys)
	return sig2(x) + " " + u
}

// wrapAfter wraps text that goes on behind a word already printed, which takes
// so many columns of the first line.
func wrapAfter(text string, printed, width int, ascii bool) string {
	if ascii {
		text = term.ToASCII(text)
	}
	return " " + strings.TrimLeft(term.Wrap(strings.TrimSpace(text), width, printed+1, 0), " ")
}

func eyeJSON(a *desk.App, of eyeOf, r figure.EyeReport) error {
	verdict := "within limits"
	if r.Over {
		verdict = "over limit"
	}
	type behind struct {
		Passed  report.Num `json:"transmittance"`
		To      report.Num `json:"up_to_nm"`
		Behind  report.Num `json:"irradiance_W_per_m2"`
		Verdict string     `json:"verdict"`
	}
	var lens *behind
	if r.Lens.Passes > 0 {
		lens = &behind{report.Num(r.Lens.Passes), report.Num(r.Lens.To * 1e9), report.Num(r.Behind), "within limits"}
		if r.BehindOver {
			lens.Verdict = "over limit"
		}
	}
	optional := func(on bool, x float64) *report.Num {
		if !on {
			return nil
		}
		n := report.Num(x)
		return &n
	}
	look := ""
	if r.Over {
		look = lookMeans
	}
	return a.PrintJSON(struct {
		Verdict    string        `json:"verdict"`
		Of         string        `json:"of"`
		Temp       report.Num    `json:"temperature_C"`
		From       report.Num    `json:"distance_mm"`
		Irradiance report.Num    `json:"irradiance_W_per_m2"`
		Share      report.Num    `json:"band_share"`
		Beyond     report.Num    `json:"share_beyond_2000_nm"`
		Limit      report.Num    `json:"limit_W_per_m2"`
		Times      report.Num    `json:"times_limit"`
		Look       *report.Num   `json:"longest_look_s"`
		LookMeans  string        `json:"longest_look_is,omitempty"`
		Eyewear    string        `json:"eyewear"`
		Most       report.Num    `json:"lens_transmittance_at_most"`
		Distance   *report.Num   `json:"limit_distance_mm"`
		Lens       *behind       `json:"lens"`
		Status     source.Status `json:"status"`
		Assumed    []string      `json:"assumptions"`
		Sources    []string      `json:"sources"`
		Foot       []string      `json:"foot"`
	}{verdict, of.what, report.Num(of.temp.Celsius()), report.Num(of.from.Millimeters()), report.Num(r.Irradiance), report.Num(r.BandShare), report.Num(r.BeyondNorm), report.Num(r.Limit), report.Num(r.Times),
		optional(r.Over, r.ShortTime.Seconds()), look, eyewearStays, report.Num(r.MaxTransmittance), optional(r.LimitDistance > 0, r.LimitDistance.Millimeters()), lens,
		r.Status, eyeAssumed(r), sourceCites(r.Sources), deferralTexts(r.Defer)})
}
