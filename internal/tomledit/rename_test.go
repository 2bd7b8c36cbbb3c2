package tomledit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/tomledit"
)

// A table has another name wherever it stands, however it is written, and all else stays.
func TestRename(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"big", "# ours\n[pulley.25-mm-5-mm] # red\ncount = 3\n\n[pulley.\"a b\"]\ncount = 1\n", "# ours\n[pulley.big] # red\ncount = 3\n\n[pulley.\"a b\"]\ncount = 1\n"},
		{"big red", "[pulley]\n25-mm-5-mm.count = 3 # three\n25-mm-5-mm.bore = \"2 mm\"\n", "[pulley]\n\"big red\".count = 3 # three\n\"big red\".bore = \"2 mm\"\n"},
		{"it's \"x\"", "pulley = { 25-mm-5-mm = {count = 3}, b = {count = 1} }", "pulley = { \"it's \\\"x\\\"\" = {count = 3}, b = {count = 1} }"},
		{"grün", "pulley.\"25-mm-5-mm\".count = 3\r\n", "pulley.\"grün\".count = 3\r\n"},
		{"big", "\ufeff[pulley . '25-mm-5-mm'.sub]\na = 1\n[pulley.25-mm-5-mm]\ncount = 2", "\ufeff[pulley . big.sub]\na = 1\n[pulley.big]\ncount = 2"},
	} {
		got, err := tomledit.Rename("c.toml", []byte(c.text), c.name, "pulley", "25-mm-5-mm")
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, string(got))
		back, err := tomledit.Rename("c.toml", got, "25-mm-5-mm", "pulley", c.name)
		require.NoError(t, err)
		again, err := tomledit.Rename("c.toml", back, c.name, "pulley", "25-mm-5-mm")
		require.NoError(t, err)
		assert.Equal(t, string(got), string(again))
	}
}

func TestRenameIsRefused(t *testing.T) {
	text := "[pulley.a]\ncount = 1\n[pulley.b]\ncount = 1\n"
	for name, key := range map[string][]string{"b": {"pulley", "a"}, "c": {"pulley", "none"}} {
		_, err := tomledit.Rename("c.toml", []byte(text), name, key...)
		assert.Error(t, err, name)
	}
	_, err := tomledit.Rename("c.toml", []byte("[pulley.a\n"), "c", "pulley", "a")
	assert.Error(t, err)
	got, err := tomledit.Rename("c.toml", []byte(text), "a", "pulley", "a")
	require.NoError(t, err)
	assert.Equal(t, text, string(got))
}
