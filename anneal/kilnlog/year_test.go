package kilnlog

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"testing"
	"time"
)

// yearLog writes a year of nights, one reading a minute, without holding it.
type yearLog struct {
	minute, end int
	rest        []byte
}

func (y *yearLog) Read(p []byte) (int, error) {
	for len(y.rest) < len(p) && y.minute < y.end {
		if y.minute == 0 {
			y.rest = append(y.rest, "time,temp_C\n"...)
		}
		t := time.Date(2026, 1, 1, 0, y.minute, 0, 0, time.UTC)
		m := float64(y.minute % 1440)
		temp := 20 + 540*math.Exp(-math.Max(0, m-600)/200)
		y.rest = fmt.Appendf(y.rest, "%s,%.1f\n", t.Format(time.RFC3339), temp)
		y.minute++
	}
	if len(y.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(p, y.rest)
	y.rest = append(y.rest[:0], y.rest[n:]...)
	return n, nil
}

// A year of readings once a minute is read in seconds and in bounded memory, a
// month of it without LEHR_LONG=1.
func TestRead_year(t *testing.T) {
	days := 365
	if os.Getenv("LEHR_LONG") != "1" {
		days = 30
	}
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	start := time.Now()
	l, err := Read(&yearLog{end: days * 1440}, "year.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	if len(l.Readings) < days*1440-400 {
		t.Errorf("%d readings, %+v", len(l.Readings), l.Account.Left)
	}
	// All that was ever taken, which the peak cannot exceed; what writes the log
	// takes a part of it.
	grown := float64(after.TotalAlloc-before.TotalAlloc) / (1 << 20)
	t.Logf("%d readings in %v, %.0f MB taken in all", len(l.Readings), took.Round(time.Millisecond), grown)
	if took > time.Duration(days)*20*time.Second/365 {
		t.Errorf("took %v", took)
	}
	if grown > 200*float64(days)/365 {
		t.Errorf("%.0f MB taken", grown)
	}
}

// What is too much is refused before memory runs out. A log of three years is
// read with LEHR_LONG=1; otherwise its last two readings.
func TestRead_bounds(t *testing.T) {
	const last = "time_s,temp_C\n0,560\n60,559\n"
	for _, before := range []int{maxReadings - 2, maxReadings - 1} {
		r := &reader{name: "years.csv", rows: make([]row, before)}
		r.acc.Delimiter = ','
		w := &watcher{r: fill(last), left: maxBytes}
		c := csv.NewReader(w)
		w.done = c.InputOffset
		if err := r.read(c, w, last); (err != nil) != (before+2 > maxReadings) {
			t.Errorf("two readings after %d: %v", before, err)
		} else {
			t.Log(err)
		}
	}
	if os.Getenv("LEHR_LONG") == "1" {
		if _, err := Read(&yearLog{end: maxReadings + 2000}, "years.csv", Options{}); err == nil {
			t.Error("five years are read")
		} else {
			t.Log(err)
		}
	}
	open := io.MultiReader(fill("time_s,temp_C\n0,560\n1,\""), &endless{})
	if _, err := Read(open, "open.csv", Options{}); err == nil {
		t.Error("an endless cell is read")
	} else {
		t.Log(err)
	}
	if _, err := Read(&endless{}, "x.csv", Options{}); err == nil {
		t.Error("an endless line is read")
	} else {
		t.Log(err)
	}
}

func fill(s string) io.Reader { return io.LimitReader(&text{s}, int64(len(s))) }

type text struct{ s string }

func (x *text) Read(p []byte) (int, error) { n := copy(p, x.s); x.s = x.s[n:]; return n, nil }

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = "1,"[i%2]
	}
	return len(p), nil
}
