package bench

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lehr/anneal/week"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// Over a change of clocks the wall shows an hour less, or more, than the hours of
// the firing, and an hour by which a piece is due is of the wall.
func TestWeek_clocks(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip(err)
	}
	was := time.Local
	time.Local = berlin
	defer func() { time.Local = was }()
	const hours = 14*time.Hour + 13*time.Minute
	for _, c := range []struct {
		from, due, ready string
		late             time.Duration
	}{
		{"2026-03-27", "2026-03-28 12:30", "Sat 12:13", 0},
		{"2026-03-28", "2026-03-29 12:30", "Sun 13:13", 43 * time.Minute},
		{"2026-03-28", "2026-03-29 13:13", "Sun 13:13", 0},
		{"2026-10-24", "2026-10-25 11:00", "Sun 11:13", 13 * time.Minute},
		{"2026-10-24", "2026-10-25", "Sun 11:13", 0},
	} {
		file := filepath.Join(t.TempDir(), "order.toml")
		text := "from = \"" + c.from + "\"\nstart = \"22:00\"\nnights = 1\nglass = \"borosilicate-33\"\n" +
			"[[kiln]]\nname = \"big\"\nshelf = \"300mm x 300mm\"\nheight = \"150mm\"\n" +
			"[[piece]]\nwhat = \"sphere 2.5in\"\ncount = 4\nready_by = \"" + c.due + "\"\n"
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		a := desk.New(nil, &out, nil, term.Terminal{Width: term.MaxWidth, UTF8: true})
		o, err := readOrder(a, file, "")
		if err != nil {
			t.Fatal(err)
		}
		plan, err := week.Make(t.Context(), o.kinds, o.kilns, o.gap, week.How{Share: func(int, []int) (time.Duration, error, error) { return hours, nil, nil }})
		if err != nil {
			t.Fatal(err)
		}
		if err := showWeek(a, o, plan, unit.Metric); err != nil {
			t.Fatal(err)
		}
		if err := a.Flush(); err != nil {
			t.Fatal(err)
		}
		late := time.Duration(0)
		for _, l := range plan.Late {
			late = l.By
		}
		if !strings.Contains(out.String(), c.ready) || late != c.late {
			t.Errorf("%s, due %s: want %s, late by %s; late by %s and\n%s", c.from, c.due, c.ready, c.late, late, out.String())
		}
		if night := plan.Firings[0].Start.Format("2006-01-02 15:04"); night != c.from+" 22:00" {
			t.Errorf("%s: begins %s", c.from, night)
		}
	}
	end, err := parseDue("2026-03-29")
	if err != nil || end.Format("2006-01-02 15:04") != "2026-03-29 23:59" {
		t.Errorf("the end of a day of 23 hours: %s, %v", end, err)
	}
}
