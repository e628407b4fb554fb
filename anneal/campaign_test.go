package anneal_test

import (
	"context"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
)

// campaignFor is how long a campaign lasts: go test ./anneal -run Campaign -campaign
// 3h -timeout 4h.
var campaignFor = flag.Duration("campaign", 0, "how long a campaign of new random loads lasts; 0: the same few each time, more with LEHR_LONG=1")

// Memory is collected as seldom as the program has it: a plan takes a tenth less time.
func init() { debug.SetGCPercent(400) }

// attempt is a load and a studio, as a person would keep them.
type attempt struct{ load, studio string }

func (a attempt) String() string {
	return "\n--- load.toml\n" + a.load + "--- studio.toml\n" + a.studio
}

// read reads both. A load or a studio that is refused is no finding.
func (a attempt) read() (*piece.Load, kiln.Studio, error) {
	st, err := kiln.ReadStudio(strings.NewReader(a.studio), "studio.toml")
	if err != nil {
		return nil, st, err
	}
	l, err := piece.ReadLoad(strings.NewReader(a.load), "load.toml", st.Glass, glass.Find)
	return l, st, err
}

// parts are the head of a load and its pieces.
func (a attempt) parts() (head string, pieces []string) {
	all := strings.Split(a.load, "[[piece]]\n")
	return all[0], all[1:]
}

func (a attempt) with(head string, pieces []string) attempt {
	a.load = head
	for _, p := range pieces {
		a.load += "[[piece]]\n" + p
	}
	return a
}

// A check returns what is broken, or errSkip where it says nothing of an attempt.
type check struct {
	name string
	cost int // 1: some programs, 10: a search
	of   func(context.Context, attempt) error
}

// errSkip says that an attempt has no program to be checked.
var errSkip = errors.New("no program")

// checks are what every load and studio must keep.
var checks = []check{
	{"withinMeansWithin", 1, withinMeansWithin},
	{"writtenIsVerified", 1, writtenIsVerified},
	{"scalesAgree", 1, scalesAgree},
	{"orderChangesNothing", 1, orderChangesNothing},
	{"copiesChangeNothing", 1, copiesChangeNothing},
	{"moreIsNeverShorter", 1, moreIsNeverShorter},
	{"looserIsNeverLonger", 1, looserIsNeverLonger},
	{"thickerIsNeverFaster", 1, thickerIsNeverFaster},
	{"twiceIsTheSame", 1, twiceIsTheSame},
	{"readyKeepsItsWord", 1, readyKeepsItsWord},
	{"shareAgrees", 3, shareAgrees},
	{"shortestKeepsAndShortens", 10, shortestKeepsAndShortens},
}

// kept are the loads and studios that once broke something, in
// testdata/campaign, and the checks that each must keep since.
var kept = []struct {
	name   string
	checks []string
	long   bool // asked with LEHR_LONG=1 or in a campaign only
}{
	{name: "1004", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree", "orderChangesNothing", "readyKeepsItsWord"}, long: true},
	{name: "1314", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree", "orderChangesNothing", "moreIsNeverShorter"}, long: true},
	{name: "1378", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree", "orderChangesNothing"}, long: true},
	{name: "1419", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree"}},
	{name: "1507", checks: []string{"withinMeansWithin", "writtenIsVerified", "moreIsNeverShorter"}, long: true},
	{name: "9010", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree", "readyKeepsItsWord", "shareAgrees"}, long: true},
	{name: "9027", checks: []string{"withinMeansWithin", "writtenIsVerified", "scalesAgree", "twiceIsTheSame"}, long: true},
}

// TestCampaign_kept: what a campaign once broke stays mended.
func TestCampaign_kept(t *testing.T) {
	for _, row := range kept {
		if row.long && *campaignFor == 0 && os.Getenv("LEHR_LONG") != "1" {
			continue
		}
		var a attempt
		for file, into := range map[string]*string{"load.toml": &a.load, "studio.toml": &a.studio} {
			text, err := os.ReadFile(filepath.Join("../testdata/campaign", row.name, file))
			if err != nil {
				t.Fatal(err)
			}
			*into = string(text)
		}
		for _, name := range row.checks {
			i := slices.IndexFunc(checks, func(c check) bool { return c.name == name })
			if err := checks[i].of(t.Context(), a); err != nil {
				t.Errorf("%s, %s: %v", row.name, name, err)
			}
		}
	}
}

// TestCampaign tries to break what must hold of every load and studio: random
// ones that are valid, against each check by name. What breaks is shrunk, and
// printed as the two files that a person can run. They are the same few each time,
// more with LEHR_LONG=1; with -campaign they are new ones, for as long as it says.
func TestCampaign(t *testing.T) {
	total := 0
	for _, c := range checks {
		total += c.cost
	}
	for _, c := range checks {
		t.Run(c.name, func(t *testing.T) {
			if c.cost == 10 && *campaignFor == 0 && os.Getenv("LEHR_LONG") != "1" {
				t.Skip("a search; LEHR_LONG=1 runs it")
			}
			tried, judged := 0, 0
			once := func(t *rapid.T) {
				a := anyAttempt(t)
				tried++
				switch err := c.of(context.Background(), a); {
				case errors.Is(err, errSkip):
				case err != nil:
					t.Fatalf("%s: %v%s", c.name, err, a)
				default:
					judged++
				}
			}
			if *campaignFor == 0 {
				n, seed := 1, uint64(6) // one load of which every check says something, and soon
				if os.Getenv("LEHR_LONG") == "1" {
					n, seed = 3, 1
				}
				rounds(t, max(1, n/c.cost), seed)
				rapid.Check(t, once)
				t.Logf("%d tried, %d had a program to judge", tried, judged)
				if n == 1 && judged == 0 {
					t.Error("nothing was judged")
				}
				return
			}
			rounds(t, 5, 0)
			end := time.Now().Add(*campaignFor * time.Duration(c.cost) / time.Duration(total))
			for time.Now().Before(end) && !t.Failed() {
				rapid.Check(t, once)
			}
			t.Logf("%d tried, %d had a program to judge", tried, judged)
			if judged == 0 && !t.Failed() {
				t.Error("nothing was judged")
			}
		})
	}
}

// lately are the attempts that were planned last, and what came of them: the checks
// of one attempt begin with the same report, and none changes it.
var lately = map[attempt]answer{}

type answer struct {
	rep *anneal.Report
	err error
}

// itsPlan is the plan of an attempt as it stands, made once for all checks of it.
func itsPlan(ctx context.Context, a attempt) (*anneal.Report, error) {
	x, ok := lately[a]
	if !ok {
		if len(lately) == 8 { // a campaign goes on for hours
			clear(lately)
		}
		x.rep, x.err = planned(ctx, a, anneal.Options{})
		lately[a] = x
	}
	return x.rep, x.err
}

// rounds sets how many attempts a check makes, and from which seed (0: any).
func rounds(t *testing.T, n int, seed uint64) {
	t.Helper()
	for name, value := range map[string]string{"rapid.checks": strconv.Itoa(n), "rapid.seed": strconv.FormatUint(seed, 10), "rapid.nofailfile": "true", "rapid.shrinktime": "60s"} {
		f := flag.Lookup(name)
		was := f.Value.String()
		if err := f.Value.Set(value); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = f.Value.Set(was) })
	}
}

// TestCampaign_canFail: a report that breaks what is checked is found.
func TestCampaign_canFail(t *testing.T) {
	a := attempt{"[[piece]]\nwhat = \"sphere 20mm\"\nglass = \"borosilicate-33\"\n", "[kiln]\ncooling_time_constant = \"3 h\"\n"}
	rep, err := planned(t.Context(), a, anneal.Options{})
	if err != nil || !rep.Within {
		t.Fatal(rep, err)
	}
	if err := errors.Join(keeps(rep), same(rep, rep), notLonger("itself", rep, rep)); err != nil {
		t.Fatal(err)
	}
	for what, spoil := range map[string]func(*anneal.Report){
		"tension": func(r *anneal.Report) { r.Pieces[0].Peak *= 10 },
		"left":    func(r *anneal.Report) { r.Pieces[0].Residual *= 10 },
		"use":     func(r *anneal.Report) { r.Pieces[0].ResidualTension.Use = 1.01 },
		"relaxed": func(r *anneal.Report) { r.Pieces[0].Relaxed = 0.5 },
		"even":    func(r *anneal.Report) { r.Pieces[0].SoakLag = 10 },
	} {
		bad := *rep
		bad.Pieces = slices.Clone(rep.Pieces)
		spoil(&bad)
		if keeps(&bad) == nil {
			t.Errorf("%s: not found", what)
		}
	}
	bad := *rep
	bad.Pieces = slices.Clone(rep.Pieces)
	bad.Pieces[0].Peak *= 1 + 1e-7
	if same(rep, &bad) == nil || near(rep, &bad, 1e-9) == nil {
		t.Error("another tension is not found")
	}
	bad.Actual = rep.Actual
	bad.Schedule.Segments = slices.Clone(rep.Schedule.Segments)
	bad.Schedule.Segments[0].Hold += time.Minute
	if schedule(rep) == schedule(&bad) {
		t.Error("another program is not found")
	}
}
