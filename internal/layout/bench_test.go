package layout

import "testing"

// driveProblem is an invented drive of so many stages in a frame: 6 mm motor pulley and
// small pulleys driving large ones, one lane each, the motor's body in front.
func driveProblem(stages int, length, height mm) Problem {
	p := Problem{Outline: Rect{X1: length, Y1: height}, Grid: Grid{Pitch: 1}, Clearance: 2}
	all := make([]int, stages+1)
	for i := range all {
		all[i] = i
	}
	inset := Rect{5, 5, length - 5, height - 5}
	p.Shafts = append(p.Shafts, Shaft{Radius: 1, Zone: inset, Discs: []Disc{{4, 0}}, Lanes: []int{0}})
	for i := range stages {
		s := Shaft{Radius: 2.5, Zone: inset, Discs: []Disc{{20, i}}, Lanes: all}
		if i+1 < stages {
			s.Discs = append(s.Discs, Disc{6, i + 1})
		}
		p.Shafts = append(p.Shafts, s)
		p.Runs = append(p.Runs, Run{From: i, To: i + 1, FromPitch: 4, ToPitch: 18, Lane: i, HalfBand: 0.5})
		p.Gaps = append(p.Gaps, Gap{A: i, B: i + 1, Min: 45, Max: 60, Prefer: 50})
	}
	p.Bodies = []Box{{Shaft: 0, HalfWidth: 12, HalfHeight: 10, Lanes: []int{stages}}}
	return p
}

func BenchmarkPlace(b *testing.B) {
	thin := driveProblem(3, 220, 150)
	for i := range thin.Gaps {
		thin.Gaps[i].Min, thin.Gaps[i].Max, thin.Gaps[i].Prefer = 50.31, 50.36, 50.33
	}
	thin.Gaps = append(thin.Gaps, Gap{A: 0, B: 2, Min: 70.2, Max: 71.1}, Gap{A: 1, B: 3, Min: 70, Max: 75})
	cross := driveProblem(2, 220, 150)
	cross.Gaps = append(cross.Gaps, Gap{A: 0, B: 2, Min: 0, Max: 10})
	far := driveProblem(2, 400, 150)
	far.Gaps = append(far.Gaps, Gap{A: 0, B: 2, Min: 121, Max: 130})
	nearlyFar := driveProblem(2, 400, 150)
	nearlyFar.Gaps = append(nearlyFar.Gaps, Gap{A: 0, B: 2, Min: 119.99, Max: 130}, Gap{A: 0, B: 1, Min: 10, Max: 59.98})
	rails := driveProblem(3, 220, 150)
	rails.Grid.Heights = []mm{40, 75, 110}
	for _, c := range []struct {
		name string
		p    Problem
	}{
		{"level 1 stage", driveProblem(1, 200, 100)},
		{"level 2 stages", driveProblem(2, 200, 100)},
		{"level 4 stages", driveProblem(4, 400, 100)},
		{"folded 3 stages", driveProblem(3, 150, 130)},
		{"folded 4 stages", driveProblem(4, 140, 120)},
		{"too short 2 stages", driveProblem(2, 70, 60)},
		{"too short 4 stages", driveProblem(4, 90, 60)},
		{"thin windows", thin},
		{"cross gap too near", cross},
		{"cross gap too far", far},
		{"cross gap just too far", nearlyFar},
		{"rails", rails},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			var got Outcome
			for b.Loop() {
				_, got = Place(c.p, 200_000)
			}
			b.ReportMetric(float64(got), "outcome")
		})
	}
}
