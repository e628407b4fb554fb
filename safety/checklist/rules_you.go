package checklist

import (
	"fmt"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

var youRules = []rule{
	{ID: "C1", At: You, Signal: Warning, When: always,
		Words: "Eyewear is marked for infrared: R or W with a number, or European code 4. Side shields are on.",
		Vary: func(f Facts, _ Program) string {
			if f.Lens != "" && LensClaimsInfrared(f.Lens) == No {
				return "Your lens ({lens}) claims no infrared protection. Wear one marked R or W with a number, or European code 4, with side shields."
			}
			return ""
		},
		Sources: []string{"ansi-z87", "en166", "osha-133"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "C2", At: You, Signal: Warning, When: onlyDidymium(),
		Words:   "Didymium takes out the yellow glare, not the infrared. Add an infrared filter.",
		Sources: []string{"patty", "wa-doh"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "C3", At: You, Signal: Warning, When: brightPiece(),
		Words:   "Big hot glass close to your face can pass the infrared limit for long work, 100 W/m². Wear an infrared lens, or sit back.",
		Vary:    eyeWords,
		Note:    "Upper bound for clear glass; the flame is not counted.",
		Sources: []string{"icnirp2013", "eu2006-25"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToEye}},
	{ID: "C4", At: You, Signal: Warning,
		When:    allOf(isOneOf("glass", "quartz", "borosilicate"), anyOf(isOneOf("glass", "quartz"), largerThan("largest_piece", bigPiece))),
		Words:   "Quartz and big borosilicate are brighter, with more near ultraviolet. One handbook sets shade 2.5 as the least for soda-lime and quartz.",
		Sources: []string{"patty", "oriowo1997"}, Status: source.Verified, Defer: []source.Deferral{source.ToEye}},
	{ID: "C5", At: You, Signal: Caution, When: always,
		Words:   "Cotton or wool, closed shoes, hair tied back, no loose sleeves. Hot ends point away from you.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToMaker}},
	{ID: "C6", At: You, Signal: Caution, When: always,
		Words:   "Cool running water is seconds away, for a burn.",
		Sources: []string{"burns"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToMedics}},
	{ID: "C7", At: You, Signal: Caution, When: louderThan(85),
		Words: "Wear hearing protection if you must raise your voice to be heard. At 94 dBA the daily limit is about one hour.",
		Vary: func(f Facts, _ Program) string {
			t, err := figure.NoiseTime(f.Noise)
			if f.Noise == 0 || err != nil {
				return ""
			}
			return fmt.Sprintf("Wear hearing protection. At %s the daily limit without it is about %s.", f.Noise.Text(f.Units), quantity.RoughTime(t))
		},
		Sources: []string{"acgih-noise"}, Status: source.Corroborated, Defer: []source.Deferral{source.ToAir}},
	{ID: "C8", At: You, Signal: Warning, When: isYes("alone"),
		Words:   "Someone knows you are at the torch and will check on you at {check_time}. Phone in reach.",
		Sources: []string{source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
	{ID: "C9", At: You, Signal: Warning, When: always,
		Words:   "Extinguisher in reach. Way out behind you. No paper or solvent on the bench.",
		Sources: []string{"osha-252", source.Practice}, Status: source.CommonPractice, Defer: []source.Deferral{source.ToFire}},
}

// onlyDidymium asks whether the eyewear is a sodium-flare glass alone.
func onlyDidymium() when {
	return when{[]string{"lens"}, func(f Facts) (truth, []Missing) {
		if f.Lens == "" {
			return unknown, []Missing{{"lens", "a marking such as R3"}}
		}
		return truthOf(strings.Contains(plain(f.Lens), "didymium") && LensClaimsInfrared(f.Lens) != Yes), nil
	}}
}

// brightPiece asks whether the figure for infrared at the eye, behind the lens
// if its transmittance is known, reaches the long limit.
func brightPiece() when {
	return when{[]string{"largest_piece", "glass_temperature", "eye_distance", "lens_infrared"}, func(f Facts) (truth, []Missing) {
		var missing []Missing
		for _, n := range []string{"largest_piece", "glass_temperature", "eye_distance"} {
			if !f.Has(n) {
				missing = append(missing, Missing{Fact: n})
			}
		}
		if missing != nil {
			return unknown, missing
		}
		if f.GlassTemp.Less(unit.Celsius(300)) {
			return absent, nil
		}
		e, err := figure.SphereIrradiance(f.GlassTemp, f.LargestPiece, f.EyeDistance, figure.AssumedEmissivity)
		if err != nil {
			return present, nil
		}
		if f.LensInfrared > 0 {
			e *= float64(f.LensInfrared)
		}
		return truthOf(e >= figure.LongLimit), nil
	}}
}

// eyeWords gives C3 its figures.
func eyeWords(f Facts, _ Program) string {
	if f.LargestPiece == 0 || f.GlassTemp.IsZero() || f.EyeDistance == 0 {
		return ""
	}
	e, err := figure.SphereIrradiance(f.GlassTemp, f.LargestPiece, f.EyeDistance, figure.AssumedEmissivity)
	if err != nil || e < figure.LongLimit {
		return ""
	}
	most := quantity.DigitsDown(100*figure.LongLimit/e, 2) + " %"
	lens := "Use a lens passing at most " + most
	if f.LensInfrared > 0 {
		lens = "Your lens passes " + f.LensInfrared.Text(f.Units) + "; use one passing at most " + most
	}
	return fmt.Sprintf("%s piece at %s, %s away: up to %s W/m² infrared at your eyes, %s times the long-work limit. %s, or sit back.",
		lengthText(f.LargestPiece, f.Units), f.GlassTemp.Text(f.Units), lengthText(f.EyeDistance, f.Units), quantity.Digits(e, 2), quantity.Digits(e/figure.LongLimit, 2), lens)
}

// lengthText writes a length for reading aloud, with three digits.
func lengthText(l Length, s unit.System) string {
	x, u := l.In(s)
	return quantity.Digits(x, 3) + " " + u
}

// LensClaimsInfrared reports what a marking on a lens says about infrared: Yes
// for R or W with a number, or a European code 4 with its scale; No for other
// known marks, didymium or no lens; NotGiven if the marking cannot be read.
//
// A marking is a claim of the maker, and says nothing of a scratched or wrong
// lens.
//
// Source: ansi-z87; en166 [corroborated].
func LensClaimsInfrared(marking string) Answer {
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
	var x float64
	for _, r := range s {
		if (r < '0' || r > '9') && r != '.' {
			return false
		}
	}
	if n, err := fmt.Sscanf(s, "%g", &x); n != 1 || err != nil {
		return false
	}
	return x >= low && x <= high
}
