package piece

import (
	"math"
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/casetest"
)

func profileLoad(profile, more string) string {
	return "glass = \"float\"\n[[piece]]\nprofile = " + profile + "\n" + more
}

// TestProfile: points with or without blanks, in any unit; the disc that stands
// for the body is as thick as the largest ball in it.
func TestProfile(t *testing.T) {
	for _, row := range []struct {
		profile     string
		thick, wide float64 // [mm]
	}{
		{`["0 0", "25mm 0", "25 mm 10 mm", "0 1cm"]`, 10, 50},
		{`["0 0", "1 in 0", "1in 1/4in", "0 1/4 in"]`, 6.35, 50.8},
		{`["0 -5mm", "25mm -5mm", "25mm 5mm", "0 5mm"]`, 10, 50},
		{`["20mm 0", "26mm 0", "26mm 40mm", "20mm 40mm", "20mm 0"]`, 6, 52}, // a ring
		{`["0 0", "40mm 0", "40mm 90mm", "35mm 90mm", "35mm 6mm", "0 6mm"]`, 5.9, 80},
	} {
		l, err := ReadLoad(strings.NewReader(profileLoad(row.profile, "")), "load.toml", "", glass.Find)
		if err != nil {
			t.Errorf("%s: %v", row.profile, err)
			continue
		}
		p := l.Pieces[0]
		if math.Abs(p.Size.Millimeters()/row.thick-1) > 0.06 || math.Abs(p.Across.Millimeters()-row.wide) > 1e-6 {
			t.Errorf("%s: a disc of %v, %v thick", row.profile, p.Across, p.Size)
		}
		if _, _, ok := p.Revolved(); !ok {
			t.Errorf("%s: not computed as it is", row.profile)
		}
	}
}

func TestProfile_refused(t *testing.T) {
	const good = `["0 0", "25mm 0", "25mm 10mm", "0 10mm"]`
	for _, row := range []struct {
		profile, more, want string
		line                int
	}{
		{`["0 0", "25 0", "0 10mm"]`, "", "load.toml:3: profile: point 2", 3},
		{`["0 0", "25mm", "0 10mm"]`, "", "point 2", 3},
		{`["0 0", "25mm 0"]`, "", "3 to 200", 3},
		{`["0 0", "25mm 0", "25mm 10mm"]`, "", "not closed", 3},
		{`["0 0", "25mm 10mm", "25mm 0", "0 10mm"]`, "", "meet", 3},
		{`["0 0", "-25mm 0", "0 10mm"]`, "", "negative", 3},
		{`["0 0", "5m 0", "0 10mm"]`, "", "beyond", 3},
		{good, `shape = "disc"`, "stand in profile", 3},
		{good, `textbook = true`, "textbook", 4},
		{good, `light = "clear"`, "not computed", 4},
	} {
		text := profileLoad(row.profile, row.more)
		_, err := ReadLoad(strings.NewReader(text), "load.toml", "", glass.Find)
		casetest.Refused(t, "load.toml", err, text, row.line, row.want, "")
	}
}
