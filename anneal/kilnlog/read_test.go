package kilnlog

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

var wordOrNumber = regexp.MustCompile(`[\p{L}\p{N},]+`)

// Every text of the case file is read, or refused for the reason it gives.
func TestRead_cases(t *testing.T) {
	seen := 0
	for _, c := range casetest.Load(t, "kiln-logs") {
		if c.Func != "kilnlog.Read" {
			continue
		}
		seen++
		t.Run(c.ID, func(t *testing.T) {
			l, err := Read(strings.NewReader(c.Inputs.Text("text")), "night.csv", Options{})
			if !c.Expected.True("accept") {
				var e *Error
				if !errors.As(err, &e) || e.Name != "night.csv" {
					t.Fatalf("want refused: %s; got %v", c.Expected.Text("reason"), err)
				}
				for _, word := range wordOrNumber.FindAllString(c.Expected.Text("reason"), -1) {
					if word = strings.Trim(word, ","); !strings.Contains(err.Error(), word) && word != "line" {
						t.Errorf("%q lacks %q of %q", err, word, c.Expected.Text("reason"))
					}
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if got, want := len(l.Readings), int(c.Expected.Float("rows")); got != want {
				t.Errorf("%d readings, want %d", got, want)
			}
			if l.Account.Kept() != len(l.Readings) {
				t.Errorf("account keeps %d of %d: %+v", l.Account.Kept(), len(l.Readings), l.Account.Left)
			}
			if c.Expected.Has("first_C") {
				if got := l.Readings[0].At.Celsius(); math.Abs(got-c.Expected.Float("first_C")) > 1e-9 {
					t.Errorf("first reading %g °C", got)
				}
			}
			if c.Expected.Has("warn") {
				warned(t, l, c.Expected.Text("warn"))
			}
		})
	}
	if seen != 18 {
		t.Errorf("%d texts", seen)
	}
}

func warned(t *testing.T, l *Log, warn string) {
	a := &l.Account
	switch {
	case warn == "repeated row":
		if a.dropped(Repeated) != 1 {
			t.Error(a.Left)
		}
	case warn == "1 reading missing":
		if a.dropped(Missing) != 1 {
			t.Error(a.Left)
		}
	case warn == "1 reading cannot be true":
		if a.dropped(Impossible) != 1 {
			t.Error(a.Left)
		}
	case warn == "gap of 2 h":
		if a.GapCount != 1 || a.Gaps[0].Length() != 2*time.Hour {
			t.Error(a.Gaps)
		}
	case strings.HasPrefix(warn, "1040 C"):
		t.Log("told by Compare: TestCompare_otherScale")
	default:
		t.Errorf("nothing checks %q", warn)
	}
}

func read(t testing.TB, text string, o Options) *Log {
	t.Helper()
	l, err := Read(strings.NewReader(text), "night.csv", o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// What real loggers write, and what each is read as: minutes and °C.
func TestRead_forms(t *testing.T) {
	type want struct {
		minutes, celsius []float64
		known            Known
		start            string
	}
	two := func(known Known, start string) want {
		return want{[]float64{0, 1}, []float64{560, 559.5}, known, start}
	}
	const local = "2026-11-25 22:15:00"
	for name, row := range map[string]struct {
		text string
		o    Options
		want want
	}{
		"clock, over midnight": {"clock,temp_C\n23:59,560\n00:00,559.5\n", Options{}, two(TimeOfDay, "23:59:00")},
		"clock, two midnights": {"clock,temp_C\n13:00,560\n23:00,500\n0:30,490\n12:00,400\n23:59,300\n0:00,299\n", Options{},
			want{[]float64{0, 600, 690, 1380, 2099, 2100}, []float64{560, 500, 490, 400, 300, 299}, TimeOfDay, "13:00:00"}},
		"am and pm":                {"time,temp_C\n11:59 PM,560\n12:00 AM,559.5\n", Options{}, two(TimeOfDay, "23:59:00")},
		"elapsed h:min:s":          {"elapsed,temp_C\n0:00:00,560\n0:01:00,559.5\n", Options{}, two(Nothing, "")},
		"elapsed beyond a day":     {"elapsed,temp_C\n27:59:00,560\n28:00:00,559.5\n", Options{}, two(Nothing, "")},
		"minutes":                  {"min;T (°C)\n0;560,0\n1;559,5\n", Options{}, two(Nothing, "")},
		"hours":                    {"time_h\tkiln_C\n0\t560\n0.016666667\t559.5\n", Options{}, two(Nothing, "")},
		"date and clock apart":     {"Datum;Uhrzeit;Temp. [°C]\n25.11.2026;22:15:00;560,0\n25.11.2026;22:16:00;559,5\n", Options{}, two(DateAndTime, local)},
		"year of two digits":       {"Zeit;°C\n25.11.26 22:15;560\n25.11.26 22:16;559,5\n", Options{}, two(DateAndTime, local)},
		"slashes, day above 12":    {"time,temp_C\n11/25/2026 10:15 PM,560\n11/25/2026 10:16 PM,559.5\n", Options{}, two(DateAndTime, local)},
		"slashes, by option":       {"time,temp_C\n03/04/2026 22:15,560\n03/04/2026 22:16,559.5\n", Options{Dates: DayFirst}, two(DateAndTime, "2026-04-03 22:15:00")},
		"slashes, month first":     {"time,temp_C\n03/04/2026 22:15,560\n03/04/2026 22:16,559.5\n", Options{Dates: MonthFirst}, two(DateAndTime, "2026-03-04 22:15:00")},
		"slashes, the same either": {"time,temp_C\n11/11/2026 22:15,560\n11/11/2026 22:16,559.5\n", Options{}, two(DateAndTime, "2026-11-11 22:15:00")},
		"month by name":            {"time,temp_C\n25-Nov-2026 22:15:00,560\n25-Nov-2026 22:16:00,559.5\n", Options{}, two(DateAndTime, local)},
		"ISO without T":            {"time,temp_C\n2026-11-25 22:15,560\n2026-11-25 22:16,559.5\n", Options{}, two(DateAndTime, local)},
		"offset of summer time ends": {"time,temp_C\n2026-11-01T01:59:00-04:00,560\n2026-11-01T01:00:00-05:00,559.5\n", Options{},
			two(Moment, "2026-11-01 01:59:00")},
		"fractions of a second":  {"time,temp_C\n2026-11-25T22:15:00.250Z,560\n2026-11-25T22:16:00.250Z,559.5\n", Options{}, two(Moment, local)},
		"no header":              {"2026-11-25T22:15:00Z,560\n2026-11-25T22:16:00Z,559.5\n", Options{TempUnit: Celsius}, two(Moment, local)},
		"no header, by number":   {"1,0,560\n2,60,559.5\n", Options{TempUnit: Celsius, TempColumn: "3", TimeColumn: "2", TimeUnit: Seconds}, two(Nothing, "")},
		"lines before":           {"Logger 7\nSerial,1234\n\ntime,temp_C\n2026-11-25T22:15:00Z,560\n2026-11-25T22:16:00Z,559.5\n", Options{}, two(Moment, local)},
		"header in a note":       {"# kiln 2\n# time_s, temp_C\n0,560\n60,559.5\n", Options{}, two(Nothing, "")},
		"row numbers, serials":   {"\"Plot: kiln\"\n\"#\",\"Date Time, GMT+01:00\",\"Temp, °C (S/N: 12, no 3)\"\n1,11/25/2026 10:15:00 PM,560\n2,11/25/2026 10:16:00 PM,559.5\n", Options{}, two(DateAndTime, local)},
		"units in their own row": {"Time,Kiln\ns,°C\n0,560\n60,559.5\n", Options{}, two(Nothing, "")},
		"separator named":        {"sep=;\ntime;temp_C\n2026-11-25T22:15:00Z;560\n2026-11-25T22:16:00Z;559.5\n", Options{}, two(Moment, local)},
		"target beside it":       {"time_s,temp_C,setpoint_C\n0,560,565\n60,559.5,565\n", Options{}, two(Nothing, "")},
		"one of two probes":      {"time_s,top_C,bottom_C\n0,563,560\n60,562,559.5\n", Options{TempColumn: "bottom_c"}, two(Nothing, "")},
		"quoted":                 {"\"time_s\",\"temp, C\"\r\n\"0\",\"560\"\r\n\"60\",\"559.5\"\r\n", Options{}, two(Nothing, "")},
		"latin-1":                {"s;Temp \xb0C\n0;560,0\n60;559,5\n", Options{}, two(Nothing, "")},
		"kelvin":                 {"s,K\n0,833.15\n60,832.65\n", Options{}, two(Nothing, "")},
		"empty columns":          {"time_s,temp_C,,\n0,560,,\n60,559.5,,\n", Options{}, two(Nothing, "")},
		"header again":           {"time_s,temp_C\n0,560\ntime_s,temp_C\n60,559.5\n", Options{}, two(Nothing, "")},
		"notes":                  {"time_s,temp_C\n0,560\n# lid opened\n60,559.5\n", Options{}, two(Nothing, "")},
		"torn":                   {"time_s,temp_C\n0,560\n60,559.5\n120", Options{}, two(Nothing, "")},
		"torn within a number":   {"time_s,temp_C\n0,560\n60,559.5\n120,55", Options{}, two(Nothing, "")},
		"torn within a quote":    {"time_s,temp_C\n0,560\n60,559.5\n\"120,55", Options{}, two(Nothing, "")},
		"no end of line":         {"time_s,temp_C\n0,560\n60,559.5", Options{}, two(Nothing, "")},
		"power lost":             {"time_s,temp_C\n0,560\n60,559.5\n12\x00\x00\x00\x00", Options{}, two(Nothing, "")},
		"spreadsheet's days":     {"time,temp_C\n46351.927083333,560\n46351.927777778,559.5\n", Options{TimeUnit: Days}, two(Nothing, "")},
		"clock set right":        {"time,temp_C\n2026-11-25T22:15:30Z,560\n2026-11-25T22:15:10Z,560\n2026-11-25T22:16:30Z,559.5\n", Options{}, two(Moment, "2026-11-25 22:15:30")},
		"words for nothing":      {"s,°C\n0,560\n10,NaN\n20,OPEN\n30,\n40,9999\n50,ERR\n60,559.5\n", Options{}, two(Nothing, "")},
		"zone named C":           {"time_s,zone C,temp_C\n0,1,560\n60,1,559.5\n", Options{}, two(Nothing, "")},
		"tabs, decimal comma":    {"s\t°C\n0\t560,125\n60\t559,5\n", Options{}, want{[]float64{0, 1}, []float64{560.125, 559.5}, Nothing, ""}},
		"millivolts":             {"s,mV\n0,22.198\n60,22.198\n", Options{Couple: TypeK, Junction: unit.Celsius(25)}, want{[]float64{0, 1}, []float64{559.895, 559.895}, Nothing, ""}},
		"millivolts, own junction": {"s,mV,cold junction °C\n0,22.198,25\n60,22.198,25.0\n", Options{Couple: TypeK},
			want{[]float64{0, 1}, []float64{559.895, 559.895}, Nothing, ""}},
	} {
		t.Run(name, func(t *testing.T) {
			l := read(t, row.text, row.o)
			if len(l.Readings) != len(row.want.minutes) {
				t.Fatalf("%v, left %+v", l.Readings, l.Account.Left)
			}
			for i, r := range l.Readings {
				if math.Abs(r.Time.Minutes()-row.want.minutes[i]) > 1e-4 || math.Abs(r.At.Celsius()-row.want.celsius[i]) > 2e-3 {
					t.Errorf("reading %d: %v at %v", i, r.At, r.Time)
				}
			}
			start := ""
			switch l.Known {
			case TimeOfDay:
				start = l.Start.Format("15:04:05")
			case DateAndTime, Moment:
				start = l.Start.Format("2006-01-02 15:04:05")
			}
			if l.Known != row.want.known || start != row.want.start {
				t.Errorf("begins %q (%d), want %q", start, l.Known, row.want.start)
			}
			if l.Account.Kept() != len(l.Readings) {
				t.Errorf("account: %d kept, %+v", l.Account.Kept(), l.Account.Left)
			}
		})
	}
}

// What is refused, at which line, in which words and with which way out.
func TestRead_refused(t *testing.T) {
	for _, row := range []struct {
		name, text string
		o          Options
		want, hint string
	}{
		{"nothing", "", Options{}, "night.csv: is empty", ""},
		{"blank", " \n\n", Options{}, "night.csv: is empty", ""},
		{"header alone", "time,temp_C\n", Options{}, "night.csv: has no readings", "time and a temperature"},
		{"prose", "the kiln was hot\nand then cold\n", Options{}, "night.csv:1: no columns", "time and a temperature"},
		{"spreadsheet", "PK\x03\x04xxxx", Options{}, "night.csv: is a spreadsheet", "CSV"},
		{"UTF-16", "\xff\xfet\x00,\x00", Options{}, "night.csv: is UTF-16", "UTF-8"},
		{"binary", "time,temp_C\n0\x00,1\n1,2\n", Options{}, "night.csv: is no text", "CSV"},
		{"scale missing", "s,temp\n0,1040\n60,1038\n", Options{}, `night.csv:1: column "temp" has no unit of temperature`, "give --temperature-unit C or F"},
		{"two probes", "s,top_C,bottom_C\n0,1,2\n", Options{}, `night.csv:1: two temperature columns, "top_C" and "bottom_C"`, "give --temperature-column top_C or bottom_C"},
		{"two times", "s,timestamp,temp_C\n0,2026-11-25T22:15:00Z,560\n", Options{}, `night.csv:1: two time columns, "s" and "timestamp"`, "give --time-column s or timestamp"},
		{"no such column", "s,temp_C\n0,1\n1,1\n", Options{TempColumn: "tmp_C"}, `night.csv:1: no column "tmp_C" among "s", "temp_C"`, `give --temperature-column "temp_C"`},
		{"number too high", "s,temp_C\n0,1\n1,1\n", Options{TempColumn: "3"}, `night.csv:1: no column "3"`, "its name or its number"},
		{"unit contradicted", "s,temp_C\n0,1\n1,1\n", Options{TempUnit: Fahrenheit}, `night.csv:1: column "temp_C" is in °C, and °F was given`, "give --temperature-unit C, or leave it out"},
		{"time unit contradicted", "s,temp_C\n0,1\n1,1\n", Options{TimeUnit: Minutes}, `night.csv:1: column "s" is in s, and min was given`, "leave it out"},
		{"junction missing", "s,mV\n0,22\n", Options{Couple: TypeK}, `night.csv:1: column "mV" in mV needs the temperature of the junction`, `give --junction "25 °C"`},
		{"couple of degrees", "s,temp_C\n0,1\n", Options{Couple: TypeK}, `night.csv:1: column "temp_C" is in °C and needs no thermocouple`, "--thermocouple"},
		{"junction hot", "s,mV\n0,22\n", Options{Couple: TypeK, Junction: unit.Celsius(300)}, "night.csv:1: junction at 300 °C cannot be", "--junction"},
		{"word for a reading", "s,temp_C\n0,560\n60,hot\n120,559\n", Options{}, `night.csv:3: reading "hot": is not a number`, ""},
		{"word for a time", "s,temp_C\n0,560\nlate,559\n120,559\n", Options{}, `night.csv:3: time "late": cannot be read`, "2026-11-25"},
		{"no time", "s,temp_C\n0,560\n,559\n120,559\n", Options{}, `night.csv:3: has no time`, ""},
		{"mixed times", "time,temp_C\n2026-11-25T22:15:00Z,560\n2026-11-25 22:16,559\n", Options{}, `night.csv:3: time "2026-11-25 22:16": is written otherwise than in line 2`, "alike"},
		{"date alone", "date,temp_C\n2026-11-25,560\n", Options{}, "night.csv:2: time \"2026-11-25\": is a date without a time of day", "--time-column"},
		{"impossible date", "time,temp_C\n31.02.2026 22:15,560\n31.02.2026 22:16,560\n", Options{}, "night.csv", ""},
		{"dates of both orders", "time,temp_C\n25/11/2026 22:15,560\n11/26/2026 22:16,559\n", Options{}, `night.csv:3: time "11/26/2026 22:16": cannot be day-first, as line 2 shows`, "2026-11-25"},
		{"hours beyond the day", "time,temp_C\n22:15,560\n27:10,559\n", Options{}, `night.csv:3: time "27:10": is no time of day`, "--time-unit"},
		{"thousands or decimals", "s;°C\n0;1.040\n60;1.038\n", Options{}, `night.csv:2: reading "1.040": can mean a decimal or thousands`, "give --decimal point or comma"},
		{"point among commas", "s;°C\n0;560,5\n60;559.5\n", Options{}, `night.csv:3: reading "559.5": is not a number here, where decimals are marked by a comma`, ""},
		{"clock back", "time,temp_C\n22:15,560\n22:10,559\n", Options{}, "night.csv:3: the clock goes back 5 min after line 2", "--time-column"},
		{"counts back", "s,temp_C\n0,560\n600,559\n0,560\n", Options{}, "night.csv:4: the time goes back 10 min after line 3", "one night at a time"},
		{"quote", "s,temp_C\n0,560\n60,5\"59\n120,559\n", Options{}, "night.csv:3: a quote that is not closed", "twice"},
		{"wrong thing", "s,temp_C\n0,9998\n1,9998\n2,9998\n3,9998\n4,9998\n", Options{}, "night.csv: 5 of 5 readings cannot be true", "--temperature-unit"},
		{"control letters", "s,temp_C\n0,560\n60,\x1b[2J\n120,559\n", Options{}, "night.csv:3: reading \"\ufffd[2J\": is not a number", ""},
		{"ragged", "s,temp_C\n0,560\n60,559,1\n120,559\n", Options{}, "night.csv:3: has 3 fields, line 1 has 2", ""},
		{"short, in the middle", "s,temp_C\n0,560\n60\n120,559\n", Options{}, "night.csv:3: has 1 field, line 1 has 2", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			l, err := Read(strings.NewReader(row.text), "night.csv", row.o)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v %v", l, err)
			}
			if !strings.HasPrefix(err.Error(), row.want) {
				t.Errorf("got  %s\nwant %s", err, row.want)
			}
			if row.hint == "" && e.Hint() != "" && row.name != "impossible date" || !strings.Contains(e.Hint(), row.hint) {
				t.Errorf("hint %q, want %q", e.Hint(), row.hint)
			}
			if strings.Contains(e.Hint(), "\n") || len(err.Error()) > 300 {
				t.Errorf("not one short line: %q", err)
			}
		})
	}
}

// A single false reading goes, the dip of an opened kiln stays, and the steep
// fall of a small kiln is no fault.
func TestRead_spikes(t *testing.T) {
	series := func(x ...float64) string {
		var b strings.Builder
		b.WriteString("min,temp_C\n")
		for i, v := range x {
			fmt.Fprintf(&b, "%d,%g\n", i, v)
		}
		return b.String()
	}
	for _, row := range []struct {
		name    string
		x       []float64
		dropped int
	}{
		{"up", []float64{560, 560, 760, 560, 560}, 1},
		{"up twice", []float64{560, 560, 760, 755, 560, 560, 560}, 2},
		{"up a little", []float64{560, 560, 600, 560, 560}, 1},
		{"within what a reading may be off", []float64{560, 560, 580, 560, 560}, 0},
		{"down and back at once", []float64{560, 560, 360, 560, 560}, 1},
		{"opened", []float64{560, 560, 480, 520, 545, 555, 559, 560}, 0},
		{"opened for a while", []float64{560, 560, 470, 465, 500, 530, 550, 560}, 0},
		{"falls by itself", []float64{560, 550, 540, 531, 522, 513, 505}, 0},
		{"starts at once", []float64{560, 560, 560, 529, 498, 468, 439}, 0},
		{"steps of five", []float64{560, 555, 560, 555, 560}, 0},
		{"first", []float64{1200, 560, 560, 560}, 1},
	} {
		l := read(t, series(row.x...), Options{})
		if got := l.Account.dropped(Impossible); got != row.dropped || len(l.Readings) != len(row.x)-row.dropped {
			t.Errorf("%s: %d dropped, want %d: %v", row.name, got, row.dropped, l.Readings)
		}
	}
}

// Two probes: the one that was chosen is read, the other tells the spread.
func TestRead_beside(t *testing.T) {
	l := read(t, "s,top_C,bottom_F\n0,560,1022\n60,559,1022\n120,558,---\n180,557,1016.6\n", Options{TempColumn: "top_C"})
	c := l.Account.Columns[2]
	if c.Role != BesideRole || c.Beside.Readings != 3 || math.Abs(float64(c.Beside.Mean)+29./3) > 1e-9 || math.Abs(float64(c.Beside.Deviation)-math.Sqrt(2./9)) > 1e-6 {
		t.Errorf("%+v", c)
	}
	if len(l.Readings) != 4 || l.Readings[3].At.Celsius() != 557 {
		t.Error(l.Readings)
	}
}

// How the columns were understood is told for a dry run.
func TestRead_columns(t *testing.T) {
	l := read(t, "No,Date,Time,Kiln (°F),Set point (°F),Room °F\n1,11/25/2026,10:15:00 PM,1040,1040,70\n2,11/25/2026,10:16:00 PM,1039,1040,70\n", Options{})
	var got []string
	for _, c := range l.Account.Columns {
		got = append(got, fmt.Sprintf("%d %s: %s in %s", c.Number, c.Name, c.Role, c.Unit))
	}
	want := []string{"1 No: not used in no unit", "2 Date: date in no unit", "3 Time: time in no unit", "4 Kiln (°F): reading in °F",
		"5 Set point (°F): what the controller aimed at in °F", "6 Room °F: temperature of the room in °F"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s", strings.Join(got, "\n"))
	}
	s := read(t, "s,°F\n0,1040\n60,1040\n120,1500\n180,1040\n240,1040\n", Options{})
	if left := s.Account.Left; len(left) != 1 || left[0].Line != 4 || math.Abs(left[0].Read.Fahrenheit()-1500) > 1e-9 {
		t.Errorf("%+v", left)
	}
	if l.Account.Dates != MonthFirst || l.Account.Settled != 2 || l.Account.Interval != time.Minute {
		t.Errorf("%+v", l.Account)
	}
	if c, ok := l.Clock(time.Minute); !ok || c.String() != "22:16" {
		t.Error(c, ok)
	}
}

// A log with offsets tells each time of day as it stands in it: where summer time
// ends, an hour comes twice, and where it begins, one is left out.
func TestClock_summerTime(t *testing.T) {
	ends := []string{"2026-10-25T00:10:00+02:00,560", "2026-10-25T02:10:00+02:00,500", "2026-10-25T02:10:00+01:00,460", "2026-10-25T03:10:00+01:00,420", "2026-10-25T14:10:00+01:00,42"}
	begins := []string{"2026-03-29T01:10:00+01:00,560", "2026-03-29T03:10:00+02:00,500", "2026-03-29T14:10:00+02:00,42"}
	for _, rows := range [][]string{ends, begins} {
		l := read(t, "time,temp_C\n"+strings.Join(rows, "\n")+"\n", Options{})
		for _, row := range rows {
			at, err := time.Parse(time.RFC3339, strings.Split(row, ",")[0])
			if err != nil {
				t.Fatal(err)
			}
			if c, ok := l.Clock(at.Sub(l.Start)); !ok || c.String() != at.Format("15:04") {
				t.Errorf("%s reads as %v", row, c)
			}
		}
	}
	l := read(t, "time,temp_C\n"+strings.Join(ends, "\n")+"\n", Options{})
	if c, ok := l.Clock(13 * time.Hour); !ok || c.String() != "12:10" {
		t.Errorf("between two readings %v", c)
	}
}
