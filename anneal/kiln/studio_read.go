package kiln

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

type studioText struct {
	Units      *unit.System   `toml:"units"`
	Glass      string         `toml:"glass"`
	Kiln       kilnText       `toml:"kiln"`
	Controller controllerText `toml:"controller"`
	Limits     limitsText     `toml:"limits"`
	Session    map[string]any `toml:"session"`
}

type kilnText struct {
	Holding    *unit.Temp     `toml:"holding"`
	Highest    *unit.Temp     `toml:"highest"`
	Heating    *string        `toml:"fastest_heating"`
	Constant   *unit.Duration `toml:"cooling_time_constant"`
	Points     *string        `toml:"cooling_points"`
	Room       *unit.Temp     `toml:"room"`
	Spread     *unit.Delta    `toml:"spread"`
	ProbeError *unit.Delta    `toml:"probe_error"`
	Opening    *unit.Temp     `toml:"opening"`
	DoorOpen   *unit.Duration `toml:"door_open"`
	DoorDip    *unit.Delta    `toml:"door_dip"`
	DoorView   *string        `toml:"door_view"`
	Power      *unit.Power    `toml:"power"`
	Duty       *shareText     `toml:"holding_duty"`
	Price      *priceText     `toml:"price_per_kwh"`
}

type controllerText struct {
	Units    *unit.System   `toml:"units"`
	Rate     string         `toml:"rate"`
	Slowest  *unit.Rate     `toml:"slowest"`
	Fastest  *unit.Rate     `toml:"fastest"`
	Longest  *unit.Duration `toml:"longest_hold"`
	Segments *int           `toml:"segments"`
	Full     string         `toml:"full_word"`
	Step     *unit.Delta    `toml:"step"`
	After    string         `toml:"after"`
}

type limitsText struct {
	Tension  *unit.Stress `toml:"tension"`
	Residual *unit.Stress `toml:"left"`
	Relaxed  *shareText   `toml:"relaxed"`
	Even     *unit.Delta  `toml:"even"`
	Margin   *shareText   `toml:"margin"`
}

// StudioKeys lists every key of a studio file but the session facts, as
// "kiln.holding". Tests elsewhere hold help and samples against it: what a file
// takes is known here alone.
func StudioKeys() []string {
	return slices.Concat(strict.Keys[studioText]("", "kiln", "controller", "limits", "session"),
		strict.Keys[kilnText]("kiln."), strict.Keys[controllerText]("controller."), strict.Keys[limitsText]("limits."))
}

// shareText is a share in percent, "99 %".
type shareText float64

// UnmarshalText reads it. A bare number is refused.
func (s *shareText) UnmarshalText(text []byte) error {
	in := strings.TrimSpace(string(text))
	number, ok := strings.CutSuffix(in, "%")
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	switch {
	case err != nil:
		return &unit.ParseError{Quantity: "share", Input: in, Reason: "is no share in percent", Hints: []string{"99 %"}}
	case !ok:
		return &unit.ParseError{Quantity: "share", Input: in, Reason: "has no unit", Hints: []string{in + " %"}, NoUnit: true}
	}
	*s = shareText(x / 100)
	return nil
}

// priceText is an amount of money, "0.30 EUR" or "$0.15".
type priceText struct {
	amount   float64
	currency string
}

var pricePart = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^([^\d\s.,+-]{0,4})\s*(\d+(?:\.\d+)?|\.\d+)\s*([^\d.,+-]{0,8})$`)
})

// UnmarshalText reads it. A bare number is refused.
func (p *priceText) UnmarshalText(text []byte) error {
	in := strings.TrimSpace(string(text))
	m := pricePart().FindStringSubmatch(in)
	if m == nil {
		return &unit.ParseError{Quantity: "price", Input: in, Reason: "is no amount of money", Hints: []string{"0.30 EUR", "$0.15"}}
	}
	x, err := strconv.ParseFloat(m[2], 64)
	if err != nil {
		return &unit.ParseError{Quantity: "price", Input: in, Reason: "is no amount of money", Hints: []string{"0.30 EUR", "$0.15"}}
	}
	if p.amount, p.currency = x, strings.TrimSpace(m[1]+m[3]); p.currency == "" {
		return &unit.ParseError{Quantity: "price", Input: in, Reason: "has no currency", Hints: []string{in + " EUR", "$" + in}, NoUnit: true}
	}
	return nil
}

// ReadStudio reads a studio file over the defaults. Errors carry file and line.
// Session facts are kept as they stand; package safety reads them.
func ReadStudio(r io.Reader, name string) (Studio, error) {
	s := DefaultStudio()
	s.File = name
	var t studioText
	f, err := strict.Decode(r, name, &t)
	if err != nil {
		return s, err
	}
	if t.Units != nil {
		s.Units = *t.Units
		s.Controller.Units = *t.Units
		s.Opening = openAt(*t.Units)
	}
	s.Glass, s.Session = t.Glass, t.Session
	for _, read := range []func(*strict.File, *studioText) error{s.readKiln, s.readDoor, s.readFall, s.readPower, s.readController, s.readLimits} {
		if err := read(f, &t); err != nil {
			return s, err
		}
	}
	return s, nil
}

// inRange refuses a quantity outside a range, at its line.
func inRange[T unit.Shown](f *strict.File, table, key string, v, low, high T, ok bool) error {
	return between(f, table, key, unit.AsTyped(v), ok, unit.RangeFor(v, low, high))
}

// between refuses a value outside its range, at its line.
func between[T any](f *strict.File, table, key string, v T, ok bool, rule string) error {
	if ok {
		return nil
	}
	return f.Errorf([]string{table, key}, "%v: must be %s", v, rule)
}

func (s *Studio) readKiln(f *strict.File, t *studioText) error {
	k := &s.Kiln
	if v := t.Kiln.Holding; v != nil {
		if err := inRange(f, "kiln", "holding", *v, unit.Celsius(100), unit.Celsius(1300), v.Celsius() >= 100 && v.Celsius() <= 1300); err != nil {
			return err
		}
		k.Holding = *v
	}
	if v := t.Kiln.Highest; v != nil {
		if err := inRange(f, "kiln", "highest", *v, unit.Celsius(100), unit.Celsius(1500), v.Celsius() >= 100 && v.Celsius() <= 1500); err != nil {
			return err
		}
		if v.Less(k.Holding) {
			return f.Errorf([]string{"kiln", "highest"}, "%s: must not be below holding, %s", unit.AsTyped(*v), unit.AsTyped(k.Holding))
		}
		k.Highest = *v
	}
	if v := t.Kiln.Heating; v != nil {
		greatest, at, err := parseHeating(*v)
		if err != nil {
			return f.Errorf([]string{"kiln", "fastest_heating"}, "%w", err)
		}
		k.Heating, k.HeatingAt, k.HeatingGiven = greatest, at, true
	}
	if v := t.Kiln.Room; v != nil {
		if err := inRange(f, "kiln", "room", *v, unit.Celsius(-20), unit.Celsius(45), v.Celsius() >= -20 && v.Celsius() <= 45); err != nil {
			return err
		}
		k.Fall.Room = *v
	}
	for _, d := range []struct {
		key string
		v   *unit.Delta
		to  *unit.Delta
	}{{"spread", t.Kiln.Spread, &k.Spread}, {"probe_error", t.Kiln.ProbeError, &k.ProbeError}} {
		if d.v == nil {
			continue
		}
		if err := inRange(f, "kiln", d.key, *d.v, 0, 60, *d.v >= 0 && *d.v <= 60); err != nil {
			return err
		}
		*d.to = *d.v
	}
	if v := t.Kiln.Opening; v != nil {
		s.Opening = *v
	}
	if least := unit.Delta(5); t.Kiln.Opening != nil || t.Kiln.Room != nil {
		if s.Opening.Celsius() > 300 || s.Opening.Sub(k.Fall.Room) < least {
			key := "opening"
			if t.Kiln.Opening == nil {
				key = "room"
				return f.HintErrorf([]string{"kiln", key}, "give opening, the reading at which you open the kiln, too", "%s: must be at least %s below opening, %s", unit.AsTyped(k.Fall.Room), unit.LimitFor(k.Fall.Room, least), unit.LimitFor(k.Fall.Room, s.Opening))
			}
			return f.Errorf([]string{"kiln", key}, "%s: must be at least %s above the room, %s, and at most %s", unit.AsTyped(s.Opening), unit.LimitFor(s.Opening, least), unit.LimitFor(s.Opening, k.Fall.Room), unit.LimitFor(s.Opening, unit.Celsius(300)))
		}
	}
	return nil
}

// readDoor reads what opening the hot kiln does, after its room is known.
func (s *Studio) readDoor(f *strict.File, t *studioText) (err error) {
	s.Door, err = DoorText{t.Kiln.DoorOpen, t.Kiln.DoorDip, t.Kiln.DoorView}.Read(f, "kiln", "door_")
	if err == nil {
		if fault := s.Door.CheckDip(s.Kiln.Holding, s.Kiln.Fall.Room); fault != nil {
			return f.Errorf([]string{"kiln", "door_dip"}, "%w", fault)
		}
	}
	return err
}

// readFall reads how the kiln cools by itself, after the room is known.
func (s *Studio) readFall(f *strict.File, t *studioText) error {
	k := &s.Kiln
	if t.Kiln.Constant != nil && t.Kiln.Points != nil {
		return f.HintErrorf([]string{"kiln", "cooling_points"}, "leave out one of them", "cooling_time_constant is given too; one says how the kiln cools")
	}
	if v := t.Kiln.Constant; v != nil {
		if v.Std() < 2*time.Minute || v.Std() > 10*24*time.Hour {
			return f.Errorf([]string{"kiln", "cooling_time_constant"}, "%s: must be from 2 min to 10 d", v)
		}
		k.Fall.TimeConstant, k.Measured = v.Std(), true
	}
	if v := t.Kiln.Points; v != nil {
		points, err := ParseReadings(*v)
		if err == nil {
			k.Fall, err = FitFall(points, k.Fall.Room)
		}
		if err != nil {
			return f.Errorf([]string{"kiln", "cooling_points"}, "%w", err)
		}
		k.Measured = true
	}
	return nil
}

func (s *Studio) readPower(f *strict.File, t *studioText) error {
	k := &s.Kiln
	if v := t.Kiln.Power; v != nil {
		if err := between(f, "kiln", "power", *v, v.Watts() >= 50 && v.Watts() <= 100000, "from 50 W to 100 kW"); err != nil {
			return err
		}
		k.Power = *v
	}
	if v := t.Kiln.Duty; v != nil {
		if err := between(f, "kiln", "holding_duty", fmt.Sprintf("%.3g %%", float64(*v)*100), *v >= 0.01 && *v <= 1, "from 1 % to 100 %"); err != nil {
			return err
		}
		for _, other := range []struct {
			key  string
			have bool
		}{{"power", k.Power > 0}, {"holding", !k.Holding.IsZero()}} {
			if !other.have {
				return f.HintErrorf([]string{"kiln", "holding_duty"}, "give "+other.key+" in [kiln] too", "without %s it says nothing: it is the share of the power that the kiln takes while it waits at holding", other.key)
			}
		}
		k.HoldingDuty = float64(*v)
	}
	if v := t.Kiln.Price; v != nil {
		if err := between(f, "kiln", "price_per_kwh", fmt.Sprintf("%g %s", v.amount, v.currency), v.amount > 0 && v.amount <= 1000, "above 0 and at most 1000"); err != nil {
			return err
		}
		k.Price, k.Currency = v.amount, v.currency
	}
	return nil
}

func (s *Studio) readController(f *strict.File, t *studioText) error {
	c := &s.Controller
	at := func(k string) []string { return []string{"controller", k} }
	if t.Controller.Units != nil {
		c.Units, c.UnitsGiven = *t.Controller.Units, true
	}
	if c.Units == unit.US {
		c.Slowest, c.Fastest = usualRates(unit.US)
	}
	switch t.Controller.Rate {
	case "", "per hour":
	case "minutes per ramp":
		*c = c.InMinutes()
	default:
		return f.HintErrorf(at("rate"), `write rate = "per hour" or "minutes per ramp"`, "%q: is no way to key in a ramp", t.Controller.Rate)
	}
	for _, r := range []struct {
		key string
		v   *unit.Rate
		to  *unit.Rate
	}{{"slowest", t.Controller.Slowest, &c.Slowest}, {"fastest", t.Controller.Fastest, &c.Fastest}} {
		if r.v == nil {
			continue
		}
		if err := between(f, "controller", r.key, unit.AsTyped(*r.v), *r.v > 0 && r.v.KelvinPerHour() <= 20000, "above 0 and at most "+unit.LimitFor(*r.v, unit.KelvinPerHour(20000))); err != nil {
			return err
		}
		*r.to = *r.v
	}
	if c.Fastest <= c.Slowest {
		key := "fastest"
		if t.Controller.Fastest == nil {
			key = "slowest"
		}
		return f.Errorf(at(key), "fastest %s must be above slowest %s", unit.AsTyped(c.Fastest), unit.AsTyped(c.Slowest))
	}
	if v := t.Controller.Longest; v != nil {
		if v.Std() < time.Hour || v.Std() > 400*24*time.Hour {
			return f.Errorf(at("longest_hold"), "%s: must be from 1 h to 400 d", v)
		}
		c.Longest = v.Std().Truncate(time.Minute)
	}
	if v := t.Controller.Segments; v != nil {
		if *v < 2 || *v > 100 {
			return f.Errorf(at("segments"), "%d: must be from 2 to 100", *v)
		}
		c.Segments = *v
	}
	if w := t.Controller.Full; len([]rune(w)) > 12 || strings.TrimSpace(w) != w {
		return f.Errorf(at("full_word"), "%q: must be one word of at most 12 letters", w)
	}
	c.FullWord = t.Controller.Full
	return s.readSetting(f, t)
}

// largestStep is the greatest step of the set point, in degrees of the controller.
const largestStep = 25
