package main

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNoticesAndVersion(t *testing.T) {
	code, stdout, stderr := command("notices")
	assert.Equal(t, exitProved, code, stderr)
	assert.Contains(t, stdout, "\ngithub.com/BurntSushi/toml v")
	code, _, stderr = command("notices", "all")
	assert.Equal(t, exitUsage, code, stderr)
	code, stdout, _ = command("--version")
	assert.Equal(t, exitProved, code)
	assert.Regexp(t, `^findrive version 1\.0 \(commit `, stdout)
	built := []debug.BuildSetting{{Key: "vcs.revision", Value: "abc"}, {Key: "vcs.time", Value: "2026-11-28T10:00:00Z"}, {Key: "vcs.modified", Value: "true"}}
	assert.Equal(t, "1.0 (commit abc of 2026-11-28T10:00:00Z, with changes)", versionOf("v1.0.1-0.20261128100000-abcdef012345+dirty", built))
	assert.Equal(t, "1.0 (commit not known)", versionOf("(devel)", nil))
	assert.Equal(t, "1.0 (v1.0.1-0.20261128100000-abcdef012345)", versionOf("v1.0.1-0.20261128100000-abcdef012345", nil))
}
