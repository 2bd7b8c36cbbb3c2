package report

import (
	"cmp"
	"fmt"
	"io"

	"findrive/internal/design"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/swap"
	"findrive/internal/units"
)

// SwapOptions steer SwapText.
type SwapOptions struct {
	Width  int // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool
}

// SwapText writes what to put in the place of a broken part. The error is from w.
func SwapText(w io.Writer, a *swap.Answer, opt SwapOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.swap(a)
	p.blank()
	p.say(0, "Switch off and take the cells out before you change anything. Drilling is an adult's job or closely supervised. Your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func (p *page) swap(a *swap.Answer) {
	name := a.Model.Name
	if name == "" {
		name = "the model"
	}
	p.heading(fmt.Sprintf("Broken: %s in %s", a.Broken, name))
	if it := a.Spare; it != nil {
		where := ""
		if it.Location != "" {
			where = ", in " + it.Location
		}
		p.say(0, fmt.Sprintf("Take another %s: the cupboard has %d%s. Nothing else changes.", a.Broken.Name, it.Count, where))
		p.say(0, "If those are in use, or broken too, ask again with --none-left.")
		return
	}
	nothing := "Proved: nothing that is left can take its place"
	if a.Cut != nil {
		p.say(0, "Another can be cut from what is left: "+making.Words([]*parts.Pulley{a.Cut}, 1)+". Nothing else changes. findrive sheet discs prints the discs in true size.")
		p.blank()
		nothing = "Proved: nothing else that is left can take its place"
	}
	if len(a.Replacements) == 0 {
		if a.Open > 0 {
			p.say(0, "No replacement was found in the time. Give more with --time-limit.")
		} else {
			p.say(0, nothing+", with these holes or others, at any speed; and there is no other drive for the speed that was wanted. Get the part, or ask for another speed.")
		}
		return
	}
	can := "What can be done"
	if a.Cut != nil {
		can = "What else can be done"
	}
	p.say(0, fmt.Sprintf("Before, it made about %s turns/min. %s, least change first:", rpm(a.Model.Speed), can))
	for i := range a.Replacements {
		r := &a.Replacements[i]
		p.blank()
		p.hang(0, 3, fmt.Sprintf("%d. %s: %s, %s points", i+1, changed(r), ideaSpeed(r.Drive), points(r.Drive.Total)))
		if r.Rebuilt {
			p.hang(3, 5, "- "+driveLine(r.Drive))
			continue
		}
		for _, s := range r.Steps {
			p.hang(3, 5, "- "+s.Words)
		}
	}
	p.blank()
	p.say(0, "Each was worked out in full and keeps every rule of the brief. Where a tube is cut anew, findrive sheet prints the rod in true size. Slide loose pulleys along their axles so that the bands run straight.")
	if a.Open > 0 {
		p.say(0, fmt.Sprintf("%s stopped by the time limit: there may be better ones. Give more with --time-limit.", were(a.Open, "search")))
	}
}

// changed says how much of a model a replacement changes.
func changed(r *swap.Replacement) string {
	switch {
	case r.Rebuilt:
		return "Only as another drive, with holes of its own"
	case r.OtherSpeed:
		return fmt.Sprintf("At another speed, %s, %s", holes(r), partsChanged(r.Parts))
	}
	return fmt.Sprintf("%s, %s", units.Capital(holes(r)), partsChanged(r.Parts))
}

func holes(r *swap.Replacement) string {
	words := "no new hole"
	if r.Holes > 0 {
		words = count(r.Holes, "hole") + " to drill"
	}
	if r.MotorMoved {
		words += ", the motor moved"
	}
	return words
}

func partsChanged(n int) string {
	if n == 1 {
		return "1 part changed"
	}
	return fmt.Sprintf("%d parts changed", n)
}

// SwapSchemaVersion is raised when a key of the swap file changes its meaning or goes.
// Keys may be added without raising it.
const SwapSchemaVersion = 1

// The types below are the swap file, key by key; docs/swap.md says what each means.

type swapFile struct {
	Schema       int               `json:"schema"`
	Kind         string            `json:"kind"`
	Model        string            `json:"model"`
	BrokenKind   string            `json:"broken_kind"`
	BrokenName   string            `json:"broken_name"`
	BrokenStage  int               `json:"broken_stage"`
	Speed        number            `json:"speed_before_rpm"`
	Spares       int               `json:"spares"`
	Cut          string            `json:"cut_another,omitempty"`
	Replacements []replacementJSON `json:"replacements"`
	Open         int               `json:"searches_stopped"`
	// Paper has the replacements in full, for findrive sheet.
	Paper *theCertificate `json:"certificate,omitempty"`
}

type replacementJSON struct {
	Holes      int            `json:"holes_to_drill"`
	Motor      bool           `json:"motor_moved"`
	Parts      int            `json:"parts_changed"`
	OtherSpeed bool           `json:"at_another_speed"`
	Rebuilt    bool           `json:"another_drive"`
	Steps      []string       `json:"steps"`
	Positions  []placeXY      `json:"positions"`
	Drive      shortDriveJSON `json:"drive"`
}

type placeXY struct {
	X number `json:"x_mm"`
	Y number `json:"y_mm"`
}

// SwapJSON writes the answer for another program. Errors: from w, or a figure that is
// not finite.
func SwapJSON(w io.Writer, a *swap.Answer) error {
	f := swapFile{Schema: SwapSchemaVersion, Kind: "findrive swap", Model: a.Model.Name, BrokenKind: a.Broken.Kind, BrokenName: a.Broken.Name, BrokenStage: a.Broken.Stage,
		Speed: number(a.Model.Speed), Replacements: []replacementJSON{}, Open: a.Open}
	if a.Spare != nil {
		f.Spares = a.Spare.Count
	}
	if a.Cut != nil {
		f.Cut = making.Words([]*parts.Pulley{a.Cut}, 1)
	}
	var drives []*design.Proposal
	for i := range a.Replacements {
		r := &a.Replacements[i]
		out := replacementJSON{Holes: r.Holes, Motor: r.MotorMoved, Parts: r.Parts, OtherSpeed: r.OtherSpeed, Rebuilt: r.Rebuilt, Steps: []string{}, Positions: []placeXY{}, Drive: shortDrive(r.Drive)}
		for _, s := range r.Steps {
			out.Steps = append(out.Steps, s.Words)
		}
		for _, at := range r.Drive.Drive.Positions {
			out.Positions = append(out.Positions, placeXY{number(at.X), number(at.Y)})
		}
		f.Replacements = append(f.Replacements, out)
		drives = append(drives, r.Drive)
	}
	if a.Model.Unframed { // the pages would have a frame made
		drives = nil
	}
	f.Paper = printable(a.Cupboard, a.Model.Brief, cmp.Or(a.Model.Name, "The model")+", mended", "", drives)
	return writeJSON(w, f)
}
