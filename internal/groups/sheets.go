package groups

import (
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/supply"
)

// sheetKind is what a sheet that discs are cut from is called among the parts.
const sheetKind = "sheet"

// made are the pulleys of discs that so many sets of each drive take.
func made(drives []supply.Share, counts []int) []making.Several {
	var out []making.Several
	for i, n := range counts {
		if n == 0 {
			continue
		}
		out = making.AddedAll(out, drives[i].Drive.Drive.Pulleys(), n)
	}
	return out
}

// toMake is whether a part is a pulley that some drive makes of discs.
func toMake(k key, drives []supply.Share) bool {
	return k.kind == "pulley" && slices.ContainsFunc(drives, func(d supply.Share) bool {
		return slices.ContainsFunc(d.Drive.Drive.Pulleys(), func(p *parts.Pulley) bool { return p.Made != nil && p.Name == k.name })
	})
}

// sheetsFor are the sheets of a cupboard, with so many more of one kind.
func (r *rack) sheetsFor(with string, more int) *parts.Cupboard {
	out := *r.cup
	out.Sheets = slices.Clone(r.cup.Sheets)
	for i := range out.Sheets {
		if out.Sheets[i].Name == with {
			out.Sheets[i].Count += more
		}
	}
	return &out
}

// cutFrom lists the kinds of sheet that discs of some drives are cut from.
func (r *rack) cutFrom(drives []supply.Share) []*parts.SheetStock {
	var out []*parts.SheetStock
	all := made(drives, slices.Repeat([]int{1}, len(drives)))
	for i := range r.cup.Sheets {
		s := &r.cup.Sheets[i]
		if slices.ContainsFunc(all, func(p making.Several) bool {
			return p.Pulley.Made.Core.Sheet == s.Name || p.Pulley.Made.Flange.Sheet == s.Name
		}) {
			out = append(out, s)
		}
	}
	return out
}

// sheetsGone are the sheets that are too few for one more of some drive of a plan.
func (r *rack) sheetsGone(shares []supply.Share) []Part {
	counts := make([]int, len(shares))
	for i, s := range shares {
		counts[i] = s.Groups
	}
	pieces, err := making.Nest(r.cup.Sheets, made(shares, counts))
	if err != nil {
		return nil // it was found that they are enough
	}
	var out []Part
	for _, s := range r.cutFrom(shares) {
		for i := range shares {
			more := slices.Clone(counts)
			if more[i]++; making.SheetReaches(s, made(shares, more)) {
				continue
			}
			part := Part{Kind: sheetKind, Name: s.Name, Have: s.Count}
			for _, p := range pieces {
				if p.Sheet.Name == s.Name {
					part.Used++
				}
			}
			out = append(out, part)
			break
		}
	}
	return out
}

// mostSheets is for how many sheets more it is asked whether they are enough: as many discs
// as a group cuts at most take no more.
const mostSheets = parts.MostDiscs

// sheetsShort are the sheets that are wanting for so many sets of a drive.
func (r *rack) sheetsShort(d supply.Share, sets int) []More {
	var out []More
	list := made([]supply.Share{d}, []int{sets})
	for _, s := range r.cutFrom([]supply.Share{d}) {
		for more := range mostSheets * sets {
			sheet := *s
			if sheet.Count += more; making.SheetReaches(&sheet, list) {
				if more > 0 {
					out = append(out, More{Part{Kind: sheetKind, Name: s.Name, Have: s.Count}, more})
				}
				break
			}
		}
	}
	return out
}

// laying makes the sheets part of a sharing out of drives, whose rows are keys: what pulleys
// of discs take is settled by laying these, and no longer by counting. There are so many
// more of the sheet with.
func (r *rack) laying(p *allot.Problem, keys []key, drives []supply.Share, with string, more int) {
	any := false
	for row, k := range keys {
		if toMake(k, drives) {
			p.Stock[row] = math.MaxInt32
			p.Joint = append(p.Joint, row)
			any = true
		}
	}
	if !any {
		return
	}
	before, cup := p.Fits, r.sheetsFor(with, more)
	p.Fits = func(counts []int) bool {
		return (before == nil || before(counts)) && making.Reach(cup, made(drives, counts))
	}
}
