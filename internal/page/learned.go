package page

import (
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/measure"
	"findrive/internal/pattern"
	"findrive/internal/remembered"
	"findrive/internal/report"
	"findrive/internal/units"
)

// The names of what was learned and of the model that was counted, as they are saved.
const (
	learnedName = "calibration.toml"
	modelName   = "drive.toml"
)

// fileWords stand before the name of a file among what was learned from.
const fileWords = "the file "

// What tells a file of what was learned, and that of a model, from a cupboard.
var (
	countedLines   = pattern.Must(`(?m)^[ \t]*\[?counted[ \t]*\.`)
	learnedLines   = pattern.Must(`(?m)^[ \t]*(counted_speed|speed_known_to|free_speed|hung_mass)[ \t]*=`)
	describedLines = pattern.Must(`(?m)^[ \t]*(\[(pulley|cells|axle|sleeve|spacer|wheel|drum|block|cord|sheet|cutter)\.|(rated|size|flat_length|width|thickness|count)[ \t]*=)`)
	modelLines     = pattern.Must(`(?m)^[ \t]*\[{0,2}(stage[ \t]*[.\]]|drive[ \t]*[\]=.])`)
)

// isLearned is whether a TOML file says what was learned of motors and bands, and does not
// describe them.
func isLearned(text string) bool {
	if countedLines.MatchString(text) {
		return true
	}
	return learnedLines.MatchString(text) && !describedLines.MatchString(text) && !modelLines.MatchString(text) && !briefLines.MatchString(text)
}

// taught is what the last counts say.
type taught struct {
	readings, says []string
	kept           bool // whether anything was learned
}

// learnedFrom says what was learned from, in a line; empty if nothing was.
func (s *Session) learnedFrom() string {
	if s.Learned == "" {
		return ""
	}
	var counts, from []string
	for _, c := range s.Counts {
		if strings.HasPrefix(c, fileWords) || strings.HasPrefix(c, classWords) {
			from = append(from, c)
		} else {
			counts = append(counts, c)
		}
	}
	switch n := len(counts); {
	case n == 1:
		from = append(from, "1 count: "+counts[0])
	case n > 1:
		from = append(from, fmt.Sprintf("%d counts: %s", n, strings.Join(counts, "; ")))
	}
	return "Learned from " + strings.Join(from, ", and from ") + "."
}

// countedDrive is the drive of the list that is the very model that was counted last; nil if
// none is. It stays the one that is taken, whatever leads by what was learned.
func (s *Session) countedDrive() *report.ToldDrive {
	r := s.answer.result
	if s.Model == "" || len(r.Cupboard.Remembered) == 0 {
		return nil
	}
	for i := range r.Proposals {
		q := &r.Proposals[i]
		b := r.Brief
		if q.Tackle != nil {
			b = b.With(q.Tackle.Tackle)
		}
		if is := remembered.Of(q.Drive, b); remembered.Same(&r.Cupboard.Remembered[0], &is) {
			return s.answer.told.Drives[i]
		}
	}
	return nil
}

// learnedPart is what is known by counting, and what can be done with it.
func (s *Session) learnedPart(r read) g.Node {
	if s.Learned == "" {
		return nil
	}
	var known g.Node
	if r.cup != nil && len(r.problems[learnedName]) == 0 {
		known = drivesList(report.TellLearned(r.cup))
	} else if len(r.problems[learnedName]) > 0 {
		known = h.P(h.Class("warn"), g.Text("It does not belong to this cupboard. Forget it, or open the cupboard that it was learned with."))
	}
	return h.Section(h.ID("learned"), h.Class("trouble"), h.Aria("labelledby", "learned-head"),
		h.H3(h.ID("learned-head"), g.Text("What was learned")),
		h.P(h.ID("learned-from"), g.Text(s.learnedFrom()+" All answers reckon with it.")),
		known,
		h.P(h.Class("links"), button("save-learned", "save", "learned", "", "Save what was learned"), button("forget", "forget", "", "quiet", "Forget it")))
}

// taughtPart is what the last counts say.
func (s *Session) taughtPart() g.Node {
	if len(s.taught.readings) == 0 {
		return nil
	}
	words := "It is kept, and all answers reckon with it."
	if !s.taught.kept {
		words = "Nothing was learned from it."
	}
	return h.Section(h.ID("taught"), h.Class("trouble"), h.Aria("labelledby", "taught-head"),
		h.H3(h.ID("taught-head"), g.Text("What the count says")), list(s.taught.readings), list(s.taught.says), h.P(g.Text(words)))
}

// actLearn learns from what was counted on the model, with what was learned before, and
// keeps it. It is what the command line's measure does with the same files.
func (s *Session) actLearn(d doing) {
	r := s.read()
	if !s.stands(r) {
		return
	}
	s.trouble = trouble{seen: strings.TrimSpace(d.Form["seen"]), counted: strings.TrimSpace(d.Form["counted"])}
	s.taught = taught{}
	fail := func(words string) {
		s.trouble.failed = units.Capital(strings.TrimSuffix(plain(words), ".")) + "."
		d.reply.Focus = "built-counted"
	}
	if s.trouble.counted == "" {
		fail("say what you counted")
		return
	}
	b, err := s.model(r)
	if err != nil {
		fail(err.Error())
		return
	}
	readings, err := measure.FromField(s.trouble.counted, b.Cupboard.Bands)
	if err != nil {
		fail(err.Error())
		return
	}
	result, err := measure.Learn(b, readings)
	if err != nil {
		fail(err.Error())
		return
	}
	var words []string
	for i := range result.Readings {
		if result.Readings[i].Question == "" {
			words = append(words, result.Readings[i].Words)
		}
	}
	s.taught.readings, s.taught.says = report.TellReadings(result)
	d.reply.Focus = "taught-head"
	data := result.Calibration()
	if len(words) == 0 || data == nil {
		return
	}
	s.taught.kept = true
	rank := 0
	if s.Model == "" {
		rank = s.chosen().Drive.Rank
	}
	s.alter("what was learned from "+strings.Join(words, "; "), func(f *files) {
		if rank > 0 {
			f.Model = string(b.WriteListed(rank))
		}
		f.Learned = string(data)
		f.Counts = append(append([]string(nil), f.Counts...), words...)
	})
	s.trouble = trouble{}
}

// actForget forgets what was learned; the model that was counted stays.
func (s *Session) actForget(d doing) {
	s.alter("forgetting what was learned", func(f *files) { f.Learned, f.Counts = "", nil })
	s.taught = taught{}
	s.said = "What was learned is forgotten. Undo brings it back."
	d.reply.Focus = "step-" + stepBuilt
}

// actPutAway puts the model that was counted away: what is told next is told of the drive
// that is chosen.
func (s *Session) actPutAway(d doing) {
	s.alter("putting the model away", func(f *files) { f.Model = "" })
	s.taught, s.trouble = taught{}, trouble{}
	d.reply.Focus = "step-" + stepBuilt
}
