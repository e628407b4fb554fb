package kilnlog

import (
	"math"
	"strings"

	"lehr/glass/unit"
)

// row reads one row.
func (r *reader) row(rec []string, line int) error {
	if len(rec) > r.l.fields {
		if rec = trimEmpty(rec); len(rec) > r.l.fields {
			return r.ragged(rec, line)
		}
	}
	if len(rec) < r.l.fields {
		need := max(r.l.temp, r.l.time, r.l.date, r.l.junction)
		if len(rec) <= need || r.l.names != nil {
			return r.ragged(rec, line)
		}
	}
	t, alt, err := r.when.read(r, rec, line)
	if err != nil {
		return err
	}
	r.acc.Rows++
	cell := strings.TrimSpace(rec[r.l.temp])
	if isMissing(cell) {
		r.acc.leave(Missing, line, cell)
		return nil
	}
	x, err := r.temp.number(cell)
	if err != nil {
		r.acc.Rows--
		return r.badNumber(line, cell, err)
	}
	if isSentinel(x) {
		r.acc.leave(Missing, line, cell)
		return nil
	}
	k, ok, err := r.kelvin(x, rec, line)
	if err != nil {
		return err
	}
	if !ok || k < coldestTrue || k > hottestTrue {
		r.acc.leave(Impossible, line, cell)
		return nil
	}
	r.grid.see(x)
	for i := range r.l.beside {
		r.besideOf(&r.l.beside[i], rec, k)
	}
	r.rows = append(r.rows, row{t, alt, k, int32(min(line, 1<<31-1))})
	return nil
}

// The temperatures that a probe in a kiln can read [K].
var (
	coldestTrue = unit.Celsius(-60).Kelvin()
	hottestTrue = unit.Celsius(1700).Kelvin()
)

func (r *reader) badNumber(line int, cell string, what error) error {
	if what == errEither {
		return r.option(line, OptDecimal, "point or comma", "reading %s: %s", shown(cell), what)
	}
	return r.fail(line, "", "reading %s: %s", shown(cell), what)
}

func (r *reader) ragged(rec []string, line int) error {
	fields := "fields"
	if len(rec) == 1 {
		fields = "field"
	}
	if r.acc.Header > 0 {
		return r.fail(line, "", "has %d %s, line %d has %d", len(rec), fields, r.acc.Header, r.l.fields)
	}
	return r.fail(line, "", "has %d %s, the first row has %d", len(rec), fields, r.l.fields)
}

// kelvin turns a number of the reading's column into kelvin.
func (r *reader) kelvin(x float64, rec []string, line int) (k float64, ok bool, err error) {
	if r.l.tempUnit == Millivolt {
		junction := r.o.Junction
		if r.l.junction >= 0 {
			cell := strings.TrimSpace(rec[r.l.junction])
			if isMissing(cell) {
				return 0, false, nil
			}
			j, err := r.junc.number(cell)
			if err != nil {
				return 0, false, r.fail(line, "", "junction %s: %s", shown(cell), err)
			}
			junction = r.acc.Columns[r.l.junction].Unit.temp(j)
		}
		t, ok := r.o.Couple.temperature(x, junction)
		return t.Kelvin(), ok, nil
	}
	return r.l.tempUnit.temp(x).Kelvin(), true, nil
}

// temp is a number of a unit of temperature.
func (u Unit) temp(x float64) unit.Temp {
	switch u {
	case Fahrenheit:
		return unit.Fahrenheit(x)
	case Kelvin:
		return unit.Kelvin(x)
	}
	return unit.Celsius(x)
}

// beside sums the differences of another probe.
type beside struct {
	column         int
	n, sum, square float64
}

// besideOf adds a row to them, if the other probe reads something there.
func (r *reader) besideOf(b *beside, rec []string, kelvin float64) {
	if b.column >= len(rec) {
		return
	}
	x, err := r.temp.number(rec[b.column])
	other := r.acc.Columns[b.column].Unit.temp(x).Kelvin()
	if err != nil || isSentinel(x) || other < coldestTrue || other > hottestTrue {
		return
	}
	d := other - kelvin
	b.n, b.sum, b.square = b.n+1, b.sum+d, b.square+d*d
}

// tell puts the sums into the account.
func (b beside) tell(c *Column) {
	if b.n == 0 {
		return
	}
	mean := b.sum / b.n
	c.Beside = Beside{Readings: int(b.n), Mean: unit.Delta(mean), Deviation: unit.Delta(math.Sqrt(math.Max(0, b.square/b.n-mean*mean)))}
}
