package main

import (
	"strings"

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

// lengthText writes a length without idle zeros.
func lengthText(l unit.Length, sys unit.System) string {
	x, u := l.In(sys)
	return short(x) + " " + u
}

// wrapAfter wraps text that goes on behind a word already printed, which takes
// so many columns of the first line.
func wrapAfter(text string, printed, width int, ascii bool) string {
	if ascii {
		text = term.ToASCII(text)
	}
	return " " + strings.TrimLeft(term.Wrap(strings.TrimSpace(text), width, printed+1, 0), " ")
}

func (a *app) eyeJSON(of eyeOf, r figure.EyeReport) error {
	verdict := "within limits"
	if r.Over {
		verdict = "over limit"
	}
	type behind struct {
		Passed  num    `json:"transmittance"`
		To      num    `json:"up_to_nm"`
		Behind  num    `json:"irradiance_W_per_m2"`
		Verdict string `json:"verdict"`
	}
	var lens *behind
	if r.Lens.Passes > 0 {
		lens = &behind{num(r.Lens.Passes), num(r.Lens.To * 1e9), num(r.Behind), "within limits"}
		if r.BehindOver {
			lens.Verdict = "over limit"
		}
	}
	optional := func(on bool, x float64) *num {
		if !on {
			return nil
		}
		n := num(x)
		return &n
	}
	return a.printJSON(struct {
		Verdict    string        `json:"verdict"`
		Of         string        `json:"of"`
		Temp       num           `json:"temperature_C"`
		From       num           `json:"distance_mm"`
		Irradiance num           `json:"irradiance_W_per_m2"`
		Share      num           `json:"band_share"`
		Beyond     num           `json:"share_beyond_2000_nm"`
		Limit      num           `json:"limit_W_per_m2"`
		Times      num           `json:"times_limit"`
		Look       *num          `json:"longest_look_s"`
		Most       num           `json:"lens_transmittance_at_most"`
		Distance   *num          `json:"limit_distance_mm"`
		Lens       *behind       `json:"lens"`
		Status     source.Status `json:"status"`
		Assumed    []string      `json:"assumptions"`
		Sources    []string      `json:"sources"`
		Foot       []string      `json:"foot"`
	}{verdict, of.what, num(of.temp.Celsius()), num(of.from.Millimeters()), num(r.Irradiance), num(r.BandShare), num(r.BeyondNorm), num(r.Limit), num(r.Times),
		optional(r.Over, r.ShortTime.Seconds()), num(r.MaxTransmittance), optional(r.LimitDistance > 0, r.LimitDistance.Millimeters()), lens,
		r.Status, eyeAssumed(r), sourceCites(r.Sources), deferralTexts(r.Defer)})
}
