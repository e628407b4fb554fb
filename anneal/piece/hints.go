package piece

import (
	"regexp"
	"strings"
	"sync"
)

// curlyQuotes finds the quotes of word processors, which no shell takes as
// quotes. Behind a number ” and ’ are marks of inches and feet.
var curlyQuotes = pattern(`[“„‟‘‚‛«»]|(?:^|\pL)[”’]`)

// notAShape are words of the trade that are no shape of ours, and what to
// write for them.
var notAShape = map[string]string{
	"bead":     "a bead counts as a sphere of its diameter, or as a tube of its diameter and wall",
	"cab":      "a cab counts as a dome: dome WIDTH x HEIGHT",
	"cabochon": "a cabochon counts as a dome: dome WIDTH x HEIGHT; one of stone that is warmed says of what: cabochon 10mm x 4mm of opal",
	"heart":    "a heart counts as a pendant: pendant WIDTH x THICKNESS",
	"coin":     "a coin counts as a disc: disc DIAMETER x THICKNESS",
	"egg":      "an egg counts as a sphere of its greatest diameter",
	"cube":     "a cube counts as a slab: slab WIDTH x WIDTH x HEIGHT",
	"cone":     "a cone counts as a rod of its greatest diameter",
	"vessel":   "a vessel counts as a tube of its diameter and thickest wall, open if air reaches inside: tube 3in wall 1/4in open",
	"pipe":     "a pipe counts as a tube of its diameter and thickest wall: tube 2in wall 1/4in open",
}

func init() {
	for word, as := range map[string]string{"bowl": "vessel", "vase": "vessel", "mug": "vessel", "cup": "vessel", "goblet": "vessel", "bottle": "vessel"} {
		notAShape[word] = strings.Replace(notAShape[as], "a "+as, "a "+word, 1)
	}
}

// otherShape returns what to write for a word of the trade, or "".
func otherShape(word string) string {
	word = strings.ToLower(word)
	if s := notAShape[word]; s != "" {
		return s
	}
	return notAShape[strings.TrimSuffix(word, "s")]
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
				return &Error{shorten(text), "the count stands last", `the count comes first: "` + meant + `"`}
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
			return &Error{shorten(text), "does not begin with a shape", `the shape comes first: "` + meant + `"`}
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
