package main

import (
	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
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
