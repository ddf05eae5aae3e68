package main

import (
	_ "embed"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// The scripts by which shells ask for completion. They are ours, since those of the command line's library run what is typed and do not
// spell names with spaces and commas as each shell wants them; that of PowerShell is the library's.
var (
	//go:embed shells/stanchion.bash
	bashScript string
	//go:embed shells/_stanchion
	zshScript string
	//go:embed shells/stanchion.fish
	fishScript string
)

// ownScripts puts our scripts in the place of the library's.
func ownScripts(root *cobra.Command) {
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		for _, shell := range c.Commands() {
			text, ok := map[string]string{"bash": bashScript, "zsh": zshScript, "fish": fishScript}[shell.Name()]
			if !ok {
				continue
			}
			if shell.Name() == "bash" {
				shell.Long = bashHelp
			}
			shell.RunE = func(cmd *cobra.Command, _ []string) error {
				script := text
				if none, _ := cmd.Flags().GetBool("no-descriptions"); none {
					script = strings.ReplaceAll(script, "__complete ", "__completeNoDesc ")
				}
				_, err := io.WriteString(cmd.OutOrStdout(), script)
				return err
			}
		}
	}
}

const bashHelp = `Generate the autocompletion script for the bash shell, bash 4.3 or later.

To load completions in your current shell session:

	source <(stanchion completion bash)

To load completions for every new session, have the package 'bash-completion' and execute once:

	stanchion completion bash > ~/.local/share/bash-completion/completions/stanchion

You will need to start a new shell for this setup to take effect.
`
