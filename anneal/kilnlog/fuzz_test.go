package kilnlog

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// Whatever the text is, it is refused in one short line, or its readings are
// finite, rise in time and agree with the account.
func FuzzRead(f *testing.F) {
	for _, c := range casetest.Load(f, "kiln-logs") {
		if c.Func == "kilnlog.Read" {
			f.Add(c.Inputs.Text("text"), byte(0))
		}
	}
	f.Add("s;Temp \xb0C\n0;560,0\n60;559,5", byte(1))
	f.Add("time,mV\n22:15,22\n23:59,23\n0:01,4", byte(2))
	f.Add("1,0,560\n2,60,559\n", byte(3))
	f.Fuzz(func(t *testing.T, text string, pick byte) {
		o := []Options{{}, {TempUnit: Fahrenheit, TimeUnit: Minutes}, {Couple: TypeS, Junction: unit.Celsius(20)},
			{TempColumn: "3", TimeColumn: "2", TempUnit: Celsius, TimeUnit: Seconds, Dates: MonthFirst, Decimal: ','}}[pick%4]
		l, err := Read(strings.NewReader(text), "night.csv", o)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || len(err.Error()) > 700 || strings.ContainsAny(err.Error(), "\n\x1b\x00") {
				t.Fatalf("%q", err)
			}
			return
		}
		if len(l.Readings) == 0 || l.Account.Kept() != len(l.Readings) {
			t.Fatalf("%d readings, account keeps %d", len(l.Readings), l.Account.Kept())
		}
		for i, r := range l.Readings {
			if k := r.At.Kelvin(); !(k > 0 && k < 3000) || i > 0 && r.Time <= l.Readings[i-1].Time || i == 0 && r.Time != 0 {
				t.Fatalf("reading %d: %v at %v", i, r.At, r.Time)
			}
		}
		a := l.Account
		if math.IsNaN(float64(a.Noise)) || a.Noise < 0 || len(a.Gaps) > mostGaps || a.GapCount < len(a.Gaps) {
			t.Fatalf("%+v", a)
		}
	})
}
