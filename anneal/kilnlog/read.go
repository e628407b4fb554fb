package kilnlog

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Bounds of a log: beyond them it is refused before memory or time run out.
const (
	maxBytes    = 256 << 20
	maxReadings = 1_600_000 // three years of one a minute
	maxRecord   = 64 << 10  // bytes of one row
	maxColumns  = 1000
	sampleSize  = 64 << 10 // looked at before reading
	maxPreamble = 50       // lines before the first reading
)

// row is one reading as the log has it.
type row struct {
	t, alt int64   // [ns]; alt with a slashed date read month first
	kelvin float64 //
	line   int32
}

// reader is the state of one Read.
type reader struct {
	name string
	o    Options
	acc  Account
	l    layout
	rows []row
	when when
	temp decimals
	secs decimals
	junc decimals
	grid stepper
}

// Read reads a log of readings as loggers and spreadsheets write it: CSV after
// RFC 4180, with a comma, a semicolon or a tab between the cells, a byte order
// mark, lines before the header, or no header at all.
//
// name is used in messages only. Units and columns come from the header or from
// the options and are never guessed. What could not be used is left out and
// counted in the account; what would change the meaning is refused.
//
// Errors: an *Error with the line, what is wrong there, and one thing to do; the
// error of r with the name before it. Memory stays in proportion to the number
// of readings, 60 bytes each.
func Read(r io.Reader, name string, o Options) (*Log, error) {
	in := bufio.NewReaderSize(r, sampleSize)
	peeked, err := in.Peek(sampleSize)
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	rd := &reader{name: name, o: o}
	whole := err == io.EOF
	sample := string(peeked)
	if rest, ok := strings.CutPrefix(sample, "\ufeff"); ok {
		if _, err := in.Discard(len(sample) - len(rest)); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		sample = rest
	}
	if err := rd.isText(sample, whole); err != nil {
		return nil, err
	}
	var source io.Reader = in
	if strings.IndexByte(sample, '\n') < 0 {
		source, sample = &returns{in}, strings.ReplaceAll(sample, "\r", "\n")
	}
	rd.acc.Latin1 = !validText(sample, whole)
	if rd.acc.Delimiter = delimiter(sample); rd.acc.Delimiter == 0 {
		return nil, rd.fail(1, "have the logger write a table: a time and a temperature in each line", "no columns: neither comma, semicolon nor tab stands between cells")
	}
	watch := &watcher{r: source, left: maxBytes}
	c := csv.NewReader(watch)
	c.Comma, c.FieldsPerRecord, c.ReuseRecord = rd.acc.Delimiter, -1, true
	watch.done = c.InputOffset
	if err := rd.read(c, watch, sample); err != nil {
		return nil, err
	}
	return rd.finish()
}

// heading is what stands before the readings.
type heading struct {
	before, names []string // the last two rows before them
	line          int      // of names
	known         bool     // the readings have begun
}

// read goes through the rows.
func (r *reader) read(c *csv.Reader, w *watcher, sample string) error {
	var head heading
	for {
		rec, err := c.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			if stop, err := r.csvError(err, w, head.known); stop {
				return err
			}
			break
		}
		line, _ := c.FieldPos(0)
		r.acc.Lines = line
		if r.skips(rec, line, head.names) {
			continue
		}
		if !head.known {
			if err := r.begin(&head, rec, line, sample); err != nil {
				return err
			}
			if !head.known {
				continue
			}
		}
		if len(r.rows) >= maxReadings {
			return r.fail(line, "cut the log, or read fewer nights of it", "more than %d readings", maxReadings)
		}
		if err := r.row(rec, line); err != nil {
			text := strings.Join(rec, string(r.acc.Delimiter)) // reading on overwrites the row
			if w.torn() && len(r.rows) > 0 && atEnd(c) {
				r.acc.leave(Torn, line, text)
				break
			}
			return err
		}
	}
	switch {
	case head.known:
		r.tornReading(w)
		return nil
	case head.names != nil && (w.nul || w.torn()):
		return r.fail(head.line, "", "no reading after the header")
	}
	return r.fail(0, "have the logger write a time and a temperature in each line", "has no readings")
}

// begin takes a row for one of the heading, or for the first reading, of which it
// then knows the columns.
func (r *reader) begin(h *heading, rec []string, line int, sample string) (err error) {
	if len(rec) > maxColumns {
		return r.fail(line, "", "%d columns, at most %d", len(rec), maxColumns)
	}
	if !looksLikeReadings(rec) {
		if r.acc.Preamble++; r.acc.Preamble > maxPreamble {
			return r.fail(line, "", "no reading within the first %d lines", maxPreamble)
		}
		h.before, h.names, h.line = h.names, slices.Clone(rec), line
		return nil
	}
	if h.names, err = r.header(h.before, h.names, h.line, rec); err != nil {
		return err
	}
	h.known = true
	r.settleDecimals(sample)
	return nil
}

// atEnd reports whether the log has no more rows.
func atEnd(c *csv.Reader) bool {
	_, err := c.Read()
	return err == io.EOF
}

// csvError makes an error of the table an error of the log. stop is false if
// only a torn last line was lost.
func (r *reader) csvError(err error, w *watcher, known bool) (stop bool, out error) {
	var p *csv.ParseError
	switch {
	case errors.Is(err, errTooLarge):
		return true, r.fail(0, "read fewer nights at once", "is larger than %d MB", maxBytes>>20)
	case errors.Is(err, errTooLong):
		return true, r.fail(r.acc.Lines+1, "a quote may not be closed", "a row is longer than %d KB", maxRecord>>10)
	case errors.As(err, &p):
		if known && w.torn() && errors.Is(p.Err, csv.ErrQuote) {
			r.acc.leave(Torn, p.StartLine, "")
			return false, nil
		}
		return true, r.fail(p.Line, `write a quote within a cell twice, ""`, "a quote that is not closed, or stands within a cell")
	}
	return true, fmt.Errorf("%s: %w", r.name, err)
}

// skips reports whether a row is none of readings: empty, a note, or the
// header again.
func (r *reader) skips(rec []string, line int, header []string) bool {
	blank := true
	for _, cell := range rec {
		if strings.TrimSpace(live(cell)) != "" {
			blank = false
			break
		}
	}
	note := strings.HasPrefix(rec[0], "#") && (len(r.acc.Columns) > 0 || len(rec) == 1)
	sep := line == 1 && strings.HasPrefix(rec[0], "sep=")
	again := r.l.names != nil && len(rec) == len(r.l.names) && slices.Equal(rec, header)
	if again || note && len(r.acc.Columns) > 0 {
		r.acc.leave(HeaderLine, line, rec[0])
	} else if note || sep {
		r.acc.Preamble++
	}
	return blank || note || sep || again
}

// looksLikeReadings reports whether a row can be one of readings: two cells or
// more are numbers or times, or one is and the others say that there is none.
func looksLikeReadings(rec []string) bool {
	good, other := 0, 0
	for _, cell := range rec {
		if _, ok := scanStamp(cell); ok || numeric(cell) {
			good++
		} else if !isMissing(cell) {
			other++
		}
		if w := strings.ToLower(strings.TrimSpace(cell)); timeWords[w] || dateWords[w] {
			return false
		}
	}
	return good >= 2 || good == 1 && other == 0 && len(rec) > 1
}

// header takes the last line before the readings for the header, together with
// the one before it when it holds nothing but units.
func (r *reader) header(before, header []string, line int, first []string) ([]string, error) {
	header = trimEmpty(header)
	first = trimEmpty(first)
	if len(header) == 1 && len(first) > 1 {
		header = nil // a title
	}
	if header != nil {
		r.acc.Preamble--
		r.acc.Header = line
		for i := range header {
			header[i] = latin1(header[i])
		}
		header[0] = strings.TrimSpace(strings.TrimPrefix(header[0], "#")) // a header in a note
		if before = trimEmpty(before); onlyUnits(header) && len(before) >= len(header) {
			r.acc.Preamble--
			joined := make([]string, len(before))
			for i := range before {
				joined[i] = latin1(before[i])
				if i < len(header) && header[i] != "" {
					joined[i] += " (" + strings.Trim(header[i], "()[] ") + ")"
				}
			}
			header = joined
		}
		if len(header) > maxColumns {
			return nil, r.fail(line, "", "%d columns, at most %d", len(header), maxColumns)
		}
	}
	return header, r.layOut(header, first)
}

// onlyUnits reports whether every cell of a row is a unit or empty, and one is
// a unit of temperature beside another cell.
func onlyUnits(rec []string) bool {
	some := 0
	for _, cell := range rec {
		if strings.TrimSpace(cell) == "" {
			continue
		}
		if unitOf(strings.Trim(latin1(cell), "()[] ")) == NoUnit {
			return false
		}
		some++
	}
	return some > 0
}

func trimEmpty(rec []string) []string {
	for len(rec) > 1 && strings.TrimSpace(rec[len(rec)-1]) == "" {
		rec = rec[:len(rec)-1]
	}
	return rec
}

// settleDecimals looks through the beginning of the log for a number that tells
// how decimals are marked.
func (r *reader) settleDecimals(sample string) {
	all := []*decimals{&r.temp, &r.secs, &r.junc}
	if r.o.Decimal != 0 || r.acc.Delimiter == ',' {
		for _, d := range all {
			if d.mark, d.settled = '.', true; r.o.Decimal != 0 {
				d.mark = r.o.Decimal
			}
		}
		r.acc.Comma = r.temp.mark == ','
		return
	}
	c := csv.NewReader(strings.NewReader(sample))
	c.Comma, c.FieldsPerRecord, c.ReuseRecord = r.acc.Delimiter, -1, true
	for {
		rec, err := c.Read()
		if err != nil {
			break
		}
		if line, _ := c.FieldPos(0); line <= r.acc.Header {
			continue
		}
		for i, at := range []int{r.l.temp, r.l.time, r.l.junction} {
			if at >= 0 && at < len(rec) {
				all[i].see(rec[at])
			}
		}
	}
	r.acc.Comma = r.temp.mark == ','
}
