package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/ideas"
)

// GroupsOptions steer GroupsText.
type GroupsOptions struct {
	Width  int // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool
	// Made is what can be made of discs so that all groups can build, where the brief does
	// not allow it yet; nil if nothing is known to be.
	Made *ideas.Change
}

// GroupsText writes how many groups the cupboard serves, what each builds, what
// runs out and what would serve another. The error is from w.
func GroupsText(w io.Writer, r *groups.Result, opt GroupsOptions) error {
	p := newPage(opt.Width, opt.Colour)
	name := r.Brief.Name
	if name == "" {
		name = "this brief"
	}
	if r.Served == 0 && opt.Made != nil {
		none := "no drive was found so far"
		if r.None {
			none = "not one group can build it"
		}
		p.heading(fmt.Sprintf("%s: of the parts there are %s; with pulleys made of discs all %d groups can build it.", name, none, r.Brief.Sets))
		p.madeForAll(r, &opt)
		_, err := io.WriteString(w, p.text.String())
		return err
	}
	p.heading(fmt.Sprintf("%s: %s", name, groupsOutcome(r)))
	if r.Served == 0 {
		if r.None {
			p.refusals(r.Account)
		}
		_, err := io.WriteString(w, p.text.String())
		return err
	}
	p.say(0, groupsProof(r))
	p.shares(r)
	if len(r.Shares) > 1 || len(r.Gone) > 0 {
		p.blank()
	}
	p.single(r)
	p.makeFirst("- ", madeByGroups(r))
	if gone := goneWords(r); gone != "" {
		p.hang(0, 2, "- "+gone)
	}
	if r.Served < r.Brief.Sets {
		p.another(r)
		p.madeForAll(r, &opt)
	}
	p.blank()
	p.say(0, "propose and sheet show a drive in full, with the cautions. Your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

// goneWords say what is used up, and of what too few are left for another group; empty if
// there is neither.
func goneWords(r *groups.Result) string {
	var said, gone, few []string
	for _, g := range r.Gone {
		if g.Used < g.Have {
			few = append(few, fmt.Sprintf("%s %s (%d left of %d)", g.Kind, g.Name, g.Have-g.Used, g.Have))
		} else {
			gone = append(gone, fmt.Sprintf("%s %s (%d of %d)", g.Kind, g.Name, g.Used, g.Have))
		}
	}
	if len(gone) > 0 {
		said = append(said, "Used up: "+strings.Join(gone, ", ")+".")
	}
	if len(few) > 0 {
		said = append(said, "Too few left for another group with such a drive: "+strings.Join(few, ", ")+".")
	}
	return strings.Join(said, " ")
}

// madeForAll tells what could be made so that all are served.
func (p *page) madeForAll(r *groups.Result, opt *GroupsOptions) {
	if c := opt.Made; c != nil {
		as := "one drive"
		if c.Different > 1 {
			as = fmt.Sprintf("it, of %d different drives; most of them", c.Different)
		}
		p.hang(0, 2, fmt.Sprintf("- Without buying anything: %s. Then all %d groups can build %s: %s, %s points.", c.Words, r.Brief.Sets, as, ideaSpeed(c.Drive), points(c.Drive.Total)))
	}
}

func groupsOutcome(r *groups.Result) string {
	n := r.Brief.Sets
	with := ""
	if r.Different > 0 && r.Served < n {
		with = fmt.Sprintf(" with at most %s", count(r.Different, "different drive"))
	}
	switch {
	case r.None:
		return "not one group can build it from this cupboard. Proved."
	case r.Served == 0:
		return "no drive was found in the time, which does not prove that there is none."
	case r.Served < n && r.Proved():
		return fmt.Sprintf("%d of %d groups can build it at the same time%s.", r.Served, n, with)
	case r.Served < n:
		return fmt.Sprintf("at least %d of %d groups can build it at the same time%s.", r.Served, n, with)
	case n == 1:
		return "one group can build it."
	}
	return fmt.Sprintf("all %d groups can build it at the same time.", n)
}

// groupsProof says what is proved of the plan.
func groupsProof(r *groups.Result) string {
	var said []string
	switch {
	case r.Served == r.Brief.Sets:
	case r.Proved():
		said = append(said, "Proved: no more can be served.")
	default:
		said = append(said, fmt.Sprintf("It is not proved that no more can be served: %d at most.", r.Most))
	}
	switch different := len(r.Shares); {
	case different == 1 && r.FewestPoints:
		return strings.Join(append(said, "One drive for all, and of those the one with the fewest points: proved."), " ")
	case different > 1 && r.Different == 0 && r.Fewest >= different:
		said = append(said, fmt.Sprintf("No fewer than %d different drives serve as many: proved.", different))
	case different > 1 && r.Different == 0:
		said = append(said, fmt.Sprintf("At least %d different drives are needed to serve as many; no plan with fewer than %d was found.", r.Fewest, different))
	}
	if r.Drives == 1 {
		return strings.Join(append(said, "No other drive was weighed against it."), " ")
	}
	points := "of the plans made of them this has the fewest points"
	if !r.PointsProved {
		points = "a plan with fewer points may be among those made of them"
	}
	return strings.Join(append(said, fmt.Sprintf("%s weighed against each other; %s.", wereDrives(r.Drives), points)), " ")
}

func wereDrives(n int) string {
	if n == 1 {
		return "1 drive was"
	}
	return fmt.Sprintf("%d drives were", n)
}

func (p *page) shares(r *groups.Result) {
	var rows [][]string
	for i := range r.Shares {
		s := &r.Shares[i]
		rows = append(rows, []string{fmt.Sprint(s.Groups), ideaSpeed(s.Drive), points(s.Drive.Total), driveLine(s.Drive) + "; " + bandsOf(s.Drive)})
	}
	p.blank()
	p.table(0, []column{{head: "Groups", right: true, fixed: true}, {head: "Goes", right: true, fixed: true}, {head: "Points", right: true, fixed: true}}, rows)
}

func bandsOf(q *design.Proposal) string {
	var names []string
	for i := range q.Stages {
		names = append(names, q.Stages[i].Band.Name)
	}
	if len(names) == 1 {
		return "band " + names[0]
	}
	return "bands " + strings.Join(names, ", ")
}

// single says how far one drive for all goes.
func (p *page) single(r *groups.Result) {
	s := r.Single
	if len(r.Shares) < 2 || s == nil {
		return
	}
	if s.Sets == r.Brief.Sets {
		p.hang(0, 2, fmt.Sprintf("- All could build the same drive, at %s points each: %s.", points(s.Drive.Total), driveLine(s.Drive)))
		return
	}
	said := fmt.Sprintf("- If all build the same drive, %d of %d groups can: %s.", s.Sets, r.Brief.Sets, driveLine(s.Drive))
	if s.Sets < s.Most {
		said = fmt.Sprintf("- If all build the same drive, at least %d of %d groups can, and %d at most: %s.", s.Sets, r.Brief.Sets, s.Most, driveLine(s.Drive))
	}
	var short []string
	for _, m := range s.Short {
		short = append(short, moreOf(&m))
	}
	p.hang(0, 2, fmt.Sprintf("%s For all %d it takes %s.", said, r.Brief.Sets, strings.Join(short, "; ")))
}

// moreOf says how many more of a part; of axles, rods.
func moreOf(m *groups.More) string {
	if m.Kind == "axle" {
		return fmt.Sprintf("%s of %s", count(m.Pieces, "more rod"), m.Name)
	}
	return fmt.Sprintf("%d more of %s %s", m.Pieces, m.Kind, m.Name)
}

// another says what one group more takes, and why no more can be served.
func (p *page) another(r *groups.Result) {
	if !r.Proved() {
		p.hang(0, 2, "- Buy nothing yet: more groups may do with what there is. Allow more time with --time-limit 5m.")
		return
	}
	var more []string
	for _, u := range r.Unlock {
		more = append(more, moreOf(&u))
	}
	if len(more) > 0 {
		p.hang(0, 2, "- Any one of these serves another group: "+strings.Join(more, "; ")+".")
	} else {
		p.hang(0, 2, "- No single part was found to serve another group: several run out together.")
	}
	if len(r.Bound) > 0 {
		var by []string
		for _, b := range r.Bound {
			by = append(by, fmt.Sprintf("%s %s (%d)", b.Kind, b.Name, b.Have))
		}
		p.hang(0, 2, fmt.Sprintf("- Why no more: without these there is no drive, and every group takes at least %d of them: %s.", r.BoundEach, strings.Join(by, ", ")))
	}
}

// GroupsSchemaVersion is raised when a key of the class file changes its meaning or
// goes. Keys may be added without raising it.
const GroupsSchemaVersion = 1

type groupsFile struct {
	Schema   int              `json:"schema"`
	Kind     string           `json:"kind"`
	Cupboard string           `json:"cupboard"`
	Brief    string           `json:"brief"`
	Asked    int              `json:"groups_asked"`
	Served   int              `json:"groups_served"`
	AtMost   int              `json:"groups_at_most"`
	Stopped  bool             `json:"stopped_early"`
	Drives   int              `json:"drives_weighed"`
	Allowed  int              `json:"different_drives_allowed"`
	Fewest   int              `json:"different_drives_at_least"`
	Shares   []shareJSON      `json:"shares"`
	Single   *singleJSON      `json:"one_drive_for_all"`
	Gone     []classPartJSON  `json:"used_up"`
	Unlock   []unlockJSON     `json:"serves_another_group"`
	Bound    *groupsBoundJSON `json:"no_more_because"`
}

type shareJSON struct {
	Groups int            `json:"groups"`
	Drive  shortDriveJSON `json:"drive"`
}

type singleJSON struct {
	shareJSON
	AtMost int `json:"groups_at_most"`
}

type classPartJSON struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	Have int    `json:"have"`
	Used int    `json:"used"`
}

type unlockJSON struct {
	Kind   string `json:"kind"`
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
}

type groupsBoundJSON struct {
	Each  int             `json:"each"`
	Parts []classPartJSON `json:"parts"`
}

// GroupsJSON writes the whole answer for another program. The same result gives the
// same bytes. Errors: from w, or a figure that is not finite.
func GroupsJSON(w io.Writer, r *groups.Result) error {
	f := groupsFile{
		Schema: GroupsSchemaVersion, Kind: "findrive class", Cupboard: r.Cupboard.Name, Brief: r.Brief.Name, Asked: r.Brief.Sets, Served: r.Served, AtMost: r.Most,
		Stopped: r.Stopped, Drives: r.Drives, Allowed: r.Different, Fewest: r.Fewest, Shares: []shareJSON{}, Gone: classParts(r.Gone), Unlock: []unlockJSON{},
	}
	for i := range r.Shares {
		f.Shares = append(f.Shares, shareJSON{r.Shares[i].Groups, shortDrive(r.Shares[i].Drive)})
	}
	if s := r.Single; s != nil {
		f.Single = &singleJSON{shareJSON{s.Sets, shortDrive(s.Drive)}, s.Most}
	}
	for _, u := range r.Unlock {
		f.Unlock = append(f.Unlock, unlockJSON{u.Kind, u.Name, u.Pieces})
	}
	if len(r.Bound) > 0 {
		f.Bound = &groupsBoundJSON{r.BoundEach, classParts(r.Bound)}
	}
	return writeJSON(w, f)
}

func classParts(list []groups.Part) []classPartJSON {
	out := []classPartJSON{}
	for _, p := range list {
		out = append(out, classPartJSON(p))
	}
	return out
}

var groupsHeader = []string{"groups", "penalty_points", "output_speed_rpm", "travel_m_per_s", "motor", "cells", "stage", "driver", "driven", "band"}

// GroupsCSV writes one row for each stage of each drive that groups build. The error
// is from w.
func GroupsCSV(w io.Writer, r *groups.Result) error {
	rows := [][]string{groupsHeader}
	for _, s := range r.Shares {
		q := s.Drive
		travel := ""
		if q.Linear != nil {
			travel = cell(q.Linear.Likely)
		}
		for i := range q.Stages {
			t := &q.Stages[i]
			rows = append(rows, []string{
				strconv.Itoa(s.Groups), points(q.Total), cell(q.Speed.Likely), travel, safe(q.Drive.Motor.Name), strconv.Itoa(q.Drive.Holder.Cells),
				strconv.Itoa(i + 1), safe(t.Driver), safe(t.Driven), safe(t.Band.Name),
			})
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}
