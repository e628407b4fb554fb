package flags

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// ReadProgram reads the schedule file of a command, its first argument.
func ReadProgram(a *desk.App, cmd string, args []string) (s program.Schedule, err error) {
	err = a.ReadAs(cmd, desk.ScheduleFile, args[0], func(r io.Reader) error {
		s, err = program.Read(r, desk.ShownName(args[0]))
		return err
	})
	if len(args) == 2 && err != nil && a.KindOfFile(args[0]) == desk.LoadFile && a.KindOfFile(args[1]) == desk.ScheduleFile {
		err = desk.Usagef("write: lehr "+cmd+" "+desk.ShellWord(args[1])+" "+desk.ShellWord(args[0]), "%s: %s is the load and %s the schedule", cmd, args[0], args[1])
	}
	return s, err
}

// SaveProgram puts the program of a report into a file.
func SaveProgram(a *desk.App, out *desk.OutFlag, rep *verify.Report) error {
	return a.Put(out, func() ([]byte, error) {
		var buf bytes.Buffer
		err := program.WriteFor(&buf, rep.Schedule, rep.Load.Name, rep.Studio.Controller)
		return append(verdictComment(rep), buf.Bytes()...), err
	})
}

// verdictComment says at the head of a program what it exceeds: weeks later the
// file looks like any other. One that keeps its limits has no comment.
func verdictComment(rep *verify.Report) []byte {
	if rep.Verdict() == verify.WithinLimits {
		return nil
	}
	word, numbers := report.VerdictText(rep)
	texts := []string{word + " when it was planned: " + numbers + "."}
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			texts = append(texts, p.Piece.What+": "+report.OverText(rep, p)+".")
		}
	}
	var out strings.Builder
	for _, text := range texts {
		for line := range strings.Lines(term.Wrap(term.Clean(text), 77, 0, 0)) {
			out.WriteString("# " + strings.TrimRight(line, "\n") + "\n")
		}
	}
	return []byte(out.String())
}

// Explained puts the reasons of a conflict into its error, in the system of
// units of the run.
func Explained(err error, sys unit.System) error {
	var c *plan.ConflictError
	if !errors.As(err, &c) {
		return err
	}
	text := words.AboutLoad(c.Load, sys).Joined(c.Reasons)
	var alone *plan.AloneError
	switch {
	case errors.As(err, &alone):
		text = alone.What + " cannot be annealed even alone: " + text
	case !c.Alone:
		text = c.Error() + ": " + text
	}
	return term.WithHint(errors.New(text), term.HintOf(c))
}
