package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"findrive/internal/tomlfile"
)

// unknownCommand says what was probably meant.
func unknownCommand(parent *cobra.Command, name string) error {
	var names []string
	for _, c := range parent.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return outcome{exitUsage, fmt.Sprintf("there is no command %q%s\nhint: %s --help lists the commands", name, meant(name, "", names), parent.CommandPath())}
}

// meant is a question to add to a message, or "" if nothing known is near.
func meant(name, before string, known []string) string {
	if near := tomlfile.Nearest(name, known); near != "" {
		return fmt.Sprintf(", did you mean %q?", before+near)
	}
	return ""
}

// flagMistake says in plain words what is wrong with a flag.
func flagMistake(cmd *cobra.Command, err error) error {
	hint := fmt.Sprintf("\nhint: %s --help lists the flags", cmd.CommandPath())
	var (
		unknown *pflag.NotExistError
		bare    *pflag.ValueRequiredError
		wrong   *pflag.InvalidValueError
	)
	switch {
	case errors.As(err, &unknown):
		return outcome{exitUsage, unknownFlag(cmd, unknown) + hint}
	case errors.As(err, &bare):
		_, usage := pflag.UnquoteUsage(bare.GetFlag())
		return outcome{exitUsage, fmt.Sprintf("--%s needs a value (%s)", bare.GetFlag().Name, usage) + hint}
	case errors.As(err, &wrong):
		kind := map[string]string{"int": "a whole number", "duration": "a time such as 10s or 2m", "bool": "true or false"}[wrong.GetFlag().Value.Type()]
		return outcome{exitUsage, fmt.Sprintf("--%s is %s, and %q is not", wrong.GetFlag().Name, kind, wrong.GetValue()) + hint}
	}
	return outcome{exitUsage, err.Error() + hint}
}

// unknownFlag looks for what was meant among the command's flags, then among
// those of the other commands.
func unknownFlag(cmd *cobra.Command, unknown *pflag.NotExistError) string {
	name := unknown.GetSpecifiedName()
	if unknown.GetSpecifiedShortnames() != "" {
		return fmt.Sprintf("there is no flag -%s", name)
	}
	var others []string
	for _, other := range cmd.Commands() {
		if other.Flags().Lookup(name) != nil {
			others = append(others, other.CommandPath()+" --"+name)
		}
	}
	if len(others) > 0 {
		return fmt.Sprintf("--%s belongs to a command: write %s", name, strings.Join(others, " or "))
	}
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return fmt.Sprintf("there is no flag --%s%s", name, meant(name, "--", names))
}

// oneOf refuses the value of a flag that is not among the known ones.
func oneOf(flag, value string, allowed ...string) error {
	if slices.Contains(allowed, value) {
		return nil
	}
	return outcome{exitUsage, fmt.Sprintf("--%s %q is not known%s\nhint: it can be %s", flag, value, meant(value, "", allowed), strings.Join(allowed, ", "))}
}

// inFiles is what is wrong with the input files, each error a line or more, or nil.
func inFiles(errs ...error) error {
	var mistakes []string
	for _, err := range errs {
		if err != nil {
			mistakes = append(mistakes, strings.Split(err.Error(), "\n")...)
		}
	}
	switch len(mistakes) {
	case 0:
		return nil
	case 1:
		return outcome{exitInput, "one mistake to put right first:\n" + mistakes[0]}
	}
	return outcome{exitInput, fmt.Sprintf("%d mistakes to put right first:\n%s", len(mistakes), strings.Join(mistakes, "\n"))}
}

// alone refuses words that a command has no use for.
func alone(hint string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		return outcome{exitUsage, fmt.Sprintf("%s does not know what to do with %q\nhint: %s", cmd.Name(), strings.Join(args, " "), hint)}
	}
}
