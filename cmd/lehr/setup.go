package main

import (
	_ "embed"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/topics"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

func newCompletionCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish|powershell",
		Short: "Print a script that completes commands, flags and glass names",
		Long: `Prints a script for the named shell. Once the shell has read it, the Tab key completes commands, flags and the names of glasses.

bash needs the package bash-completion. To have it in every new shell:

  bash        lehr completion bash >> ~/.bash_completion
  zsh         lehr completion zsh > "${fpath[1]}/_lehr"
  fish        lehr completion fish > ~/.config/fish/completions/lehr.fish
  powershell  lehr completion powershell >> $PROFILE`,
		Example: `lehr completion bash > lehr.bash
lehr completion zsh > _lehr`,
		Args:                  exactly("a shell: bash, zsh, fish or powershell"),
		ValidArgs:             []string{"bash", "zsh", "fish", "powershell"},
		DisableFlagsInUseLine: true,
		RunE: func(c *cobra.Command, args []string) error {
			root := c.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(a.Out, true)
			case "zsh":
				return root.GenZshCompletion(a.Out)
			case "fish":
				return root.GenFishCompletion(a.Out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(a.Out)
			}
			return desk.Usagef("write bash, zsh, fish or powershell", "completion: no shell %q", args[0])
		},
	}
}

func newInitCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "init [<folder>]",
		Short: "Write a commented studio.toml and a sample load to start from",
		Long: `Writes two files into a folder, the current one if none is named: studio.toml, which says what stays the same from night to night (kiln, controller, limits, and what the safety review asks about the studio), and load.toml, a sample load. Every key of studio.toml stands there with its meaning, its unit and its default; a key that begins with # counts as not given.

A file that exists is replaced only while nobody has changed it since lehr wrote it; otherwise nothing is written, unless --force is given.`,
		Example: `lehr init
lehr init studio --units f
lehr init studio --force`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			folder := "."
			if len(args) > 0 {
				folder = args[0]
			}
			return a.init(folder)
		},
	}
	a.ForceFlag(c)
	return c
}

// init writes both files or none.
func (a *app) init(folder string) error {
	sys := a.System(unit.Metric)
	files := []struct {
		outfile.File
		text string
	}{
		{outfile.File{Name: filepath.Join(folder, desk.StudioName), Kind: outfile.TOML, What: "studio file"}, topics.StudioSample(sys)},
		{outfile.File{Name: filepath.Join(folder, topics.LoadName), Kind: outfile.TOML, What: "sample load"}, topics.LoadSample(sys)},
	}
	if folder == outfile.Stdout {
		return desk.Usagef("name a folder", "init: -: two files do not fit standard output")
	}
	made, err := desk.EnsureFolder(folder)
	if err != nil {
		return err
	}
	for _, f := range files {
		if err == nil {
			err = a.Files.Put(f.File, []byte(f.text))
		}
	}
	if err == nil {
		err = a.Commit()
	}
	if err != nil {
		if made {
			os.Remove(folder)
		}
		return err
	}
	a.Print("Next, fill in what you know of your kiln and controller in " + term.Clean(files[0].Name) + ", then:\n\n")
	if folder != "." {
		a.Print("  cd " + term.Clean(desk.ShellWord(folder)) + "\n")
	}
	a.Print("  lehr plan " + topics.LoadName + "\n")
	return nil
}

// packedNotices are the terms of this program and of everything it contains: the text
// notices.txt, packed to a fifth. TestNotices gathers and packs them.
//
//go:embed notices.gz
var packedNotices []byte

// notices unpacks that text.
func notices() (string, error) {
	return strict.Unpack(packedNotices)
}

func newVersionCommand(a *app) *cobra.Command {
	licenses := false
	c := &cobra.Command{
		Use:   "version",
		Short: "Print the version and what it was built from",
		Example: `lehr version
lehr version --licenses
lehr version --json`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE: func(*cobra.Command, []string) error {
			switch {
			case licenses && a.JSON:
				return desk.Usagef("leave one of them out", "version: both --licenses and --json")
			case licenses:
				text, err := notices()
				a.Print(text)
				return err
			}
			return a.showVersion()
		},
	}
	c.Flags().BoolVar(&licenses, "licenses", false, "print the license, and the notices of everything the program contains")
	return c
}

func (a *app) showVersion() error {
	v := desk.ReadVersion()
	if a.JSON {
		return a.PrintJSON(v)
	}
	a.Printf("lehr %s\n", v.Version)
	if v.Commit != "" {
		a.Printf("commit %s of %s", v.Commit, v.Date)
		if v.Modified {
			a.Print(", modified")
		}
		a.Print("\n")
	}
	a.Printf("%s %s\n", v.Go, v.Platform)
	return nil
}
