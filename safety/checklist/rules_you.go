package checklist

import (
	"fmt"
	"strconv"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

var youRules = []rule{
	{ID: "C1", At: You, Signal: Warning, When: always,
		Words: "Eyewear is marked for infrared: R or W with a number, or European code 4. Side shields are on.",
		Vary: func(f Facts, _ Program) said {
			s := said{note: shadeNote(f)}
			s.fault = lensClaimsInfrared(f.Lens) == No && f.WornLens().Passes == 0 // a figure of the maker's says more than a mark
			switch {
			case strings.Contains(plain(f.Lens), "didymium") && lensClaimsInfrared(f.Lens) != Yes:
				s.words = "Didymium takes out the yellow glare, not the infrared: an infrared filter is added. Side shields are on."
			case f.Lens != "" && lensClaimsInfrared(f.Lens) == No:
				s.words = "Your lens ({lens}) claims no infrared protection. Wear one marked R or W with a number, or European code 4, with side shields."
			}
			return s
		},
		Sources: []string{"ansi-z87", "en166", "osha-133", "patty", "wa-doh", "quartz"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "C2", At: You, Signal: Warning, When: brightPiece(),
		Words:   "Big hot glass close to your face can pass the infrared limit for long work, 100 W/m². Wear an infrared lens, or sit back.",
		Vary:    eyeWords,
		Note:    "Upper bound; the flame is not counted.",
		Sources: []string{"icnirp2013", "eu2006-25"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "C3", At: You, Signal: Warning, When: always,
		Words:   "Extinguisher and cool running water are seconds away. The way out is behind you and clear.",
		Sources: []string{"osha-252", "burns", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire, source.ToMedics}},
	{ID: "C4", At: You, Signal: Warning, When: isYes("alone"),
		Words:   "Someone knows you are at the torch and looks in at {check_time}. A phone is in reach.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "C5", At: You, Signal: Warning, When: always,
		Words:   "Children and pets are out of the room. Pregnant, or on medicine that makes you drowsy: a clinician has been asked.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMedics}},
	{ID: "C6", At: You, Signal: Warning, When: always,
		Words:   "Hair is tied back. Sleeves are tight, cotton or wool. Shoes are closed.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "C7", At: You, Signal: Warning, When: always,
		Words:   "Cold, thick or encased work goes into the heat slowly, your face turned away: it can burst.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "C8", At: You, Signal: Caution, When: always,
		Words:   "One marked place holds everything hot: hot glass looks cold. Hot ends point away from you.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "C9", At: You, Signal: Caution, When: louderThan(85),
		Words: "Hearing protection is on if you must raise your voice to be heard. At 94 dBA the daily limit is about one hour.",
		Vary: func(f Facts, _ Program) said {
			t, err := figure.NoiseTime(f.Noise)
			if f.Noise == 0 || err != nil {
				return said{}
			}
			return said{words: fmt.Sprintf("Hearing protection is on. At %s the daily limit without it is about %s.", quantity.Levels.Text(f.Noise, f.Units), quantity.RoughTime(t))}
		},
		Sources: []string{"acgih-noise"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToAir}},
}

// shadeNote is the one shade that a source names for glass, for the glasses it
// names.
//
// Source: patty, p. 48, for soda-lime and quartz [verified]; of quartz also quartz.
func shadeNote(f Facts) string {
	switch f.Glass {
	case "quartz":
		return "Quartz is worked hotter: its glare and ultraviolet may ask for far more than shade 2.5, one handbook's least. The lens maker says. Its fume is silica: into the hood."
	case "", "soft":
		return "One handbook sets shade 2.5 as the least for soda-lime and quartz; darker may be needed."
	}
	return ""
}

// brightPiece asks whether the figure for infrared at the eye, behind the lens
// if it is known, passes the long limit.
func brightPiece() when {
	return when{[]string{"largest_piece", "glass_temperature", "eye_distance", "lens_infrared", "lens_to", "lens"}, func(f Facts) (truth, []Missing) {
		var missing []Missing
		for _, n := range []string{"largest_piece", "glass_temperature", "eye_distance"} {
			if !f.has(n) {
				missing = append(missing, Missing{Fact: n})
			}
		}
		if missing != nil {
			return unknown, missing
		}
		if f.GlassTemp.Less(unit.Celsius(100)) { // a black body gives 1.3 W/m² in the band
			return absent, nil
		}
		r, err := eyeFigure(f)
		return truthOf(err != nil || r.PassesLimit()), nil
	}}
}

func eyeFigure(f Facts) (figure.EyeReport, error) {
	return figure.Eye(f.GlassTemp, f.LargestPiece, f.EyeDistance, f.WornLens())
}

// eyeWords gives C2 its figures.
func eyeWords(f Facts, _ Program) said {
	if f.LargestPiece == 0 || f.GlassTemp.IsZero() || f.EyeDistance == 0 {
		return said{}
	}
	r, err := eyeFigure(f)
	if err != nil { // stated, and no figure: it is not known to be below the limit
		return said{fault: true}
	}
	lens := "Use a lens passing at most " + quantity.DigitsDown(100*float64(r.MaxTransmittance), 2) + " % up to 3000 nm"
	switch {
	case r.Lens.Passes > 0 && f.LensTo != "3000 nm":
		lens = "The figure of your lens ends at " + quantity.Digits(r.Lens.To*1e9, 4) + " nm. " + lens
	case r.Lens.Passes > 0:
		lens = "Your lens passes " + quantity.Shares.Text(r.Lens.Passes, f.Units) + ". " + lens
	}
	return said{fault: true, words: fmt.Sprintf("%s piece at %s, %s away: up to %s W/m² infrared at your eyes, %s times the limit. %s, or sit back.",
		lengthText(f.LargestPiece, f.Units), f.GlassTemp.Text(f.Units), lengthText(f.EyeDistance, f.Units), quantity.DigitsUp(r.Irradiance, 2), quantity.DigitsUp(r.Times, 2), lens)}
}

// lensClaimsInfrared reports what a marking on a lens says about infrared: Yes
// for R or W with a number, or a European code 4 with its scale; No for other
// known marks, didymium or no lens; NotGiven if the marking cannot be read.
//
// A marking is a claim of the maker, and says nothing of a scratched or wrong
// lens.
//
// Source: ansi-z87; en166 [corroborated].
func lensClaimsInfrared(marking string) Answer {
	known := false
	for _, m := range strings.FieldsFunc(strings.ToUpper(marking), func(r rune) bool { return r == ' ' || r == ',' || r == '/' || r == ';' }) {
		if len(m) > 1 && (m[0] == 'R' || m[0] == 'W') && isScale(m[1:], 1.3, 14) {
			return Yes
		}
		if strings.HasPrefix(m, "4-") && isScale(m[2:], 1.2, 10) {
			return Yes
		}
		switch {
		case m == "DIDYMIUM", m == "NONE", m == "CLEAR", m == "S", m == "V", m == "Z87", m == "Z87+":
			known = true
		case len(m) > 1 && (m[0] == 'U' || m[0] == 'L') && isScale(m[1:], 1, 14):
			known = true
		case len(m) > 2 && strings.ContainsRune("2356", rune(m[0])) && m[1] == '-' && isScale(m[2:], 1, 16):
			known = true
		}
	}
	if known {
		return No
	}
	return NotGiven
}

// isScale reports whether s is a plain number from low to high.
func isScale(s string, low, high float64) bool {
	x, err := strconv.ParseFloat(s, 64)
	return err == nil && strings.Trim(s, "0123456789.") == "" && x >= low && x <= high
}
