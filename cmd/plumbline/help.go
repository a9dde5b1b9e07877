package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// helpPage is what help prints below the description of a command.
const helpPage = `{{with (or .Long .Short)}}{{. | trimTrailingWhitespaces}}

{{end}}{{if .HasAvailableSubCommands}}Write {{.CommandPath}} and one of these:
{{range .Commands}}{{if .IsAvailableCommand}}  {{rpad .Name .NamePadding}} {{.Short}}
{{end}}{{end}}
{{.CommandPath}} VERB --help tells more of one.
{{else}}Write: {{.UseLine}}
{{end}}{{if .HasExample}}
Such as:
{{.Example}}
{{end}}{{if .HasAvailableLocalFlags}}
What may be added:
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}
{{end}}`

// inOwnWords gives a command and those below it help in this program's words.
func inOwnWords(cmd *cobra.Command) {
	if !cmd.HasParent() {
		cmd.SetHelpTemplate(helpPage)
		cmd.SetUsageTemplate(helpPage)
		cmd.InitDefaultHelpCmd()
		cmd.InitDefaultCompletionCmd()
	}
	switch cmd.Name() {
	case "help":
		cmd.Short = "Tell what a verb does and what may be added to it"
	case "completion":
		cmd.Short, cmd.Long = "Print a script with which a shell completes what is typed", ""
		for _, shell := range cmd.Commands() {
			shell.Short = "Print the script for " + shell.Name()
		}
	}
	cmd.InitDefaultHelpFlag()
	cmd.Flags().Lookup("help").Usage = "show this"
	for _, below := range cmd.Commands() {
		inOwnWords(below)
	}
}

// wants refuses a command without what it works on, or with more of it than one; all lets any number through.
func wants(what string, all bool) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 1 || len(args) > 1 && all {
			return nil
		}
		return fmt.Errorf("write %s: %s", what, cmd.UseLine())
	}
}
