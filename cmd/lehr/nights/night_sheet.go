package nights

import (
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
	"lehr/cmd/lehr/words"
)

// past is what the sheet of a night says of it: there is no program on that page.
func (n *night) past() *web.Past {
	say := words.About(n.rep)
	lines, told := n.did(say)
	told += 2
	lines = append([]string{say.Read(n.log), n.about(say)}, lines...)
	if n.exact != nil {
		lines = append(lines, "judged with the probe "+n.rep.Studio.Kiln.ProbeError.Text(n.rep.Studio.Units)+" off either way; taken as it reads, "+words.Verdict(n.exact.Verdict())+": "+verdictNumbers(n.exact))
	}
	for _, w := range n.apart {
		lines = append(lines, words.Way(w.way)+": "+words.Verdict(w.rep.Verdict())+", "+verdictNumbers(w.rep))
	}
	lines = append(lines, n.assumed()...)
	for i, s := range lines {
		if i > 1 && (i != told || n.program == "") { // else it begins with a name, as it was typed
			lines[i] = term.Capital(s)
		}
	}
	return &web.Past{Verdict: nightWord(n), Heading: "What the kiln did", Lines: func(words.Fields) []string { return lines }, Curve: n.curve}
}
