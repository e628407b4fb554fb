package kilnlog

import (
	"math"
	"time"
)

// How a log that is quicker than the glass is thinned.
const (
	// meanOver is the time over which quick readings are taken together: a kiln
	// that heats at 1200 °C/h changes by 3 K in it, and evenly.
	meanOver = 10 * time.Second
	// meanBand is how far readings may lie from the line through the means
	// without noise [K]. Where one lies farther, the extremes stand as they are.
	meanBand = 0.3
	// meanFold is how many times the noise that may be: once in a billion.
	meanFold = 6.0
)

// means takes readings that come more often than every 10 s in means of that
// time. Where a reading lies farther from the line through the means than its
// noise explains, such as while a door is open, the first, the last, the
// coldest and the hottest of that time stand for it as they are. The log begins and ends when it
// did. Slower logs are not touched.
func (r *reader) means() {
	every := r.acc.Interval
	if every <= 0 || every >= meanOver {
		return
	}
	rows := r.rows
	var mean []row // alt counts the rows up to its end
	for i := 0; i < len(rows); {
		m, n := rows[i], 0.0
		begin, t, sum := m.t, int64(0), 0.0
		for ; i < len(rows) && (n == 0 || rows[i].t < begin+int64(meanOver-every/2)); i++ {
			t += rows[i].t - begin
			sum += rows[i].kelvin
			n++
		}
		m.t, m.kelvin, m.alt = begin+int64(float64(t)/n), sum/n, int64(i)
		mean = append(mean, m)
	}
	if len(mean) < 2 || len(mean) == len(rows) {
		return
	}
	band := math.Max(meanBand, meanFold*float64(r.acc.Noise)) + float64(r.acc.Step)/2
	last := len(rows) - 1
	edge := 0.0
	var out []row
	put := func(x row) { out = append(out, x) }
	from, to := 0, 0
	for n, m := range mean {
		from, to = to, int(m.alt)
		wild, cold, hot := false, from, from
		for i := from; i < to; i++ {
			k := min(max(n, 1), len(mean)-1)
			if rows[i].t > m.t {
				k = min(n+1, len(mean)-1)
			}
			a, b := mean[k-1], mean[k]
			x := rows[i].kelvin
			off := x - a.kelvin - (b.kelvin-a.kelvin)*float64(rows[i].t-a.t)/float64(b.t-a.t)
			if i == 0 || i == last {
				edge = x - off
			}
			wild = wild || math.Abs(off) > band
			if x < rows[cold].kelvin {
				cold = i
			}
			if x > rows[hot].kelvin {
				hot = i
			}
		}
		for i := from; i < to; i++ {
			end := i == from || i == to-1
			if i == (from+to)/2 && !wild && m.t > rows[0].t && m.t < rows[last].t {
				put(m)
			}
			switch x := rows[i]; {
			case wild && (end || i == cold || i == hot):
				put(x)
			case i == 0 || i == last: // the log begins and ends when it did
				x.kelvin = edge
				put(x)
			}
		}
	}
	r.rows, r.acc.Means = out, meanOver
}
