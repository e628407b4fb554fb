package checklist

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/strict"
)

func TestSession(t *testing.T) {
	s := NewSession(Facts{Alone: No}, Gas)
	var ids []string
	for {
		l, ok := s.Line()
		if !ok {
			break
		}
		n, of := s.Place()
		if n != len(ids)+1 || of != 9 {
			t.Fatalf("place %d of %d at %s", n, of, l.ID)
		}
		ids = append(ids, l.ID)
		if l.ID == "B4" {
			if err := s.NotApplicable(" "); err == nil {
				t.Fatal("not applicable without a reason was taken")
			}
			if err := s.NotApplicable("natural gas from the street"); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if _, err := s.Record(time.Now()); err == nil {
			t.Fatal("a record of an unfinished run")
		}
		if err := s.Done(""); err != nil {
			t.Fatal(err)
		}
	}
	if got := strings.Join(ids, " "); got != "B1 B2 B3 B4 B5 B6 B7 B8 B9" || !s.Finished() {
		t.Errorf("lines %s", got)
	}
	if err := s.Done(""); !errors.Is(err, ErrNoLine) {
		t.Error(err)
	}
	if !s.Back() || s.Finished() || len(s.Open()) != 1 || s.Open()[0].ID != "B9" {
		t.Error("back", s.Open())
	}
}

func TestSession_stop(t *testing.T) {
	s := NewSession(Facts{}, Leave, Open)
	if err := s.Done("2026-11-15"); err != nil {
		t.Fatal(err)
	}
	s.Stop()
	if _, ok := s.Line(); ok || s.Finished() {
		t.Error("a line waits after the stop")
	}
	_, err := s.Record(time.Now())
	var open *OpenError
	if !errors.As(err, &open) || !strings.HasPrefix(err.Error(), "13 lines open: U2, U3") {
		t.Error(err)
	}
}

func TestSession_reportedHazardApplies(t *testing.T) {
	s := NewSession(Facts{GasSmell: Yes}, Gas)
	if l, _ := s.Line(); l.ID != "W1" || l.Signal != Danger {
		t.Fatalf("first line %s %s", l.ID, l.Signal)
	}
	if err := s.NotApplicable("nose is stuffed"); err == nil {
		t.Error("a reported hazard was waved away")
	}
}

// What is written is read back, whatever a person said.
func TestRecord_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		points := rapid.SampledFrom([][]Point{nil, {Leave}, {Air, Gas, You}, {Wrong}}).Draw(t, "points")
		s := NewSession(f, points...)
		for {
			if _, ok := s.Line(); !ok {
				break
			}
			said := rapid.StringN(0, 60, -1).Draw(t, "said")
			if rapid.Bool().Draw(t, "done") || s.NotApplicable(said) != nil {
				if err := s.Done(said); err != nil {
					t.Fatal(err)
				}
			}
		}
		at := time.Date(2026, 11, 25, 22, 15, 7, 99, time.FixedZone("", -8*3600))
		r, err := s.Record(at)
		if err != nil {
			t.Fatal(err)
		}
		var a, b bytes.Buffer
		if err := errors.Join(r.WriteTOML(&a), r.WriteTOML(&b)); err != nil || a.String() != b.String() {
			t.Fatal("not the same bytes", err)
		}
		var back struct {
			Time   string            `toml:"time"`
			List   string            `toml:"list"`
			Points []string          `toml:"points"`
			Facts  map[string]string `toml:"facts"`
			Line   []struct {
				ID      string `toml:"id"`
				At      string `toml:"at"`
				Signal  string `toml:"signal"`
				Words   string `toml:"words"`
				Answer  string `toml:"answer"`
				Said    string `toml:"said"`
				Reason  string `toml:"reason"`
				Because string `toml:"shown_because"`
			} `toml:"line"`
		}
		if _, err := strict.Decode(&a, "record.toml", &back); err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		if back.Time != "2026-11-25T22:15:07-08:00" || back.List != Version || len(back.Line) != len(r.Answers) || len(back.Facts) != len(r.Facts) {
			t.Fatalf("%+v", back)
		}
		for i, l := range back.Line {
			want := r.Answers[i]
			if l.ID != want.Line.ID || l.Words != want.Line.Text || l.Said+l.Reason != want.Said || l.Answer != want.Answer() {
				t.Fatalf("line %+v, want %+v", l, want)
			}
			if forbidden.MatchString(l.Answer) {
				t.Fatal(l.Answer)
			}
		}
		for _, g := range r.Facts {
			if back.Facts[g.Name] != g.Value {
				t.Fatalf("%s = %q, want %q", g.Name, back.Facts[g.Name], g.Value)
			}
		}
	})
}

func TestParsePoint(t *testing.T) {
	for _, p := range Points() {
		if got, err := ParsePoint(string(p)); got != p || err != nil {
			t.Error(p, got, err)
		}
		if p.Title() == "" || p.Use() == "" {
			t.Error(p)
		}
	}
	_, err := ParsePoint("leaf")
	if e, ok := err.(*FactError); !ok || !strings.Contains(e.Hint(), "leave") {
		t.Error(err)
	}
}
