package main

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
)

// whatIsSaid are flags whose text says what the command writes or prints, in the same form
// everywhere.
var whatIsSaid = map[string]*regexp.Regexp{
	"format": regexp.MustCompile("^`how` to print: text(, json or csv| or json| or csv)$"),
	"output": regexp.MustCompile("^write (a|the|one) .+ into this (`file`|`folder`; it is made if need be)$"),
}

// TestFlagsSayTheSame holds every flag of the whole tree to one shorthand, one type and one
// text. One that may be given again is the same flag, and says so.
func TestFlagsSayTheSame(t *testing.T) {
	type meaning struct{ command, shorthand, kind, usage string }
	flagsSeen, shorthands := map[string]meaning{}, map[string]string{}
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			m := meaning{c.CommandPath(), f.Shorthand, f.Value.Type(), f.Usage}
			several := map[string]string{"stringArray": "string", "stringSlice": "string"}
			one, many := several[m.kind]
			m.usage = strings.TrimSuffix(m.usage, moreThanOnce)
			assert.Equal(t, many, m.usage != f.Usage, "%s --%s: a list says that it may be given again, and nothing else does", m.command, f.Name)
			if many {
				m.kind = one
			}
			if form, own := whatIsSaid[f.Name]; own {
				assert.Regexp(t, form, m.usage, "%s --%s", m.command, f.Name)
				m.usage = ""
			}
			if m.shorthand != "" {
				if name, taken := shorthands[m.shorthand]; taken {
					assert.Equal(t, name, f.Name, "%s -%s", m.command, m.shorthand)
				}
				shorthands[m.shorthand] = f.Name
			}
			was, seen := flagsSeen[f.Name]
			if !seen {
				flagsSeen[f.Name] = m
				return
			}
			now := m
			now.command = was.command
			assert.Equal(t, was, now, "--%s of %s and of %s", f.Name, was.command, m.command)
		})
		for _, below := range c.Commands() {
			walk(below)
		}
	}
	walk(rootCommand())
	// The same is not said in the words of another flag.
	byUsage := map[string]string{}
	for name, m := range flagsSeen {
		if m.usage == "" {
			continue
		}
		other, taken := byUsage[m.usage]
		assert.False(t, taken, "--%s and --%s say the same: %s", name, other, m.usage)
		byUsage[m.usage] = name
	}
}

// TestFormerWords holds what was once called otherwise to be understood still.
func TestFormerWords(t *testing.T) {
	root := rootCommand()
	for name, words := range formerly {
		i := slices.IndexFunc(root.Commands(), func(c *cobra.Command) bool { return c.Name() == name })
		cmd := root.Commands()[i]
		for was, now := range words {
			assert.Same(t, cmd.Flags().Lookup(now), cmd.Flags().Lookup(was), "%s --%s", name, was)
			assert.NotNil(t, cmd.Flags().Lookup(was), "%s --%s", name, was)
		}
	}
	for _, c := range root.Commands() {
		if groups := c.Flags().Lookup("groups"); groups != nil {
			assert.Same(t, groups, c.Flags().Lookup("sets"), c.Name())
		}
	}
	for _, args := range [][]string{
		{"sheet", "--format", "docx"}, {"fairtest", "--pages", "docx"}, {"challenge", "--drives", "0"}, {"hoist", "--draw", "0"}, {"sheet", "--sets", "-1"},
	} {
		code, _, stderr := command(args...)
		assert.Equal(t, exitUsage, code)
		assert.Regexp(t, `^findrive: --(as|keep|rank|groups) `, stderr, "%v", args)
	}
}
