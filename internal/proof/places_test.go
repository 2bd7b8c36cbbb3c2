package proof

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// overFloor is a rise that the floor asks for, on which the wheels stand; several is no one shaft.
const (
	overFloor = "too near the floor "
	several   = -1
)

// brokenBy lists the rules about holes that a design with one lie for each axle breaks, by the
// words of docs/model.md and docs/certificate.md: everything keeps clear with every hole out
// of place by the level, each in its worst direction. Of bands it tells between which bounds
// they pass by what they must clear.
func (r *row) brokenBy(one *box, plan *layout.LanePlan, at []layout.Point) (rules map[string]bool, bandsHave, bandsAtMost float64) {
	const noise = 1e-9
	f, l, e, k := &r.brief.Frame, &r.brief.Limits, float64(r.level), r.hd.stages
	rules = map[string]bool{}
	of := func(rule string, shaft int, have, least float64) {
		if have < least-noise {
			rules[fmt.Sprint(rule, shaft)] = true
		}
	}
	need := func(rule string, have, least float64) { of(rule, several, have, least) }
	x := func(j int) float64 { return float64(at[j].X) }
	y := func(j int) float64 { return float64(at[j].Y) }
	apart := func(i, j int) float64 { return math.Hypot(x(i)-x(j), y(i)-y(j)) }
	off := func(v float64) float64 { return math.Abs(math.Remainder(v, float64(f.Pitch))) }
	in := func(j int, x0, y0, x1, y1 mm) {
		of(layout.RuleZone, j, min(x(j)-float64(x0), float64(x1)-x(j), y(j)-float64(y0), float64(y1)-y(j)), 0)
	}
	wheel, _ := r.part(r.hd.output)
	motor := &r.motors[r.hd.motor].Part
	type disc struct {
		shaft, lane int // lane -1: in all of them
		radius      float64
	}
	var discs []disc
	for i, p := range r.pairs[:k] {
		discs = append(discs, disc{i, plan.Lane[i], float64(r.pulleys[p.driver].Part.Outside) / 2}, disc{i + 1, plan.Lane[i], float64(r.pulleys[p.driven].Part.Outside) / 2})
	}
	pulleys := len(discs)
	axle := []float64{float64(motor.ShaftDiameter) / 2}
	for i := range k {
		axle = append(axle, float64(r.axles[r.rods[i].stock].Part.Diameter)/2)
		discs = append(discs, disc{i + 1, -1, axle[i+1]})
	}
	for _, lane := range append([]int{plan.Lane[0]}, plan.ShaftLanes...) {
		discs = append(discs, disc{0, lane, axle[0]})
	}
	for j := range at {
		high := off(y(j))
		if len(f.Rails) > 0 {
			high = math.Inf(1)
			for _, rail := range f.Rails {
				high = min(high, math.Abs(y(j)-float64(rail)))
			}
		}
		of(layout.RuleGrid, j, 0, max(off(x(j)), high))
		inset, up := mm(0), mm(0)
		if j > 0 && r.brief.Making.DrillFrame {
			inset = mm(axle[j]) + l.RunningFit/2 + l.HoleWall
			if len(f.Rails) == 0 {
				up = inset
			}
		}
		in(j, inset, up, f.Length-inset, f.Height-up)
	}
	in(0, f.MotorZone.X0, f.MotorZone.Y0, f.MotorZone.X1, f.MotorZone.Y1)
	in(k, f.OutputZone.X0, f.OutputZone.Y0, f.OutputZone.X1, f.OutputZone.Y1)
	for n, d := range discs {
		for _, o := range discs[n+1:] {
			if d.shaft != o.shaft && (d.lane < 0 || o.lane < 0 || d.lane == o.lane) {
				need(layout.RuleApart, apart(d.shaft, o.shaft)-d.radius-o.radius, float64(l.Clearance)+2*e)
			}
		}
	}
	for _, d := range discs[:pulleys] {
		inside := min(x(d.shaft), y(d.shaft), float64(f.Length)-x(d.shaft), float64(f.Height)-y(d.shaft))
		of(layout.RuleOutline, d.shaft, inside+float64(f.Overhang), d.radius+e)
		if f.HasGround {
			of(layout.RuleGround, d.shaft, y(d.shaft)-float64(f.Ground), d.radius+float64(l.Clearance)+e)
		}
	}
	if wheel != nil {
		stands := y(k) - float64(wheel.Diameter)/2 // the height of what the wheels stand on
		if f.HasGround {
			of(layout.RuleZone, k, float64(f.Pitch)/2, math.Abs(stands-float64(f.Ground)))
		} else {
			of(layout.RuleZone, k, -stands, float64(l.Clearance))
			for _, d := range discs[:pulleys] {
				above := y(d.shaft) - d.radius - stands
				if d.shaft == k { // it moves with the wheels
					of(layout.RuleZone, k, above, float64(l.Clearance))
				} else {
					of(overFloor, d.shaft, above, float64(l.Clearance)+2*e)
				}
			}
		}
	}
	w, h := float64(motor.BodyWidth)/2, float64(motor.BodyHeight)/2
	need(layout.RuleBodyFrame, min(x(0)-w, y(0)-h, float64(f.Length)-w-x(0), float64(f.Height)-h-y(0)), e)
	for _, d := range discs {
		if d.shaft > 0 && (d.lane < 0 || slices.Contains(plan.BodyLanes, d.lane)) {
			beside := math.Hypot(max(0, math.Abs(x(d.shaft)-x(0))-w), max(0, math.Abs(y(d.shaft)-y(0))-h))
			of(layout.RuleBody, d.shaft, beside-d.radius, float64(l.Clearance)+2*e)
		}
	}
	best, _ := one.of(0, k)
	for i := range k {
		cell := one.bunch[i].cell
		need(layout.RuleGapMin, apart(i, i+1), float64(cell.Lo))
		need(layout.RuleGapMax, float64(cell.Hi), apart(i, i+1))
		if i < k-1 {
			a, b := float64(cell.Hi), float64(one.bunch[i+1].cell.Hi)
			side := func(angle units.Radians) float64 {
				return math.Sqrt(max(0, a*a+b*b-2*a*b*math.Cos(float64(angle))))
			}
			if best.Apart() > 0 {
				need(layout.RuleGapMin, apart(i, i+2), side(best.Apart()))
			}
			need(layout.RuleGapMax, side(best.Below()), apart(i, i+2))
		}
	}
	if weight := r.hd.demand.Weight; weight.X == 0 && weight.Y != 0 {
		drop, far := y(k-1)-y(k), float64(one.bunch[k-1].cell.Hi)
		if weight.Y > 0 {
			drop = -drop
		}
		need(layout.RuleRise, drop, -math.Cos(float64(one.outputBest.Apart()))*far)
		need(layout.RuleRise, -math.Cos(float64(one.outputBest.Below()))*far, drop)
	}
	// A band and an axle that it does not turn: the free strands, and the rims on which it lies.
	bandsHave, bandsAtMost = math.Inf(1), math.Inf(1)
	for i, p := range r.pairs[:k] {
		half := float64(r.thickness(r.states[i])) / 2
		r1, r2 := float64(r.pulleys[p.driver].Part.GrooveFloor)/2+half, float64(r.pulleys[p.driven].Part.GrooveFloor)/2+half
		dx, dy, c := (x(i+1)-x(i))/apart(i, i+1), (y(i+1)-y(i))/apart(i, i+1), apart(i, i+1)
		far := r2
		if r.states[i].crossed {
			far = -r2
		}
		if c <= r1+r2 {
			continue
		}
		for j := range k + 1 {
			if j == i || j == i+1 || j == 0 && plan.Lane[i] != plan.Lane[0] && !slices.Contains(plan.ShaftLanes, plan.Lane[i]) {
				continue // its own, or the motor's shaft, which ends before
			}
			strands, rims := math.Inf(1), min(math.Hypot(x(j)-x(i), y(j)-y(i))-r1, math.Hypot(x(j)-x(i+1), y(j)-y(i+1))-r2)
			for _, side := range []float64{1, -1} {
				s := (r1 - far) / c
				nx, ny := dx*s-side*dy*math.Sqrt(1-s*s), dy*s+side*dx*math.Sqrt(1-s*s)
				x1, y1, x2, y2 := x(i)+nx*r1, y(i)+ny*r1, x(i+1)+nx*far, y(i+1)+ny*far
				t := min(1, max(0, ((x(j)-x1)*(x2-x1)+(y(j)-y1)*(y2-y1))/((x2-x1)*(x2-x1)+(y2-y1)*(y2-y1))))
				strands = min(strands, math.Hypot(x(j)-x1-t*(x2-x1), y(j)-y1-t*(y2-y1)))
			}
			spare := half + axle[j] + float64(l.Clearance) + 2*e
			bandsAtMost = min(bandsAtMost, strands-spare)
			bandsHave = min(bandsHave, min(strands, rims)-spare)
		}
	}
	return rules, bandsHave, bandsAtMost
}

// TestHolesByTheRules puts drawn drives of every kind of model, with rails and without, on a
// floor and without, on drawn holes, and holds which rules these break to the rules as
// written.
func TestHolesByTheRules(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(101, 103))
	told := []string{layout.RuleGrid, layout.RuleZone, layout.RuleOutline, layout.RuleGround, layout.RuleBodyFrame, layout.RuleApart,
		layout.RuleGapMin, layout.RuleGapMax, layout.RuleRise, layout.RuleBody, overFloor}
	seen, bands, clear := map[string]int{}, 0, 0
	for name, s := range briefs(t) {
		was := s.brief.Frame
		for try := 0; try < 250 && len(s.heads) > 0; try++ {
			f := &s.brief.Frame
			*f = was
			f.Pitch, f.Overhang, f.Depth = 10, mm(r.IntN(3)*10), was.Depth*mm(0.5+r.Float64()/2)
			f.Length, f.Height = mm(120+10*r.IntN(18)), mm(90+10*r.IntN(10))
			f.MotorZone = brief.Rect{X0: mm(10 * r.IntN(3)), Y0: mm(10 * r.IntN(3)), X1: f.Length, Y1: f.Height - mm(10*r.IntN(4))}
			f.OutputZone = brief.Rect{X0: mm(10 * r.IntN(3)), X1: f.Length - mm(10*r.IntN(4)), Y1: f.Height}
			f.Rails = nil
			if r.IntN(3) == 0 {
				f.Rails = []mm{5, 25, 60, 85}
			}
			f.HasGround, f.Ground = r.IntN(3) == 0, -mm(r.IntN(60))/2
			s.brief.Limits.Clearance = 0.5 + mm(r.IntN(30))/10
			h := r.IntN(len(s.heads))
			w := newWalk(context.Background(), &ranking{keep: 1}, nil)
			row := &row{space: s, walk: w, hd: &s.heads[h], head: h, level: s.levels[r.IntN(len(s.levels))], lies: s.heads[h].liesFor()}
			_, one, _ := drawn(row, r)
			if one == nil {
				continue
			}
			plans := row.lanePlans()
			if len(plans) == 0 {
				continue
			}
			for range 60 {
				plan := &plans[r.IntN(len(plans))]
				at := row.drawHoles(one, r)
				p := row.problem(row.made, plan, row.windowsOf(one))
				got := map[string]bool{}
				for _, v := range layout.Check(p, at) {
					switch v.Rule {
					case layout.RuleGrid, layout.RuleZone, layout.RuleOutline, layout.RuleGround, layout.RuleBody:
						got[fmt.Sprint(v.Rule, v.Shafts[0])] = true
					default:
						got[fmt.Sprint(v.Rule, several)] = true
					}
				}
				// Of the rises those that the floor asks for, by themselves.
				if weight := row.hd.demand.Weight; weight.X == 0 && weight.Y != 0 {
					lie := p.Rises[len(p.Rises)-1]
					p.Gaps, p.Rises = nil, p.Rises[:len(p.Rises)-1]
					for _, v := range layout.Check(p, at) {
						if v.Rule == layout.RuleRise {
							got[fmt.Sprint(overFloor, v.Shafts[0])] = true
						}
					}
					p.Rises = []layout.Rise{lie}
					delete(got, fmt.Sprint(layout.RuleRise, several))
					for _, v := range layout.Check(p, at) {
						if v.Rule == layout.RuleRise {
							got[fmt.Sprint(v.Rule, several)] = true
						}
					}
				}
				want, have, most := row.brokenBy(one, plan, at)
				for _, rule := range told {
					for shaft := several; shaft <= row.hd.stages; shaft++ {
						key := fmt.Sprint(rule, shaft)
						require.Equal(t, want[key], got[key], "%s: %s: %v, %v, lanes %v, frame %+v, level %v", name, key, at, row.describe(0), plan, *f, row.level)
						if want[key] {
							seen[rule]++
						}
					}
				}
				if most < -1e-6 {
					require.True(t, got[fmt.Sprint(layout.RuleBandShaft, several)] || want[fmt.Sprint(layout.RuleApart, several)], "%s: a band runs into an axle: %v, %v", name, at, row.describe(0))
					bands++
				}
				if have > 1e-6 && !want[fmt.Sprint(layout.RuleApart, several)] && sharesNoLane(plan) {
					require.False(t, got[fmt.Sprint(layout.RuleBandShaft, several)], "%s: no band runs into an axle: %v, %v", name, at, row.describe(0))
					clear++
				}
			}
		}
		s.brief.Frame = was
	}
	t.Log(seen, bands, clear)
	for _, rule := range told {
		assert.Greater(t, seen[rule], 100, rule)
	}
}

func sharesNoLane(plan *layout.LanePlan) bool {
	lanes := slices.Clone(plan.Lane)
	slices.Sort(lanes)
	return len(slices.Compact(lanes)) == len(plan.Lane)
}

// drawHoles draws holes that mostly are about as far apart as the spacings are, on the grid and
// within the frame, so that a rule is often broken alone.
func (r *row) drawHoles(one *box, from *rand.Rand) []layout.Point {
	f := &r.brief.Frame
	grid := func(v mm) mm {
		if from.IntN(60) == 0 {
			return v
		}
		return f.Pitch * mm(math.Round(float64(v/f.Pitch)))
	}
	high := func(v mm) mm {
		if len(f.Rails) == 0 || from.IntN(60) == 0 {
			return grid(v)
		}
		return f.Rails[from.IntN(len(f.Rails))]
	}
	out := []layout.Point{{X: grid(f.Length * mm(from.Float64())), Y: high(f.Height * mm(from.Float64()))}}
	for i := range r.hd.stages {
		next := out[i]
		for range 200 {
			way := 2 * math.Pi * from.Float64()
			c := one.bunch[i].cell
			apart := c.Lo + (c.Hi-c.Lo)*mm(from.Float64())
			next = layout.Point{X: grid(out[i].X + apart*mm(math.Cos(way))), Y: high(out[i].Y + apart*mm(math.Sin(way)))}
			d := mm(math.Hypot(float64(next.X-out[i].X), float64(next.Y-out[i].Y)))
			if d >= c.Lo && d <= c.Hi && next.X > 0 && next.Y > 0 && next.X < f.Length && next.Y < f.Height {
				break
			}
		}
		out = append(out, next)
	}
	return out
}
