package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"
)

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
