package rescue

import (
	"errors"
	"strings"
	"testing"

	"lehr/glass/unit"
)

func TestAdvise_refused(t *testing.T) {
	b := BoundsOf(unit.Celsius(510), unit.Celsius(560))
	var e *StateError
	if _, err := Advise(unit.Celsius(500), unit.Celsius(540), b); !errors.As(err, &e) || !strings.Contains(err.Error(), "hotter") {
		t.Error(err)
	}
	if _, err := Advise(unit.Temp{}, unit.Celsius(540), b); !errors.As(err, &e) {
		t.Error(err)
	}
	if r := heatingRate(3*unit.Megapascal, 4*unit.Megapascal, 1); r != 0 {
		t.Error(r)
	}
}
