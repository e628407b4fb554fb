package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
)

// manuals is the folder into which TestManuals writes the manual pages and the
// completion scripts of a release:
//
//	go test ./cmd/lehr -run '^TestManuals$' -manuals DIR
//
// They are made here and not in the program, which has no use for them.
var manuals = flag.String("manuals", "", "write manual pages and completion scripts to `DIR`")

// manualPages returns a page for each command, by its file name.
func manualPages(t *testing.T) map[string]string {
	t.Helper()
	var out bytes.Buffer
	a := &app{desk.New(strings.NewReader(""), &out, &out, term.Terminal{Width: term.MaxWidth, UTF8: true})}
	root := newRootCommand(a)
	pages := map[string]string{}
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		pages[manualName(c)+".1"] = a.manualPage(c)
		for _, child := range availableCommands(c) {
			visit(child)
		}
	}
	visit(root)
	return pages
}

// manualName is "lehr-safety-eye" for lehr safety eye.
func manualName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// manualPage is one command in the language of manual pages.
func (a *app) manualPage(c *cobra.Command) string {
	var b strings.Builder
	name := manualName(c)
	fmt.Fprintf(&b, ".TH %s 1 \"\" lehr \"lehr manual\"\n", strings.ToUpper(name))
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n", roff(name), roff(c.Short))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n%s\n", roff(c.UseLine()))
	long := c.Long
	if long == "" {
		long = c.Short + "."
	}
	b.WriteString(".SH DESCRIPTION\n")
	block := false
	for line := range strings.SplitSeq(strings.Trim(long, "\n"), "\n") {
		indented := strings.HasPrefix(line, " ")
		switch {
		case indented && !block:
			b.WriteString(".nf\n")
		case !indented && block && line != "":
			b.WriteString(".fi\n")
		}
		block = indented || block && line == ""
		if line == "" && !block {
			b.WriteString(".PP\n")
			continue
		}
		b.WriteString(roff(line) + "\n")
	}
	if block {
		b.WriteString(".fi\n")
	}
	options := func(title string, flags *pflag.FlagSet) {
		if !flags.HasAvailableFlags() {
			return
		}
		b.WriteString(".SH " + title + "\n")
		flags.VisitAll(func(f *pflag.Flag) {
			if f.Hidden {
				return
			}
			value, usage := pflag.UnquoteUsage(f)
			b.WriteString(".TP\n")
			if f.Shorthand != "" {
				fmt.Fprintf(&b, "\\fB%s\\fR, ", roff("-"+f.Shorthand))
			}
			fmt.Fprintf(&b, "\\fB%s\\fR", roff("--"+f.Name))
			if value != "" {
				fmt.Fprintf(&b, " \\fI%s\\fR", roff(value))
			}
			b.WriteString("\n" + roff(usage) + "\n")
		})
	}
	local := c.LocalNonPersistentFlags()
	local.SortFlags = false
	options("OPTIONS", local)
	options("GLOBAL OPTIONS", a.globalFlagsOf(c))
	var also []string
	if list := availableCommands(c); len(list) > 0 {
		b.WriteString(".SH COMMANDS\n")
		for _, child := range list {
			fmt.Fprintf(&b, ".TP\n\\fB%s\\fR\n%s\n", roff(child.CommandPath()), roff(child.Short))
			also = append(also, manualName(child))
		}
	}
	if c.Example != "" {
		b.WriteString(".SH EXAMPLES\n.nf\n")
		for line := range strings.SplitSeq(strings.Trim(c.Example, "\n"), "\n") {
			b.WriteString(roff(strings.TrimSpace(line)) + "\n")
		}
		b.WriteString(".fi\n")
	}
	b.WriteString(".SH EXIT STATUS\n")
	for _, s := range exitStatuses() {
		fmt.Fprintf(&b, ".TP\n%d\n%s\n", s.code, roff(s.when))
	}
	if c.HasParent() {
		also = append([]string{manualName(c.Parent())}, also...)
	}
	b.WriteString(".SH SEE ALSO\n")
	for i, name := range also {
		if also[i] = fmt.Sprintf("\\fB%s\\fR(1)", roff(name)); i < len(also)-1 {
			also[i] += ","
		}
	}
	b.WriteString(strings.Join(also, "\n") + "\n")
	return b.String()
}

// roff writes text so that it is set as it stands.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`).Replace(text)
	if strings.HasPrefix(text, ".") {
		return `\&` + text
	}
	return text
}

// TestManuals makes the manual pages, has them set where the typesetter is at
// hand, and wants every option and every line of the help in them.
func TestManuals(t *testing.T) {
	pages := manualPages(t)
	for _, name := range []string{"lehr.1", "lehr-plan.1", "lehr-safety-eye.1", "lehr-version.1"} {
		if pages[name] == "" {
			t.Errorf("no page %s", name)
		}
	}
	for name, page := range pages {
		for _, part := range []string{".TH ", ".SH NAME", ".SH SYNOPSIS", ".SH DESCRIPTION", ".SH EXIT STATUS", ".SH SEE ALSO"} {
			if !strings.Contains(page, part) {
				t.Errorf("%s: no %s", name, part)
			}
		}
		if strings.Contains(page, rootDir) || strings.Contains(page, "/tmp") {
			t.Errorf("%s: a path of this machine", name)
		}
	}
	if groff, err := exec.LookPath("groff"); err == nil && !testing.Short() {
		for name, page := range pages {
			c := exec.Command(groff, "-man", "-k", "-Tutf8", "-ww", "-P-bcu")
			c.Stdin = strings.NewReader(page)
			var words strings.Builder
			c.Stderr = &words
			set, err := c.Output()
			if err != nil || words.Len() > 0 {
				t.Errorf("%s: %v %s", name, err, &words)
			}
			if text := strings.Join(strings.Fields(string(set)), " "); !strings.Contains(text, "NAME "+strings.TrimSuffix(name, ".1")) || !strings.Contains(text, "wrong usage") {
				t.Errorf("%s is set as %.300s", name, text)
			}
		}
	}
	if *manuals == "" {
		return
	}
	for name, page := range pages {
		writeManual(t, filepath.Join(*manuals, "man", name), page)
	}
	for shell, name := range map[string]string{"bash": "lehr.bash", "zsh": "_lehr", "fish": "lehr.fish", "powershell": "lehr.ps1"} {
		script, stderr, code := runHere("completion", shell)
		if code != exitDone {
			t.Fatalf("completion %s: %s", shell, stderr)
		}
		writeManual(t, filepath.Join(*manuals, "completions", name), script)
	}
}

func writeManual(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}
