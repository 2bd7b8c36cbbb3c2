// Package discdrawing draws what pulleys are made from: each disc in true size, to be cut
// round or pricked through; how the discs of all sets lie on the sheets there are; and how
// they lie on one another.
//
//	discdrawing.go  the job, and its pages
//	rounds.go       each kind of disc in true size
//	templates.go    those of all sets, to cut out and stick on
//	sheets.go       the sheets, drawn smaller, with where each middle is
package discdrawing

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/making"
	"findrive/internal/units"
)

type mm = units.Millimetres

// Job is what is to be made for all sets, of one drive or several.
type Job struct {
	Foot    string   // on each page: whose it is
	Pulleys []Pulley // each kind once
	Pieces  []making.Piece
	Short   string // why the sheets do not reach, if they do not; then there are no pieces
}

// Pulley is one kind of pulley to be made, of one drive.
type Pulley struct {
	Drive        string   // its letter, where there are several drives; else empty
	Letters      []string // in one set
	Sets         int      // of the drive
	Core, Flange Disc
	Layers       int
	Bore         mm
}

// Disc is one kind of disc of a pulley.
type Disc struct {
	Diameter, Thickness mm
	Kind, Sheet         string // of sheet: what it is and what it is called
	Way                 string
	Adult               bool
}

const (
	margin    mm = 12 // most printers reach this far (common practice)
	ring      mm = 40 // diameter of the check ring
	barLength mm = 100
	between   mm = 5
)

// leastType is the smallest type on any page, as on the sheets.
var leastType = drawing.Points(8)

var (
	titleStyle = drawing.Words(14).InBold()
	textStyle  = drawing.Words(9.5)
	boldStyle  = drawing.Words(9.5).InBold()
	smallStyle = drawing.Words(8.5)
)

// Pages draws everything for a paper: first each kind of disc in true size, then all that
// are to be cut if these are not too many pages, then the sheets.
func Pages(j *Job, paper drawing.Size) []*drawing.Page {
	if paper.Width > paper.Height {
		paper = paper.Landscape()
	}
	templates, more := j.templates(paper)
	return slices.Concat(j.rounds(paper, more), templates, j.sheets(paper))
}

// page begins a page and returns where its head ends.
func (j *Job) page(paper drawing.Size, title, description string, right mm, words ...string) (*drawing.Page, mm) {
	p := drawing.NewPage(paper, title)
	p.Description = description
	width := paper.Width - 2*margin - right
	style, line := titleStyle.Fit(title, width, drawing.Points(10))
	p.Tagged(drawing.Title).Text(drawing.Point{X: margin, Y: margin}, line, style.WithLevel(drawing.Below))
	at := drawing.Point{X: margin, Y: margin + 7.5}
	for i, w := range words {
		if w == "" {
			continue
		}
		style := textStyle
		if i == 0 {
			style = boldStyle
		}
		at = p.Tagged(drawing.Sentence).Paragraph(at, w, width, style)
	}
	if j.Foot != "" {
		style, words := drawing.Words(8).Fit(j.Foot, paper.Width-2*margin, leastType)
		p.Tagged(drawing.Furniture).Text(drawing.Point{X: paper.Width - margin, Y: paper.Height - margin + 3.5}, words, style.WithAlign(drawing.End))
	}
	return p, at.Y
}

// letters name the pulleys of a kind: "B and D", or "B and D of drive A".
func (p *Pulley) letters() string {
	n, of := len(p.Letters), ""
	if p.Drive != "" {
		of = " of drive " + p.Drive
	}
	if n < 2 {
		return strings.Join(p.Letters, "") + of
	}
	return strings.Join(p.Letters[:n-1], ", ") + " and " + p.Letters[n-1] + of
}

func number(v mm) string { return units.Significant(float64(v), 4) }

// cutWords say how many of a disc are cut.
func (p *Pulley) cutWords(each int) string {
	if p.Sets == 1 {
		return fmt.Sprintf("cut %d", each)
	}
	return fmt.Sprintf("cut %d for each set, %d in all", each, each*p.Sets)
}

func who(d *Disc) string {
	if d.Adult {
		return "ADULT: " + d.Way
	}
	return d.Way
}
