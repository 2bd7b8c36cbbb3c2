package classroom_test

import (
	"context"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// Pulleys of discs that are cut by hand are not quite as large as they should be, and the
// range that is stated of a drive reckons with it.
func TestForecastHoldsOfDiscs(t *testing.T) {
	files, err := txtar.ParseFile("../../cmd/findrive/testdata/script/discs.txtar")
	require.NoError(t, err)
	text := map[string][]byte{}
	for _, f := range files.Files {
		text[f.Name] = f.Data
	}
	cup, err := parts.Read("cupboard.toml", text["cupboard.toml"])
	require.NoError(t, err)
	b, err := brief.ReadFor("discs.toml", text["discs.toml"], cup)
	require.NoError(t, err)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 6, Threads: 2})
	require.NoError(t, err)
	var all []built
	for i := range r.Proposals {
		p := &r.Proposals[i]
		require.Positive(t, p.Drive.RatioUncertainty())
		one := buildMany(p, b, 400)
		all = append(all, one)

		// Without what the scissors do the models differ less, or at least no more.
		exact := *p
		drive := *p.Drive
		drive.Stages = append(drive.Stages[:0:0], drive.Stages...)
		for k := range drive.Stages {
			for _, of := range []**parts.Pulley{&drive.Stages[k].Driver, &drive.Stages[k].Driven} {
				bought := **of
				bought.Made = nil
				*of = &bought
			}
		}
		exact.Drive = &drive
		require.LessOrEqual(t, one.width, buildMany(&exact, b, 400).width*1.02)
	}
	require.NotEmpty(t, all)
	t.Log(summary(all))
	require.Greater(t, mean(all, func(b *built) float64 { return b.inside }), leastOfAKind)
	require.Less(t, mean(all, func(b *built) float64 { return b.width }), widest)
}
