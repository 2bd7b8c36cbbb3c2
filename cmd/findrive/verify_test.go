package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/proof"
)

// A proof that the time does not reach for is not written, and said to be unfinished; the
// drives are.
func TestProofInTheTimeLimit(t *testing.T) {
	cup, b, err := loadInputs("", "", "", strings.NewReader(""))
	require.NoError(t, err)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 2})
	require.NoError(t, err)
	dir := t.TempDir()
	opt := proposeOptions{keep: 2, timeLimit: time.Minute, proof: filepath.Join(dir, "p.proof"), output: filepath.Join(dir, "d.json")}
	for _, c := range []struct {
		name string
		end  func() (context.Context, context.CancelFunc)
		hint bool
	}{
		{"time", func() (context.Context, context.CancelFunc) { return context.WithTimeout(context.Background(), 1) }, true},
		{"Ctrl-C", func() (context.Context, context.CancelFunc) { return context.WithCancel(context.Background()) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			ctx, stop := c.end()
			stop()
			opt.force = true
			written, err := writeProposed(ctx, opt, cup, b, r, io.Discard)
			var o outcome
			require.ErrorAs(t, err, &o)
			assert.Equal(t, exitStopped, o.code)
			assert.Contains(t, o.message, "the proof is not finished")
			assert.Equal(t, c.hint, strings.Contains(o.message, "--time-limit 10m gives it more"))
			assert.True(t, written)
			assert.FileExists(t, opt.output)
			assert.NoFileExists(t, opt.proof)
		})
	}
}

// TestVerifyFalseProofs has proofs of the built-in example that prove nothing: one part
// is left open, and the best drive is struck out of the list.
func TestVerifyFalseProofs(t *testing.T) {
	cup, b, err := loadInputs("", "", "", strings.NewReader(""))
	require.NoError(t, err)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 2})
	require.NoError(t, err)
	var list []proof.Listed
	for i := range r.Proposals {
		p := &r.Proposals[i]
		l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, 0)
		require.NoError(t, err)
		list = append(list, l)
	}
	true1, err := proof.Record(context.Background(), cup, b, 1, list[:1])
	require.NoError(t, err)
	struck, err := proof.Record(context.Background(), cup, b, 1, list[1:])
	require.ErrorIs(t, err, proof.ErrMissed)

	z, err := gzip.NewReader(bytes.NewReader(true1))
	require.NoError(t, err)
	text, err := io.ReadAll(z)
	require.NoError(t, err)
	last := bytes.LastIndexByte(text, ' ')
	var open bytes.Buffer
	to := gzip.NewWriter(&open)
	_, err = io.WriteString(to, string(text[:last])+" open\n")
	require.NoError(t, err)
	require.NoError(t, to.Close())

	for _, tt := range []struct {
		name string
		data []byte
		code int
		says string
	}{
		{"true", true1, 0, "The proof holds: this is the best drive for the brief"},
		{"open", open.Bytes(), exitStopped, "proves nothing: not settled: 1 of "},
		{"struck out", struck, exitNone, "does not hold: part "},
		{"struck out", struck, exitNone, "a better drive is not listed: motor slow, cells one, motor-10 to axle-50"},
	} {
		name := filepath.Join(t.TempDir(), "drives.proof")
		require.NoError(t, os.WriteFile(name, tt.data, 0o600))
		code, page, stderr := command("verify", name)
		assert.Equal(t, tt.code, code, "%s: %s", tt.name, stderr)
		assert.Contains(t, page+stderr, tt.says, tt.name)
	}
}

// A time limit ends a check as Ctrl-C does, and says how to give it more.
func TestVerifyInTheTimeLimit(t *testing.T) {
	cup, b, err := loadInputs("", "", "", strings.NewReader(""))
	require.NoError(t, err)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1})
	require.NoError(t, err)
	l, err := proof.ListedOf(r.Proposals[0].Drive, r.Proposals[0].Total, r.Proposals[0].Bears, 0)
	require.NoError(t, err)
	data, err := proof.Record(context.Background(), cup, b, 1, []proof.Listed{l})
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "drives.proof")
	require.NoError(t, os.WriteFile(name, data, 0o600))
	code, page, stderr := command("verify", name, "--time-limit", "1ns")
	assert.Equal(t, exitStopped, code)
	assert.Empty(t, page)
	assert.Contains(t, stderr, "the time ran out before the proof was checked\nhint: --time-limit 5m gives it more")
	code, _, stderr = command("verify", name, "--time-limit", "-1s")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, stderr, "--time-limit must not be negative")
	code, page, _ = command("verify", name, "--time-limit", "10m")
	assert.Zero(t, code)
	assert.Contains(t, page, "The proof holds")
}
