package topics

import (
	"fmt"
	"strings"

	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// LoadName is the load that init writes beside studio.toml.
const LoadName = "load.toml"

// sampleKey is one key of the sample studio file.
type sampleKey struct {
	key        string
	metric, us string // the value in TOML; us is "" where they are the same
	live       bool   // it stands there; else behind #
	about      string
}

// sampleTables are the keys of studio.toml but the session facts.
var sampleTables = []struct {
	name, about string
	keys        []sampleKey
}{
	{"", "", []sampleKey{
		{"units", `"c"`, `"f"`, true, `What you read: "c" for °C and mm, "f" for °F and inches. --units overrides it. Default "c".`},
		{"glass", `"borosilicate-33"`, "", true, "Glass of pieces that name none. List the names with: lehr glass. Default: none."},
	}},
	{"kiln", "The kiln. What is not given is common practice, and the report says so.", []sampleKey{
		{"holding", `"540 °C"`, `"1000 °F"`, false, "Where finished pieces wait before the program starts, 100 to 1300 °C (212 to 2372 °F). Default: the soak temperature."},
		{"highest", `"1100 °C"`, `"2000 °F"`, false, "The highest set point it is built for, 100 to 1500 °C (212 to 2732 °F). A program that would go above it is refused. Default: not known."},
		{"fastest_heating", `"400 °C/h"`, `"720 °F/h"`, false, `Fastest heating it manages with a load, 1 to 5000 °C/h (2 to 9000 °F/h); by temperature: "20 °C 600 °C/h, 500 °C 300 °C/h". Programs ask for 9/10 of it, so that the kiln keeps up (common practice). Default 400 °C/h.`},
		{"cooling_points", `"560 °C 0 min, 480 °C 35 min, 300 °C 2.5 h, 100 °C 9 h"`, `"1040 °F 0 min, 900 °F 35 min, 570 °F 2.5 h, 210 °F 9 h"`, false,
			"How it cools by itself: switch it off hot and closed, and note reading and time. At least 3 points. Only a measured kiln is ever left to itself; what is keyed in of its fall is 9/10 of it at most, so that it keeps up (common practice). Default: not measured."},
		{"cooling_time_constant", `"3 h 30 min"`, "", false, "The same as one number, instead of points: the time in which the distance to the room falls to 37 %. 2 min to 10 d. Default 3 h 30 min, for the clock only."},
		{"room", `"20 °C"`, `"68 °F"`, false, "Temperature of the room, -20 to 45 °C (-4 to 113 °F). Default 20 °C."},
		{"spread", `"6 K"`, `"10 °F"`, false, "Difference between the hottest and the coldest place on the shelf, up to 60 K (108 °F). Every piece is then simulated at both. Default 0."},
		{"probe_error", `"5 K"`, `"9 °F"`, false, "The reading may be this much high or low, up to 60 K (108 °F). Default 0."},
		{"opening", `"43 °C"`, `"110 °F"`, false, "Reading at which you open the kiln, at least 5 K above the room, up to 300 °C (572 °F). Default 43 °C (110 °F)."},
		{"door_open", `"20 s"`, "", false, "How long it stands open when you put a piece in or look, 1 s to 15 min. Default 20 s. With one of these three, each opening is computed; when: lehr help load."},
		{"door_dip", `"40 °C"`, `"72 °F"`, false, "How far its reading falls then, not what it falls to. Default: as what a piece sees."},
		{"door_view", `"15 %"`, "", false, "How much of what a piece sees from where it lies is then the room, 0 to 100 %. That cools its skin, whatever the probe reads; the deeper of both counts. Default 15 %."},
		{"power", `"1800 W"`, "", false, "Power of the elements, 50 W to 100 kW. With fastest_heating, or with holding and holding_duty, electricity is estimated. Default: not known."},
		{"holding_duty", `"30 %"`, "", false, "Share of the time the elements are on while the kiln waits at holding, 1 to 100 %. Needs power and holding. Default: not known."},
		{"price_per_kwh", `"0.30 EUR"`, `"$0.15"`, false, "What a kilowatt-hour costs, in any currency. Default: no cost is printed."},
	}},
	{"controller", "The controller: what can be keyed in. Programs are rounded to it, rates toward slow, holds toward long.", []sampleKey{
		{"units", `"c"`, `"f"`, true, `Its degrees, "c" or "f"; --units does not change them. Default: units above.`},
		{"rate", `"per hour"`, "", true, `How a ramp is keyed in: "per hour" in whole degrees, or "minutes per ramp". Default "per hour".`},
		{"slowest", `"1 °C/h"`, `"1 °F/h"`, true, "Smallest rate it takes. Default 1 degree per hour; no limit for minutes per ramp."},
		{"fastest", `"999 °C/h"`, `"1799 °F/h"`, true, "Greatest rate it takes. Default 999 °C/h (1799 °F/h)."},
		{"longest_hold", `"99 h 59 min"`, "", true, "Longest hold of one segment (and longest ramp, if minutes per ramp), at least 1 h. Default 99 h 59 min."},
		{"segments", `8`, "", true, "How many segments one program has, 2 to 100. Default 8."},
		{"full_word", `"top"`, "", false, `What its display says for "as fast as the kiln can", at most 12 letters. It is printed where the limits allow it. Default: none.`},
		{"step", `"5 °C"`, `"5 °F"`, false, "Step of the set point, 1 to 25 whole degrees of the controller. Default 1."},
		{"after", `"off"`, "", false, `What it does after the last segment: "off", or "hold" if it keeps the last set point until somebody switches it off. Default: off, and no program counts on it unless the kiln was measured.`},
	}},
	{"limits", "What a program is judged by. Flags of a command override them.", []sampleKey{
		{"tension", `"5 MPa"`, `"725 psi"`, false, "A limit of your own for the tension of every piece at worst, while it heats and cools. Default: by its size and use, commonly 3.5 MPa (508 psi) in average glass and 5 MPa (725 psi) at worst; lehr plan --why prints each limit and what it rests on."},
		{"left", `"2 MPa"`, `"290 psi"`, false, "The same for the tension left in a piece. Default: commonly 1 MPa (145 psi) in average glass and 2 MPa (290 psi) at worst."},
		{"margin", `"3 %"`, "", false, "Share of every limit of tension that a planned program leaves unused, 0 to 50 %. Default 3 %, for a rate keyed in a degree beside the one printed; 0 % uses the limits up. The limits have a reserve of their own, which lehr plan --why prints."},
		{"relaxed", `"99 %"`, "", true, "Share of a stress at the start that the soak must relax, 50 to 99.99 %. Default 99 %."},
		{"even", `"2.5 K"`, `"4.5 °F"`, true, "Greatest difference between core and surface at the end of the soak, 0.2 to 20 K. Default 2.5 K (4.5 °F)."},
	}},
}

// StudioSample writes the commented studio file.
func StudioSample(sys unit.System) string {
	var b strings.Builder
	b.WriteString("# studio.toml: what stays the same from night to night. lehr reads it when it\n" +
		"# lies in the folder you stand in, or when you name it with --studio.\n" +
		"# A key that begins with # counts as not given: take the # away to set it.\n")
	writeStudioTables(&b, sys)
	b.WriteString("\n")
	comment(&b, "What the safety review asks about the studio: lehr safety. A fact that is not given counts as the hazard being there. What changes from night to night may stand in [session] of a load file instead; the load counts where both speak. What is so now, such as a smell of gas, is said on the command line and by no file.")
	b.WriteString("[session]\n")
	for _, f := range checklist.Names() {
		if f.Scope == checklist.OfNow {
			continue // no file says it
		}
		b.WriteString("\n")
		about := strings.ToUpper(f.Meaning[:1]) + f.Meaning[1:]
		if len(f.Words) > 0 {
			about += ": " + strings.Join(f.Words, ", ")
			if f.Many {
				about += " (one or several)"
			}
		}
		comment(&b, about+".")
		fmt.Fprintf(&b, "#%s = %q\n", f.Name, factExample(f, sys))
	}
	return b.String()
}

// writeStudioTables writes every key of a studio file but the session facts.
func writeStudioTables(b *strings.Builder, sys unit.System) {
	for _, t := range sampleTables {
		if t.name != "" {
			b.WriteString("\n")
			comment(b, t.about)
			fmt.Fprintf(b, "[%s]\n", t.name)
		}
		for _, k := range t.keys {
			b.WriteString("\n")
			comment(b, k.about)
			value, mark := k.metric, "#"
			if sys == unit.US && k.us != "" {
				value = k.us
			}
			if k.live {
				mark = ""
			}
			fmt.Fprintf(b, "%s%s = %s\n", mark, k.key, value)
		}
	}
}

// factExample is the example of a fact in the display system.
func factExample(f checklist.Fact, sys unit.System) string {
	units := map[string][2]string{ // °C and mm, °F and inches
		"fuel_flow": {"0.2 kg/h", "0.5 lb/h"}, "room": {"6 m x 4.5 m x 2.7 m", "20 ft x 15 ft x 9 ft"}, "ceiling": {"2.7 m", "9 ft"},
		"hood_size": {"300 mm x 200 mm", "12 in x 8 in"}, "hood_distance": {"250 mm", "10 in"}, "capture_speed": {"0.5 m/s", "100 fpm"},
		"exhaust": {"850 m3/h", "500 cfm"}, "inlet": {"400 mm x 300 mm", "16 in x 12 in"}, "largest_piece": {"65 mm", "2.5 in"},
		"glass_temperature": {"1200 °C", "2200 °F"}, "eye_distance": {"300 mm", "12 in"},
		"kiln_opening": {"200 mm x 200 mm", "8 in x 8 in"},
	}
	if pair, ok := units[f.Name]; ok {
		if sys == unit.US {
			return pair[1]
		}
		return pair[0]
	}
	return f.Example
}

// comment writes text as comment lines of 78 columns.
func comment(b *strings.Builder, text string) {
	for line := range strings.Lines(term.Wrap(text, 76, 0, 0)) {
		b.WriteString("# " + strings.TrimRight(line, "\n") + "\n")
	}
}

// LoadSample writes the sample load.
func LoadSample(sys unit.System) string {
	sizes := []string{"sphere 64 mm", "sphere 32 mm", "pendant 45 mm x 12 mm"}
	core, hottest := "700 °C", "565 °C"
	if sys == unit.US {
		core, hottest = "1290 °F", "1050 °F"
		sizes = []string{"sphere 2.5 in", "sphere 1.25 in", "pendant 1 3/4 in x 1/2 in"}
	}
	return fmt.Sprintf(`# load.toml: one firing, everything that goes into the kiln together.
# Plan it with: lehr plan load.toml

name  = "shore series, first night"
glass = "borosilicate-33"  # of pieces that name none; list: lehr glass
start = "22:15"            # when it starts; leave it out to plan by no clock
into  = "hot kiln"         # or "cold kiln" to reheat, or "warm only"

# One table for each kind of piece. Shapes: sphere, rod, disc, slab, tube, dome,
# pendant.
[[piece]]
what    = %q
count   = 4
resting = "shelf"          # or "raised" on points, or "bedded" in powder
#light  = "clear"          # "dark" or "opaque"; default: the worst of them
note    = "encased shell"

[[piece]]
what         = %q
count        = 10
longest_soak = "3 h"       # a color that shifts if held longer; default: none
#in          = "2 h before" # into the hot kiln; default: the last
#core        = %q   # its middle then; "even": as hot as the kiln

[[piece]]
what  = %q
count = 6
#glass = "soda-104"        # a glass of its own; how to add yours:
                           # lehr help glass
#hottest_soak = %q   # it bears no hotter soak
#wear  = "worked later"    # sawn, ground or mailed after the kiln; or "worked
                           # before"; default "ordinary"
#textbook = true           # only to compare with a book: no bed, no rim
# All keys and words: lehr help load, lehr help pieces.
`, sizes[0], sizes[1], core, sizes[2], hottest)
}
