package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/internal/roomtest"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// sampleReport plans the sample load.
var sampleReport = roomtest.Report

// TestCurve_showsTheReport wants the curve to say what the report says: the
// same greatest tension at the same time, the kiln of the clock, and the piece
// that is nearest to a limit.
func TestCurve_showsTheReport(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		rep := sampleReport(t, sys)
		c, err := NewCurve(rep, Drawn{})
		if err != nil {
			t.Fatal(err)
		}
		p := rep.Pieces[0]
		peak, _ := p.Peak.In(sys)
		limit, _ := p.Tension.Limit().In(sys)
		most, at := 0.0, 0.0
		for _, q := range c.Pieces[0].Share {
			if q.Value*limit > most {
				most, at = q.Value*limit, q.Time
			}
		}
		if math.Abs(most-peak) > 1e-6*peak || math.Abs(at-rep.ActualTime(p.PeakTime)) > 1 {
			t.Errorf("curve peaks with %g at %g s, the report with %g at %g s", most, at, peak, rep.ActualTime(p.PeakTime))
		}
		// The limits are those of the verdict, which are for the worst case.
		most5, left2 := unit.Stress(5e6), unit.Stress(2e6)
		if s := c.Pieces[0]; !strings.Contains(s.Greatest, p.Peak.Text(sys)) || !strings.Contains(s.Limit, most5.Text(sys)) {
			t.Errorf("%q, %q, want %s of %s", s.Greatest, s.Limit, p.Peak.Text(sys), most5.Text(sys))
		}
		if _, numbers := VerdictText(rep); !strings.Contains(numbers, "limit "+most5.Text(sys)) || !strings.Contains(numbers, "limit "+left2.Text(sys)) {
			t.Errorf("the verdict says %s", numbers)
		}
		lines := [][]picture.Point{c.Kiln}
		for _, s := range c.Pieces {
			lines = append(lines, s.Difference, s.Share)
		}
		for i, line := range lines {
			first, last := line[0], line[len(line)-1]
			if begin, _ := rep.Schedule.From.In(sys); first.Time != 0 || i == 0 && math.Abs(first.Value-begin) > 0.01 || math.Abs(last.Time-c.Length) > 1 {
				t.Errorf("line %d: from %+v to %+v, want the program of %g s from %g", i, first, last, c.Length, begin)
			}
		}
		// The share is of the limit that decides, and what is left is beside it.
		if s := c.Pieces[0]; len(c.Pieces) != 2 || s.Label != p.Piece.What || math.Abs(greatest(s.Share)-p.Tension.Use) > 1e-9 || s.Left != p.ResidualTension.Use {
			t.Errorf("%d pieces, the first %s with %.4f of its limit and %.4f left, want %.4f and %.4f", len(c.Pieces), s.Label, greatest(s.Share), s.Left, p.Tension.Use, p.ResidualTension.Use)
		}
		share := c.Pieces[0].Share
		for i, q := range share[1:] {
			if q.Time < share[i].Time {
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

func greatest(points []picture.Point) (most float64) {
	for _, p := range points {
		most = max(most, p.Value)
	}
	return most
}

// TestCurve_isTheHistory wants the picture to share its time axis with the table
// of the history: every row of one, at the moment when the kiln of the clock is as hot,
// lies on the line of the other.
func TestCurve_isTheHistory(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	c, err := NewCurve(rep, Drawn{})
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := rep.WriteHistory(&buf); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&buf).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(row []string, name string) float64 {
		x, err := strconv.ParseFloat(row[slices.Index(rows[0], name)], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	checked := 0
	for _, row := range rows[1:] {
		if row[0] != c.Pieces[0].Label {
			continue
		}
		at := rep.ActualTime(column(row, "told_h") * 3600)
		if at > c.Length || column(row, "kiln_C") < 43 {
			continue
		}
		if got, want := valueAt(c.Pieces[0].Difference, at), column(row, "center_C")-column(row, "surface_C"); math.Abs(got-want) > 0.05 {
			t.Errorf("at %g h the picture shows a difference of %.3f K, the table %.3f K", at/3600, got, want)
		}
		checked++
	}
	if checked < 50 {
		t.Errorf("%d rows checked", checked)
	}
}

// valueAt reads a line at a time.
func valueAt(points []picture.Point, at float64) float64 {
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; at <= b.Time+1 && b.Time > a.Time {
			return a.Value + (b.Value-a.Value)*(at-a.Time)/(b.Time-a.Time)
		}
	}
	return points[len(points)-1].Value
}

// TestReadings: a row for every half hour of the clock and for the end of every
// segment, in a band that holds what the kiln reads and what it is told.
func TestReadings(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		rep := sampleReport(t, sys)
		rows := Readings(rep)
		ends := 0
		for i, r := range rows {
			kiln, _ := unit.Kelvin(rep.Actual.At(r.At)).In(sys)
			if math.Abs(float64(r.Kiln)-kiln) > 0.51 || r.Kiln < r.Low || r.Kiln > r.High {
				t.Errorf("%s: %d in %d to %d, the kiln is at %.1f", r.Time, r.Kiln, r.Low, r.High, kiln)
			}
			switch clock := int(*rep.Load.Start) + int(math.Round(r.At/60)); {
			case r.Ends:
				if end := rep.Actual.Spans[r.Segment-1].End; math.Abs(end-r.At) > 30 {
					t.Errorf("%s: segment %d ends at %g s", r.Time, r.Segment, end)
				}
				ends++
			case i > 0 && clock%30 != 0:
				t.Errorf("%s is no half hour", r.Time)
			}
			longest := 1801.0
			if r.Ends {
				longest += 60 // it takes the place of the half hour of the same minute
			}
			if i > 0 && r.At-rows[i-1].At > longest {
				t.Errorf("%s: %g min after the row before", r.Time, (r.At-rows[i-1].At)/60)
			}
		}
		if ends != len(rep.Schedule.Segments) {
			t.Errorf("%d segments end, want %d", ends, len(rep.Schedule.Segments))
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
	c, err := NewCurve(rep, Drawn{})
	if err != nil {
		t.Fatal(err)
	}
	if c.Start != nil || c.Pieces[0].Left >= 0 || !strings.Contains(c.Desc, "surface and bore") {
		t.Errorf("left %g, %s", c.Pieces[0].Left, c.Desc)
	}
}

// TestCurve_drawn: what is chosen is drawn, and another program is that program:
// its kiln, its shares and its end.
func TestCurve_drawn(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	small, err := NewCurve(rep, Drawn{Pieces: []int{1}})
	if err != nil || len(small.Pieces) != 1 || small.InText != 1 || small.Pieces[0].Label != rep.Pieces[1].Piece.What || math.Abs(greatest(small.Pieces[0].Share)-rep.Pieces[1].Tension.Use) > 1e-9 {
		t.Fatalf("%v, %+v", err, small)
	}
	quick := rep.Schedule
	quick.Segments = slices.Clone(quick.Segments)
	quick.Segments[1].Rate *= 4
	over, err := verify.Program(context.Background(), quick, rep.Load, rep.Studio, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	for chosen, pieces := range map[int][]int{1: nil, 2: {0, 1}} {
		d := Drawn{Pieces: pieces, Over: over, Name: "mine.toml", Own: "planned"}
		c, err := NewCurve(rep, d)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Pieces) != 2*chosen || c.Nominal != nil || c.Name != "planned" || c.Other.Name != "mine.toml" || c.Length < over.Actual.Total().Seconds()-1 {
			t.Fatalf("%d lines, %+v", len(c.Pieces), c.Other)
		}
		for i, s := range c.Pieces {
			of := rep
			if i >= chosen {
				of = over
			}
			if p := of.Pieces[i%chosen]; s.Other != (i >= chosen) || s.Label != p.Piece.What || math.Abs(greatest(s.Share)-p.Tension.Use) > 1e-9 || s.Left != p.ResidualTension.Use {
				t.Errorf("line %d: %s, other %v, %.4f of its limit, want %.4f", i, s.Label, s.Other, greatest(s.Share), p.Tension.Use)
			}
		}
		for _, at := range []float64{600, 3600, 3 * 3600, 9 * 3600} {
			if got, want := valueAt(c.Other.Kiln, at), unit.Kelvin(over.Actual.At(at)).Celsius(); math.Abs(got-want) > 0.5 {
				t.Errorf("at %g s the other kiln is drawn at %.1f °C, want %.1f °C", at, got, want)
			}
		}
		word, _ := VerdictText(over)
		if text := d.OverText(); !strings.HasPrefix(text, "Solid: planned. Long dashes: mine.toml, ends ") || !strings.Contains(text, word) || !slices.Contains(c.Heading, text) || !strings.Contains(c.Desc, text) {
			t.Errorf("says %q", text)
		}
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
	c, err := NewCurve(sampleReport(t, unit.Metric), Drawn{})
	if err != nil {
		t.Fatal(err)
	}
	now, err := c.SVG(picture.Page)
	if err != nil {
		t.Fatal(err)
	}
	dated := regexp.MustCompile(`Planned \w+ \d+, \d+`)
	wasWords, was := svgParts(t, dated.ReplaceAll(committed, nil))
	words, parts := svgParts(t, dated.ReplaceAll(now, nil))
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

// TestCurveNote: a curve whose pieces are in another kiln than its clock says so
// wherever it is drawn, and no other does.
func TestCurveNote(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	note := CurveNote(rep)
	c, err := NewCurve(rep, Drawn{})
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	v := View{Screen: &term.Screen{Out: &buf, Term: term.Terminal{Width: 80, UTF8: true}}}
	if err := v.showChart(rep); err != nil {
		t.Fatal(err)
	}
	chart := strings.Join(strings.Fields(buf.String()), " ")
	if c.Nominal == nil || note == "" || !slices.Contains(c.Heading, note) || !strings.Contains(c.Desc, note) || !strings.Contains(chart, note) {
		t.Errorf("note %q, heading %q, chart %.300s", note, c.Heading, chart)
	}
	measured := *rep
	measured.Studio.Kiln.Measured = true
	if c, err = NewCurve(&measured, Drawn{}); err != nil {
		t.Fatal(err)
	}
	if note := CurveNote(&measured); !strings.Contains(note, "a tenth faster") || !slices.Contains(c.Heading, note) || c.NominalName != "a tenth faster" {
		t.Errorf("of a measured kiln: %q, and its line is %q", note, c.NominalName)
	}
	replayed := *rep
	replayed.Replayed = true
	if note := CurveNote(&replayed); note != "" {
		t.Errorf("of a night that was: %q", note)
	}
}
