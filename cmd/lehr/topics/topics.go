// Package topics holds the texts of the help that belong to no command, and the
// files that show every key: of a load, a glass, a schedule, a studio.
package topics

import (
	"lehr/glass/unit"
)

// Topic is a help on something that is no command.
type Topic struct {
	Name, Short string
	Text        func(unit.System) string
}

// always is the text of a topic that is the same in both systems of units.
func always(text string) func(unit.System) string {
	return func(unit.System) string { return text }
}

// All are what lehr help shows besides commands.
var All = []Topic{
	loadTopic,
	piecesTopic,
	studioTopic,
	{"accessibility", "Plain text, screen readers, no redrawing, a larger sheet", always(`lehr prints lines of text from top to bottom, and says first what matters most: the verdict, then the program. Nothing blinks. Only lehr safety and lehr note ask, a line at a time; flags say the same.

PLAIN TEXT

--plain keeps to ASCII and takes the color away. NO_COLOR in the environment takes the color alone. Color, bold and the marks in a table only repeat what the words say: a limit that is exceeded is called OVER.

SCREEN READERS

With --plain, lines in tables are hyphens and a degree is spelled as a letter behind its number. --json gives the same answer with a name and a unit at every number, which reads better than a table of many columns. The page of lehr sheet has headings, table headers, a text for the curve, and no script. A curve written with --svg has a title and a description. lehr safety --all prints the list that lehr safety asks line by line on a terminal.

NO REDRAWING

Only what takes long (lehr plan --shortest, lehr share, lehr validate) draws a line again, on standard error, to say how far it is; lehr plan --watch prints a new report below the old one. With --plain, and on a terminal that cannot do it (TERM=dumb), it writes a new line at most every five seconds instead; into a file or a pipe it writes none.

LARGER

Text keeps to the width of the terminal, from 40 columns up, so letters can be as large as you like. lehr sheet --large makes the page half as large again, on the screen and on paper, where it then takes more than one sheet. On a phone the page can be enlarged with two fingers.`)},
}

// Find finds a topic.
func Find(name string) (Topic, bool) {
	for _, t := range All {
		if t.Name == name {
			return t, true
		}
	}
	return Topic{}, false
}
