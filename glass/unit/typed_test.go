package unit

import "testing"

func TestAsTyped(t *testing.T) {
	for _, text := range []string{"850 °F", "454.4 °C", "1100 °F", "20 °C", "-40 °C", "2000 °F", "99 °F"} {
		x, err := ParseTemp(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := AsTyped(x); got != text {
			t.Errorf("%s comes back as %s", text, got)
		}
	}
	for _, text := range []string{"12 in", "2.5 in", "304.8 mm", "50 mm", "5000 mm", "0 mm"} {
		x, err := ParseLength(text)
		if err != nil {
			t.Fatal(err)
		}
		want := text
		if text == "304.8 mm" { // as likely a foot
			want = "12 in"
		}
		if got := AsTyped(x); got != want {
			t.Errorf("%s comes back as %s", text, got)
		}
	}
	for text, want := range map[string]string{"50000 °F/h": "50000 °F/h", "5000 °C/h": "5000 °C/h"} {
		x, err := ParseRate(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := AsTyped(x); got != want {
			t.Errorf("%s comes back as %s", text, got)
		}
	}
}

func TestLimitFor(t *testing.T) {
	for _, c := range []struct {
		value, limit Shown
		want         string
	}{
		{Fahrenheit(850), Celsius(487), "908.6 °F"},
		{Celsius(20), Celsius(1300), "1300 °C"},
		{12 * Inch, Millimeter, "0.03937 in"},
		{5000 * Millimeter, 300 * Millimeter, "300 mm"},
		{FahrenheitPerHour(50000), KelvinPerHour(20000), "36000 °F/h"},
	} {
		if got := LimitFor(c.value, c.limit); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}
