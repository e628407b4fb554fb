package topics

import (
	"fmt"
	"strings"

	"lehr/glass/unit"
)

// studioTopic shows every key of a studio file but the session facts, which
// lehr safety --facts lists: what lehr init writes.
var studioTopic = Topic{"studio", "Every key of studio.toml: kiln, controller, limits", studioHelp}

func studioHelp(sys unit.System) string {
	var b strings.Builder
	writeStudioTables(&b, sys)
	b.WriteString("\n[session]\n")
	comment(&b, "What the safety review asks about the studio. lehr safety --facts lists every fact; one that is not given counts as the hazard being there.")
	b.WriteString("oxygen = \"cylinder\"\n")
	var file strings.Builder
	for line := range strings.Lines("# studio.toml: what stays the same from night to night\n" + b.String()) {
		if strings.TrimSpace(line) == "" {
			line = "#\n"
		}
		file.WriteString("  " + line)
	}
	return fmt.Sprintf(`A studio file says what stays the same from night to night. lehr reads studio.toml of the folder you stand in, or the file that --studio names; lehr init writes one to fill in. Every key it takes, with its default; # before a key means that it is not given:

%s
A key that lehr does not know is an error, not a guess.`, file.String())
}
