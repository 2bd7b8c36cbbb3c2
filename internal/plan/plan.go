// Package plan is the file in which a class, an order or a term is written down: who
// builds which drive, each drive in full, what they use and what is bought for them. The
// papers, the trays and the check when it all comes back are made from it.
//
//	plan.go   the file, its keys and its reader
//	make.go   from the answer of class, shop or term
//	check.go  whether what it says holds
//	rods.go   whether the rods make all axles
//	discs.go  whether the sheets take all discs
//	papers.go the papers it becomes
package plan

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/money"
	"findrive/internal/pattern"
)

// SchemaVersion is raised when a key of the file changes its meaning or goes. Keys may be
// added without raising it.
const SchemaVersion = 1

// Kind is what a plan says it is.
const Kind = "findrive plan"

// MaxBytes is more than a plan of the most drives takes.
const MaxBytes = certificate.MaxBytes

// mostDrives is more than any class builds.
const mostDrives = 200

// anew is what to do about a plan that was damaged.
const anew = "save it again with findrive class -o"

// Plan is the file.
type Plan struct {
	Schema   int    `json:"schema"`
	Kind     string `json:"kind"`
	From     string `json:"from"` // the command that made it
	Cupboard string `json:"cupboard"`
	// InTurn is whether the briefs are built one after another: what is not used up is
	// used again.
	InTurn bool `json:"in_turn"`
	// Proved is whether what the command was asked for is proved: no more groups, no
	// less money.
	Proved bool    `json:"proved"`
	Briefs []Brief `json:"briefs"`
	Drives []Drive `json:"drives"` // in the order of the briefs
	Used   []Part  `json:"used"`
	Order  *Order  `json:"order"` // null if nothing is bought

	stands []*design.Proposal // the drives as they stand in it, while it is made
}

// Brief is what was asked.
type Brief struct {
	Name   string `json:"name"`
	Asked  int    `json:"groups_asked"`
	Served int    `json:"groups_served"`
}

// Drive is one drive and the groups that build it.
type Drive struct {
	Letter string `json:"letter"` // A, B ... over all briefs
	Brief  int    `json:"brief"`  // in Briefs, from 0
	Groups int    `json:"groups"`
	First  int    `json:"first_group"` // of the brief's groups, from 1: its trays
	// Certificate is the drive in full, for so many groups; see docs/certificate.md.
	Certificate json.RawMessage `json:"certificate"`
}

// Part is what all groups use of one part.
type Part struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	Have int    `json:"have"` // with what is bought; axles: as many of the shortest as the rods make
	Used int    `json:"used"` // at the time when most is in use
	Gone int    `json:"gone"` // that does not come back
}

// Order is what is bought.
type Order struct {
	Prices   string       `json:"prices"` // name of the list
	Currency string       `json:"currency"`
	Digits   int          `json:"currency_digits"`
	VAT      string       `json:"vat"` // included, not included or not said
	Money    money.Amount `json:"money"`
	Lines    []Line       `json:"lines"`
}

// Line is packs of one offer, or what a supplier takes for bringing them.
type Line struct {
	Supplier string       `json:"supplier"`
	Offer    string       `json:"offer"`
	Kind     string       `json:"part_kind"` // empty for carriage
	Part     string       `json:"part"`
	Packs    int          `json:"packs"`
	Filler   int          `json:"packs_to_fill_up"` // of them, nobody needs but the order
	Pack     int          `json:"pack_size"`
	Price    money.Amount `json:"pack_price"`
	Sum      money.Amount `json:"sum"`
}

// List is the drives of a plan as one list, numbered as they are lettered, with the brief of
// the drive of a rank and the groups that build it; of the first where there is no such rank.
// The error is that of Read.
func List(data []byte, rank int) (*certificate.Certificate, error) {
	_, all, err := Read(data)
	if err != nil {
		return nil, err
	}
	if rank < 1 || rank > len(all) {
		rank = 1
	}
	c := *all[rank-1]
	c.Proposals = nil
	for _, one := range all {
		c.Proposals = append(c.Proposals, one.Proposals[0])
	}
	return &c, nil
}

// Read reads a plan and the certificates in it. The error says in plain words why the
// file is not one.
func Read(data []byte) (*Plan, []*certificate.Certificate, error) {
	if len(data) > MaxBytes {
		return nil, nil, fmt.Errorf("it is over %d MB, which no plan needs", MaxBytes>>20)
	}
	data = certificate.PlainText(data)
	var p Plan
	if err := json.Unmarshal(data, &p); err != nil {
		return nil, nil, certificate.NotJSON(data, err, "plan", anew)
	}
	switch {
	case p.Kind != Kind:
		return nil, nil, errors.New("this is not a findrive plan; " + anew)
	case p.Schema != SchemaVersion:
		return nil, nil, fmt.Errorf("this plan is of schema %d, and only %d is known; %s", p.Schema, SchemaVersion, anew)
	case len(p.Drives) == 0:
		return nil, nil, errors.New("there is no drive in this plan; " + anew)
	case len(p.Drives) > mostDrives:
		return nil, nil, fmt.Errorf("there are %d drives in this plan, and %d at most are read", len(p.Drives), mostDrives)
	}
	var all []*certificate.Certificate
	from := 0
	for i := range p.Drives {
		d := &p.Drives[i]
		// So that what is wrong in it is found on the line that is said.
		at := from + max(0, bytes.Index(data[from:], d.Certificate))
		from = at + len(d.Certificate)
		c, err := certificate.Read(append(bytes.Repeat([]byte("\n"), bytes.Count(data[:at], []byte("\n"))), d.Certificate...))
		switch {
		case err != nil:
			return nil, nil, fmt.Errorf("drive %d: %w", i+1, err)
		case len(c.Proposals) != 1:
			return nil, nil, fmt.Errorf("drive %d: there are %d drives in its certificate, and there should be one", i+1, len(c.Proposals))
		case d.Brief < 0 || d.Brief >= len(p.Briefs):
			return nil, nil, fmt.Errorf("drive %d: there is no brief %d", i+1, d.Brief)
		case d.Groups < 1 || d.Groups != c.Brief.Sets:
			return nil, nil, fmt.Errorf("drive %d: it is for %d groups, and its certificate for %d", i+1, d.Groups, c.Brief.Sets)
		}
		d.Letter = Letter(i)
		c.Proposals[0].Rank = i + 1
		all = append(all, c)
	}
	return &p, all, nil
}

// Write writes a plan. The same plan gives the same bytes.
func (p *Plan) Write(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(p)
}

// Letter names the i-th drive: A, B ... Z, AA ...
func Letter(i int) string {
	const letters = 26
	if i < letters {
		return string(rune('A' + i))
	}
	return Letter(i/letters-1) + Letter(i%letters)
}

// heads is where a plan says what it is: near its beginning.
const heads = 400

// Is whether a file says that it is a plan.
func Is(data []byte) bool {
	return kind.Match(certificate.PlainText(data[:min(len(data), heads)]))
}

var kind = pattern.Must(`^\s*(?:\x{feff})?\s*\{\s*"schema"\s*:\s*\d+\s*,\s*"kind"\s*:\s*"findrive plan"`)
