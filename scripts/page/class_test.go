package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The cupboard shared out among all groups is the plan of the command line, and its papers
// are those that are made of it, byte for byte.
func TestTheClassIsThatOfTheCommandLine(t *testing.T) {
	b, c := open(t), newCommandLine(t)
	b.click("go-paper")
	b.click("share")
	assert.Contains(t, b.text("class-outcome"), "All 8 groups")
	b.reload()
	assert.Contains(t, b.text("class-outcome"), "All 8 groups")
	b.click("save-plan")
	b.click("class-all")
	c.run("class", "-o", "plan.json")
	c.run("sheet", "--plan", "plan.json", "-o", "paper")
	assert.Equal(t, string(c.file("plan.json")), string(b.taken("plan.json")))
	names, err := os.ReadDir(filepath.Join(c.dir, "paper"))
	require.NoError(t, err)
	require.Len(t, names, 9)
	for _, n := range names {
		assert.Equal(t, c.file("paper/"+n.Name()), b.fileNamed(n.Name()), n.Name())
	}
	b.click("look-class")
	assert.Contains(t, b.text("look-head"), "For the whole class")
	assert.Empty(t, b.heard())
}

// What the counts of all groups teach is told in the words of the command line, and plot and
// calibration are its files, byte for byte.
func TestTheCountsOfAClassAreThoseOfTheCommandLine(t *testing.T) {
	const counts = "Foxes: 11 turns in 30 s\nOwls: 10 turns in 30 s\nHares, 22, 60\nVoles, 5.5, 30\nNewts: 11 turns in 30 s\n"
	b, c := open(t), newCommandLine(t)
	require.NoError(t, os.WriteFile(filepath.Join(c.dir, "counts.csv"), []byte(counts), 0o600))
	said := strings.Join(strings.Fields(string(c.run("measure", "--rank", "1", "--class", "counts.csv", "--plot", "class.pdf", "-o", "calibration.toml"))), " ")
	b.click("go-built")
	b.put("counts-text", counts)
	b.click("counts-go")
	told := eval[[]string](b, `[...document.querySelectorAll("#class-says > ul > li, #class-says > h3, #class-says > p:not(.links):not(:has(button))")].map(n => n.textContent)`)
	require.Greater(t, len(told), 12)
	for _, words := range told {
		assert.Contains(t, said, strings.Join(strings.Fields(words), " "))
	}
	b.click("plot-pdf")
	assert.Equal(t, c.file("class.pdf"), b.fileNamed("class.pdf"))
	b.click("class-learn")
	b.click("save-learned")
	assert.Equal(t, string(c.file("calibration.toml")), string(b.fileNamed("calibration.toml")))
	assert.Empty(t, b.heard())
}
