package main

import (
	"os"
	"path/filepath"
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
