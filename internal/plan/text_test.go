package plan_test

import (
	"context"
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/groups"
	"findrive/internal/plan"
)

// A plan that another shell has saved is read as the plan is, and one that is damaged is
// told of by its line, counted from the top of the file.
func TestReadFromOtherShells(t *testing.T) {
	t.Parallel()
	cup, b := example(t, 2)
	b.MaxStages = 2
	r, err := groups.Plan(context.Background(), cup, b, groups.Options{Threads: 2})
	require.NoError(t, err)
	made, err := plan.OfClass(context.Background(), r, 2)
	require.NoError(t, err)
	want, _, data := written(t, made)

	for name, order := range map[string]binary.ByteOrder{"\xff\xfe": binary.LittleEndian, "\xfe\xff": binary.BigEndian} {
		wide := []byte(name)
		for _, u := range utf16.Encode([]rune(string(data))) {
			var two [2]byte
			order.PutUint16(two[:], u)
			wide = append(wide, two[:]...)
		}
		for _, text := range [][]byte{wide, wide[len(name):]} { // with a mark and without
			require.True(t, plan.Is(text))
			got, _, err := plan.Read(text)
			require.NoError(t, err)
			assert.Equal(t, want.Used, got.Used)
			assert.Len(t, got.Drives, len(want.Drives))
		}
	}

	_, _, err = plan.Read([]byte("{\n\"schema\": 1,\n,}"))
	assert.EqualError(t, err, `line 3: this is not JSON: "," cannot stand here; save it again with findrive class -o`)

	lines := strings.SplitAfter(string(data), "\n")
	for i, line := range lines {
		if before, _, ok := strings.Cut(line, `"ratio": `); ok {
			lines[i] = before + `"ratio": "many",` + "\n"
			_, _, err = plan.Read([]byte(strings.Join(lines, "")))
			require.Error(t, err)
			assert.Contains(t, err.Error(), fmt.Sprintf("line %d:", i+1))
			return
		}
	}
	t.Fatal("no line with a ratio")
}
