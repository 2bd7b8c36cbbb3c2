package constraints

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// buggy is a vehicle that keeps every rule at work, and the spacing of its pulleys.
func buggy() (*drive.Drive, *brief.Brief, units.Millimetres) {
	pulley := func(floor, bore units.Millimetres) *parts.Pulley {
		return &parts.Pulley{GrooveFloor: floor, Outside: floor + 4, GrooveWidth: 3, Width: 6, Bore: bore, Material: parts.Plastic}
	}
	d := &drive.Drive{
		Motor: &parts.Motor{Item: parts.Item{Name: "hobby"}, Rated: 3, FreeSpeed: 5000, StallTorque: 3, FreeCurrent: 0.1,
			ShaftDiameter: 2, ShaftLength: 8, BodyLength: 25, BodyWidth: 20, BodyHeight: 15},
		Holder: &parts.CellHolder{Cells: 2, OpenVoltage: 1.5, CellResistance: 0.3},
		Stages: []drive.Stage{{Driver: pulley(8, 2), Driven: pulley(40, 4.9), Band: &parts.Band{Item: parts.Item{Name: "no-24"}, FlatLength: 102, Width: 1.5, Thickness: 0.9, PullFactor: 1}}},
		Axles:  []*parts.AxleStock{{Diameter: 5, Length: 300, Material: parts.Wood}},
		Wheel:  &parts.Wheel{Diameter: 50, Width: 8, Bore: 4.9, Material: parts.Wood},
	}
	b := &brief.Brief{Model: brief.Vehicle, Speed: brief.Speed{Linear: 2}, Tolerance: 0.5, Sets: 1, Load: brief.Load{Mass: 60, Surface: "table", DrivenShare: 0.6, TackleParts: 1, TackleEfficiency: 1},
		Frame: brief.Frame{Length: 250, Height: 120, Depth: 60, Sheet: 4}, Limits: brief.DefaultLimits()}
	return d, b, 84
}

// verdictsOf judges a drive of one stage: the band as it is put on, and the drive at work.
func verdictsOf(t *testing.T, d *drive.Drive, b *brief.Brief, spacing units.Millimetres) (putOn, atWork []Verdict) {
	m, err := drive.Prepare(d, b, drive.Conditions{})
	require.NoError(t, err)
	var fits [drive.MaxStages]mechanics.Fitted
	fits[0], err = m.Stages[0].Fit(spacing)
	require.NoError(t, err)
	var lies [drive.MaxStages]drive.Lie
	g := drive.GeometryAt(&fits, &lies)
	return slices.Collect(PutOn(b.Limits, 0, &d.Stages[0], &fits[0])), slices.Collect(WorkOf(d, b, &m, &g).Rules())
}

// TestRulesAtWork has each rule of the two lists refuse the drive, which keeps them all,
// after a change of one thing.
func TestRulesAtWork(t *testing.T) {
	d, b, spacing := buggy()
	putOn, atWork := verdictsOf(t, d, b, spacing)
	judged := func(verdicts []Verdict) (rules []Rule) {
		for _, v := range verdicts {
			require.Nil(t, v.No, v.Rule)
			rules = append(rules, v.Rule)
		}
		return rules
	}
	require.Equal(t, []Rule{Stretch, Arc}, judged(putOn))
	require.Equal(t, []Rule{Grip, GripStart, RunningStretch, MotorStarts, MotorRuns, Traction, HeldBack, Speed}, judged(atWork))
	for _, c := range []struct {
		rule   Rule
		change func(d *drive.Drive, b *brief.Brief, spacing *units.Millimetres)
	}{
		{Stretch, func(_ *drive.Drive, _ *brief.Brief, spacing *units.Millimetres) { *spacing = 150 }},
		{Arc, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.ArcMin = 3 }},
		{CrossedSpacing, func(d *drive.Drive, _ *brief.Brief, spacing *units.Millimetres) {
			d.Stages[0].Crossed, d.Stages[0].Band.FlatLength, *spacing = true, 70, 40
		}},
		{Grip, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.GripMin = 1000 }},
		{GripStart, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.GripStartMin = 1000 }},
		{RunningStretch, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.RunningStretchMax = 1.01 }},
		{MotorStarts, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.StartMin = 1000 }},
		{MotorRuns, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.RunMin = 1000 }},
		{Traction, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Load.DrivenShare = 0.01 }},
		{HeldBack, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Limits.KeptSpeedMin = 0.999 }},
		{Speed, func(_ *drive.Drive, b *brief.Brief, _ *units.Millimetres) { b.Speed.Linear = 9 }},
	} {
		d, b, spacing := buggy()
		c.change(d, b, &spacing)
		putOn, atWork := verdictsOf(t, d, b, spacing)
		refused := false
		for _, v := range append(putOn, atWork...) {
			if v.Rule == c.rule && v.No != nil {
				refused = true
				assert.Equal(t, c.rule, v.No.Rule)
				assert.NotEmpty(t, v.No.Say())
			}
		}
		assert.True(t, refused, c.rule)
	}
}

// TestEveryRuleIsListed reads the package's own source: each rule that it names is in the
// list of rules, and some refusal is by it.
func TestEveryRuleIsListed(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	named, used := map[string]Rule{}, map[string]bool{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ValueSpec:
				if of, is := n.Type.(*ast.Ident); is && of.Name == "Rule" {
					word, err := strconv.Unquote(n.Values[0].(*ast.BasicLit).Value)
					require.NoError(t, err)
					named[n.Names[0].Name] = Rule(word)
				}
			case *ast.CallExpr:
				for _, a := range n.Args {
					if rule, is := a.(*ast.Ident); is {
						used[rule.Name] = true
					}
				}
			}
			return true
		})
	}
	var all []Rule
	for name, rule := range named {
		all = append(all, rule)
		assert.True(t, used[name] || rule == Contest, "nothing is refused by %s", name) // a contest's rule is made by goals
	}
	assert.ElementsMatch(t, Rules(), all)
}
