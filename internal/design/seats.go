package design

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// seats are where in the frame a shaft may be with a pulley on it, by the rules about
// that shaft alone.
type seats struct {
	motor  [][]layout.Rect // [motor][pulley]
	middle []layout.Rect   // [pulley]
	output [][]layout.Rect // [wheel or drum, from -1 up][pulley]
}

// noSeat is an empty place.
var noSeat = layout.Rect{X0: 1, Y0: 1}

// findSeats works the seats out, on the thinnest axles that the frame can hold and with
// so much to spare for holes out of place.
func (t *task) findSeats(slack units.Millimetres) seats {
	outputs := 1
	switch t.brief.Model {
	case brief.Vehicle:
		outputs += len(t.wheels)
	case brief.Lift:
		outputs += len(t.drums)
	}
	s := seats{motor: make([][]layout.Rect, len(t.motors)), middle: make([]layout.Rect, len(t.pulleys)), output: make([][]layout.Rect, outputs)}
	for m := range s.motor {
		s.motor[m] = make([]layout.Rect, len(t.pulleys))
	}
	for o := range s.output {
		s.output[o] = make([]layout.Rect, len(t.pulleys))
	}
	axle := t.thinnestAxle()
	if axle == nil || len(t.motors) == 0 {
		return s
	}
	for p := range t.pulleys {
		stage := drive.Stage{Driver: &t.pulleys[p].Part, Driven: &t.pulleys[p].Part, Band: &parts.Band{}}
		for i := range max(len(s.motor), len(s.output)) {
			m, o := i%len(s.motor), i%len(s.output)
			d := drive.Drive{Motor: &t.motors[m].Part, Stages: []drive.Stage{stage, stage}, Axles: []*parts.AxleStock{axle, axle}}
			if o > 0 {
				d.Wheel, _ = t.outputParts(o - 1)
			}
			zones := layout.Zones(LayoutProblem(&d, t.brief, layout.LanePlan{Lane: []int{0, 1}}, slack))
			if zones == nil {
				zones = []layout.Rect{noSeat, noSeat, noSeat}
			}
			s.motor[m][p], s.middle[p], s.output[o][p] = zones[0], zones[1], zones[2]
		}
	}
	return s
}

// thinnestAxle is the thinnest that some pulley sits on; nil if there is none.
func (t *task) thinnestAxle() *parts.AxleStock {
	var thinnest *parts.AxleStock
	for _, p := range t.axlePulleys {
		for a := range t.axles {
			if stock := &t.axles[a].Part; len(t.onAxle[p][a]) > 0 && (thinnest == nil || stock.Diameter < thinnest.Diameter) {
				thinnest = stock
			}
		}
	}
	return thinnest
}

// at is where a shaft of a drive, counted from the motor's, may be with a pulley.
func (s *seats) at(h *head, shaft, pulley int) layout.Rect {
	switch shaft {
	case 0:
		return s.motor[h.motor][pulley]
	case h.stages:
		return s.output[h.output+1][pulley]
	}
	return s.middle[pulley]
}

func seated(at layout.Rect) bool { return at.X0 <= at.X1 && at.Y0 <= at.Y1 }

// seatNoise covers rounding where shafts are just as far apart as their seats let them.
const seatNoise = 1e-6

// farthest is the longest distance from one seat to another.
func farthest(a, b layout.Rect) units.Millimetres {
	x, y := max(b.X1-a.X0, a.X1-b.X0), max(b.Y1-a.Y0, a.Y1-b.Y0)
	return units.Millimetres(math.Hypot(float64(x), float64(y)) + seatNoise)
}

// onStage is a stage of a drive with its pulleys.
func (t *task) onStage(index int, h *head, driver, driven int) *onStage {
	far := farthest(t.seats.at(h, index, driver), t.seats.at(h, index+1, driven))
	on := &onStage{
		index: index, driver: driver, driven: driven,
		far:  far + t.halfStep, // a mark may lie beyond what it stands for
		drag: t.axleDrag[driven], weighs: t.leastOwn[driven], driverWeighs: t.weightOn(driver),
	}
	if r := t.riseOf(h, index, driver, driven); r != nil {
		on.lie = r.best(drive.InLine, (t.pulleys[driver].Part.Outside+t.pulleys[driven].Part.Outside)/2) // they run in one lane
	}
	return on
}
