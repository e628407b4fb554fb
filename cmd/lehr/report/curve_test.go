package report

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/glass"
	"lehr/glass/unit"
)

// sampleReport plans the sample load.
func sampleReport(t *testing.T, sys unit.System) *verify.Report {
	t.Helper()
	file, err := os.Open("../../../testdata/loads/mixed.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	load, err := piece.ReadLoad(file, "mixed.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	rep, err := plan.Plan(context.Background(), load, kiln.DefaultStudio().In(sys), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestCurve_showsTheReport wants the curve to say what the report says: the
// same greatest tension at the same time, the kiln of the clock, and the piece
// that is nearest to a limit.
func TestCurve_showsTheReport(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		rep := sampleReport(t, sys)
		c, err := NewCurve(rep)
		if err != nil {
			t.Fatal(err)
		}
		p := rep.Pieces[0]
		peak, _ := p.Peak.In(sys)
		most, at := 0.0, 0.0
		for _, q := range c.Tension {
			if q.Value > most {
				most, at = q.Value, q.Time
			}
		}
		if math.Abs(most-peak) > 1e-6*peak || math.Abs(at-rep.ActualTime(p.PeakTime)) > 1 {
			t.Errorf("curve peaks with %g at %g s, the report with %g at %g s", most, at, peak, rep.ActualTime(p.PeakTime))
		}
		if m := c.Marks[0]; m.Value != peak || !strings.Contains(m.Label, p.Peak.Text(sys)) {
			t.Errorf("mark %+v, want %s", m, p.Peak.Text(sys))
		}
		// The limits are those of the verdict, which are for the worst case.
		most5, left2 := unit.Stress(5e6), unit.Stress(2e6)
		limit, _ := most5.In(sys)
		if math.Abs(c.Limit-limit) > 1e-9*limit || !strings.Contains(c.LimitLabel, most5.Text(sys)) {
			t.Errorf("limit %g %q, want %s", c.Limit, c.LimitLabel, most5.Text(sys))
		}
		if m := c.Marks[1]; !strings.Contains(m.Label, "limit "+left2.Text(sys)) {
			t.Errorf("mark %q, want the limit %s", m.Label, left2.Text(sys))
		}
		if _, numbers := VerdictText(rep); !strings.Contains(numbers, "limit "+most5.Text(sys)) || !strings.Contains(numbers, "limit "+left2.Text(sys)) {
			t.Errorf("the verdict says %s", numbers)
		}
		for _, line := range c.Lines {
			first, last := line.Points[0], line.Points[len(line.Points)-1]
			begin, _ := rep.Schedule.From.In(sys)
			if first.Time != 0 || math.Abs(first.Value-begin) > 0.01 || math.Abs(last.Time-c.Length) > 1 {
				t.Errorf("%s: from %+v to %+v, want %g at 0 s to %g s", line.Label, first, last, begin, c.Length)
			}
		}
		for i, q := range c.Tension[1:] {
			if q.Time < c.Tension[i].Time {
				t.Fatalf("tension goes back in time at %g s", q.Time)
			}
		}
		for _, want := range []string{p.Peak.Text(sys), most5.Text(sys), left2.Text(sys), p.Residual.Text(sys), rep.Schedule.From.Text(sys), p.Piece.What} {
			if !strings.Contains(c.Desc, want) {
				t.Errorf("description lacks %q: %s", want, c.Desc)
			}
		}
	}
}

// TestCurve_warmTube has no soak to cool from and nothing left to judge.
func TestCurve_warmTube(t *testing.T) {
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse("tube 38mm wall 4mm")
	if err != nil {
		t.Fatal(err)
	}
	p.Glass = g
	rep, err := plan.Plan(context.Background(), &piece.Load{Into: piece.WarmOnly, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewCurve(rep)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Marks) != 1 || c.Start != nil || !strings.HasPrefix(c.Lines[2].Label, "bore") {
		t.Errorf("marks %v, third line %q", c.Marks, c.Lines[2].Label)
	}
}

// svgParts returns the words of an SVG and how many elements of each kind it
// has.
func svgParts(t *testing.T, data []byte) (words []string, elements map[string]int) {
	t.Helper()
	elements = map[string]int{}
	d := xml.NewDecoder(strings.NewReader(string(data)))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return words, elements
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			elements[e.Name.Local]++
		case xml.CharData:
			if s := strings.TrimSpace(string(e)); s != "" {
				words = append(words, s)
			}
		}
	}
}

// TestPictureIsMade makes the committed picture again: it must say the same and
// be built of the same parts. After a change that is meant:
//
//	go run ./cmd/lehr plan testdata/loads/mixed.toml --svg testdata/pictures/mixed.svg
func TestPictureIsMade(t *testing.T) {
	committed, err := os.ReadFile("../../../testdata/pictures/mixed.svg")
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewCurve(sampleReport(t, unit.Metric))
	if err != nil {
		t.Fatal(err)
	}
	now, err := c.SVG(picture.Page)
	if err != nil {
		t.Fatal(err)
	}
	wasWords, was := svgParts(t, committed)
	words, parts := svgParts(t, now)
	if !slices.Equal(words, wasWords) {
		t.Errorf("testdata/pictures/mixed.svg says\n%q\nwant\n%q\nmake it again, see the comment of this test", wasWords, words)
	}
	for _, kind := range []string{"text", "path", "title", "desc"} {
		if parts[kind] != was[kind] || parts[kind] == 0 {
			t.Errorf("mixed.svg has %d elements %s, want %d", was[kind], kind, parts[kind])
		}
	}
	if len(committed) > 60_000 || strings.Contains(string(committed), "href") {
		t.Errorf("mixed.svg: %d bytes, or loads something", len(committed))
	}
}
