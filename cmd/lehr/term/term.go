package term

import (
	"os"
	"regexp"
	"runtime"
	"strings"
	"sync"

	"golang.org/x/term"
)

// Terminal is what is known about the place where results go.
type Terminal struct {
	TTY    bool // a terminal, not a pipe or a file
	Width  int  // columns to use for text, 40 to 80
	wide   int  // columns to use for a table whose cells would be broken, 0 for Width
	color  bool // a terminal that shows color, and NO_COLOR is not set
	UTF8   bool // the locale shows more than ASCII
	Redraw bool // a terminal that can draw a line again
}

// MaxWidth is the widest text in columns, also when it goes into a pipe.
const MaxWidth = 80

const maxTable = 120 // of a table on a terminal that has the room

const minWidth = 40 // the narrowest

// LookAt finds out about f; getenv is os.Getenv, or a test's stand-in.
func LookAt(f *os.File, getenv func(string) string) Terminal {
	t := Terminal{TTY: IsTerminal(f), Width: MaxWidth, UTF8: speaksUTF8(getenv)}
	if t.TTY {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			t.Width, t.wide = min(max(w, minWidth), MaxWidth), min(w, maxTable)
		}
		t.Redraw = getenv("TERM") != "dumb" && (getenv("TERM") != "" || runtime.GOOS == "windows")
		t.color = getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
	}
	return t
}

// IsTerminal reports whether f is a terminal.
func IsTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// speaksUTF8 decides by the first locale variable that is set. Windows and
// macOS show UTF-8 also when none is.
func speaksUTF8(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin"
}

// asciiFor gives the ASCII spelling of the characters lehr prints.
var asciiFor = strings.NewReplacer(
	"°C", "C", "°F", "F", "°", "deg",
	"×", "x", "·", ".", "−", "-", "–", "-", "—", "-", "±", "+/-",
	"≤", "<=", "≥", ">=", "≈", "~", "→", "->", "←", "<-", "↑", "^", "↓", "v", "√", "sqrt", "∞", "inf",
	"⁻", "-", "⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9",
	"½", "1/2", "¼", "1/4", "¾", "3/4", "⅛", "1/8", "⅜", "3/8", "⅝", "5/8", "⅞", "7/8",
	"µ", "u", "μ", "u", "Δ", "d", "α", "alpha", "β", "beta", "ε", "eps", "η", "eta", "κ", "kappa", "σ", "sigma", "ρ", "rho", "π", "pi", "τ", "tau",
	"“", `"`, "”", `"`, "‘", "'", "’", "'", "…", "...", "•", "*", "©", "(c)", "®", "(R)", "\u00a0", " ", "\u202f", " ",
	"─", "-", "│", "|", "┌", "+", "┐", "+", "└", "+", "┘", "+", "├", "+", "┤", "+", "┬", "+", "┴", "+", "┼", "+",
	"ä", "a", "ö", "o", "ü", "u", "é", "e", "è", "e", "ß", "ss",
)

// mixedNumber is a digit with a fraction right behind it: 2½.
var mixedNumber = pattern(`(\d)([½¼¾⅛⅜⅝⅞])`)

// exponent is a raised number: 10⁻⁷.
var exponent = pattern(`⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+`)

// ToASCII spells s in ASCII; what has no spelling becomes a question mark.
func ToASCII(s string) string {
	s = exponent().ReplaceAllString(s, "^$0")
	s = mixedNumber().ReplaceAllString(s, "$1 $2")
	return strings.Map(func(r rune) rune {
		if r > 126 {
			return '?'
		}
		return r
	}, asciiFor.Replace(s))
}

// pattern compiles a regular expression when it is first asked for: most runs
// never do, and every command would pay for it at its start.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
