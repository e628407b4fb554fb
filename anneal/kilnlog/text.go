package kilnlog

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// returns reads lines that end in a carriage return alone as lines.
type returns struct{ r io.Reader }

func (c *returns) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	for i, b := range p[:n] {
		if b == '\r' {
			p[i] = '\n'
		}
	}
	return n, err
}

// watcher keeps a log within its bounds and remembers how it ends.
type watcher struct {
	r     io.Reader
	n     int64
	left  int64
	last  byte // the last byte seen
	nul   bool
	done  func() int64 // bytes of the records handed over
	cause error
}

var (
	errTooLarge = errors.New("too large")
	errTooLong  = errors.New("too long a row")
)

func (w *watcher) Read(p []byte) (int, error) {
	if w.n-w.done() > maxRecord {
		return 0, errTooLong
	}
	if len(p) > maxRecord/4 {
		p = p[:maxRecord/4]
	}
	n, err := w.r.Read(p)
	if n > 0 {
		w.n += int64(n)
		w.nul = w.nul || bytes.IndexByte(p[:n], 0) >= 0
		w.last = p[n-1]
		if w.left -= int64(n); w.left < 0 {
			return 0, errTooLarge
		}
	}
	if err != nil && err != io.EOF {
		w.cause = err
	}
	return n, err
}

// torn reports whether the log ended without the end of a line.
func (w *watcher) torn() bool { return w.last != '\n' && w.last != '\r' }

func (r *reader) isText(sample string, whole bool) error {
	switch {
	case strings.TrimSpace(sample) == "":
		return r.fail(0, "", "is empty")
	case strings.HasPrefix(sample, "\xff\xfe") || strings.HasPrefix(sample, "\xfe\xff"):
		return r.fail(0, "save it as CSV UTF-8", "is UTF-16 text")
	case strings.HasPrefix(sample, "PK\x03\x04") || strings.HasPrefix(sample, "\xd0\xcf\x11\xe0"):
		return r.fail(0, "save or export it as CSV", "is a spreadsheet and no CSV")
	}
	text := sample
	if whole {
		text = live(sample)
	}
	if strings.IndexByte(text, 0) >= 0 {
		return r.fail(0, "save or export it as CSV", "is no text")
	}
	return nil
}

// live cuts off the bytes that a logger leaves at the end when it loses power.
func live(s string) string {
	for len(s) > 0 && (s[len(s)-1] == 0 || s[len(s)-1] == 0xff) {
		s = s[:len(s)-1]
	}
	return s
}

func validText(sample string, whole bool) bool {
	if !whole && len(sample) > utf8.UTFMax { // the sample may end within a letter
		cut := len(sample) - utf8.UTFMax
		for cut < len(sample) && !utf8.RuneStart(sample[cut]) {
			cut++
		}
		sample = sample[:cut]
	}
	return utf8.ValidString(live(sample))
}

// delimiter finds what stands between the cells: the mark by which most lines
// have one and the same number of cells, two or more.
func delimiter(sample string) rune {
	lines := strings.SplitN(sample, "\n", 60)
	if len(lines) > 2 {
		lines = lines[:len(lines)-1]
	}
	if sep, ok := strings.CutPrefix(strings.TrimSpace(lines[0]), "sep="); ok && len(sep) == 1 && strings.Contains(";,\t", sep) {
		return rune(sep[0])
	}
	best, most := rune(0), 0
	for _, d := range []rune{';', '\t', ','} {
		counts := map[int]int{}
		for _, line := range lines {
			n, quoted := 0, false
			for _, c := range line {
				if c == '"' {
					quoted = !quoted
				} else if c == d && !quoted {
					n++
				}
			}
			if n > 0 {
				counts[n]++
				if counts[n] > most {
					best, most = d, counts[n]
				}
			}
		}
	}
	return best
}

// latin1 reads bytes that are no UTF-8 as Latin-1, in which some loggers write
// their degree sign.
func latin1(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	r := make([]rune, len(s))
	for i := range len(s) {
		r[i] = rune(s[i])
	}
	return string(r)
}
