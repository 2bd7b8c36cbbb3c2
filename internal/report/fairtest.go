package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"findrive/internal/fairtest"
	"findrive/internal/units"
)

// FairTestText writes a fair test for the adult: what is changed, what stays, what to
// expect with ranges, and what else could be changed. The error is from w.
func FairTestText(w io.Writer, r *fairtest.Result, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	if r.Best == nil {
		if r.Whole {
			p.heading("No fair test of three was found.")
		} else {
			p.heading("Stopped early, and no fair test of three found so far. That does not prove there is none.")
		}
		switch {
		case r.Bases == 0:
			p.say(0, "It had not found a drive to begin with: give it more time with --time-limit.")
		case r.Whole:
			p.say(0, fmt.Sprintf("%s gave %s that would work, and no three of them differ clearly in one thing only. More sizes of pulley in the cupboard help most, then longer frames and more kinds of band.", units.Capital(count(r.Bases, "drive")), count(r.Variants, "variant")))
		default:
			p.say(0, fmt.Sprintf("%s gave %s that would work so far: give it more time with --time-limit.", units.Capital(count(r.Bases, "drive")), count(r.Variants, "variant")))
		}
		_, err := io.WriteString(w, p.text.String())
		return err
	}
	t := r.Best
	p.heading(fmt.Sprintf("A fair test: change only %s", t.Changed()))
	if !r.Whole {
		p.say(0, "Stopped early: the best of what was looked at so far; there may be better. Give it more time with --time-limit.")
	}
	p.say(0, "For the adult: the pupils' page gives no answers. "+strings.TrimSpace(t.StockWords()+" "+t.Moves()))
	p.blank()
	columns := []column{{head: "Test"}, {head: "Part"}, {head: "Ratio", right: true, fixed: true}, {head: strings.Replace(units.Capital(t.PaceUnit()), " a ", " a\n", 1)}, {head: expectHead(t)}}
	numbers := t.Numbers()
	var rows [][]string
	for i, q := range t.Predictions() {
		part := q.Variant.Part
		for _, more := range []string{q.Variant.Size, q.Variant.Fit} {
			if more != "" {
				part += ",\n" + more
			}
		}
		rows = append(rows, []string{numbers[i], part, trimmed(q.Variant.Working.Ratio, 1), strings.Replace(q.Variant.PaceRange(), " (", "\n(", 1), q.Words(t)})
	}
	p.table(2, columns, rows)
	for _, s := range t.FactorWords() {
		p.hang(2, 4, s)
	}
	p.say(2, "A good or a poor motor moves all three together, so these factors are known better than the speeds.")
	p.blank()
	p.heading("Why")
	for _, s := range t.Why() {
		p.hang(0, 2, "- "+s)
	}
	if also := t.AlsoChanges(); also != "" {
		p.hang(0, 2, "- "+also)
	}
	p.blank()
	p.heading("Keep the same")
	for _, s := range t.Same() {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "Holes, the same for all three: "+t.HoleWords()+".")
	p.blank()
	p.heading("How to count")
	for _, s := range t.HowToCount() {
		p.hang(0, 2, "- "+s)
	}
	p.fairOthers(r)
	p.blank()
	p.heading("Before anyone begins")
	for _, s := range t.Cautions() {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func expectHead(t *fairtest.Test) string {
	if t.Timed() {
		return fmt.Sprintf("Seconds for\n%s m", trimmed(t.Metres(), 1))
	}
	return fmt.Sprintf("Turns in\n%d s", t.Seconds())
}

func (p *page) fairOthers(r *fairtest.Result) {
	p.blank()
	if len(r.Others) > 0 {
		p.heading("Or change another thing")
		for _, t := range r.Others {
			var parts []string
			for _, v := range t.Drives {
				parts = append(parts, fmt.Sprintf("%s: %s", v.Part, v.Pace()))
			}
			p.hang(0, 2, fmt.Sprintf("- %s: %s %s.", units.Capital(t.Changed()), strings.Join(parts, ", "), t.PaceUnit()))
		}
	}
	weighed := fmt.Sprintf("Every three of them was weighed, %d in all.", r.Weighed)
	if !r.Whole {
		weighed = fmt.Sprintf("%d threes were weighed before it stopped.", r.Weighed)
	}
	p.say(0, fmt.Sprintf("%s and what one change makes of them gave %s that keep every rule but the wanted speed. %s", units.Capital(count(r.Bases, "drive")), count(r.Variants, "drive"), weighed))
}

// FairTestSchemaVersion is raised when a key of the file changes its meaning or goes.
const FairTestSchemaVersion = 1

type fairTestFile struct {
	Schema   int        `json:"schema"`
	Kind     string     `json:"kind"`  // "fair test"
	Tests    []fairJSON `json:"tests"` // best first, one a thing
	Bases    int        `json:"base_drives"`
	Variants int        `json:"drives_weighed"`
	Weighed  int        `json:"threes_weighed"`
	Whole    bool       `json:"all_weighed"`
}

type fairJSON struct {
	Thing   string          `json:"differs_in"`
	Stage   int             `json:"stage"` // 0: not of one stage
	Base    int             `json:"base_rank"`
	Points  number          `json:"points"`
	AtOnce  int             `json:"groups_at_once"`
	Seconds int             `json:"count_s"` // 0 where a course is timed
	Drives  []fairDriveJSON `json:"drives"`  // slowest first
}

type fairDriveJSON struct {
	Test  string    `json:"test"`
	Part  string    `json:"part"`
	Ratio number    `json:"ratio"`
	Speed rangeJSON `json:"speed_rpm"`
}

// FairTestJSON writes all tests for other programs. The error is from w.
func FairTestJSON(w io.Writer, r *fairtest.Result) error {
	f := fairTestFile{Schema: FairTestSchemaVersion, Kind: "fair test", Tests: []fairJSON{}, Bases: r.Bases, Variants: r.Variants, Weighed: r.Weighed, Whole: r.Whole}
	all := r.Others
	if r.Best != nil {
		all = append([]*fairtest.Test{r.Best}, all...)
	}
	for _, t := range all {
		j := fairJSON{Thing: string(t.Thing), Stage: t.Stage, Base: t.Rank, Points: number(t.Cost), AtOnce: t.AtOnce, Seconds: t.Seconds()}
		if t.Timed() {
			j.Seconds = 0
		}
		numbers := t.Numbers()
		for i, v := range t.Drives {
			s := v.Working.Speed
			j.Drives = append(j.Drives, fairDriveJSON{numbers[i], clean(v.Part), number(v.Working.Ratio), rangeJSON{Low: number(s.Low), Likely: number(s.Likely), High: number(s.High)}})
		}
		f.Tests = append(f.Tests, j)
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}
