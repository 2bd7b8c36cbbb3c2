package swap

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

func cupboard(t *testing.T) *parts.Cupboard {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	return cup
}

// A model that its builder described, with the cells that its speed wants.
func table3(t *testing.T) *Model {
	t.Helper()
	b, err := built.Read("drive.toml", bytes.Replace(demo.Drive(), []byte(`cells = "two"`), []byte(`cells = "one"`), 1), cupboard(t))
	require.NoError(t, err)
	m, err := FromBuild(b)
	require.NoError(t, err)
	return m
}

// Whatever breaks: what is put in is there, is not what broke, and where no hole is
// said to be drilled every hole is where it was.
func TestReplacements(t *testing.T) {
	t.Parallel()
	m := table3(t)
	found := 0
	for _, broken := range m.Slots() {
		a, err := Find(context.Background(), m, cupboard(t), broken, Options{NoneLeft: true})
		require.NoError(t, err)
		require.Nil(t, a.Spare)
		assert.LessOrEqual(t, len(a.Replacements), most)
		before := Replacement{}
		for i, r := range a.Replacements {
			found++
			d := r.Drive.Drive
			for _, u := range r.Drive.Uses {
				assert.LessOrEqual(t, u.Each, u.Have, "%s: %s", broken, u.Name)
			}
			if !r.Rebuilt {
				require.NotEmpty(t, r.Steps, "%s", broken)
				assert.Positive(t, r.Parts)
				require.Len(t, d.Stages, len(m.Drive.Stages))
				moved := 0
				for k := range d.Positions {
					if k > 0 && d.Positions[k] != m.Drive.Positions[k] {
						moved++
					}
				}
				assert.LessOrEqual(t, moved, r.Holes, "%s: %v", broken, r.Steps)
				assert.Equal(t, d.Positions[0] != m.Drive.Positions[0], r.MotorMoved, "the motor has no hole: %s: %v", broken, r.Steps)
				for _, s := range r.Steps {
					assert.NotContains(t, s.Words, "hole for the motor")
				}
				for _, s := range (&Model{Brief: m.Brief, Drive: d}).Slots() {
					if s.Role == broken.Role && s.Stage == broken.Stage {
						assert.NotEqual(t, broken.Name, s.Name)
					}
				}
			}
			if !r.OtherSpeed {
				assert.InDelta(t, float64(r.Drive.Target), float64(r.Drive.Speed.Likely), m.Brief.Tolerance*float64(r.Drive.Target))
			}
			if i > 0 && r.Rebuilt == before.Rebuilt && r.OtherSpeed == before.OtherSpeed {
				assert.LessOrEqual(t, before.Holes, r.Holes, "least change first")
				if before.Holes == r.Holes {
					assert.LessOrEqual(t, before.Parts, r.Parts)
				}
			}
			before = r
		}
	}
	assert.Greater(t, found, 10)
}

// Where there is another of the same, nothing else is looked for.
func TestSpare(t *testing.T) {
	m := table3(t)
	broken, err := m.Broken("band", 1)
	require.NoError(t, err)
	a, err := Find(context.Background(), m, cupboard(t), broken, Options{})
	require.NoError(t, err)
	require.NotNil(t, a.Spare)
	assert.Equal(t, "no-24", a.Spare.Name)
	assert.Equal(t, 40, a.Spare.Count)
	assert.Empty(t, a.Replacements)
}

// With an empty cupboard nothing can be done, and that is proved.
func TestNothingLeft(t *testing.T) {
	m := table3(t)
	broken, err := m.Broken("motor", 0)
	require.NoError(t, err)
	a, err := Find(context.Background(), m, &parts.Cupboard{}, broken, Options{})
	require.NoError(t, err)
	assert.Empty(t, a.Replacements)
	assert.Zero(t, a.Open)
}

// A band that is put on again where one of its name broke, though no other is left, comes off
// another stage: which, is said, and counted as a change.
func TestBandOffAnotherStage(t *testing.T) {
	of := func(uses []drive.Use, bands ...string) *drive.Drive {
		d := &drive.Drive{}
		for i, b := range bands {
			d.Stages = append(d.Stages, drive.Stage{Band: &parts.Band{Item: parts.Item{Name: b}}, Use: uses[i]})
		}
		return d
	}
	single, twoOf := []drive.Use{0, 0, 0}, []drive.Use{drive.Paired, 0, 0}
	for _, c := range []struct {
		was, now *drive.Drive
		want     []Step
	}{
		{of(single, "a", "a", "a"), of(single, "a", "a", "b"), []Step{{Words: "stage 1: put on the band a that comes off stage 3", Parts: 1}}},
		{of(single, "a", "a", "a"), of(twoOf, "a", "b", "b"), []Step{{Words: "stage 1: put on the band a that comes off stages 2 and 3", Parts: 1}}},
		{of(single, "a", "a", "a"), of(single, "b", "a", "a"), nil},
		{of(twoOf, "a", "a", "a"), of(single, "a", "a", "a"), nil},
	} {
		m := &Model{Drive: c.was}
		assert.Equal(t, c.want, m.freed(c.now, Slot{"band", "band", 1, "a"}))
		assert.Empty(t, m.freed(c.now, Slot{"axle", "axle", 1, "a"}))
	}
}

// It is among the steps of a replacement.
func TestBandOffAnotherStageIsTold(t *testing.T) {
	m := table3(t)
	now := *m.Drive
	now.Stages = slices.Clone(now.Stages)
	m.Drive.Stages[0].Band, m.Drive.Stages[0].Use = m.Drive.Stages[1].Band, drive.Single
	now.Stages[0].Band, now.Stages[0].Use, now.Stages[1].Band = m.Drive.Stages[0].Band, drive.Single, &parts.Band{Item: parts.Item{Name: "other"}}
	f := &finder{m: m, a: &Answer{Model: m, Broken: Slot{"band", "band", 1, m.Drive.Stages[0].Band.Name}}}
	f.keep(&design.Proposal{Drive: &now}, false, false)
	require.Len(t, f.a.Replacements, 1)
	assert.Contains(t, f.a.Replacements[0].Steps[0].Words, "that comes off stage 2")
	assert.Equal(t, 2, f.a.Replacements[0].Parts)
}

// What mends a model at a speed far from that of before is found, however far, with holes of its
// own if need be.
func TestAtAnySpeed(t *testing.T) {
	t.Parallel()
	m := table3(t)
	left := *cupboard(t)
	left.Pulleys = slices.DeleteFunc(slices.Clone(left.Pulleys), func(p parts.Pulley) bool { return p.Name != "axle-10" })
	require.Len(t, left.Pulleys, 1)
	broken, err := m.Broken("driven", 2)
	require.NoError(t, err)
	a, err := Find(context.Background(), m, &left, broken, Options{NoneLeft: true})
	require.NoError(t, err)
	require.NotEmpty(t, a.Replacements)
	for _, r := range a.Replacements {
		assert.True(t, r.OtherSpeed || r.Rebuilt)
		assert.Greater(t, float64(r.Drive.Speed.Likely), 1.95*float64(r.Drive.Target))
		assert.Equal(t, "axle-10", r.Drive.Drive.Stages[1].Driven.Name)
	}
}

// A pulley that was made can be made again while its sheets last, and what cut them is there.
func TestMadeAgain(t *testing.T) {
	disc := func(d float64) parts.Disc {
		return parts.Disc{Sheet: "card", Kind: "card", Thickness: 2, Diameter: mm(d), Cutter: "compass"}
	}
	made := &parts.Pulley{Item: parts.Item{Name: "made-95"}, Made: &parts.Made{Core: disc(95), Flange: disc(105), Layers: 2}}
	left := func(sheets, most int, cutter string) *parts.Cupboard {
		return &parts.Cupboard{Discs: &parts.Discs{Most: most}, Cutters: []parts.Cutter{{Item: parts.Item{Name: cutter}}},
			Sheets: []parts.SheetStock{{Item: parts.Item{Name: "card", Count: sheets}, Kind: "card", Thickness: 2, Length: 297, Width: 210}}}
	}
	assert.True(t, cuts(left(2, 12, "compass"), made))
	assert.False(t, cuts(left(0, 12, "compass"), made))
	assert.False(t, cuts(left(2, 3, "compass"), made))
	assert.False(t, cuts(left(2, 12, "saw"), made))
	none := left(2, 12, "compass")
	none.Discs = nil
	assert.False(t, cuts(none, made))
}

func TestBroken(t *testing.T) {
	m := table3(t)
	s, err := m.Broken("axle-30", 0)
	require.NoError(t, err)
	assert.Equal(t, Slot{"pulley", "driven", 2, "axle-30"}, s)
	_, err = m.Broken("dowel-5", 0)
	assert.ErrorContains(t, err, "which of them?")
	s, err = m.Broken("dowel-5", 2)
	require.NoError(t, err)
	assert.Equal(t, Slot{"axle", "axle", 2, "dowel-5"}, s)
	s, err = m.Broken("motor", 2)
	require.NoError(t, err, "the motor is of no stage, and no other can be meant")
	assert.Equal(t, "motor", s.Role)
	_, err = m.Broken("driver", 9)
	assert.ErrorContains(t, err, "the model has no part")
	_, err = m.Broken("no-99", 0)
	assert.ErrorContains(t, err, `the model has no part "no-99"`)
}

// A drive read back from its certificate is the drive: pinned to its parts and holes
// the search finds it again at the same penalty.
func TestFromCertificate(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"buggy", "three-stages", "one-stage", "crane", "big-wheel", "carousel"} {
		c := saved(t, name)
		for rank := 1; rank <= min(2, len(c.Proposals)); rank++ {
			m, err := FromCertificate(c, rank)
			require.NoError(t, err)
			model, err := drive.Prepare(m.Drive, m.Brief, drive.Conditions{})
			require.NoError(t, err)
			g, err := drive.Designed(m.Drive, &model)
			require.NoError(t, err)
			running := model.Carry(&g, model.Demand.Steady)
			assert.InEpsilon(t, float64(m.Speed), float64(model.OutputSpeed(&g, &running)), 1e-6, "%s %d", name, rank)
			pins := asBuilt(m.Drive)
			r, err := design.Find(context.Background(), pooled(&parts.Cupboard{}, own(m.Drive, m.Brief), Slot{}, false), m.Brief, design.Options{Keep: 1, Pins: &pins})
			require.NoError(t, err)
			require.Len(t, r.Proposals, 1, "%s %d", name, rank)
			assert.InDelta(t, float64(c.Proposals[rank-1].Total), r.Proposals[0].Total.Float(), 1e-9)
			assert.InEpsilon(t, float64(m.Speed), float64(r.Proposals[0].Speed.Likely), 1e-6)
		}
		_, err := FromCertificate(c, 99)
		assert.ErrorContains(t, err, "none of rank 99")
	}
}

// saved is one of the certificates that the drawings are tested with.
func saved(t *testing.T, name string) *certificate.Certificate {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "views", "testdata", name+".json"))
	require.NoError(t, err)
	c, err := certificate.Read(data)
	require.NoError(t, err)
	return c
}
