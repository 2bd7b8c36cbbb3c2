package mechanics

import (
	"testing"

	"findrive/internal/units"
)

func classroomStage() Stage {
	return Stage{
		DriverFloor: 8, DrivenFloor: 40, Friction: 0.5,
		Band: Loop{Rest: 150, Width: 1.5, Thickness: 1, Strands: 1, PullFactor: 1, Rubber: DefaultRubber()},
	}
}

func BenchmarkFit(b *testing.B) {
	s := classroomStage()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Fit(50); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCentreAtStretch(b *testing.B) {
	s := classroomStage()
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := s.CentreAtStretch(1.2); !ok {
			b.Fatal("too close")
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	s := classroomStage()
	f, _ := s.Fit(50)
	greatest, _ := s.Grip(f)
	for _, c := range []struct {
		name  string
		share units.Newtons
	}{{"tenth", 0.1}, {"half", 0.5}, {"nearly all", 0.97}, {"slips", 1.1}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Load(f, c.share*greatest)
			}
		})
	}
}

func BenchmarkGrip(b *testing.B) {
	s := classroomStage()
	f, _ := s.Fit(50)
	b.ReportAllocs()
	for b.Loop() {
		s.Grip(f)
	}
}

func BenchmarkLoads(b *testing.B) {
	s := classroomStage()
	f, _ := s.Fit(50)
	greatest, _ := s.Grip(f)
	var pulls []units.Newtons
	for k := range 9 {
		pulls = append(pulls, greatest*units.Newtons(k)/8.01)
	}
	b.ReportAllocs()
	for b.Loop() {
		s.Loads(f, pulls)
	}
}
