package anneal_test

import (
	"fmt"
	"math"
	"strings"

	"pgregory.net/rapid"
)

// anyAttempt draws a valid load and a studio. What comes first in each list is
// what a failure shrinks to.
func anyAttempt(t *rapid.T) attempt {
	pick := func(name string, list ...string) string { return rapid.SampledFrom(list).Draw(t, name) }
	num := func(name string, low, high float64) float64 {
		// In millimeters and tenths, evenly over the logarithm; shrinks to low.
		x := low * math.Pow(high/low, float64(rapid.IntRange(0, 100).Draw(t, name))/100)
		return math.Round(10*x) / 10
	}
	var b strings.Builder
	fmt.Fprintf(&b, "into = %q\n", pick("into", "hot kiln", "cold kiln"))
	one := pick("glass", "borosilicate-33", "soda-104", "fusible-96", "float", "lead-crystal", "aluminosilicate", "neutral-50")
	for range rapid.IntRange(1, 3).Draw(t, "pieces") {
		size := num("size", 5, 120)
		part := rapid.IntRange(20, 80).Draw(t, "part")
		less := math.Round(10*math.Max(2, size*float64(part)/100)) / 10
		var what string
		switch pick("shape", "sphere", "rod", "disc", "slab", "tube", "dome", "pendant", "hollow") {
		case "sphere":
			what = fmt.Sprintf("sphere %.1fmm", size)
		case "rod":
			what = fmt.Sprintf("rod %.1fmm x %.1fmm", less, 2*size)
		case "disc":
			what = fmt.Sprintf("disc %.1fmm x %.1fmm", size, less)
		case "slab":
			what = fmt.Sprintf("slab %.1fmm x %.1fmm x %.1fmm", 1.5*size, size, less)
		case "tube":
			what = fmt.Sprintf("tube %.1fmm x %.1fmm wall %.1fmm", size+5, 3*size, math.Max(1, less/4))
		case "dome":
			what = fmt.Sprintf("dome %.1fmm x %.1fmm", size, less)
		case "pendant":
			what = fmt.Sprintf("pendant %.1fmm x %.1fmm", size, less)
		case "hollow":
			what = fmt.Sprintf("sphere %.1fmm wall %.1fmm", size+5, math.Max(1, less/4))
		}
		fmt.Fprintf(&b, "[[piece]]\nwhat = %q\nglass = %q\n", what, one)
		if n := rapid.IntRange(1, 6).Draw(t, "count"); n > 1 {
			fmt.Fprintf(&b, "count = %d\n", n)
		}
		if r := pick("resting", "shelf", "raised", "bedded"); r != "shelf" {
			fmt.Fprintf(&b, "resting = %q\n", r)
		}
		if l := pick("light", "", "dark", "clear", "opaque"); l != "" {
			fmt.Fprintf(&b, "light = %q\n", l)
		}
		if w := pick("wear", "", "worked later", "worked before", "unknown history"); w != "" {
			fmt.Fprintf(&b, "wear = %q\n", w)
		}
		if s := pick("soak", "", "24 h", "12 h"); s != "" {
			fmt.Fprintf(&b, "longest_soak = %q\n", s)
		}
	}
	var s strings.Builder
	line := func(format, value string) {
		if value != "" {
			fmt.Fprintf(&s, format+"\n", value)
		}
	}
	line("units = %q", pick("units", "c", "f"))
	s.WriteString("[kiln]\n")
	switch pick("fall", "measured", "points", "not measured") {
	case "measured":
		line("cooling_time_constant = %q", pick("constant", "3 h", "1 h", "6 h", "40 min"))
	case "points":
		line("cooling_points = %q", pick("points", "700 °C 0 min, 605 °C 34 min, 476 °C 91 min, 326 °C 181 min, 172 °C 340 min, 76 °C 566 min", "600 °C 0 min, 519 °C 51 min, 409 °C 135 min, 281 °C 270 min, 149 °C 506 min"))
	}
	line("fastest_heating = %q", pick("heating", "", "150 °C/h", "600 °C/h", "20 °C 600 °C/h, 500 °C 300 °C/h"))
	line("spread = %q", pick("spread", "", "3 K", "10 K"))
	line("probe_error = %q", pick("probe", "", "2 K", "8 K"))
	line("opening = %q", pick("opening", "", "80 °C", "120 °C"))
	s.WriteString("[controller]\n")
	line("units = %q", pick("controller", "", "c", "f"))
	line("rate = %q", pick("rate", "", "minutes per ramp"))
	line("slowest = %q", pick("slowest", "", "5 °C/h", "10 °F/h"))
	line("segments = %s", pick("segments", "", "20", "8", "6"))
	line("longest_hold = %q", pick("hold", "", "24 h", "4 h"))
	line("full_word = %q", pick("full", "", "FULL"))
	s.WriteString("[limits]\n")
	line("tension = %q", pick("tension", "", "3.5 MPa", "7 MPa"))
	line("left = %q", pick("left", "", "1 MPa", "0.6 MPa", "2.5 MPa"))
	return attempt{b.String(), s.String()}
}
