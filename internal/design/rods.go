package design

import (
	"slices"
	"sync"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/cutting"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// cuttings remembers for how many sets rods are enough: the search asks the same for
// drive after drive.
type cuttings struct {
	mu    sync.Mutex
	known map[sawing]int
}

// sawing is what one set takes of one kind of rod: inner axles, and those as long as the
// output axle.
type sawing struct {
	kind, inner, output int
	length              units.Millimetres // of the output axle
}

// sawingsOf lists what a drive with these kinds of rod for its axles, motor side first,
// has cut, in the order of its axles, each kind once. A vehicle's free axle is as long as
// the output axle, and of the same rod.
func (t *task) sawingsOf(kinds []int, wheel *parts.Wheel, drum *parts.Drum) []sawing {
	length := drive.OutputAxleLength(t.brief, wheel, drum)
	var out []sawing
	for i, kind := range kinds {
		at := slices.IndexFunc(out, func(s sawing) bool { return s.kind == kind })
		if at < 0 {
			at = len(out)
			out = append(out, sawing{kind: kind, length: length})
		}
		switch {
		case i < len(kinds)-1:
			out[at].inner++
		case t.brief.Model == brief.Vehicle:
			out[at].output += 2
		default:
			out[at].output++
		}
	}
	return out
}

// rodsOf lists the kinds of rod of a drive's axles.
func (t *task) rodsOf(d *drive.Drive) []int {
	var out []int
	for _, axle := range d.Axles {
		out = append(out, parts.Find(t.axles, axle.Name))
	}
	return out
}

// each is how many axles that is.
func (s *sawing) each() int { return s.inner + s.output }

// setsFrom is the most sets, up to brief.MostSets, for which the rods of a kind can be
// cut.
func (t *task) setsFrom(s sawing) int {
	t.cut.mu.Lock()
	defer t.cut.mu.Unlock()
	if sets, ok := t.cut.known[s]; ok {
		return sets
	}
	set := []cutting.Piece{{Length: drive.AxleLength(t.brief), Count: s.inner}, {Length: s.length, Count: s.output}}
	var rods []cutting.Stock
	for i := range t.cup.Axles {
		if a := &t.cup.Axles[i]; slices.Contains(t.axles[s.kind].Names, a.Name) {
			rods = append(rods, cutting.Stock{Name: a.Name, Length: a.Length, Count: a.Count})
		}
	}
	sets := cutting.MostSets(set, rods, cutting.Kerf, brief.MostSets)
	if t.cut.known == nil {
		t.cut.known = map[sawing]int{}
	}
	t.cut.known[s] = sets
	return sets
}

// enoughAxles is the stock rule for axle rod and sleeves. It chooses the sleeves.
func (s *settling) enoughAxles() *constraints.Refusal {
	var kinds [drive.MaxStages]int
	for i, o := range s.choice.axles[:s.stages] {
		kinds[i] = o.stock
	}
	wheel, drum := s.outputParts(s.head.output)
	for _, cut := range s.sawingsOf(kinds[:s.stages], wheel, drum) {
		if no := constraints.EnoughRod(s.task.axles[cut.kind].Part.Name, cut.each(), s.setsFrom(cut), s.brief.Sets); no != nil {
			return no
		}
	}
	return s.chooseSleeves()
}

// Axle is so many axles of one length that one set takes of a kind of rod.
type Axle struct {
	Stock  string
	Length units.Millimetres
	Count  int
}

// CutAxles lists the axles that one set of a drive takes, each stock and length once, a
// vehicle's free axle with them.
func CutAxles(d *drive.Drive, b *brief.Brief) []Axle {
	var out []Axle
	for i, a := range d.Axles {
		cut := Axle{Stock: a.Name, Length: drive.AxleLength(b), Count: 1}
		if i == len(d.Axles)-1 {
			if cut.Length = drive.OutputAxleLength(b, d.Wheel, d.Drum); b.Model == brief.Vehicle {
				cut.Count = 2
			}
		}
		if at := slices.IndexFunc(out, func(o Axle) bool { return o.Stock == cut.Stock && o.Length == cut.Length }); at >= 0 {
			out[at].Count += cut.Count
			continue
		}
		out = append(out, cut)
	}
	return out
}

// rodLength is how long a rod is; 0 for parts that are none.
func (t *task) rodLength(kind, name string) units.Millimetres {
	at := slices.IndexFunc(t.cup.Axles, func(a parts.AxleStock) bool { return a.Name == name })
	if kind != "axle" || at < 0 {
		return 0
	}
	return t.cup.Axles[at].Length
}
