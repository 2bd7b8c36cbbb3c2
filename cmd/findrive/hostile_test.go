package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// repeated is so many texts, each with its number in it.
func repeated(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// TestHostileFiles gives each reader files that nobody means: each ends in a clear
// refusal, soon and in bounded memory.
func TestHostileFiles(t *testing.T) {
	const (
		long   = 1 << 20
		pulley = "outside = \"20 mm\"\nbore = \"5 mm\"\n"
	)
	dir := t.TempDir()
	crowded := filepath.Join(dir, "crowded.toml") // as many parts with names as long as may be
	require.NoError(t, os.WriteFile(crowded, []byte(repeated(1900, "[motor.m"+strings.Repeat("x", 50)+"%d]\nrated = \"3 V\"\nfree_speed = \"6000 rpm\"\n")), 0o600))
	calibration := []string{"propose", "--calibration", "-", "-c", crowded}
	certificate := []string{"sheet", "--from", "-", "-o", dir}
	const opening = `{"schema":2,"kind":"findrive certificate",`
	for _, c := range []struct {
		name string
		args []string
		data string
		want string
	}{
		{"cupboard: 10^5 parts", []string{"propose", "-c", "-"}, repeated(100_000, "[pulley.p%d]\n"), "standard input: it is over 1 MB"},
		{"cupboard: 10^5 parts in a megabyte", []string{"propose", "-c", "-"}, repeated(100_000, "[a.%d]\n"), "standard input:2001:1: there are more than 2000 tables"},
		{"cupboard: a count of 10^9", []string{"propose", "-c", "-"}, "[pulley.p]\n" + pulley + "count = 1000000000\n", "pulley.p.count: 1000000000 is out of range: it must be from 0 to 1000000"},
		{"cupboard: a count beyond all", []string{"propose", "-c", "-"}, "[pulley.p]\n" + pulley + "count = 1" + strings.Repeat("0", 1000) + "\n", "standard input:4:"},
		{"cupboard: a name of a megabyte", []string{"propose", "-c", "-"}, "[pulley." + strings.Repeat("x", long-100) + "]\n" + pulley, "cannot be used: a name has 1 to 60 letters"},
		{"cupboard: deep nesting", []string{"propose", "-c", "-"}, "a = " + strings.Repeat("[", long/2), "brackets are nested more than 8 deep"},
		{"cupboard: 2000 mistakes", []string{"propose", "-c", "-"}, repeated(1900, "[pulley.p%d]\noutsid = 3\n"), "problems more"},
		{"cupboard: assumed without end", []string{"propose", "-c", "-"}, "[pulley.p]\n" + pulley + "assumed = [" + strings.Repeat("\"x\",", 200_000) + "]\n", "the list has 200000 values, the most is 10"},
		{"brief: 10^5 tables", []string{"propose", "-b", "-"}, repeated(100_000, "[a.%d]\n"), "there are more than 2000 tables"},
		{"brief: sets of 10^9", []string{"propose", "-b", "-"}, strings.Replace(string(demo.Brief()), "sets = 8", "sets = 1000000000", 1), "sets: 1000000000 is out of range: it must be from 1 to 1000"},
		{"brief: a name of a megabyte", []string{"propose", "-b", "-"}, "name = \"" + strings.Repeat("x", long-100) + "\"\n", "the text has more than 200 letters"},
		{"brief: deep nesting", []string{"propose", "-b", "-"}, "frame = " + strings.Repeat("{a=", long/4), "brackets are nested more than 8 deep"},
		{"calibration: 10^5 tables", calibration, repeated(100_000, "[b.%d]\n"), "there are more than 2000 tables"},
		{"calibration: names that are near others", calibration, repeated(1900, "[motor.m"+strings.Repeat("y", 25)+strings.Repeat("x", 24)+"%d]\nfree_speed = \"6000 rpm\"\n"), "problems more"},
		{"calibration: a name of a megabyte", calibration, "[motor." + strings.Repeat("x", long-100) + "]\n", "cannot be used"},
		{"calibration: deep nesting", calibration, strings.Repeat("a.", long/3) + "a = 1", "a key has more than 8 parts"},
		{"drive: 10^5 tables", []string{"try", "-"}, repeated(100_000, "[b.%d]\n"), "there are more than 2000 tables"},
		{"drive: 10^5 stages", []string{"try", "-"}, strings.Repeat("[[stage]]\n", 100_000), "there are more than 2000 tables"},
		{"hoist: a name of a megabyte", []string{"hoist", "-b", "-"}, "name = \"" + strings.Repeat("x", long-100) + "\"\n", "the text has more than 200 letters"},
		{"certificate: 10^7 drives", certificate, opening + `"proposals":[` + strings.Repeat("{},", 10_000_000) + `{}]}`, "more than a certificate needs"},
		{"certificate: 10^7 stages", certificate, opening + `"proposals":[{"stages":[` + strings.Repeat("{},", 10_000_000) + `{}]}]}`, "more than a certificate needs"},
		{"certificate: 10^7 figures", certificate, opening + `"proposals":[{"positions":[` + strings.Repeat("1,", 10_000_000) + `1]}]}`, "more than a certificate needs"},
		{"certificate: a name of a megabyte", certificate, opening + `"brief":{"name":"` + strings.Repeat("x", long) + `"}}`, "line 1: it has a text of 1048576 letters"},
		{"certificate: deep nesting", certificate, opening + `"proposals":` + strings.Repeat("[", long), "it has brackets more than 32 deep"},
		{"certificate: over the limit", certificate, strings.Repeat(" ", 70<<20), "it is over 64 MB"},
		{"certificate: sets of 10^9", certificate, opening + `"brief":{"sets":1000000000,"frame":{"length_mm":100,"height_mm":100,"depth_mm":100}}}`, "1000000000 sets are not between 1 and 1000"},
		{"list: 10^5 rows", []string{"stock", "-"}, "kind,name,qty\n" + repeated(100_000, "p,%d\n"), "there are 100001 rows, the most is 5000"},
		{"list: a name of a megabyte", []string{"stock", "-"}, "kind,name,qty\npulley," + strings.Repeat("x", long-100) + ",3\n", "the cell has"},
		{"kit list: 10^5 rows", []string{"stock", "back", "-"}, "part,take,returned\n" + repeated(100_000, "%d,\n"), "there are 100001 rows, the most is 5000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before, after runtime.MemStats
			var out, said strings.Builder
			runtime.ReadMemStats(&before)
			start := time.Now()
			code := run(context.Background(), c.args, strings.NewReader(c.data), &out, &said)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			assert.Equal(t, exitInput, code)
			assert.Contains(t, said.String(), c.want)
			assert.Empty(t, out.String())
			assert.Less(t, said.Len(), 50_000)
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(400<<20))
			t.Logf("%v, %d MB in all", took.Round(time.Millisecond), (after.TotalAlloc-before.TotalAlloc)>>20)
		})
	}
}
