// Package cutting finds the best way to saw pieces from rods, strips and
// offcuts: the one-dimensional cutting-stock problem, solved to a proved
// optimum.
//
//	cutting.go  what is asked and what comes out
//	solve.go    the search
//	bound.go    lower bounds that hold at every node of it
//	relax.go    the best of them, from the linear relaxation
//	enough.go   whether the stock will do at all
//	patterns.go ways to cut one length
package cutting

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"findrive/internal/units"
)

// Piece is a length to be cut, so many times. Pieces of one length may carry
// different marks.
type Piece struct {
	Mark   string            // what is written on it, for example "axle 1"
	Length units.Millimetres // finished length, above 0
	Count  int               // at least 1
}

// Stock is a length to cut from.
type Stock struct {
	Name   string
	Length units.Millimetres
	Count  int
	// Offcut says that it is left from before. Its length counts half, so that
	// offcuts are used up first.
	Offcut bool
}

// Cut is one piece in a bar.
type Cut struct {
	Mark   string
	Length units.Millimetres
}

// Bar is one length of stock with what is cut from it, longest piece first.
type Bar struct {
	Stock  string
	Length units.Millimetres
	Offcut bool
	Cuts   []Cut
	// Left is what remains after the last cut, 0 if the saw takes it all.
	Left units.Millimetres
}

// Plan is a way to cut all pieces.
type Plan struct {
	Bars []Bar             // longest stock first
	Used units.Millimetres // length of all stock begun
	// Largest is the longest remainder of one bar.
	Largest units.Millimetres
	// Least says that it is proved that no plan begins less stock, offcuts counted
	// half; Proved that besides none which begins as little leaves a longer
	// remainder. Both hold for all but the largest questions.
	Least, Proved bool
	// Bound is the length of stock that every plan begins at least, offcuts
	// counted half.
	Bound units.Millimetres
}

// ShortError says that the stock does not yield the pieces.
type ShortError struct {
	Mark   string            // of the longest piece that is left over
	Length units.Millimetres // its length
}

func (e *ShortError) Error() string {
	return fmt.Sprintf("there is not enough stock to cut every piece: %s, %g mm, is left over", e.Mark, float64(e.Length))
}

// scale is how many of the solver's whole units make a millimetre. Pieces are
// rounded up to it and stock down, so a plan never asks for more than there is.
const scale = 100

// Cuts plans how to saw all pieces from the stock with a saw that takes kerf at
// each cut; a piece that ends with the bar needs no cut there. Among all plans
// it takes the one that begins the least length of stock, offcuts counted half, among those one that
// leaves the longest remainder in one piece, and among those the first in a
// fixed order, so the same question has the same answer. Errors: a length or
// count that makes no sense, or *ShortError.
func Cuts(pieces []Piece, stock []Stock, kerf units.Millimetres) (Plan, error) {
	q, err := newQuestion(pieces, stock, kerf)
	if err != nil {
		return Plan{}, err
	}
	found, ok := q.best()
	if !ok {
		i := slices.IndexFunc(found.over, func(n int) bool { return n > 0 })
		return Plan{}, &ShortError{Mark: markOf(pieces, q.pieces[i].size-q.kerf), Length: units.Millimetres(q.pieces[i].size-q.kerf) / scale}
	}
	return q.plan(found, pieces, stock), nil
}

func newQuestion(pieces []Piece, stock []Stock, kerf units.Millimetres) (*question, error) {
	if !sensible(kerf) {
		return nil, fmt.Errorf("a saw kerf of %v mm makes no sense", kerf)
	}
	q := &question{kerf: up(kerf)}
	for _, p := range pieces {
		if p.Length == 0 || !sensible(p.Length) || p.Count < 0 {
			return nil, fmt.Errorf("%d pieces of %v mm make no sense", p.Count, p.Length)
		}
		if p.Count > 0 {
			q.want(up(p.Length)+q.kerf, p.Count)
		}
	}
	for _, s := range stock {
		if s.Length == 0 || !sensible(s.Length) || s.Count < 0 {
			return nil, fmt.Errorf("%d lengths of %v mm make no sense", s.Count, s.Length)
		}
		if s.Count > 0 {
			q.have(kind{down(s.Length) + q.kerf, s.Count, s.Offcut})
		}
	}
	return q, nil
}

// mostLength is longer than anything that is sawn in a school. The work grows with lengths, and
// what is far beyond cannot be counted in whole units.
const mostLength units.Millimetres = 50_000

func sensible(v units.Millimetres) bool { return v >= 0 && v <= mostLength }

// The last bits of lengths given in inches do not count.
const exact = 1e-6

func up(v units.Millimetres) int   { return int(math.Ceil(float64(v)*scale - exact)) }
func down(v units.Millimetres) int { return int(math.Floor(float64(v)*scale + exact)) }

func markOf(pieces []Piece, length int) string {
	for _, p := range pieces {
		if up(p.Length) == length {
			return p.Mark
		}
	}
	return ""
}

// plan turns the solver's bars into the caller's pieces and names: pieces of one
// length, and stock of one length, are taken in the order given.
func (q *question) plan(a answer, pieces []Piece, stock []Stock) Plan {
	p := Plan{Least: a.least, Proved: a.proved, Bound: units.Millimetres(a.bound) / scale}
	marks := map[int][]Cut{}
	for _, c := range pieces {
		for range c.Count {
			size := up(c.Length) + q.kerf
			marks[size] = append(marks[size], Cut{c.Mark, c.Length})
		}
	}
	names := map[kind][]Stock{}
	for _, s := range stock {
		for range s.Count {
			k := kind{size: down(s.Length) + q.kerf, half: s.Offcut}
			names[k] = append(names[k], s)
		}
	}
	for _, b := range a.bars {
		k := kind{size: q.stock[b.stock].size, half: q.stock[b.stock].half}
		s := names[k][0]
		names[k] = names[k][1:]
		bar := Bar{Stock: s.Name, Length: s.Length, Offcut: s.Offcut}
		left := s.Length
		for i, n := range b.take {
			for range n {
				list := marks[q.pieces[i].size]
				bar.Cuts = append(bar.Cuts, list[0])
				left -= list[0].Length + units.Millimetres(q.kerf)/scale
				marks[q.pieces[i].size] = list[1:]
			}
		}
		bar.Left = units.Millimetres(math.Round(float64(max(0, left))*scale) / scale)
		p.Used += s.Length
		p.Largest = max(p.Largest, bar.Left)
		p.Bars = append(p.Bars, bar)
	}
	return p
}

// question is the problem in whole units. Every size includes one kerf: pieces
// fit a bar if their sizes add up to no more than the bar's.
type question struct {
	kerf   int
	pieces []kind // longest first
	stock  []kind // longest first
}

type kind struct {
	size, count int
	half        bool // counts half: an offcut
}

func (q *question) want(size, count int) { q.pieces = merge(q.pieces, kind{size: size, count: count}) }
func (q *question) have(k kind)          { q.stock = merge(q.stock, k) }

func merge(list []kind, k kind) []kind {
	at, there := slices.BinarySearchFunc(list, k, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.size, a.size), cmp.Compare(order(a.half), order(b.half)))
	})
	if there {
		list[at].count += k.count
		return list
	}
	return slices.Insert(list, at, k)
}

func order(half bool) int {
	if half {
		return 1
	}
	return 0
}

// cost of a bar is its length without the kerf, or half of that.
func (q *question) cost(stock int) int {
	length := q.stock[stock].size - q.kerf
	if q.stock[stock].half {
		return (length + 1) / 2
	}
	return length
}
