package nights

import (
	"lehr/cmd/lehr/web"
	"lehr/cmd/lehr/words"
)

// past is what the sheet of a night says of it: there is no program on that page.
func (n *night) past() *web.Past {
	say := words.About(n.rep)
	lines := append([]string{say.Read(n.log), n.about(say)}, n.did(say)...)
	if n.exact != nil {
		lines = append(lines, "judged with the probe "+n.rep.Studio.Kiln.ProbeError.Text(n.rep.Studio.Units)+" off either way; taken as it reads, "+words.Verdict(n.exact.Verdict())+": "+verdictNumbers(n.exact))
	}
	for _, w := range n.apart {
		lines = append(lines, words.Way(w.way)+": "+words.Verdict(w.rep.Verdict())+", "+verdictNumbers(w.rep))
	}
	return &web.Past{Verdict: nightWord(n), Heading: "What the kiln did", Lines: append(lines, n.assumed()...), Curve: n.curve}
}
