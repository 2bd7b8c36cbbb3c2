// Package explain tells what a drive does and why, with its own figures, to a child, a
// teacher or a technician.
//
//	drive.go       what is told about, from a certificate or from what was built
//	whole.go       ratios in small whole numbers
//	multiply.go    the way a stage changes turning
//	count.go       how turns are counted
//	pupil.go, teacher.go, technician.go
//	               the three ways of telling it
//	curriculum.go  the lines of school curricula, from curriculum.toml
//	cautions.go    what to remind people of, by the steps of making
package explain

// Reader is whom the story is for.
type Reader string

// The readers.
const (
	Pupil      Reader = "pupil"
	Teacher    Reader = "teacher"
	Technician Reader = "technician"
)

// Readers lists every reader.
func Readers() []Reader { return []Reader{Pupil, Teacher, Technician} }

// Section is a heading with its lines: sentences with their full stops.
type Section struct {
	Heading string
	Lines   []string
}

// Story is a drive told to one reader.
type Story struct {
	Drive    *Drive
	For      Reader
	Sections []Section
	// Curriculum is what it covers in the places asked for; none for pupils.
	Curriculum []Line
	Cautions   []Caution
}

// Tell tells a drive to a reader, with the curriculum of a place: one of Places, or
// empty for none.
func Tell(d *Drive, to Reader, place string) *Story {
	s := &Story{Drive: d, For: to}
	switch to {
	case Pupil:
		s.Sections = pupilSections(d)
	case Teacher:
		s.Sections = teacherSections(d)
	case Technician:
		s.Sections = technicianSections(d)
	}
	if to != Pupil && place != "" {
		s.Curriculum = linesFor(d, place)
	}
	s.Cautions = cautionsFor(d, to)
	return s
}
