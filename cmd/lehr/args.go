package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
)

// onceValue is a flag that may be given once. Of two glasses or two ways into
// the kiln the second would silently take the place of the first.
type onceValue struct {
	pflag.Value
	given string
	set   bool
}

// twiceError is a flag given a second time.
type twiceError struct{ first, second string }

func (e *twiceError) Error() string { return "was given twice" }

// errEmpty is a flag that was given and says nothing, as by a variable of the shell
// that is not set. It must not count as a flag that was left out.
var errEmpty = term.WithHint(errors.New(`"": is empty`), "give it a value, or leave the flag out")

// Set passes the first value on and refuses a second, and one that is empty.
func (v *onceValue) Set(s string) error {
	if v.set {
		return &twiceError{v.given, s}
	}
	v.given, v.set = s, true
	if err := v.Value.Set(s); err != nil || strings.TrimSpace(s) != "" {
		return err
	}
	return errEmpty
}

// onlyOnce wraps the flags of a set that take one value. Those that say only
// how an answer is shown are left alone, and so are switches and lists.
func onlyOnce(flags *pflag.FlagSet) {
	flags.VisitAll(func(f *pflag.Flag) {
		switch f.Value.(type) {
		case *onceValue, pflag.SliceValue, *desk.SystemFlag:
			return
		}
		if f.Value.Type() != "bool" {
			f.Value = &onceValue{Value: f.Value}
		}
	})
}

// twiceHints say what to do instead.
var twiceHints = map[string]string{
	"glass": "for two glasses write a load file with glass = in each [[piece]]",
	"into":  "one firing has one way into the kiln; leave one of them out",
	"start": "one program has one start; leave one of them out",
	"rule":  "plan once by each rule, or set them side by side with: lehr rules",
}

// flagFault is desk.FlagError, with a word for flags given twice.
func flagFault(c *cobra.Command, err error) error {
	if !c.HasParent() { // perhaps the flags of a command that is none
		if err := knownCommand(c, c.Flags().Args()); err != nil {
			return err
		}
	}
	var twice *twiceError
	var invalid *pflag.InvalidValueError
	if !errors.As(err, &twice) || !errors.As(err, &invalid) {
		return desk.FlagError(c, err)
	}
	name := invalid.GetFlag().Name
	hint := twiceHints[name]
	if hint == "" {
		hint = fmt.Sprintf("leave one of them out: %s or %s", desk.ShellWord(twice.first), desk.ShellWord(twice.second))
	}
	return desk.Usagef(hint, "%s: --%s was given twice", c.Name(), name)
}

// givenPieces returns the pieces named by --piece, as typed.
func givenPieces(c *cobra.Command) []string {
	f := c.Flags().Lookup("piece")
	if f == nil || !f.Changed {
		return nil
	}
	if list, ok := f.Value.(pflag.SliceValue); ok {
		return list.GetSlice()
	}
	return []string{f.Value.String()}
}

// unquoted reports a piece that the shell has taken apart: the rest of it then
// stands among the arguments.
func unquoted(c *cobra.Command, args []string) error {
	pieces := givenPieces(c)
	for len(args) > 0 && desk.LooksLikeFile(args[0]) {
		args = args[1:]
	}
	if len(args) == 0 {
		return nil
	}
	if len(pieces) == 0 {
		words := strings.Join(args, " ")
		if _, err := piece.Parse(words); err == nil && c.Flags().Lookup("piece") != nil {
			return desk.Usagef(`write --piece "`+words+`"`, "%s: %q is a piece, no file", c.Name(), words)
		}
		return nil
	}
	last := pieces[len(pieces)-1]
	if strings.ContainsAny(last, " ") && !strings.ContainsAny(last, "“”„") {
		return nil
	}
	words := strings.NewReplacer("“", "", "”", "", "„", "").Replace(last + " " + strings.Join(args, " "))
	return desk.Usagef(`put the piece in quotes: --piece "`+words+`"`, "%s: --piece ends at the space: %s", c.Name(), last)
}

// missingFlag returns the first flag that is required and was not given, or that was
// given as a list of nothing; "" if there is none.
func missingFlag(c *cobra.Command) (name string, empty bool) {
	c.Flags().VisitAll(func(f *pflag.Flag) {
		_, required := f.Annotations[cobra.BashCompOneRequiredFlag]
		if none := f.Changed && f.Value.Type() == "stringSlice" && f.Value.String() == "[]"; name == "" && (none || required && !f.Changed) {
			name, empty = f.Name, none
		}
	})
	return name, empty
}

// usageOf types an error of cobra's own, unless it is typed already.
func usageOf(c *cobra.Command, err error) error {
	if exitCode(err) == exitUsage {
		return err
	}
	return desk.Usagef(c.CommandPath()+" --help shows how it is called", "%s: %s", c.Name(), err)
}

// knownCommand refuses a word that is no command.
func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	word := args[0]
	var names []string
	for _, child := range c.Commands() {
		if child.IsAvailableCommand() {
			names = append(names, child.Name())
		}
		if inner := childNamed(child, word); inner != nil {
			return desk.Usagef("write: "+inner.CommandPath(), "no command %q", word)
		}
	}
	hint := "list the commands with: " + c.CommandPath() + " help"
	if desk.LooksLikeFile(word) {
		return desk.Usagef("write: lehr plan "+desk.ShellWord(word), "%q is a file, no command", word)
	}
	if near := strict.Nearest(args[0], names); near != "" {
		hint = fmt.Sprintf("did you mean %s %s? %s", c.CommandPath(), near, hint)
	}
	return desk.Usagef(hint, "no command %q", args[0])
}

// noArgs, atMost and exactly check the number of arguments.
func noArgs(c *cobra.Command, args []string) error { return atMost(0)(c, args) }

func atMost(n int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > n {
			return desk.Usagef("it is called as: "+c.UseLine(), "%s: %q: one argument too many", c.Name(), args[n])
		}
		return nil
	}
}

// exactly wants one argument per name; the message names the first missing.
func exactly(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < len(names) {
			return desk.Usagef("it is called as: "+c.UseLine(), "%s: needs %s", c.Name(), names[len(args)])
		}
		return atMost(len(names))(c, args)
	}
}
