package main

import (
	"slices"

	"github.com/spf13/cobra"
)

// helpCommand shows the help of a command. Unlike cobra's own it refuses a name that is
// not known.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "what a command does, and its flags",
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			var names []string
			if of, unknown := commandOf(cmd.Root(), args); unknown == "" {
				for _, c := range of.Commands() {
					if c.IsAvailableCommand() {
						names = append(names, c.Name())
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			of, unknown := commandOf(cmd.Root(), args)
			if unknown != "" {
				return unknownCommand(of, unknown)
			}
			of.InitDefaultHelpFlag()
			return of.Help()
		},
	}
}

// commandOf goes from a command by names to one below it. unknown is the first name that
// the command reached does not have.
func commandOf(at *cobra.Command, names []string) (reached *cobra.Command, unknown string) {
	for _, name := range names {
		i := slices.IndexFunc(at.Commands(), func(c *cobra.Command) bool { return c.Name() == name })
		if i < 0 {
			return at, name
		}
		at = at.Commands()[i]
	}
	return at, ""
}
