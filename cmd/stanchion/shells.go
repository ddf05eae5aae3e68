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
