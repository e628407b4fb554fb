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
// coldest and the hottest of that time stand for it as they are. The log begins and
// ends when it did. Slower logs are not touched.
func (r *reader) means() {
	if r.acc.Interval <= 0 || r.acc.Interval >= meanOver {
		return
	}
	mean := r.taken()
	if len(mean) < 2 || len(mean) == len(r.rows) {
		return
	}
	band := math.Max(meanBand, meanFold*float64(r.acc.Noise)) + float64(r.acc.Step)/2
	var out []row
	from := 0
	for n := range mean {
		to := int(mean[n].alt)
		out = append(out, r.stands(mean, n, from, to, band)...)
		from = to
	}
	r.rows, r.acc.Means = out, meanOver
}

// taken are the means; alt counts the rows up to the end of each.
func (r *reader) taken() (mean []row) {
	rows := r.rows
	for i := 0; i < len(rows); {
		m, n := rows[i], 0.0
		begin, t, sum := m.t, int64(0), 0.0
		for ; i < len(rows) && (n == 0 || rows[i].t < begin+int64(meanOver-r.acc.Interval/2)); i++ {
			t += rows[i].t - begin
			sum += rows[i].kelvin
			n++
		}
		m.t, m.kelvin, m.alt = begin+int64(float64(t)/n), sum/n, int64(i)
		mean = append(mean, m)
	}
	return mean
}

// stands are the rows that stand for those from one to another: their mean, or the
// first, last, coldest and hottest where one of them lies out of the band.
func (r *reader) stands(mean []row, n, from, to int, band float64) (out []row) {
	rows, last := r.rows, len(r.rows)-1
	wild, cold, hot := false, from, from
	for i := from; i < to; i++ {
		x := rows[i].kelvin
		wild = wild || math.Abs(x-onLine(mean, n, rows[i].t)) > band
		if x < rows[cold].kelvin {
			cold = i
		}
		if x > rows[hot].kelvin {
			hot = i
		}
	}
	if !wild {
		if m := mean[n]; m.t > rows[0].t && m.t < rows[last].t {
			out = append(out, m)
		}
		if from == 0 {
			out = append([]row{onEdge(rows[0], mean, n)}, out...)
		}
		if to == last+1 && last > 0 {
			out = append(out, onEdge(rows[last], mean, n))
		}
		return out
	}
	for i := from; i < to; i++ {
		if i == from || i == to-1 || i == cold || i == hot {
			out = append(out, rows[i])
		}
	}
	return out
}

// onEdge is the first or the last reading of a log, on the line through the means.
func onEdge(x row, mean []row, n int) row {
	x.kelvin = onLine(mean, n, x.t)
	return x
}

// onLine is what the line through the means says at a time near the n-th of them.
func onLine(mean []row, n int, t int64) float64 {
	k := min(max(n, 1), len(mean)-1)
	if t > mean[n].t {
		k = min(n+1, len(mean)-1)
	}
	a, b := mean[k-1], mean[k]
	return a.kelvin + (b.kelvin-a.kelvin)*float64(t-a.t)/float64(b.t-a.t)
}
