package plan

import (
	"os"
	"runtime/debug"
	"strings"
	"testing"

	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
)

// Memory is collected as seldom as the program has it: a plan takes a tenth less time.
func init() { debug.SetGCPercent(400) }

// pieceOf is a piece of a test, in the grammar and the glass named.
func pieceOf(t testing.TB, text, name string) piece.Piece {
	t.Helper()
	p, err := piece.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Fill(g, glass.Find); err != nil {
		t.Fatal(err)
	}
	return p
}

// loadOf is a load of pieces of one glass.
func loadOf(t testing.TB, name string, pieces ...string) *piece.Load {
	t.Helper()
	l := &piece.Load{Into: piece.HotKiln}
	for _, text := range pieces {
		l.Pieces = append(l.Pieces, pieceOf(t, text, name))
	}
	return l
}

func readSchedule(text string) (program.Schedule, error) {
	return program.Read(strings.NewReader(text), "tonight.toml")
}

// hoursOnly are the options of a plan of which only the program is asked: not what
// rounding costs, nor the bodies as they are where their bounds are kept.
var hoursOnly = Options{quiet: true}

// campaign reports whether every row runs; long, whether those do that CI has time for.
func campaign() bool { return os.Getenv("LEHR_CAMPAIGN") == "1" }
func long() bool     { return campaign() || os.Getenv("LEHR_LONG") == "1" }

// needLong skips a test that plans for seconds.
func needLong(t *testing.T) {
	t.Helper()
	if !long() {
		t.Skip("plans for seconds; LEHR_LONG=1 runs it")
	}
}

// needCampaign skips a test that plans for half a minute.
func needCampaign(t *testing.T) {
	t.Helper()
	if !campaign() {
		t.Skip("plans for half a minute; LEHR_CAMPAIGN=1 runs it")
	}
}
