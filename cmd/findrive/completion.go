package main

import "github.com/spf13/cobra"

// What flags and arguments take, and what a shell completes them with. Registering fails only for a flag that does not
// exist, which the tests of the commands would meet.

// completeFiles offers TOML files for the flags.
func completeFiles(cmd *cobra.Command, flags ...string) {
	for _, flag := range flags {
		_ = cmd.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		})
	}
}

// completePrices offers price lists, which are TOML or spreadsheets.
func completePrices(cmd *cobra.Command, flag string) {
	_ = cmd.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"toml", "csv", "tsv", "xlsx", "ods"}, cobra.ShellCompDirectiveFilterFileExt
	})
}

// completeFolders offers folders for the flags.
func completeFolders(cmd *cobra.Command, flags ...string) {
	for _, flag := range flags {
		_ = cmd.RegisterFlagCompletionFunc(flag, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		})
	}
}

// completeWords offers the words that a flag takes.
func completeWords(cmd *cobra.Command, flag string, words ...string) {
	_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// completeJSON offers JSON files.
func completeJSON(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"json"}, cobra.ShellCompDirectiveFilterFileExt
}

// takesDrive lets a command be given one file that describes a drive, and says
// refusal to more of them.
func takesDrive(cmd *cobra.Command, drive *string, refusal string) {
	cmd.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	cmd.Args = func(_ *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
		case 1:
			*drive = args[0]
		default:
			return outcome{exitUsage, refusal}
		}
		return nil
	}
}
