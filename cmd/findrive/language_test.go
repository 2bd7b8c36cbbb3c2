package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// whatIsSaid are flags whose text says what the command writes, in the same form everywhere.
var whatIsSaid = map[string]*regexp.Regexp{
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

// TestFormats: what is printed as text can be printed as JSON and as a table, in every command
// that prints an answer. A table has as many cells in every row, and no next step after it.
func TestFormats(t *testing.T) {
	dir, mine := example(t, func(c string) string { return c })
	at := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.WriteFile(at("list.csv"), []byte("kind,name,outside mm,bore mm,qty\npulley,=p,40,5,8\n"), 0o600))
	require.NoError(t, os.WriteFile(at("kit.csv"), []byte("part,take,picked,returned\nno-18,8,8,7 (1 broken)\n"), 0o600))
	swap := append([]string{"swap", "--broken", "driven", "--stage", "1"}, mine...)
	for _, c := range []struct {
		args  []string
		table string // what its first two lines begin with, and what stands in it
	}{
		{[]string{"explain", "--for", "pupil"}, `^part,says\nA turns B,`},
		{[]string{"fairtest", "--bases", "2"}, `^differs_in,stage,points,groups_at_once,test,part,ratio,low_rpm,speed_rpm,high_rpm\n[a-z ]+,\d,[\d.]+,\d+,1,`},
		{[]string{"measure", "--turns", "31 turns in 30 s"}, `^what,name,read,before_low,before,before_high,after_low,after,after_high,question\nturns,31 turns in 30 s,62,(.|\n)*\nmotor free rpm,`},
		{[]string{"measure", "--group", "Table 1: 9 turns in 30 s", "--group", "=2+2: 32 turns in 30 s"}, `^group,counts,turns_per_minute,due_low,due,due_high,standard_deviations_apart,doubt\nTable 1,9 turns in 30 s,18,(.|\n)*\n'=2\+2,`},
		{[]string{"try"}, `^what,name,stage,broken,share,says,cure\nrule,pulleys clear of each other,1,false,,`},
		{[]string{"try", "--symptom", "far too slow"}, `\ncause,[a-z ]+,\d,,0\.\d+,`},
		{[]string{"try", "--ask", "one cell or two"}, `^question,says\none cell or two,`},
		{[]string{"why"}, `^term,first_points,other_points,first_why,other_why\nclassrooms,`},
		{swap, `^number,holes_to_drill,parts_changed,steps,penalty_points,output_speed_rpm,drive\n1,0,1,take another `},
		{append(swap, "--none-left"), `\n1,\d,\d,"?stage 1: drive pulley `},
		{[]string{"stock", at("list.csv")}, `^row,verdict,what,part,column,heading,remark,file,sheet\n`},
		{[]string{"stock", "back", at("kit.csv"), "-c", at("cupboard.toml")}, `^row,kind,part,where,taken,counted,back,damaged,missing\n2,,no-18,,8,yes,7,1,1\n`},
	} {
		says, text, stderr := command(c.args...)
		require.Contains(t, []int{exitProved, exitNone}, says, "%q: %s", c.args, stderr)
		code, table, stderr := command(append(c.args, "--format", "csv")...)
		assert.Equal(t, says, code, "%q: %s", c.args, stderr)
		assert.NotEqual(t, text, table)
		assert.Regexp(t, c.table, table, "%q", c.args)
		rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
		assert.NoError(t, err, "%q", c.args)
		assert.Greater(t, len(rows), 1, "%q", c.args)
		code, data, stderr := command(append(c.args, "--format", "json")...)
		assert.Equal(t, says, code, "%q: %s", c.args, stderr)
		var file struct {
			Schema int
			Kind   string
		}
		assert.NoError(t, json.Unmarshal([]byte(data), &file), "%q", c.args)
		assert.Positive(t, file.Schema)
		assert.NotEmpty(t, file.Kind)
	}
}
