package piece

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lehr/glass/strict"
)

// curlyQuotes finds the quotes of word processors, which no shell takes as
// quotes. Behind a number ” and ’ are marks of inches and feet.
var curlyQuotes = pattern(`[“„‟‘‚‛«»]|(?:^|\pL)[”’]`)

// notAShape are words of the trade that are no shape of ours, and what to
// write for them.
var notAShape = map[string]string{
	"bead":     "a sphere of its diameter, or as a tube of its diameter and wall",
	"cab":      "a dome: dome WIDTH x HEIGHT",
	"cabochon": "a dome: dome WIDTH x HEIGHT; one of stone that is warmed says of what: cabochon 10mm x 4mm of opal",
	"heart":    "a pendant: pendant WIDTH x THICKNESS",
	"coin":     "a disc: disc DIAMETER x THICKNESS",
	"egg":      "a sphere of its greatest diameter",
	"cube":     "a slab: slab WIDTH x WIDTH x HEIGHT",
	"cone":     "a rod of its greatest diameter",
	"vessel":   "a tube of its diameter and thickest wall, open if air reaches inside: tube 3in wall 1/4in open",
	"pipe":     "a tube of its diameter and thickest wall: tube 2in wall 1/4in open",
}

// vessels are words for a vessel.
var vessels = []string{"bowl", "vase", "mug", "cup", "goblet", "bottle"}

// otherShape returns what to write for a word of the trade, or "".
func otherShape(word string) string {
	word = strings.ToLower(word)
	for _, w := range []string{word, strings.TrimSuffix(word, "s")} {
		as := notAShape[w]
		if slices.Contains(vessels, w) {
			as = notAShape["vessel"]
		}
		if as == "" {
			continue
		}
		article := "a "
		if w == "egg" {
			article = "an "
		}
		return article + w + " counts as " + as
	}
	return ""
}

var (
	countHead = pattern(`^\s*([0-9]{1,5})\s*(?:x|X|×|\*|of)\s+`)
	countTail = pattern(`^(.*\S)\s*[x×X*]\s*([0-9]{1,5})\s*$`)
)

// reordered returns the error of a text whose words stand in another order,
// "2in sphere" or "sphere 2in x 6", with the piece that was meant in its hint;
// nil if the order is not what is wrong.
func reordered(text string) *Error {
	count, rest := "", text
	if m := countHead().FindStringSubmatchIndex(text); m != nil {
		count, rest = text[m[2]:m[3]]+" x ", text[m[1]:]
	} else if m := countTail().FindStringSubmatch(text); m != nil {
		words := strings.Fields(m[1])
		// A number that may be a size without its unit is not taken for a count.
		if form := formOf(words[0]); form >= 0 && len(timesPart.Split(m[1], -1)) >= pieceForms[form].most {
			meant := m[2] + " x " + strings.Join(words, " ")
			if _, err := parsePiece(meant); err == nil {
				return &Error{Text: shorten(text), Reason: "the count stands last", hint: `the count comes first: "` + meant + `"`}
			}
		}
	}
	words := strings.Fields(rest)
	for i := len(words) - 1; i > 0; i-- {
		if formOf(words[i]) < 0 {
			continue
		}
		meant := count + words[i] + " " + strings.Join(append(words[:i:i], words[i+1:]...), " ")
		if _, err := parsePiece(meant); err == nil {
			pasted := strings.ReplaceAll(meant, `"`, " in") // that it can be
			return &Error{Text: shorten(text), Reason: "does not begin with a shape", hint: `the shape comes first: "` + pasted + `"`}
		}
		break
	}
	return nil
}

// formOf returns the index in pieceForms of the shape a word names, or -1.
func formOf(word string) int {
	for i, f := range pieceForms {
		for _, w := range f.words {
			if strings.EqualFold(w, word) {
				return i
			}
		}
	}
	return -1
}

// pattern compiles a regular expression when it is first asked for: most runs
// never do, and every command would pay for it at its start.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// Words and signs that people put around sizes and that are not read.
var (
	counted     = pattern(`(?i)^\s*(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?:\s+x)?\s+`)
	countBehind = pattern(`^(.*\S)\s*\((\d{1,4})\)\s*$`)
	filler      = pattern(`(?i)\b(?:diameter|diam\.?|dia\.?|od|thick|thickness|high|height|tall|long|length|wide|width|across|on)\b|[:=,;()øØ⌀]`)
	wallAfter   = pattern(`(?i)\s(\d[\d./ ]*\s*\pL+|\d[\d./ ]*")\s+wall\b`)
	sideways    = pattern(`(?i)(\d\s*(?:mm|cm|in|inch|inches|"))\s*(?:[*/]\s*|\s)(\d)`)
	unknown     = pattern(`(?i)\d\s*(?:mm|cm|m|in|inch|inches|")\s+(\pL[\pL-]*)`)
)

// tidied returns the error of a text that is a piece but for words and signs that
// are not read, with the piece in its hint; or of one that ends in a word nobody
// knows. nil if neither is what is wrong.
func tidied(text string) *Error {
	meant := counted().ReplaceAllStringFunc(text, func(s string) string {
		word := strings.ToLower(strings.Fields(s)[0])
		for i, w := range []string{"one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"} {
			if w == word {
				return strconv.Itoa(i+1) + " x "
			}
		}
		return s
	})
	if m := countBehind().FindStringSubmatch(meant); m != nil {
		meant = m[2] + " x " + m[1]
	}
	meant = wallAfter().ReplaceAllString(filler().ReplaceAllString(meant, " "), " wall $1")
	between := "$1 x $2"
	if w := strings.Fields(meant); len(w) > 0 && strings.EqualFold(w[0], "tube") && !strings.Contains(meant, "wall") {
		between = "$1 wall $2"
	}
	for range 2 { // two sizes side by side, then a third
		meant = sideways().ReplaceAllString(meant, between)
	}
	meant = strings.Join(strings.Fields(meant), " ")
	if _, err := parsePiece(meant); err == nil && meant != strings.Join(strings.Fields(text), " ") {
		return &Error{Text: shorten(text), Reason: "has words or signs that are not read", hint: `write "` + meant + `"`}
	}
	m := unknown().FindStringSubmatchIndex(text)
	if m == nil {
		return nil
	}
	word := text[m[2]:m[3]]
	if slices.Contains(append(Words(), "x", "by"), strings.ToLower(word)) {
		return nil
	}
	if _, err := parsePiece(strings.TrimSpace(text[:m[2]])); err != nil {
		return nil
	}
	hint := strict.DidYouMean(strings.ToLower(word), tailWords, "behind the sizes may stand "+strings.Join(tailWords, ", "))
	return &Error{Text: shorten(text), Reason: fmt.Sprintf("does not know the word %q", word), hint: hint}
}
