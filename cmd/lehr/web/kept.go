package web

import (
	"bytes"
	"strings"
	"sync"
	"time"

	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"
)

// The bounds of what is kept to be shown again.
const (
	mostKept  = 24             // answers
	mostPages = 4              // pages of one answer, each showing something else of it
	keptFor   = 12 * time.Hour // a night
)

// solved is what a form came to: a report, or the split of a load that cannot
// share one program.
type solved struct {
	asked
	rep     *verify.Report
	drawn   report.Drawn // the other program of its curve
	past    *Past        // before the program, after a power failure
	sharing *plan.Sharing
	planned time.Time // as the page says it
	begun   time.Time
	key     string
	pages   map[string][]byte // by what they show
}

// kept holds the last answers by what was filled in, in memory alone: a page
// that is loaded again, ticked or shown in another way is not planned again.
type kept struct {
	mu   sync.Mutex
	list []*solved // the oldest first
}

// find returns the answer to a form and its page, nil where there is none yet.
func (k *kept) find(key, shown string) (*solved, []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, s := range k.list {
		if s.key == key && time.Since(s.begun) < keptFor {
			return s, s.pages[shown]
		}
	}
	return nil, nil
}

// keep keeps a page of an answer, and lets go what is oldest.
func (k *kept) keep(s *solved, shown string, page []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	list := k.list[:0]
	for _, other := range k.list {
		if other.key != s.key && time.Since(other.begun) < keptFor {
			list = append(list, other)
		}
	}
	clear(k.list[len(list):])
	if len(list) == mostKept {
		list = append(list[:0], list[1:]...)
	}
	k.list = append(list, s)
	if len(s.pages) == mostPages || s.pages == nil {
		s.pages = map[string][]byte{}
	}
	s.pages[shown] = page
}

// tickLetters are all that the name of a box is made of.
const tickLetters = "-0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"

// ticked is a page with the boxes of these names ticked, and with links that keep
// them so. A name that no box has changes nothing.
func ticked(page []byte, names []string) []byte {
	var query []byte
	for _, name := range names {
		box := []byte(`<input type="checkbox" id="` + name + `" `)
		if strings.Trim(name, tickLetters) != "" || !bytes.Contains(page, box) || bytes.Contains(page, append(box, "checked"...)) {
			continue
		}
		page = bytes.Replace(page, box, append(box, `checked="" `...), 1)
		query = append(query, "tick="+name+"&amp;"...)
	}
	return bytes.ReplaceAll(page, []byte(`href="/sheet?`), append([]byte(`href="/sheet?`), query...))
}
