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

// confirm answers the waiting line as done, with a date where it wants one.
func confirm(t testing.TB, s *Session) Line {
	t.Helper()
	l, ok := s.Line()
	if !ok {
		t.Fatal("no line waits")
	}
	said := ""
	if l.Dated() {
		said = "today"
	}
	if err := s.Done(today, said); err != nil {
		t.Fatal(err)
	}
	return l
}

func TestSession(t *testing.T) {
	s := Facts{Today: today}.Session(Gas)
	var ids []string
	for l, ok := s.Line(); ok; l, ok = s.Line() {
		n, of := s.Place()
		if n != len(ids)+1 || of != 9 {
			t.Fatalf("place %d of %d at %s", n, of, l.ID)
		}
		ids = append(ids, l.ID)
		if l.ID == "B4" {
			if err := s.NotDone(today, " "); err == nil {
				t.Fatal("not done without a reason was taken")
			}
			if err := s.NotDone(today, "natural gas from the street"); err != nil {
				t.Fatal(err)
			}
			continue
		}
		confirm(t, s)
	}
	r := s.Record(today)
	if got := strings.Join(ids, " "); got != "B1 B2 B3 B4 B5 B6 B7 B8 B9" || len(r.Open) > 0 || len(r.NotKept()) != 1 || r.NotKept()[0].answer() != "NOT DONE" {
		t.Errorf("lines %s, %+v", got, r.NotKept())
	}
	if err := s.Done(today, ""); !errors.Is(err, errNoLine) {
		t.Error(err)
	}
	if !s.Back() || len(s.Open()) != 1 || s.Open()[0].ID != "B9" {
		t.Error("back", s.Open())
	}
}

// TestSession_lighting: with no point a run ends before the torch is lit.
func TestSession_lighting(t *testing.T) {
	s := Facts{Today: today}.Session()
	for l, ok := s.Line(); ok; l, ok = s.Line() {
		if l.Point != Air && l.Point != Gas && l.Point != You {
			t.Errorf("%s is asked before lighting", l.ID)
		}
		confirm(t, s)
	}
}

// TestMeaning: what counts as done, and what could mean the opposite.
func TestMeaning(t *testing.T) {
	gas, _ := shown(t, "B1")
	plainLine, _ := shown(t, "C6")
	fault, _ := shown(t, "U3", "kiln_current=24A", "breaker=100A")
	for _, c := range []struct {
		line Line
		word string
		want Meaning
	}{
		{gas, "clear", Confirmed}, {gas, "y", Unclear}, {gas, "YES", Unclear}, {gas, "d", Unclear}, {gas, "done", Unclear}, {gas, "no", Refused}, {gas, "", Unclear},
		{plainLine, "y", Confirmed}, {plainLine, "Done", Confirmed}, {plainLine, "n", Refused}, {plainLine, "N/A", NotHere}, {plainLine, "clear", Unclear}, {plainLine, "", Unclear},
		{fault, "y", Unclear}, {fault, "yes", Unclear}, {fault, "done", Confirmed}, {fault, "no", Refused},
	} {
		if got := c.line.Meaning(c.word); got != c.want {
			t.Errorf("%s, %q: %d, want %d", c.line.ID, c.word, got, c.want)
		}
	}
}

// TestSession_dated: a test has a day that has been and is not too long ago.
func TestSession_dated(t *testing.T) {
	s := facts(t, "unattended=yes").Session(Leave)
	if l, _ := s.Line(); l.ID != "U1" || !l.Dated() {
		t.Fatalf("%+v", l)
	}
	for _, said := range []string{"", "yes", "last week", "2026-11-26", "2026-08-24", "2025-11-25", "26-11-25"} {
		if err := s.Done(today, said); err == nil {
			t.Fatalf("%q was taken", said)
		}
	}
	if err := s.Done(today, "2026-08-25"); err != nil {
		t.Fatal(err)
	}
	r := s.Record(today)
	if len(r.NotKept()) != 0 || r.Answers[0].Said != "2026-08-25" {
		t.Errorf("%+v", r.Answers)
	}
	// A date in the facts is asked again only when it is old.
	if l, _ := facts(t, "cut_off_tested=2026-11-01").Session(Leave).Line(); l.Dated() || l.Fault {
		t.Errorf("%+v", l)
	}
	if l, _ := facts(t, "cut_off_tested=2026-08-01").Session(Leave).Line(); !l.Dated() || !l.Fault || !strings.Contains(l.Note, "116 days") {
		t.Errorf("%+v", l)
	}
}

// TestSession_faultStays: saying done does not undo what is known.
func TestSession_faultStays(t *testing.T) {
	s := facts(t, "unattended=yes", "cut_off=no", "kiln_current=24A", "breaker=100A").Session(Leave)
	for _, ok := s.Line(); ok; _, ok = s.Line() {
		confirm(t, s)
	}
	var ids []string
	for _, r := range s.Record(today).NotKept() {
		ids = append(ids, r.Line.ID)
	}
	if got := strings.Join(ids, " "); got != "U1 U3" {
		t.Errorf("left open by what is known: %s", got)
	}
}

func TestSession_stop(t *testing.T) {
	s := Facts{Today: today}.Session(Leave, Open)
	confirm(t, s)
	s.Stop()
	if _, ok := s.Line(); ok {
		t.Error("a line waits after the stop")
	}
	if r := s.Record(today); len(r.Open) != 14 || r.Open[0].ID != "U2" || len(r.Answers) != 1 {
		t.Errorf("%+v", r.Open)
	}
}

// TestResume: what was done a short while ago counts, if the line reads the
// same; what was not done, what is stale, and the gas do not.
func TestResume(t *testing.T) {
	f := Facts{Today: today}
	s := f.Session()
	var past []Past
	for l, ok := s.Line(); ok; l, ok = s.Line() {
		if l.ID == "A3" {
			if err := s.NotDone(today, "blocked"); err != nil {
				t.Fatal(err)
			}
			continue
		}
		confirm(t, s)
	}
	for _, r := range s.Record(today).Answers {
		past = append(past, Past{r.Line.ID, r.Line.Text, r.answer(), r.Said, r.At})
	}
	open := func(f Facts, past []Past, later time.Duration) string {
		s := f.Session()
		taken := s.Resume(past, today.Add(later))
		var ids []string
		for _, l := range s.Open() {
			ids = append(ids, l.ID)
		}
		if taken+len(ids) != 27 {
			t.Errorf("%d taken and %d open", taken, len(ids))
		}
		return strings.Join(ids, " ")
	}
	if got := open(f, past, 59*time.Minute); got != "A3 B1" {
		t.Errorf("open: %s", got)
	}
	for _, later := range []time.Duration{61 * time.Minute, -time.Minute} {
		if got := open(f, past, later); !strings.HasPrefix(got, "A1 A2 A3 A4") {
			t.Errorf("after %v open: %s", later, got)
		}
	}
	changed := facts(t, "capture_speed=0.2m/s", "vent=flanged", "room=5m3")
	s = changed.Session()
	s.Resume(past, today.Add(time.Minute))
	if l, _ := s.Line(); l.ID != "A1" {
		t.Errorf("first line %s", l.ID)
	}
	forged := []Past{{"B1", past[10].Words, "reported done", "", today}, {"A4", past[3].Words, "reported done", "1999-01-01", today}, {"Z9", "x", "reported done", "", today}}
	s = f.Session()
	if n := s.Resume(forged, today); n != 0 {
		t.Errorf("%d answers of a forged record were taken", n)
	}
}

// What is written is read back, whatever a person said.
func TestRecord_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		s := f.Session(rapid.SampledFrom([][]Point{nil, {Leave}, {Air, Gas, You}, {Open, Reach}}).Draw(t, "points")...)
		at := time.Date(2026, 11, 25, 22, 15, 7, 99, time.FixedZone("", -8*3600))
		for range rapid.IntRange(0, 60).Draw(t, "answers") {
			if _, ok := s.Line(); !ok {
				break
			}
			said := rapid.StringN(0, 60, -1).Draw(t, "said")
			if s.Done(at, said) != nil && s.NotDone(at, said+"x") != nil {
				t.Fatal("neither done nor not done")
			}
		}
		r := s.Record(at)
		var a, b bytes.Buffer
		if err := errors.Join(r.WriteTOML(&a), r.WriteTOML(&b)); err != nil || a.String() != b.String() {
			t.Fatal("not the same bytes", err)
		}
		var back struct {
			Time     string            `toml:"time"`
			List     string            `toml:"list"`
			Points   []string          `toml:"points"`
			Finished bool              `toml:"finished"`
			Open     []string          `toml:"open"`
			Facts    map[string]string `toml:"facts"`
			Line     []struct {
				ID      string `toml:"id"`
				At      string `toml:"at"`
				Time    string `toml:"time"`
				Signal  string `toml:"signal"`
				Words   string `toml:"words"`
				Answer  string `toml:"answer"`
				Said    string `toml:"said"`
				Reason  string `toml:"reason"`
				Fault   bool   `toml:"fault"`
				Because string `toml:"shown_because"`
			} `toml:"line"`
		}
		if _, err := strict.Decode(&a, "record.toml", &back); err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		if back.Time != "2026-11-25T22:15:07-08:00" || back.List != Version || len(back.Line) != len(r.Answers) || len(back.Facts) != len(r.Facts) || len(back.Open) != len(r.Open) || back.Finished != (len(r.Open) == 0) {
			t.Fatalf("%+v", back)
		}
		for i, l := range back.Line {
			want := r.Answers[i]
			if l.ID != want.Line.ID || l.Words != want.Line.Text || l.Said+l.Reason != strict.Visible(want.Said) || l.Answer != want.answer() || l.Fault && want.kept() {
				t.Fatalf("line %+v, want %+v", l, want)
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
		if got, err := ParsePoint(string(p)); got != p || err != nil || p.Title() == "" {
			t.Error(p, got, err)
		}
	}
	_, err := ParsePoint("leaf")
	if e, ok := err.(*FactError); !ok || !strings.Contains(e.Hint(), "leave") {
		t.Error(err)
	}
}
