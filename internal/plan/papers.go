package plan

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/sheet"
)

// Papers are the classes of a plan from which its papers are made: as Classes, but of briefs
// built one after another the lists of each are as of its time.
func Papers(p *Plan, all []*certificate.Certificate, how sheet.Options) ([]sheet.Class, error) {
	out, err := Classes(p, all, how)
	if err != nil || !p.InTurn {
		return out, err
	}
	return sheet.InTurn(out)
}

// Classes are the classes of a plan: all briefs together, or each by itself where they
// are built one after another, all with the cupboard as it is at first.
func Classes(p *Plan, all []*certificate.Certificate, how sheet.Options) ([]sheet.Class, error) {
	var out []sheet.Class
	names, last := p.briefNames(), -1
	for i, c := range all {
		d := &p.Drives[i]
		set, err := sheet.New(c, 1, how)
		if err != nil {
			return nil, fmt.Errorf("drive %s: %w", d.Letter, err)
		}
		name := names[d.Brief]
		at := len(out) - 1
		if at < 0 || p.InTurn && d.Brief != last {
			out = append(out, sheet.Class{Name: name, Date: how.Date, Orders: orderLines(p.Order)})
			at++
		}
		last = d.Brief
		share := sheet.ClassShare{Set: set, Letter: d.Letter, First: d.First, Groups: d.Groups}
		if !p.InTurn && len(p.Briefs) > 1 {
			share.Brief = name
			out[at].Name = fmt.Sprintf("%d models", len(p.Briefs))
		}
		out[at].Shares = append(out[at].Shares, share)
	}
	return out, nil
}

// briefNames are what the briefs are called, those of one name with their numbers before it, where
// no file's name is too short for them: their papers are files of their own.
func (p *Plan) briefNames() []string {
	out := make([]string, len(p.Briefs))
	for i := range out {
		out[i] = p.Briefs[i].Name
	}
	for alike := true; alike; {
		alike = false
		times := map[string]int{}
		for _, name := range out {
			times[sheet.Slug(name)]++
		}
		for i, name := range out {
			if times[sheet.Slug(name)] > 1 {
				out[i], alike = fmt.Sprintf("%d. %s", i+1, name), true
			}
		}
	}
	return out
}

// orderLines tell an order, a line for each supplier.
func orderLines(o *Order) []string {
	if o == nil {
		return nil
	}
	var names []string
	packs := map[string][]string{}
	for _, l := range o.Lines {
		if !slices.Contains(names, l.Supplier) {
			names = append(names, l.Supplier)
		}
		if l.Kind != "" {
			packs[l.Supplier] = append(packs[l.Supplier], fmt.Sprintf("%d × %d %s %s", l.Packs, l.Pack, l.Kind, l.Part))
		}
	}
	var out []string
	for _, n := range names {
		out = append(out, "From "+n+": "+strings.Join(packs[n], ", ")+".")
	}
	return out
}
