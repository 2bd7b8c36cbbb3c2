package measure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/measure"
)

// slow is the same motor on a slower carousel, whose turns children count one by one.
const slow = `
model = "ride on an upright axle"
load = {mass = "150 g"}
drive = {motor = "hobby", cells = "two"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "disc-60", band = "no-18", centre = "60 mm", axle = "dowel-5"}`

// workshop is what is so in one workshop: factors over what the sheets say.
type workshop struct {
	speed, torque, cells, bearings, grip, load float64
	bands                                      map[string]float64
}

func drawWorkshop(r *rand.Rand) workshop {
	normal := func(sigma float64) float64 { return math.Exp(sigma * r.NormFloat64()) }
	return workshop{normal(drive.MotorUncertainty / 2), normal(drive.MotorUncertainty / 2), normal(math.Log(3) / 4), normal(math.Log(2) / 4),
		normal(math.Log(0.8/0.3) / 4), normal(math.Log(2) / 4),
		map[string]float64{"no-24": normal(drive.BandUncertainty / 2), "no-18": normal(drive.BandUncertainty / 2)}}
}

// does is the engine's own answer: turns a minute, 0 if it stops.
func (w *workshop) does(t testing.TB, b *built.Build) float64 {
	d := *b.Drive
	m, h := *d.Motor, *d.Holder
	m.FreeSpeed, m.StallTorque, h.CellResistance = m.FreeSpeed*like(w.speed, m.FreeSpeed), m.StallTorque*like(w.torque, m.StallTorque), h.CellResistance*like(w.cells, h.CellResistance)
	m.StallCurrent *= like(w.torque, m.StallCurrent)
	d.Motor, d.Holder = &m, &h
	model, err := drive.Prepare(&d, b.Brief, drive.Conditions{})
	require.NoError(t, err)
	model.MotorMu *= w.bearings
	for i := range model.Count {
		model.AxleMu[i] *= w.bearings
		model.Stages[i].Friction *= w.grip
		model.Stages[i].Band.PullFactor *= w.bands[d.Stages[i].Band.Name]
	}
	model.Demand.Steady *= like(w.load, model.Demand.Steady)
	g, err := drive.GeometryOf(&d, &model, 0)
	require.NoError(t, err)
	flow := model.Carry(&g, model.Demand.Steady)
	return float64(model.OutputSpeed(&g, &flow))
}

// children count whole turns in half a minute: every seventh count is one turn out, and one
// in thirty is a slip of the pen, such as 3 for 8 or 21 for 12.
func children(r *rand.Rand, rpm float64) int {
	seconds := 30 + 0.3*r.NormFloat64()
	n := math.Floor(rpm/60*seconds + r.Float64())
	switch luck := r.Float64(); {
	case luck < 0.15:
		n += float64(2*r.IntN(2) - 1)
	case luck < 0.15+1.0/30:
		n *= []float64{0.5, 2, 1.75}[r.IntN(3)]
	}
	return int(math.Max(n, 2))
}

// TestWorkshops has children count models of workshops in which motors, cells, bands and
// friction differ, three counts of each. What the file that was learned then foretells of
// the very model must hold as often as is stated, and more narrowly than before; so must
// what it foretells of the next model of the same motor and bands.
func TestWorkshops(t *testing.T) {
	for _, c := range []struct{ name, counted, next string }{{"fast", fast, slow}, {"slow", slow, fast}} {
		t.Run(c.name, func(t *testing.T) {
			first, next := build(t, c.counted), build(t, c.next)
			plain, err := measure.Learn(next, nil)
			require.NoError(t, err)
			r := rand.New(rand.NewPCG(18, 3))
			var own, other, used, odd int
			widths, nextWidths, before := 0.0, 0.0, plain.Output.Before.Share
			for range *seeds {
				w := drawWorkshop(r)
				is, then := w.does(t, first), w.does(t, next)
				if !(is > 0 && then > 0) {
					continue
				}
				var readings []measure.Reading
				for range 3 {
					readings = append(readings, turns(t, fmt.Sprintf("%d turns in 30 s", children(r, is))))
				}
				got, err := measure.Learn(first, readings)
				require.NoError(t, err)
				odd += got.Questioned()
				if !got.Counted {
					continue
				}
				used++
				cup, err := first.Cupboard.Calibrate("learned.toml", got.Calibration())
				require.NoError(t, err)
				again, err := built.Work(first.Calibrated(cup))
				require.NoError(t, err)
				require.NotNil(t, again.Counted, "the very drive is remembered")
				if float64(again.Speed.Low) <= is && is <= float64(again.Speed.High) {
					own++
				}
				widths += math.Log(float64(again.Speed.High/again.Speed.Low)) / 2
				later, err := measure.Learn(next.Calibrated(cup), nil)
				require.NoError(t, err)
				v := later.Output.Before
				if v.Low() <= then && then <= v.High() {
					other++
				}
				nextWidths += v.Share
			}
			n := float64(used)
			t.Logf("%d workshops: own %.1f %% held, +/- %.1f %%; next %.1f %% held, +/- %.1f %% and %.1f %% before; %d counts questioned",
				used, 100*float64(own)/n, 100*widths/n, 100*float64(other)/n, 100*nextWidths/n, 100*before, odd)
			assert.Greater(t, used, *seeds*9/10)
			assert.GreaterOrEqual(t, float64(own)/n, 0.92)
			assert.GreaterOrEqual(t, float64(other)/n, 0.92)
			assert.Less(t, widths/n, before/2)
			assert.Less(t, nextWidths/n, before/2)
		})
	}
}
