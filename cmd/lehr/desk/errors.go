package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
)

// UsageError is a command line that cannot be understood: exit status 2.
type UsageError struct {
	message string
	hint    string
	cause   error
	flag    string // that it is about, "" where that is said by the message alone
}

func (e *UsageError) Error() string { return e.message }

// Flag returns the flag that an error of [FlagUsage] is about, and what is wrong
// with it; "" for others.
func (e *UsageError) Flag() (name string, wrong error) { return e.flag, e.cause }

func (e *UsageError) Hint() string  { return e.hint }
func (e *UsageError) Unwrap() error { return e.cause }

// Usagef returns a usage error. The hint, one thing to do, may be empty.
func Usagef(hint, format string, args ...any) error {
	return &UsageError{message: fmt.Sprintf(format, args...), hint: hint}
}

// AsUsage makes err, which keeps its own words and hint, a usage error of the
// named flag or argument: "--piece: <err>".
func AsUsage(where string, err error) error { return asUsage(where, err) }

func asUsage(where string, err error) *UsageError {
	return &UsageError{message: where + ": " + err.Error(), hint: term.HintOf(err), cause: err}
}

// FlagUsage is AsUsage for a flag of a command, which asks [UsageError.Flag] what
// it is about.
func FlagUsage(cmd, flag string, err error) error {
	e := asUsage(cmd+": "+flag, err)
	e.flag = flag
	return e
}

// FileError says which file could not be read or written, in the form of all
// messages: "load.toml: no such file".
func FileError(name string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: no such file", name)
	}
	return fmt.Errorf("%s: %w", name, cause(err))
}

// cause strips the operation and path that the os package puts before an error.
func cause(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// FlagError rewrites what the flag parser says into the form of all messages.
func FlagError(c *cobra.Command, err error) error {
	list := c.CommandPath() + " --help lists the flags"
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if shorts := unknown.GetSpecifiedShortnames(); shorts != "" {
			if c.Flags().Lookup(shorts) != nil {
				return Usagef("write --"+shorts+", with two hyphens", "%s: unknown flag -%s", c.Name(), shorts)
			}
			return Usagef(list, "%s: unknown flag -%s", c.Name(), name)
		}
		hint := list
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := strict.Nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean --%s? %s", near, list)
		}
		return Usagef(hint, "%s: unknown flag --%s", c.Name(), name)
	case errors.As(err, &missing):
		return Usagef(list, "%s: --%s: needs a value", c.Name(), missing.GetFlag().Name)
	case errors.As(err, &invalid):
		flag, reason := invalid.GetFlag(), invalid.Unwrap()
		var own *strconv.NumError
		if errors.As(reason, &own) {
			reason = fmt.Errorf("%q: %s", invalid.GetValue(), noNumber(flag.Value.Type(), own))
		}
		hint := term.HintOf(reason)
		if hint == "" {
			hint = list
		}
		return &UsageError{message: fmt.Sprintf("%s: --%s: %s", c.Name(), flag.Name, reason), hint: hint, cause: reason}
	}
	return Usagef(list, "%s: %s", c.Name(), err)
}

// noNumber says what is wrong with a value that the flag parser itself refused; the
// values of lehr begin their errors with what was typed.
func noNumber(kind string, err *strconv.NumError) string {
	switch {
	case kind == "bool":
		return "is neither true nor false"
	case errors.Is(err, strconv.ErrRange):
		return "is too large a number"
	}
	return "is no whole number"
}

// ShellWord quotes a name that a shell would take apart.
func ShellWord(s string) string {
	if strings.ContainsAny(s, " '\"$&;()*?[]\\`<>|") {
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	}
	return s
}

// ErrOverLimit is returned by a command that did its work and printed an
// answer in which a limit is exceeded. It prints nothing and exits 3.
var ErrOverLimit = errors.New("a limit is exceeded")

// OverIf returns the error that sets the exit status when something is over.
func OverIf(over bool) error {
	if over {
		return ErrOverLimit
	}
	return nil
}
