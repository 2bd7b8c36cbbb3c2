package stocktake_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

// heldRow is what a row of a held list really is.
type heldRow struct {
	verdict, kind string
	values        map[string]string // by key; "?" is known to nobody
}

// held is what a held list comes to.
type held struct {
	asks  []string
	lacks []string // nil if nothing is said
	usual bool
	rows  map[string]heldRow // by "5" or "Pulleys!5"
}

func readHeld(t *testing.T, file string) held {
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	h := held{rows: map[string]heldRow{}}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		word, rest, _ := strings.Cut(line, " ")
		switch word {
		case "", "#":
		case "ask":
			h.asks = append(h.asks, rest)
		case "assume":
			require.Equal(t, "usual", rest)
			h.usual = true
		case "complete":
			h.lacks = []string{}
		case "lacks":
			h.lacks = strings.Split(rest, ", ")
		case "row":
			fields := strings.Fields(rest)
			at := slices.IndexFunc(fields, func(f string) bool { return f == "use" || f == "may" || f == "refuse" })
			require.Positive(t, at, line)
			row := heldRow{verdict: fields[at], values: map[string]string{}}
			for _, f := range fields[at+1:] {
				if key, value, is := strings.Cut(f, "="); is {
					row.values[key] = value
				} else {
					row.kind = f
				}
			}
			h.rows[strings.Join(fields[:at], " ")] = row
		default:
			t.Fatalf("%s: %s", file, line)
		}
	}
	return h
}

// says reports whether a value of the cupboard is the one of a held list.
func says(want string, got any) bool {
	number := func(s string) (float64, bool) {
		s = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(s, " ", ""), "mm"), "rpm"), "V")
		v, err := strconv.ParseFloat(s, 64)
		return v, err == nil
	}
	a, isA := number(want)
	b, isB := number(fmt.Sprint(got))
	return isA && isB && a == b
}

// Of the held lists every value in the cupboard is right or marked as assumed, or its row
// is refused.
func TestHeldLists(t *testing.T) {
	files, err := filepath.Glob("testdata/held/*.want")
	require.NoError(t, err)
	require.Len(t, files, 55)
	for _, want := range files {
		base := strings.TrimSuffix(want, ".want")
		t.Run(filepath.Base(base), func(t *testing.T) {
			h := readHeld(t, want)
			var list string
			for _, end := range []string{".csv", ".xlsx", ".ods"} {
				if _, err := os.Stat(base + end); err == nil {
					list = base + end
				}
			}
			data, err := os.ReadFile(list)
			require.NoError(t, err)
			r, err := stocktake.Read(filepath.Base(list), data, stocktake.Options{Usual: h.usual})
			require.NoError(t, err)
			h.check(t, r)
			if !h.usual { // what is usual may bring rows in, but nothing that is not so
				r, err := stocktake.Read(filepath.Base(list), data, stocktake.Options{Usual: true})
				require.NoError(t, err)
				h.lacks, h.usual = nil, true
				h.check(t, r)
			}
		})
	}
}

func (h *held) check(t *testing.T, r *stocktake.Result) {
	var cupboard map[string]any
	if r.Cupboard != nil {
		_, err := parts.Read("c.toml", r.Cupboard)
		require.NoError(t, err)
		require.NoError(t, toml.Unmarshal(r.Cupboard, &cupboard))
	}
	for _, kind := range []string{"pulley", "band", "motor", "cells", "axle"} {
		_, there := cupboard[kind]
		assert.Equal(t, !there, slices.Contains(r.Lacks, kind), "a cupboard without %s lacks them", kind)
	}
	used := map[string]bool{}
	for _, p := range r.Parts {
		table := cupboard[p.Kind].(map[string]any)[p.Name].(map[string]any)
		for _, at := range p.Rows {
			key := fmt.Sprint(r.Lists[at.List].Rows[at.Row].Number)
			if r.Lists[at.List].Sheet != "" {
				key = r.Lists[at.List].Sheet + "!" + key
			}
			used[key] = true
			want, listed := h.rows[key]
			if h.usual && filled(table) && want.verdict == "refuse" {
				continue
			}
			if !assert.True(t, listed && want.verdict != "refuse", "row %s must not be used: %v", key, table) {
				continue
			}
			want.check(t, key, p.Kind, table)
		}
	}
	for key, row := range h.rows {
		if row.verdict == "use" {
			assert.True(t, used[key], "row %s must be used: %s", key, whyNot(r, key))
		}
	}
	for _, ask := range h.asks {
		assert.True(t, slices.ContainsFunc(r.Asks, func(a string) bool { return strings.Contains(strings.ToLower(a), strings.ToLower(ask)) }), "%q is not asked about: %q", ask, r.Asks)
	}
	if h.lacks != nil {
		assert.ElementsMatch(t, h.lacks, r.Lacks)
	}
}

// filled reports whether a table rests on what is usual, and so a row that lacks something
// could be used.
func filled(table map[string]any) bool {
	all, _ := table["assumed"].([]any)
	return slices.ContainsFunc(all, func(f any) bool { return strings.HasSuffix(f.(string), ", as is usual") })
}

// check holds one table of the cupboard to what its row really is.
func (w *heldRow) check(t *testing.T, key, kind string, table map[string]any) {
	assert.Empty(t, w.wrong(kind, table), "row %s", key)
}

// wrong is a value of a table that is not so and not marked; empty if there is none.
func (w *heldRow) wrong(kind string, table map[string]any) string {
	var facts []string
	if all, is := table["assumed"].([]any); is {
		for _, f := range all {
			facts = append(facts, f.(string))
		}
	}
	marked := func(key string) bool {
		words := strings.ReplaceAll(key, "_", " ")
		return slices.ContainsFunc(facts, func(f string) bool { return strings.HasPrefix(f, words+" ") || strings.HasPrefix(f, words+":") })
	}
	if kind != w.kind && !marked("kind") {
		return fmt.Sprintf("it is no %s, and nothing is marked: %v", kind, table)
	}
	for k, got := range table {
		if k == "assumed" || k == "location" || k == "chemistry" || k == "material" {
			continue
		}
		want, is := w.values[k]
		if exact, only := strings.CutSuffix(want, "!"); only {
			if !says(exact, got) {
				return fmt.Sprintf("%s = %v, but it is %s: %v", k, got, exact, table)
			}
			continue
		}
		if (!is || want == "?" || !says(want, got)) && !marked(k) {
			return fmt.Sprintf("%s = %v, but it is %q, and nothing is marked: %v", k, got, want, table)
		}
	}
	return ""
}

func whyNot(r *stocktake.Result, key string) string {
	for i := range r.Lists {
		for _, row := range r.Lists[i].Rows {
			if k := fmt.Sprint(row.Number); k == key || r.Lists[i].Sheet+"!"+k == key {
				return strings.Join(remarks(row), "; ")
			}
		}
	}
	return "no such row"
}
