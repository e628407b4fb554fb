package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/cmd/lehr/desk"
	"lehr/glass/strict"
)

// newCommands lists the commands in the order the help shows them. A new
// command is one constructor and one line here.
func newCommands(a *app) []*cobra.Command {
	return []*cobra.Command{
		newPlanCommand(a),
		newShareCommand(a),
		newVerifyCommand(a),
		newRulesCommand(a),
		newGlassCommand(a),
		newSealCommand(a),
		newSafetyCommand(a),
		newWrongCommand(a),
		newNoteCommand(a),
		newFindCommand(a),
		newKilnCommand(a),
		newWeekCommand(a),
		newCostCommand(a),
		newGatherCommand(a),
		newPolariscopeCommand(a),
		newValidateCommand(a),
		newInitCommand(a),
		newSheetCommand(a),
		newServeCommand(a),
		newVersionCommand(a),
	}
}

// newRootCommand builds the whole tree. It prints nothing itself: errors go up
// to run.
func newRootCommand(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:   "lehr <command> [flags]",
		Short: "Turn a load of hot glass into a kiln program, and prove it",
		Long: `lehr turns a load of hot glass into a kiln program: it plans the soak and the cooling for every piece on the shelf, rounds the program to what the controller takes, and computes the temperature and the stress in each piece under exactly that program.

Every number it uses has a source and a status. It computes; it does not watch your kiln. Local codes, the makers' instructions and licensed trades come before anything it says.`,
		Example: `lehr plan mixed.toml
lehr rules --glass borosilicate-33 --piece "sphere 2.5in"
lehr help plan`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          knownCommand,
	}
	version := root.Flags().Bool("version", false, "print the version, as lehr version does")
	root.RunE = func(c *cobra.Command, _ []string) error {
		if *version {
			return a.showVersion()
		}
		a.showStart()
		return nil
	}
	a.GlobalFlags(root)
	root.AddCommand(newCommands(a)...)
	root.AddCommand(newCompletionCommand(a))
	root.SetHelpCommand(newHelpCommand(a))
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { a.printHelp(c) })
	root.SetFlagErrorFunc(flagFault)
	prepare(a, root)
	return root
}

// prepare makes every error that cobra finds before a command starts (wrong
// arguments, flags that exclude each other, a missing flag) a usage error,
// refuses --json where a command has no JSON, and tidies the flags for the help.
func prepare(a *app, c *cobra.Command) {
	c.DisableAutoGenTag = true
	c.Flags().SortFlags = false
	c.InitDefaultHelpFlag()
	if help := c.Flags().Lookup("help"); help != nil {
		help.Usage = "show this help"
	}
	onlyOnce(c.PersistentFlags())
	onlyOnce(c.Flags())
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if strings.Contains(f.Usage, "(default") {
			f.DefValue = "" // the usage says it in words
		}
	})
	if run := c.RunE; run != nil {
		c.RunE = func(c *cobra.Command, args []string) error {
			if a.JSON && c.Annotations[hasJSON] == "" {
				return desk.Usagef("leave --json out", "%s: --json: this command prints no JSON", c.Name())
			}
			return run(c, args)
		}
	}
	if check := c.Args; check != nil {
		c.Args = func(c *cobra.Command, args []string) error {
			if err := unquoted(c, args); err != nil {
				return err
			}
			if err := check(c, args); err != nil {
				return usageOf(c, err)
			}
			return nil
		}
	}
	pre := c.PreRunE
	c.PreRunE = func(c *cobra.Command, args []string) error {
		if name := missingFlag(c); name != "" {
			return desk.Usagef("it is called as: "+c.UseLine(), "%s: needs --%s", c.Name(), name)
		}
		if err := c.ValidateFlagGroups(); err != nil {
			return usageOf(c, err)
		}
		if pre != nil {
			return pre(c, args)
		}
		return nil
	}
	for _, child := range c.Commands() {
		prepare(a, child)
	}
}

// missingFlag returns the first required flag that was not given, or "".
func missingFlag(c *cobra.Command) (name string) {
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if _, required := f.Annotations[cobra.BashCompOneRequiredFlag]; required && !f.Changed && name == "" {
			name = f.Name
		}
	})
	return name
}

// hasJSON marks, in a command's Annotations, that it understands --json.
const hasJSON = "json"

// withJSON is the Annotations of a command that understands --json.
func withJSON() map[string]string { return map[string]string{hasJSON: "yes"} }

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
