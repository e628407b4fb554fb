package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/anneal/piece"
	"lehr/cmd/lehr/desk"
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

// Set passes the first value on and refuses a second.
func (v *onceValue) Set(s string) error {
	if v.set {
		return &twiceError{v.given, s}
	}
	v.given, v.set = s, true
	return v.Value.Set(s)
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
