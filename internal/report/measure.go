package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/measure"
)

// MeasureText writes what readings taught, for the people who took them: what it
// says about their motor and bands in plain words, what is odd, and what the drive is
// now foretold to do; and, where a count is not what was due, what may be wrong with the
// model. found may be nil. The error is from w.
func MeasureText(w io.Writer, r *measure.Result, found *built.Diagnosis, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.heading("What was measured on " + clean(r.Build.Name))
	for i := range r.Readings {
		j := &r.Readings[i]
		p.hang(0, 2, "- "+readingWords(r, j))
		if j.Question != "" {
			p.emphasised(2, 2, questionedWords(j), bold)
		}
	}
	p.blank()
	p.heading("What it says")
	for _, s := range learnedWords(r) {
		p.say(0, s)
	}
	if now := nowWords(r); now != "" {
		p.say(0, now+" That is this very model with these cells; the range that propose gives is wider, for it is that of any table's, whose motors, cells and bands differ.")
	}
	if found != nil {
		p.blank()
		p.heading("If the model is not as the file says")
		switch {
		case found.Beyond:
			p.say(0, tooFarWords)
		case found.Runs:
			p.say(0, "It turns, where by its file it should stand. "+runsWords(found))
		default:
			p.say(0, "The count is not what this drive should do. Look first, in one minute:")
			for _, s := range found.Looks() {
				p.hang(0, 2, "- "+whole(s))
			}
			p.say(0, "What it may come from, likeliest first, each worked out:")
		}
		p.suspects(r.Build, found)
	}
	p.blank()
	p.say(0, "Ranges hold the truth about 19 times in 20. They rest on what is taken beforehand: a motor's sheet is good to a fifth either way, a band to 30 %, a count to half a turn and 0.3 s. A motor from the same bag may differ: count each.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

// learnedWords are what readings teach of motor, bands and friction, a sentence or more each.
func learnedWords(r *measure.Result) []string {
	var says []string
	if r.Counted {
		says = append(says, motorLearned(r))
	}
	for i := range r.Bands {
		says = append(says, bandLearned(&r.Bands[i]))
	}
	for i := range r.Rubbing {
		if words := rubbingLearned(&r.Rubbing[i]); words != "" {
			says = append(says, words)
		}
	}
	switch {
	case !r.Counted && len(r.Bands) == 0 && len(r.Rubbing) == 0:
		says = append(says, "Nothing yet: no reading could be learned from.")
	case len(says) == 0:
		says = append(says, "What was to be expected, so that nothing new is learned.")
	}
	return says
}

// nowWords are what the drive is worked out at by the readings; empty if they say nothing of
// it.
func nowWords(r *measure.Result) string {
	if r.Output.Before.Likely <= 0 || !r.Counted && len(r.Bands) == 0 && len(r.Rubbing) == 0 {
		return ""
	}
	unit, per := measure.Scale(r.Build, timed(r))
	after, before := scaled(r.Output.After, per), scaled(r.Output.Before, per)
	return fmt.Sprintf("This drive is now worked out at %s %s (%s); before, %s (%s).",
		significant(after.Likely, 3), unit, between(after, 3), significant(before.Likely, 3), between(before, 3))
}

// questionedWords say why a reading is not learned from.
func questionedWords(j *measure.Judged) string {
	end := "."
	if strings.HasSuffix(j.Question, "?") {
		end = ""
	}
	return "Questioned, and not learned from: " + j.Question + end
}

func readingWords(r *measure.Result, j *measure.Judged) string {
	unit, per := measure.Scale(r.Build, j.Kind == measure.Travel)
	if j.Kind == measure.Turns {
		unit += " of the output"
	}
	switch {
	case j.Kind == measure.Slip:
		return fmt.Sprintf("%s at the rim: a band slips at %s N; %s N was to be expected.", clean(j.Words), significant(j.Read, 2), between(j.Foretold, 2))
	case j.Kind == measure.Drag:
		return fmt.Sprintf("%s to keep it turning, band off: %s N; %s N was to be expected.", clean(j.Words), significant(j.Read, 2), between(j.Foretold, 2))
	case j.Kind == measure.Hung || j.Kind == measure.Pulled:
		return fmt.Sprintf("%s: the band pulls %s times as hard as plain rubber; %s was to be expected.", clean(j.Words), significant(j.Read, 2), between(j.Foretold, 2))
	case j.Foretold.Likely == 0:
		return fmt.Sprintf("%s: %s %s.", clean(j.Words), significant(j.Read*per, 3), unit)
	}
	return fmt.Sprintf("%s: %s %s; %s was to be expected.", clean(j.Words), significant(j.Read*per, 3), unit, between(scaled(j.Foretold, per), 2))
}

// scaled is a value in another unit.
func scaled(v measure.Value, per float64) measure.Value {
	return measure.Value{Likely: v.Likely * per, Share: v.Share}
}

// timed reports whether all that was counted was a way, so that the drive is told by its
// travel.
func timed(r *measure.Result) bool {
	ways, turns := 0, 0
	for i := range r.Readings {
		switch r.Readings[i].Kind {
		case measure.Travel:
			ways++
		case measure.Turns:
			turns++
		}
	}
	return ways > 0 && turns == 0
}

func between(v measure.Value, digits int) string {
	return significant(v.Low(), digits) + " to " + significant(v.High(), digits)
}

func motorLearned(r *measure.Result) string {
	m := r.Build.Drive.Motor
	off := r.Motor.After.Likely/r.Motor.Before.Likely - 1
	than := "just as fast as the cupboard says"
	if math.Abs(off) >= 0.005 {
		than = percent(math.Abs(off)) + map[bool]string{true: " faster", false: " slower"}[off > 0] + " than the cupboard says"
	}
	s := fmt.Sprintf("Motor %s: in this drive it turns about %s times a minute. Free of all load, at %s V, it would turn about %s times a minute (%s): %s. Before, all that was known was %s.",
		m.Name, significant(float64(r.InDrive), 2), significant(float64(m.Rated), 2), significant(r.Motor.After.Likely, 3), between(r.Motor.After, 3), than, between(r.Motor.Before, 3))
	if off < -cellsToo {
		s += " That is so if the cells are new: part-used ones do the same, and fresh ones tell."
	}
	if !r.Narrow() {
		s += " " + notNarrow(r)
	}
	return s
}

// notNarrow says what would make a motor known better.
func notNarrow(r *measure.Result) string {
	if r.Longer {
		return fmt.Sprintf("That is not yet as narrow as the %s of a good count: count for longer.", percent(drive.CountedUncertainty))
	}
	return "Counting longer would not narrow that much: what friction and cells take of it is not known better."
}

// cellsToo is by how much slower a motor must seem for its cells to be asked about: what a
// cell loses in its first lessons (judgement).
const cellsToo = 0.03

// rubbingLearned says what was learned of friction; nothing where that is next to nothing.
func rubbingLearned(l *measure.Learned) string {
	if l.After.Share > 0.97*l.Before.Share {
		return ""
	}
	what := map[string]string{"grip": "Grip of band in groove: a coefficient of about", "bearings": "Friction of axles in their holes: a coefficient of about", "load friction": "What the load takes to turn, over what the file makes of it: about"}[l.Name]
	return fmt.Sprintf("%s %s (%s); before, %s. This holds for this drive only and is not written into a calibration.", what, significant(l.After.Likely, 2), between(l.After, 2), between(l.Before, 2))
}

func bandLearned(b *measure.Learned) string {
	s := fmt.Sprintf("Band %s: it pulls about %s times as hard as plain rubber (%s); before, %s.", b.Name, significant(b.After.Likely, 2), between(b.After, 2), between(b.Before, 2))
	if b.After.Share > drive.WeighedBandUncertainty+0.005 {
		s += " That is not yet narrow enough to be written down: hang a mass that stretches it by about half, and read it to the millimetre."
	}
	return s
}

// MeasureSchemaVersion is raised when a key of the file of what was learned changes
// its meaning or goes. Keys may be added without raising it.
const MeasureSchemaVersion = 1

type measureFile struct {
	Schema   int           `json:"schema"`
	Kind     string        `json:"kind"` // "measured drive"
	Name     string        `json:"name"`
	Readings []readingJSON `json:"readings"`
	Motor    learnedJSON   `json:"motor_free_rpm"`
	Counted  bool          `json:"motor_learned"`
	Narrow   bool          `json:"motor_as_counted"`
	InDrive  *number       `json:"motor_in_drive_rpm"`
	Bands    []learnedJSON `json:"band_pull_factors"`
	Rubbing  []learnedJSON `json:"friction"` // coefficients; a factor for the load's
	Output   *learnedJSON  `json:"output_rpm"`
	// Found is what may be wrong with the model; null if the counts are what was due.
	Found *diagnosisJSON `json:"diagnosis"`
}

type readingJSON struct {
	Kind     string    `json:"kind"`
	Words    string    `json:"words"`
	Read     number    `json:"read"` // output rpm, pull factor, or newtons
	Foretold rangeJSON `json:"foretold"`
	Question string    `json:"question"`
}

type learnedJSON struct {
	Name   string    `json:"name"`
	Before rangeJSON `json:"before"`
	After  rangeJSON `json:"after"`
}

// MeasureJSON writes what readings taught, for other programs. found may be nil. The error
// is from w.
func MeasureJSON(w io.Writer, r *measure.Result, found *built.Diagnosis) error {
	f := measureFile{Schema: MeasureSchemaVersion, Kind: "measured drive", Name: r.Build.Name, Motor: learnedOf(&r.Motor), Counted: r.Counted,
		Narrow: r.Narrow(), InDrive: positive(r.InDrive), Readings: []readingJSON{}, Bands: []learnedJSON{}, Rubbing: []learnedJSON{}}
	for i := range r.Readings {
		j := &r.Readings[i]
		f.Readings = append(f.Readings, readingJSON{string(j.Kind), clean(j.Words), number(j.Read), valueJSON(j.Foretold), j.Question})
	}
	for i := range r.Bands {
		f.Bands = append(f.Bands, learnedOf(&r.Bands[i]))
	}
	for i := range r.Rubbing {
		f.Rubbing = append(f.Rubbing, learnedOf(&r.Rubbing[i]))
	}
	if r.Output.Before.Likely > 0 {
		l := learnedOf(&r.Output)
		f.Output = &l
	}
	if found != nil {
		f.Found = diagnosisOf(found)
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}

func learnedOf(l *measure.Learned) learnedJSON {
	return learnedJSON{l.Name, valueJSON(l.Before), valueJSON(l.After)}
}

func valueJSON(v measure.Value) rangeJSON {
	return rangeJSON{Low: number(v.Low()), Likely: number(v.Likely), High: number(v.High())}
}
