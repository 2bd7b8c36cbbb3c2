package page

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/demo"
)

// files are what the user has: everything that can be undone.
type files struct {
	Cupboard string   // cupboard.toml
	Brief    string   // brief.toml
	Prices   string   // prices.toml, or a price list as it was pasted; may be empty
	Learned  string   // calibration.toml: what counting taught; may be empty
	Counts   []string // what it was learned from, in words
	Class    string   // what every group of the class counted, as it was typed or pasted
	Model    string   // drive.toml: the model on the table that was counted; empty for the chosen drive
	Rank     int      // of the drive that was chosen; 0 for the one that leads
	Left     []left   // rows of a list that could not be read
	Example  bool     // whether these are the built-in ones
}

// The steps, by name.
const (
	stepHow      = "how"
	stepList     = "list"
	stepTubs     = "tubs"
	stepCupboard = "cupboard"
	stepQuestion = "question"
	stepAnswer   = "answer"
	stepPaper    = "paper"
	stepBuilt    = "built"
	stepBuy      = "buy"
)

// change is what was done, and what was there before it.
type change struct {
	What string // "the count of axle-10"
	Step string // where it was done
	Was  files
}

type state struct {
	files
	Step   string
	past   []change // oldest first
	future []change // what was undone, the last last
}

// mostPast is how many acts can be undone.
const mostPast = 60

func example() state {
	return state{files: files{Cupboard: string(demo.Cupboard()), Brief: string(demo.Brief()), Example: true}, Step: stepAnswer}
}

// alter changes the files so that it can be undone. Nothing is noted if nothing changes.
func (s *Session) alter(what string, by func(f *files)) {
	was := s.files
	by(&s.files)
	if s.files.same(was) {
		return
	}
	if s.question() != was.question() {
		s.Example = false
		if !s.files.sameDrives(was) {
			s.Rank = 0
		}
	}
	s.past = append(s.past, change{what, s.Step, was})
	if len(s.past) > mostPast {
		s.past = s.past[1:]
	}
	s.future = nil
}

// question is all that an answer depends on.
type question struct{ cupboard, brief, learned string }

func (f files) question() question { return question{f.Cupboard, f.Brief, f.Learned} }

// sameDrives is whether two questions have the same drives for an answer, as they differ in their
// titles at most.
func (f files) sameDrives(o files) bool {
	if f.Cupboard != o.Cupboard || f.Learned != o.Learned {
		return false
	}
	a, err := brief.Read(briefName, []byte(f.Brief))
	b, ill := brief.Read(briefName, []byte(o.Brief))
	return err == nil && ill == nil && sameTask(a, b)
}

func (f files) same(o files) bool {
	return f.question() == o.question() && slices.Equal(f.Counts, o.Counts) && f.Class == o.Class && f.Model == o.Model && f.Prices == o.Prices && f.Rank == o.Rank && len(f.Left) == len(o.Left) && f.Example == o.Example
}

// undo takes back the last change, redo makes it again.
func (s *Session) undo() { s.back(&s.past, &s.future, "Taken back: ") }
func (s *Session) redo() { s.back(&s.future, &s.past, "Done again: ") }

func (s *Session) back(from, to *[]change, words string) {
	if len(*from) == 0 {
		s.said = "There is nothing to take back."
		return
	}
	s.naming = naming{} // it was of what was there
	last := (*from)[len(*from)-1]
	*from = (*from)[:len(*from)-1]
	*to = append(*to, change{last.What, last.Step, s.files})
	s.files, s.Step = last.Was, last.Step
	s.said = words + last.What + "."
}
