package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/cmd/lehr/term"
	"lehr/glass/strict"
)

// usageError is a command line that cannot be understood: exit status 2.
type usageError struct {
	message string
	hint    string
	cause   error
}

func (e *usageError) Error() string { return e.message }
func (e *usageError) Hint() string  { return e.hint }
func (e *usageError) Unwrap() error { return e.cause }

// usagef returns a usage error. The hint, one thing to do, may be empty.
func usagef(hint, format string, args ...any) error {
	return &usageError{message: fmt.Sprintf(format, args...), hint: hint}
}

// asUsage makes err, which keeps its own words and hint, a usage error of the
// named flag or argument: "--piece: <err>".
func asUsage(where string, err error) error {
	return &usageError{message: where + ": " + err.Error(), hint: term.HintOf(err), cause: err}
}

// fileError says which file could not be read or written, in the form of all
// messages: "load.toml: no such file".
func fileError(name string, err error) error {
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

// flagError rewrites what the flag parser says into the form of all messages.
func flagError(c *cobra.Command, err error) error {
	list := c.CommandPath() + " --help lists the flags"
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if shorts := unknown.GetSpecifiedShortnames(); shorts != "" {
			if c.Flags().Lookup(shorts) != nil {
				return usagef("write --"+shorts+", with two hyphens", "%s: unknown flag -%s", c.Name(), shorts)
			}
			return usagef(list, "%s: unknown flag -%s", c.Name(), name)
		}
		hint := list
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := strict.Nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean --%s? %s", near, list)
		}
		return usagef(hint, "%s: unknown flag --%s", c.Name(), name)
	case errors.As(err, &missing):
		return usagef(list, "%s: --%s: needs a value", c.Name(), missing.GetFlag().Name)
	case errors.As(err, &invalid):
		flag, value, reason := invalid.GetFlag(), invalid.GetValue(), invalid.Unwrap()
		hint := term.HintOf(reason)
		if hint == "" {
			hint = list
		}
		words := reason.Error()
		if !strings.Contains(words, value) {
			words = value + ": " + words
		}
		return &usageError{message: fmt.Sprintf("%s: --%s: %s", c.Name(), flag.Name, words), hint: hint, cause: reason}
	}
	return usagef(list, "%s: %s", c.Name(), err)
}
