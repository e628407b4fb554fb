package main

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lehr/anneal/evidence"
	"lehr/cmd/lehr/reference"
	"lehr/testdata"
)

var grown = flag.Bool("grown", false, "with -update: store a bias or spread that has grown, too")

// TestEvidence runs every case, with LEHR_LONG=1; each package poses its own at any
// time. None fails; no bias and no spread has grown over the stored one; the page and
// what is stored are what comes out. After a change, and when it has made nothing
// worse:
//
//	go test ./anneal/evidence -update        (the embedded cases)
//	go test ./cmd/lehr -run TestEvidence -update
func TestEvidence(t *testing.T) {
	if os.Getenv("LEHR_LONG") != "1" && !*update {
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
	}
	list, err := testdata.Cases()
	if err != nil {
		t.Fatal(err)
	}
	rep, err := evidence.Run(t.Context(), list, "", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rep.Failed {
		t.Error(f)
	}
	if rep.Cases < 950 {
		t.Errorf("%d cases", rep.Cases)
	}
	for _, g := range rep.Grown() {
		if !*update || !*grown {
			t.Errorf("%s: grown; if that must be, -update -grown stores it, and the commit says why", g)
		}
	}
	for name, want := range map[string]string{"validation.md": reference.EvidencePage(rep), "validation.tsv": kept(rep)} {
		path := filepath.Join("..", "..", "testdata", name)
		have, err := os.ReadFile(path)
		if err == nil && string(have) == want {
			continue
		}
		if !*update || t.Failed() {
			t.Errorf("testdata/%s is not what comes out (%v): go test ./cmd/lehr -run TestEvidence -update", name, err)
			continue
		}
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, l := range rep.Lines {
		if _, stored := evidence.Last()[l.Name]; !stored && !*update {
			t.Errorf("nothing is stored of %s", l.Name)
		}
	}
}

// kept writes what is to be stored of a report, a quantity a line, as [evidence.Last]
// reads it.
func kept(r *evidence.Report) string {
	var b strings.Builder
	for _, l := range r.Lines {
		o := elsewhere(l)
		fmt.Fprintf(&b, "%s\t%d\t%.4f\t%.4f\t%d\t%.4f\t%.4f\n", l.Name, l.All.Cases, l.All.Bias+0, l.All.Spread, o.Cases, o.Bias+0, o.Spread)
	}
	return b.String()
}

// elsewhere returns what the origins other than this project say of a quantity,
// over all of them: bias and spread of the numbers of texts, closed forms and
// general-purpose codes.
func elsewhere(l evidence.Line) (s evidence.Stats) {
	squares := 0.0
	for o, part := range l.Of {
		if evidence.Origin(o) == evidence.Derived {
			continue
		}
		s.Cases += part.Cases
		s.Numbers += part.Numbers
		s.Bias += part.Bias * float64(part.Numbers)
		squares += part.Spread*part.Spread*float64(max(0, part.Numbers-1)) + part.Bias*part.Bias*float64(part.Numbers)
	}
	if s.Numbers > 0 {
		s.Bias /= float64(s.Numbers)
	}
	if s.Numbers > 1 {
		s.Spread = math.Sqrt(max(0, squares-float64(s.Numbers)*s.Bias*s.Bias) / float64(s.Numbers-1))
	}
	return s
}

// TestEvidence_fails: a case that is not met is told, and a bias that grows.
func TestEvidence_fails(t *testing.T) {
	list, err := testdata.Cases()
	if err != nil {
		t.Fatal(err)
	}
	if list, err = evidence.About(list, "soak"); err != nil {
		t.Fatal(err)
	}
	for i := range list {
		for key, x := range list[i].Expected {
			if number, ok := x.(float64); ok {
				list[i].Expected[key] = 1.1 * number
			}
		}
	}
	rep, err := evidence.Run(t.Context(), list, "soak", nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(rep.Failed) == 0 || len(rep.Grown()) == 0 {
		t.Errorf("failed %d, grown %d", len(rep.Failed), len(rep.Grown()))
	}
	if page := reference.EvidencePage(rep); !strings.Contains(page, "NOT MET") || !strings.Contains(page, "## Not met") {
		t.Error("the page hides a case that is not met")
	}
}
