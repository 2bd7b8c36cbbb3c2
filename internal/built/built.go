// Package built is about a drive that stands on the table: what was built, as its
// builder describes it, and what the same engine that proposes drives makes of it.
//
//	read.go     the file that describes a drive; read_holes.go where its axles are
//	write.go    the same file written; write_parts.go its parts
//	variation.go a proposed or placed drive as it would stand on the table
//	work.go     the drive at work
//	joint.go    how each part sits on its shaft; wanted.go the way it is to turn
//	rules.go    every rule, kept or broken
//	frame.go    the drive in its frame
//	ask.go      short answers to what people ask about it: ask_bands.go, ask_fast.go;
//	            heard.go which question words mean
//	sign.go     what people see, hear and feel go wrong
//	hearing.go  their words as signs, by readings.go and sayings.go; lexicon.go, words.go
//	            what words mean; subject.go what is not wrong; compared.go which of two
//	            figures is faster; squeaks.go a noise among other signs; quoted.go the
//	            numbers of parts; named.go, states.go, phrases.go faults that they
//	            name; telling.go those that they tell of, by learn.go and terms.go
//	fault.go    what can be wrong with a model; shows.go how it shows
//	tamper.go   the drive with a fault in it; tamper_parts.go with wrong parts; days.go from
//	            day to day
//	diagnose.go what may be wrong, by all that was seen and counted; evidence.go how likely
//	            that is with each fault, suspects.go the faults ranked, checks.go looks that
//	            tell them apart
//	advice.go   the answer to one sign
//	symptom.go  some signs as a measure of the drive's own numbers
//	cause.go    which causes those numbers support
//	change.go   which change from the cupboard cures; steps.go the single ones
//	restage.go  a drive of more stages, where no change does
//	enough.go   what would cure where none does
package built

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Build is a drive as it was built. Its axles are placed from the holes, or from the
// centre distances and the ways the stages run; the motor's shaft is at nought.
type Build struct {
	Name  string
	Drive *drive.Drive
	// Brief is what the drive is to move, and how fast; the speed is 0 where the
	// builder did not say.
	Brief *brief.Brief
	// Cupboard is what there is to change it with: the user's cupboard and the
	// parts that the drive's own file describes.
	Cupboard *parts.Cupboard
	// Alone is whether no cupboard is known, so that Cupboard has the drive's own parts only.
	Alone bool
	// Framed is whether the file has a frame, which is then the brief's. MotorAt is
	// where in it the motor's shaft is; nil if the file does not say.
	Framed  bool
	MotorAt *layout.Point
}

// Way is where a stage's driven axle lies from its driver, seen from the front.
type Way string

// The ways of a stage.
const (
	Right Way = "right"
	Left  Way = "left"
	Up    Way = "up"
	Down  Way = "down"
)

// step is one millimetre that way.
func (w Way) step() layout.Point {
	return map[Way]layout.Point{Right: {X: 1}, Left: {X: -1}, Up: {Y: 1}, Down: {Y: -1}}[w]
}

// place moves the axles to the given centre distances, each stage the way it lies.
func place(d *drive.Drive, centres []units.Millimetres) {
	was := d.Positions
	d.Positions = []layout.Point{was[0]}
	for i, c := range centres {
		step := layout.Point{X: 1}
		if by := drive.Distance(was[i], was[i+1]); by > 0 {
			step = layout.Point{X: (was[i+1].X - was[i].X) / by, Y: (was[i+1].Y - was[i].Y) / by}
		}
		from := d.Positions[i]
		d.Positions = append(d.Positions, layout.Point{X: from.X + step.X*c, Y: from.Y + step.Y*c})
	}
}

// centres are the centre distances of a placed drive.
func centres(d *drive.Drive) []units.Millimetres {
	out := make([]units.Millimetres, len(d.Stages))
	for i := range out {
		out[i] = d.Centre(i)
	}
	return out
}

// copied is the same build with a drive of its own, which may be changed.
func (b *Build) copied() *Build {
	out := *b
	d := *b.Drive
	d.Stages, d.Axles, d.Positions = slices.Clone(d.Stages), slices.Clone(d.Axles), slices.Clone(d.Positions)
	out.Drive = &d
	return &out
}
