package checklist

import (
	"strings"
	"testing"

	"lehr/glass/unit"
	"lehr/safety/figure"
)

// shown returns the line of these facts, and whether it shows.
func shown(t testing.TB, id string, typed ...string) (Line, bool) {
	t.Helper()
	for _, pg := range facts(t, typed...).Pages() {
		for _, l := range pg.Lines {
			if l.ID == id {
				return l, true
			}
		}
	}
	return Line{}, false
}

// TestRules_show has, for every line that can go, facts on which it shows and
// facts on which it does not.
func TestRules_show(t *testing.T) {
	for _, c := range []struct{ id, shows, gone string }{
		{"A2", "vent=canopy", "vent=flanged"}, {"A2", "vent=windows room=76m3", "vent=booth"},
		{"A5", "fuming=gold", "fuming=none"}, {"A6", "chloride_fuming=yes", "chloride_fuming=no"},
		{"A7", "color_metals=cobalt", "color_metals=none"}, {"A7", "color_metals=copper", "color_metals=none"}, {"A7", "color_metals=manganese", "color_metals=none"},
		{"A8", "powder=yes", "powder=no"}, {"A9", "hot_or_long=yes", "hot_or_long=no"},
		{"B5", "oxygen=cylinder", "fuel_supply=piped oxygen=concentrator"},
		{"B6", "fuel_supply=cylinder fuel_inside=yes", "fuel_inside=no stored_together=no"}, {"B6", "fuel_supply=cylinder fuel_inside=yes home=no stored_together=no", "fuel_supply=piped stored_together=no"},
		{"B8", "oxygen=cylinder", "oxygen=none"}, {"B9", "oxygen=cylinder", "oxygen=none"},
		{"C2", "largest_piece=50mm glass_temperature=1200C eye_distance=300mm", "largest_piece=10mm glass_temperature=900C eye_distance=500mm"},
		{"C4", "alone=yes", "alone=no"}, {"C9", "noise=86dBA", "noise=84dBA"},
		{"R1", "elements_exposed=yes", "elements_exposed=no"}, {"R2", "elements_exposed=yes", "elements_exposed=no"},
		{"R4", "kiln_temperature=501C", "kiln_temperature=500C"},
		{"U1", "unattended=yes", "unattended=no"}, {"U6", "oxygen=liquid", "oxygen=cylinder gas_burner=no"}, {"U7", "overnight=yes", "overnight=no"},
		{"O4", "fiber=yes", "fiber=no vermiculite=no"}, {"O5", "grinding_next=yes", "grinding_next=no"}, {"O6", "bead_release=yes", "bead_release=no"},
	} {
		if _, ok := shown(t, c.id, strings.Fields(c.shows)...); !ok {
			t.Errorf("%s does not show with %s", c.id, c.shows)
		}
		if l, ok := shown(t, c.id, strings.Fields(c.gone)...); ok {
			t.Errorf("%s shows with %s: %s", c.id, c.gone, l.Text)
		}
	}
	// Nothing takes these away: they hold whatever is said.
	all := []string{"gas_smell=no", "co_alarm=no", "fire=no", "home=no", "fuel=natural gas", "fuel_supply=piped", "oxygen=none", "vent=booth", "unattended=no", "kiln_temperature=20C", "lens=R3", "torch_used=no"}
	for _, id := range strings.Fields("A1 A3 A4 B1 B2 B3 B4 B7 C1 C3 C5 C6 C7 C8 R3 R5 R6 U2 U3 U4 U5 U8 U9 O1 O2 O3") {
		if _, ok := shown(t, id, all...); !ok {
			t.Errorf("%s goes", id)
		}
	}
}

// TestRules_words: words that must be there for what is known, and only then.
func TestRules_words(t *testing.T) {
	for _, c := range []struct{ id, facts, has, hasNot string }{
		{"A1", "", "torch unlit", "moves at only"}, {"A1", "capture_speed=0.2m/s", "0.2 m/s", "strip"}, {"A1", "capture_speed=0.5m/s", "strip", "moves at only"},
		{"A4", "", "nitrogen dioxide", ""}, {"A4", "", "70 ppm", ""},
		{"A5", "fuming=silver", "0.01 mg/m³", ""}, {"A5", "fuming=gold", "smoke", "0.01 mg/m³"},
		{"A7", "color_metals=cobalt,copper,manganese", "cobalt, copper and manganese", "cadmium"}, {"A7", "color_metals=cobalt,cadmium,lead,silver", "cadmium, lead and other", "cobalt"},
		{"A8", "", "fine-dust respirator", "mask"}, {"O4", "", "fine-dust respirator", "mask"}, {"O5", "", "fine-dust respirator", "mask"}, {"O6", "", "fine-dust respirator", "mask"},
		{"B1", "", "soap solution or a detector for gas without smell (hydrogen, oxygen)", ""}, {"B1", "fuel=butane oxygen=none", "without smell", ""}, {"B1", "fuel=other oxygen=none", "without smell", ""},
		{"B1", "fuel=hydrogen", "burns nearly unseen", "Sniffed"}, {"B1", "fuel=hydrogen oxygen=none", "soap solution or a hydrogen detector", "Sniffed"},
		{"B1", "fuel=propane oxygen=none", "Sniffed", "soap"}, {"B1", "fuel=propane oxygen=cylinder", "at the oxygen's, which has no smell", ""}, {"B1", "fuel=acetylene", "soap", ""},
		{"B4", "fuel=acetylene", "15 psig (103 kPa)", ""}, {"B4", "fuel=propane", "maker's order", "psig"}, {"B7", "fuel=acetylene", "copper and high-silver", "acetylene's"},
		{"O4", "", "may hold asbestos", ""},
		{"R3", "kiln_temperature=44C", "Tongs or rated gloves. ", "sensor"}, {"R3", "kiln_temperature=20C", "gloves, until the glass itself was tested below 43 °C", ""},
		{"B6", "fuel=propane fuel_supply=cylinder fuel_inside=yes stored_together=no", "NFPA 58", "oxygen"}, {"B6", "fuel=hydrogen fuel_supply=cylinder fuel_inside=yes stored_together=no", "fire code", "NFPA"},
		{"B6", "fuel_supply=piped stored_together=yes", "oxygen", "NFPA"},
		{"B7", "fuel=propane", "2 %", "ceiling"}, {"B7", "fuel=butane", "Butane is heavier than air", "2 %"}, {"B7", "fuel=propylene", "Propylene is heavier", ""},
		{"B7", "fuel=hydrogen", "rises", "sinks"}, {"B7", "fuel=acetylene", "acetylene", "sinks"}, {"B7", "fuel=other", "sinks", "Other"},
		{"B9", "oxygen=cylinder", "cylinders are shut at each break", "Oxygen cylinders are shut"}, {"B9", "oxygen=liquid", "vents", "concentrator"},
		{"C1", "lens=didymium", "yellow glare", ""}, {"C1", "lens=U6", "claims no infrared", ""}, {"C1", "lens=R3", "marked for infrared", "claims"},
		{"C2", "largest_piece=50mm glass_temperature=1200C eye_distance=300mm", "1100 W/m²", ""},
		{"C9", "noise=94dBA", "1 h", ""},
		{"R1", "elements_exposed=yes", "disconnect is off or the plug is out", "drop"}, {"R1", "", "one pole may stay live", ""},
		{"U1", "cut_off=no", "No second cut-off", "____"},
		{"U3", "kiln_current=24A breaker=25A", "25 A breaker", "within"}, {"U3", "kiln_current=24A breaker=100A", "40 A", "own circuit"}, {"U3", "kiln_current=24A breaker=30A", "40 A at most", "licensed"},
		{"U3", "kiln_power=5760W kiln_voltage=240V breaker=40A breaker_plate=30A", "more than the 30 A", ""},
		{"U3", "kiln_current=24A breaker_plate=25A", "no standard breaker fits both", "own circuit"}, {"U3", "kiln_current=10A", "breaker of 20 A at most", ""},
		{"U5", "torch_used=no", "maker's order", "smoldering"}, {"U5", "torch_used=yes", "smoldering", ""},
	} {
		l, ok := shown(t, c.id, strings.Fields(c.facts)...)
		if !ok || !strings.Contains(l.Text, c.has) || c.hasNot != "" && strings.Contains(l.Text, c.hasNot) {
			t.Errorf("%s with %s: %s", c.id, c.facts, l.Text)
		}
	}
	for id, wants := range map[string][]string{"A1": {"silica"}, "C1": {"glare", "ultraviolet", "silica", "lens maker"}} {
		for _, want := range wants {
			if l, _ := shown(t, id, "glass=quartz"); !strings.Contains(l.Note, want) {
				t.Errorf("%s of quartz says nothing of %s: %s", id, want, l.Note)
			}
		}
		if l, _ := shown(t, id, "glass=soft"); strings.Contains(l.Note, "silica") {
			t.Errorf("%s of soft glass: %s", id, l.Note)
		}
	}
	// The one shade that is printed is of soda-lime and quartz, and of nothing else.
	for glass, want := range map[string]bool{"soft": true, "quartz": true, "borosilicate": false, "lead": false, "other": false} {
		if l, _ := shown(t, "C1", "glass="+glass); strings.Contains(l.Note, "2.5") != want {
			t.Errorf("%s: %q", glass, l.Note)
		}
	}
}

// TestRules_faults: what is known breaks a line, and the same line unbroken.
func TestRules_faults(t *testing.T) {
	for _, c := range []struct{ id, bad, good string }{
		{"A1", "capture_speed=0.3m/s", "capture_speed=0.6m/s"},
		{"A4", "co_alarm_tested=2026-10-20", "co_alarm_tested=2026-11-01"},
		{"A2", "vent=canopy", "vent=slot"}, {"A2", "vent=windows room=76m3", "vent=windows"}, {"A2", "vent=none ceiling=2.4m", "vent=windows room=3000m3 ceiling=6m"},
		{"A2", "vent=fan room=76m3 exhaust=1900cfm", "vent=fan room=76m3 exhaust=2000cfm"}, {"A2", "vent=fan room=76m3 workers=2 exhaust=3900cfm", "vent=fan room=76m3 workers=2 exhaust=4000cfm"},
		{"A5", "fuming=silver vent=windows", "fuming=silver vent=flanged"},
		{"A7", "color_metals=cadmium vent=none", "color_metals=cadmium"}, {"A7", "color_metals=cobalt,copper vent=canopy", "color_metals=cadmium vent=booth"}, {"A7", "color_metals=lead vent=windows", "color_metals=unknown vent=windows"},
		{"C1", "lens=none", "lens=R3"}, {"C1", "lens=U6", "lens=something"}, {"C1", "lens=didymium", "lens=didymium/R3"}, {"C1", "lens=none lens_infrared=1%", "lens=clear lens_infrared=1%"},
		{"A6", "chloride_fuming=yes vent=none", "chloride_fuming=yes"},
		{"B2", "leak_tested=2026-10-01", "leak_tested=2026-11-20"},
		{"C2", "largest_piece=3in glass_temperature=1200C eye_distance=300mm", ""},
		{"C2", "largest_piece=3in glass_temperature=1200C eye_distance=300mm lens=none lens_infrared=1% lens_to=3000nm", ""},
		{"C2", "largest_piece=3in glass_temperature=1200C eye_distance=300mm lens_infrared=1%", ""},
		{"U1", "unattended=yes cut_off=no", "unattended=yes cut_off_tested=2026-11-15"}, {"U1", "unattended=yes", ""}, {"U1", "unattended=yes cut_off=yes", ""},
		{"U1", "unattended=yes cut_off_tested=2026-08-01", "unattended=yes cut_off_tested=2026-08-25"}, {"U1", "cut_off=no", ""},
		{"U3", "kiln_current=24A breaker=25A", "kiln_current=24A breaker=30A"}, {"U3", "kiln_current=24A breaker=45A", "kiln_current=24A breaker=40A"},
		{"U3", "kiln_current=24A breaker=100A breaker_plate=5000A", "kiln_current=24A breaker=40A breaker_plate=40A"}, {"U3", "kiln_current=200A breaker=250A", "breaker=250A"},
		{"C2", "largest_piece=6in glass_temperature=1200C eye_distance=50mm", "largest_piece=6in glass_temperature=90C eye_distance=100mm"},
		{"C2", "largest_piece=6in glass_temperature=2400C eye_distance=300mm", ""},
		{"U3", "kiln_current=10A kiln_power=5760W kiln_voltage=240V breaker=15A", "kiln_current=10A breaker=15A"}, {"U3", "kiln_current=10A breaker=25A", "kiln_current=10A breaker=20A"}, {"U3", "kiln_current=24A breaker_plate=25A", "kiln_current=24A breaker_plate=30A"},
	} {
		if l, ok := shown(t, c.id, strings.Fields(c.bad)...); !ok || !l.Fault {
			t.Errorf("%s with %s is no fault: %s", c.id, c.bad, l.Text)
		}
		if l, ok := shown(t, c.id, strings.Fields(c.good)...); ok && l.Fault {
			t.Errorf("%s with %s is a fault: %s", c.id, c.good, l.Text)
		}
	}
	if l, ok := shown(t, "C2", "largest_piece=3in", "glass_temperature=1200C", "eye_distance=300mm", "lens_infrared=1%", "lens_to=3000nm"); ok {
		t.Errorf("a lens of 1 %% up to 3000 nm: %s", l.Text)
	}
}

// TestDangers: a danger ends the list, whatever was asked for.
func TestDangers(t *testing.T) {
	for name, want := range map[string]string{"gas_smell": "W1", "co_alarm": "W2", "fire": "W3 W4", "gas_fire": "W4", "oxygen_spill": "W14"} {
		f := facts(t, name+"=yes")
		var ids []string
		for _, l := range f.Dangers() {
			ids = append(ids, l.ID)
		}
		if got := strings.Join(ids, " "); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
		if pages := f.Pages(Open); pages != nil {
			t.Errorf("%s: the list goes on with %d pages", name, len(pages))
		}
		if _, waits := f.Session().Line(); waits {
			t.Errorf("%s: a line waits", name)
		}
		if d := facts(t, name+"=no").Dangers(); d != nil || facts(t, name+"=no").Pages() == nil {
			t.Errorf("%s=no: %v", name, d)
		}
	}
}

// TestFacts_rated: of two ratings that differ the greater counts.
func TestFacts_rated(t *testing.T) {
	f := facts(t, "kiln_current=10 A", "kiln_power=5760 W", "kiln_voltage=240 V")
	if c, ok := f.KilnRating(); !ok || c != 24 {
		t.Error(c)
	}
	if f := facts(t, "lens=None", "lens_infrared=1%"); f.WornLens() != (figure.Lens{}) {
		t.Error("a lens that is not worn counts")
	}
}

// A kiln that only warms stays hot: its page of reaching counts that, and no set
// point says off.
func TestReaching(t *testing.T) {
	p := Program{End: "10:00", Total: 2 * 3600e9, Soak: unit.Celsius(542), Hold: 15 * 60e9, Last: unit.Celsius(542), Stays: true}
	f := facts(t, "elements_exposed=no", "kiln_temperature=20C")
	var ids []string
	for _, l := range f.Reaching(p).Lines {
		ids = append(ids, l.ID)
	}
	if got := strings.Join(ids, " "); got != "R3 R4 R5 R6" {
		t.Errorf("lines %s", got)
	}
	for _, stays := range []bool{true, false} {
		p.Stays = stays
		text := p.setPoints()
		if strings.Contains(text, "off at") || strings.Contains(text, "until switched off") != stays {
			t.Errorf("stays %t: %s", stays, text)
		}
	}
}

// Where nobody measured the kiln, the lines say so of its end, and the range.
func TestWords_about(t *testing.T) {
	p := Program{End: "12:28 the next day", Total: 14 * 3600e9, Last: unit.Celsius(43), About: true, Range: "06:48 +1d to 01:27 +2d"}
	const end = "about 12:28 the next day (06:48 +1d to 01:27 +2d)"
	noStart, noRange, later, held := p, p, p, p
	later.Closed, later.Opens = "until it reads 40 °C", "at about 13:40 +1d (08:00 +1d to 03:00 +2d)"
	held.Closed, held.Opens, held.Stays = later.Closed, later.Opens, true
	noStart.End, noStart.Range, noRange.Range = "", "8 h 33 min to 27 h 12 min", ""
	for _, c := range []struct {
		id   string
		p    Program
		want string
	}{
		{"U7", p, "Until " + end + ": smoke"}, {"U9", p, "expected end " + end + "."}, {"O2", p, "Program ends " + end + " at 43 °C."},
		{"U7", noStart, "For about 14 h (8 h 33 min to 27 h 12 min): smoke"}, {"U7", noRange, "Until about 12:28 the next day: smoke"},
		{"U7", later, "Until it can be opened " + later.Opens + ": smoke"}, {"U9", later, "closed " + later.Closed + " " + later.Opens + ", expected end " + end},
		{"U7", held, "and then until somebody switches it off: smoke"}, {"O2", later, "Program ends " + end + " at 43 °C. The kiln stays closed until it reads 40 °C."},
	} {
		for _, l := range append((Facts{}).Leaving(c.p).Lines, (Facts{}).Opening(c.p).Lines...) {
			if l.ID == c.id && !strings.Contains(l.Text, c.want) {
				t.Errorf("%s, want %s: %s", c.id, c.want, l.Text)
			}
		}
	}
}

// The lines take up the program.
func TestWords_program(t *testing.T) {
	p := Program{End: "Fri 09:45", Total: 11*3600e9 + 30*60e9, Soak: unit.Celsius(560), Hold: 75 * 60e9, Last: unit.Celsius(370), Units: unit.US, Keyed: unit.US}
	f := facts(t, "kiln_temperature=20C") // now; it says nothing of Friday
	for id, want := range map[string]string{
		"U7": "For 11 h 30 min, until Fri 09:45:",
		"U9": "set points 1040 °F for 1 h 15 min, off at 698 °F, expected end Fri 09:45.",
		"O2": "Program ends Fri 09:45 at 698 °F.",
	} {
		found := false
		for _, l := range append(f.Leaving(p).Lines, f.Opening(p).Lines...) {
			if l.ID == id {
				found = true
				if !strings.Contains(l.Text, want) {
					t.Errorf("%s: %s", id, l.Text)
				}
			}
		}
		if !found {
			t.Errorf("%s does not show", id)
		}
	}
}
