package flags

import (
	"io"

	"lehr/anneal/program"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
)

// ReadProgram reads the schedule file of a command, its first argument.
func ReadProgram(a *desk.App, cmd string, args []string) (s program.Schedule, err error) {
	err = a.ReadAs(cmd, desk.ScheduleFile, args[0], func(r io.Reader) error {
		s, err = program.Read(r, desk.ShownName(args[0]))
		return err
	})
	if len(args) == 2 && term.HintOf(err) != "" && a.KindOfFile(args[0]) == desk.LoadFile && a.KindOfFile(args[1]) == desk.ScheduleFile {
		err = desk.Usagef("write: lehr "+cmd+" "+desk.ShellWord(args[1])+" "+desk.ShellWord(args[0]), "%s: %s is the load and %s the schedule", cmd, args[0], args[1])
	}
	return s, err
}
