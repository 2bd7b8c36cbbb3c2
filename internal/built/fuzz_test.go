package built_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

// FuzzRead reads any bytes as a drive that is built: told what is wrong with it, or
// worked out in figures, with an answer to every question.
func FuzzRead(f *testing.F) {
	f.Add(demo.Drive())
	for _, text := range sound {
		f.Add([]byte(text))
	}
	f.Add([]byte(sound["crane"] + "\nframe = {length = \"200 mm\", height = \"120 mm\", depth = \"80 mm\", motor_at = [\"30 mm\", \"60 mm\"]}\n"))
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := built.Read("drive.toml", data, cup)
		if (b == nil) == (err == nil) {
			t.Fatal("either a drive or an error")
		}
		if err != nil {
			return
		}
		w, err := built.Work(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []float64{float64(w.Speed.Low), float64(w.Speed.Likely), float64(w.Speed.High)} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%+v", w.Speed)
			}
		}
		if (w.Stops == built.Turns) != (w.Speed.Likely > 0) {
			t.Fatalf("%q, %+v", w.Stops, w.Speed)
		}
		for _, q := range built.Questions() {
			if q == built.Fastest {
				continue // that takes a search
			}
			if r := built.Ask(w, q); r == nil {
				t.Fatalf("no answer to %q", q)
			}
		}
	})
}
