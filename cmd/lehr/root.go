package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/cmd/lehr/desk"
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
			if f.Value.Type() == "stringArray" {
				f.DefValue = "[]" // by which pflag knows that there is none
			}
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
		if name, empty := missingFlag(c); empty {
			return desk.AsUsage(c.Name()+": --"+name, errEmpty)
		} else if name != "" {
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

// hasJSON marks, in a command's Annotations, that it understands --json.
const hasJSON = "json"

// withJSON is the Annotations of a command that understands --json.
func withJSON() map[string]string { return map[string]string{hasJSON: "yes"} }
