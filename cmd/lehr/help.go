package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/topics"
)

// exitStatuses is the EXIT STATUS section of every help.
func exitStatuses() []struct {
	code int
	when string
} {
	return []struct {
		code int
		when string
	}{
		{exitDone, "done, and within limits"},
		{exitFail, "could not"},
		{exitUsage, "wrong usage"},
		{exitOver, "done, but over a limit, not proven, not judged or not kept, as printed"},
	}
}

// printHelp writes the help of one command.
func (a *app) printHelp(c *cobra.Command) {
	long := c.Long
	if long == "" {
		long = c.Short + "."
	}
	a.Prose(0, long)
	a.Section("USAGE")
	a.Prose(2, c.UseLine())

	if list := availableCommands(c); len(list) > 0 {
		groups := []commandGroup{{"COMMANDS", list}}
		if !c.HasParent() {
			groups = inOrder(list)
		}
		longest := 0
		for _, child := range list {
			longest = max(longest, len(child.Name()))
		}
		for _, g := range groups {
			a.Section(g.head)
			for _, child := range g.list {
				a.Item(fmt.Sprintf("  %-*s  ", longest, child.Name()), child.Short)
			}
		}
	}
	if !c.HasParent() {
		a.Section("MORE HELP")
		longest := 0
		for _, t := range topics.All {
			longest = max(longest, len(t.Name))
		}
		for _, t := range slices.Insert(slices.Clone(topics.All), len(topics.All)-1, topics.Topic{Name: "glass", Short: "Every key of a glass file"}) {
			a.Item(fmt.Sprintf("  lehr help %-*s  ", longest, t.Name), t.Short)
		}
	}
	if c.Example != "" {
		a.Section("EXAMPLES")
		for line := range strings.SplitSeq(strings.Trim(c.Example, "\n"), "\n") {
			a.Print("  " + strings.TrimSpace(line) + "\n")
		}
	}
	if flags := c.LocalNonPersistentFlags(); flags.HasAvailableFlags() {
		flags.SortFlags = false
		a.Section("FLAGS")
		a.Print(flags.FlagUsagesWrapped(a.Width()))
	}
	if flags := a.globalFlagsOf(c); flags.HasAvailableFlags() {
		a.Section("GLOBAL FLAGS")
		a.Print(flags.FlagUsagesWrapped(a.Width()))
	}
	a.Section("EXIT STATUS")
	for _, s := range exitStatuses() {
		a.Printf("  %d  %s\n", s.code, s.when)
	}
}

// globalFlagsOf returns the global flags that mean something to c.
func (a *app) globalFlagsOf(c *cobra.Command) *pflag.FlagSet {
	set := pflag.NewFlagSet("global", pflag.ContinueOnError)
	set.SortFlags = false
	c.Root().PersistentFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name == "json" && c.HasParent() && c.Annotations[hasJSON] == "" {
			return
		}
		set.AddFlag(f)
	})
	return set
}

func availableCommands(c *cobra.Command) []*cobra.Command {
	var list []*cobra.Command
	for _, child := range c.Commands() {
		if child.IsAvailableCommand() {
			list = append(list, child)
		}
	}
	return list
}

func newHelpCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "help [<command>]",
		Short: "Show what a command does and how to call it",
		Example: `lehr help
lehr help version
lehr help load`,
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			target, _, err := c.Root().Find(args)
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			var names []string
			for _, child := range availableCommands(target) {
				names = append(names, child.Name()+"\t"+child.Short)
			}
			for _, t := range topics.All {
				if len(args) == 0 {
					names = append(names, t.Name+"\t"+t.Short)
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			target := c.Root()
			if len(args) == 1 {
				if t, ok := topics.Find(args[0]); ok {
					studio, err := a.ReadStudio()
					if err != nil { // help must work beside a file that is broken
						studio = kiln.DefaultStudio()
					}
					a.Prose(0, t.Text(a.System(studio.Units)))
					return nil
				}
			}
			for _, word := range args {
				next := childNamed(target, word)
				if next == nil {
					return knownCommand(target, []string{word})
				}
				target = next
			}
			a.printHelp(target)
			return nil
		},
	}
}

func childNamed(c *cobra.Command, name string) *cobra.Command {
	for _, child := range c.Commands() {
		if child.Name() == name && child.IsAvailableCommand() {
			return child
		}
	}
	return nil
}

// jobs are what a person comes for at night, in that order, with one line each
// that works as it stands.
var jobs = []struct{ what, line string }{
	{"A program for what lies in the kiln", `lehr plan --glass borosilicate-33 --piece "6 x sphere 2.5in" --start 22:15`},
	{"Whether the program you already use suits it", `lehr verify tonight.toml --glass borosilicate-33 --piece "6 x sphere 2.5in"`},
	{"What to look at before you leave the kiln alone", `lehr safety --at leave`},
}

// showStart is what lehr alone says: the jobs of tonight, and where all else is.
func (a *app) showStart() {
	a.Prose(0, "lehr turns a load of hot glass into a kiln program, and proves it.")
	a.Section("TONIGHT")
	for i, j := range jobs {
		a.Item(fmt.Sprintf("  %d  ", i+1), j.what)
		a.Print("     " + j.line + "\n")
	}
	a.Section("SOMETHING IS WRONG NOW")
	a.Print("     lehr wrong\n")
	a.Section("MORE")
	a.Item("     lehr init  ", "write down once what stays the same: kiln, controller, glass")
	a.Item("     lehr help  ", "every command, in the order of work; of one: lehr help plan")
	a.Print("\n")
	a.Prose(0, "It computes; it does not watch your kiln. Local codes, the makers' instructions and licensed trades come before anything it says.")
}

// workOrder is the order in which help lists the commands: that in which they
// are needed. A command that stands nowhere here comes last.
var workOrder = []struct {
	head  string
	names []string
}{
	{"BEFORE THE FLAME", []string{"init", "glass", "gather", "seal", "week"}},
	{"TONIGHT", []string{"plan", "share", "verify", "rules", "safety", "sheet", "serve"}},
	{"SOMETHING IS WRONG", []string{"wrong", "outage"}},
	{"THE NEXT DAY", []string{"polariscope", "note", "find", "kiln", "cost"}},
	{"ABOUT LEHR", []string{"validate", "version", "completion", "help"}},
}

// commandGroup is some commands under a heading.
type commandGroup struct {
	head string
	list []*cobra.Command
}

// inOrder puts the commands of a tree into the order of work.
func inOrder(list []*cobra.Command) (groups []commandGroup) {
	list = slices.Clone(list)
	for _, w := range workOrder {
		g := commandGroup{head: w.head}
		for _, name := range w.names {
			if i := slices.IndexFunc(list, func(c *cobra.Command) bool { return c.Name() == name }); i >= 0 {
				g.list = append(g.list, list[i])
				list = slices.Delete(list, i, i+1)
			}
		}
		if len(g.list) > 0 {
			groups = append(groups, g)
		}
	}
	if len(list) > 0 {
		last := &groups[len(groups)-1]
		last.list = append(list, last.list...)
	}
	return groups
}
