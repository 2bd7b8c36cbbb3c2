package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/cutting"
	"findrive/internal/units"
	"findrive/internal/views"
)

// Options are what a certificate does not say.
type Options struct {
	Sets        int     // groups; 0 for the brief's
	Kerf        float64 // what the saw takes, mm
	StripLength float64 // length of one piece of square strip, mm
	Offcuts     []Offcut
	Date        string // to be printed on every page; may be empty
}

// Offcut is a length left from before, to be used first.
type Offcut struct {
	Of     string // the name of the rod, or "strip"
	Length float64
	Count  int
}

// DefaultOptions are those of a usual workshop: a junior hacksaw takes about
// 1 mm, and square strip often comes in lengths of 600 mm (common practice).
func DefaultOptions() Options { return Options{Kerf: float64(cutting.Kerf), StripLength: 600} }

// Set is one proposal made ready to be written about.
type Set struct {
	cert    *certificate.Certificate
	drive   *certificate.Proposal
	opt     Options
	sets    int
	pulleys []fitted
	id      Identity
	views   *views.Drive
	plan    *assembly.Plan
}

// fitted is a pulley on its shaft.
type fitted struct {
	*certificate.Pulley
	letter string
	shaft  int // 0 the motor's, 1 the first axle ...
	lane   certificate.Number
}

// New makes the proposal of a rank ready. The error, in plain words, is that
// there is none of that rank, or one that cannot be drawn or put together.
func New(c *certificate.Certificate, rank int, opt Options) (*Set, error) {
	if rank < 1 || rank > len(c.Proposals) {
		if len(c.Proposals) == 0 {
			return nil, fmt.Errorf("there is no drive in it")
		}
		return nil, fmt.Errorf("there is no drive number %d: they go from 1 to %d", rank, len(c.Proposals))
	}
	s := &Set{cert: c, drive: &c.Proposals[rank-1], opt: opt, sets: opt.Sets}
	if s.sets == 0 {
		s.sets = c.Brief.Sets
	}
	built, err := assembly.Of(&c.Brief, s.drive)
	if err != nil {
		return nil, err
	}
	if s.views, err = views.Of(&c.Brief, s.drive, built); err != nil {
		return nil, err
	}
	if s.plan, err = assembly.PlanOf(built); err != nil {
		return nil, fmt.Errorf("this drive cannot be put together: %w", err)
	}
	for i := range s.drive.Stages {
		st := &s.drive.Stages[i]
		driver, driven := views.Letters(i)
		s.pulleys = append(s.pulleys, fitted{&st.Driver, driver, i, st.Lane}, fitted{&st.Driven, driven, i + 1, st.Lane})
	}
	s.id = Identity{Name: c.Brief.Name, Rank: s.drive.Rank, Date: opt.Date, Print: strings.Join([]string{
		"cupboard " + c.Prints.Cupboard, "brief " + c.Prints.Brief, "drive " + s.print()}, ", ")}
	return s, nil
}

// print is the drive's own fingerprint: which parts and where they go.
func (s *Set) print() string {
	h := sha256.New()
	d := s.drive
	fmt.Fprintf(h, "%q %q %v %v\n", d.Motor.Name, d.Cells.Name, d.Positions, d.Lanes.Centre)
	for i, st := range d.Stages {
		fmt.Fprintf(h, "%q %q %q %q %v %q\n", st.Driver.Name, st.Driven.Name, st.Band.Name, st.Use, st.Crossed, d.Axles[i].Stock)
	}
	return hex.EncodeToString(h.Sum(nil))[:8]
}

// stages and letters of a stage.
func (s *Set) last() int                      { return len(s.drive.Stages) - 1 }
func (s *Set) letters(i int) (string, string) { return s.pulleys[2*i].letter, s.pulleys[2*i+1].letter }
func (s *Set) between(i int) string           { a, b := s.letters(i); return a + " to " + b }

// onShaft lists the pulleys on a shaft, from the front.
func (s *Set) onShaft(shaft int) []fitted {
	var out []fitted
	for _, p := range s.pulleys {
		if p.shaft == shaft {
			out = append(out, p)
		}
	}
	sortStable(out, func(a, b fitted) int { return int(math.Copysign(1, float64(a.lane-b.lane))) })
	return out
}

func (s *Set) shaftName(shaft int) string {
	if shaft == 0 {
		return "motor shaft"
	}
	if shaft > len(s.drive.Stages) {
		return "free axle"
	}
	return fmt.Sprintf("axle %d", shaft)
}

// shaftLabel is the name for a table, which also says what the last axle is.
func (s *Set) shaftLabel(shaft int) string {
	if shaft == len(s.drive.Stages) {
		return units.Capital(s.shaftName(shaft)) + " (output)"
	}
	return units.Capital(s.shaftName(shaft))
}

// outputLetter is the last pulley, which turns with the output.
func (s *Set) outputLetter() string { return s.pulleys[len(s.pulleys)-1].letter }

// The model, and the words that depend on it.
const (
	uprightRide = "ride on an upright axle"
	levelRide   = "ride on a level axle"
	vehicle     = "vehicle"
	lift        = "lift"
)

func (s *Set) model() string { return s.cert.Brief.Model }
func (s *Set) upright() bool { return s.model() == uprightRide }

// what the output is, for sentences.
func (s *Set) output() string {
	switch s.model() {
	case uprightRide, levelRide:
		return "ride"
	case vehicle:
		return "wheels"
	case lift:
		return "drum"
	}
	return "output axle"
}

// sides are the names of the frame's two sides.
func (s *Set) sides() (front, back string) {
	if s.upright() {
		return "upper", "lower"
	}
	return "front", "back"
}

// seen says how a sense, which is that from the front, looks from the side the brief
// names, and how the drawing shows it where that is the other side.
func (s *Set) seen(sense string) string {
	front, back := "the front", "the back"
	if s.upright() {
		front, back = "above", "below"
	}
	switch s.cert.Brief.Direction.SeenFrom {
	case "back", "below":
		other := map[string]string{"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[sense]
		return other + ", seen from " + back + " (" + sense + " in the drawing, which is seen from " + front + ")"
	}
	return sense + ", seen from " + front
}

// fit says how a part, whose hub is so wide, is put on its shaft.
func (s *Set) fit(j *certificate.Joint, hub float64) (words string, adult bool) {
	switch j.Kind {
	case "drop of glue":
		return "a drop of glue", true
	case "sleeve":
		return s.sleeveWords(j.Sleeve, hub), true
	case "drill out":
		return "drill the bore out to " + mm(j.Shaft) + " mm, held in a vice", true
	}
	return "push on", false
}

// jointed is a part with its joint.
type jointed struct {
	letter, name, on string
	joint            *certificate.Joint
	hub              float64 // how wide the part is
	count            int     // of a set
}

// joints are all parts that sit on a shaft.
func (s *Set) joints() []jointed {
	var out []jointed
	for i := range s.pulleys {
		p := &s.pulleys[i]
		out = append(out, jointed{p.letter, p.Name, s.shaftName(p.shaft), &p.Joint, float64(p.Width), 1})
	}
	if j := s.drive.OutputJoint; j != nil {
		r := s.drive.Wheel
		if r == nil {
			r = s.drive.Drum
		}
		if r != nil {
			out = append(out, jointed{"", r.Name, s.shaftName(len(s.drive.Stages)), j, float64(r.Width), s.outside()})
		}
	}
	return out
}

// outside is how many wheels or drums a set has.
func (s *Set) outside() int {
	n := 0
	for _, p := range s.plan.Build.Parts {
		if p.Kind == assembly.Wheel || p.Kind == assembly.Drum {
			n++
		}
	}
	return n
}

// glued reports whether any joint is glued.
func (s *Set) glued() bool {
	return slices.ContainsFunc(s.joints(), func(j jointed) bool { return j.joint.Kind == "drop of glue" })
}

// bandWords name the band of a stage and how it is put on.
func bandWords(st *certificate.Stage) string {
	words := st.Band.Name
	switch st.Use {
	case "looped twice":
		words += ", wound twice round"
	case "two side by side":
		words = "2 of " + words + ", side by side"
	}
	if st.Crossed {
		words += ", crossed"
	}
	return words
}

// bandsTaken is how many bands a stage takes.
func bandsTaken(st *certificate.Stage) int {
	if st.Use == "two side by side" {
		return 2
	}
	return 1
}
