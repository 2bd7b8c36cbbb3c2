package brief

import (
	"slices"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// MostSets is the most that a brief may ask for.
const MostSets = 1000

// Read reads a brief. name is the file's name in messages. The error is
// tomlfile.Problems: every problem in the document, each at its line and
// column. Without an error every field is in its range, every optional one has
// its default, and the fields that do not belong to the model are 0.
//
//	model       one of the Model phrases; needed
//	speed       rides and shafts turn ("20 rpm", "1 turn in 3 s"), a vehicle or
//	            a lifted load may also travel ("0.3 m/s", "10 m in 25 s"); needed
//	tolerance   largest error of the likely speed, otherwise "25 %"
//	sets        built at once from one cupboard, otherwise 1
//	max_stages  1 to 4, otherwise 3
//	cells       numbers of cells that may be used, such as [1, 2]; otherwise any
//
// The tables [direction], [load], [frame], [making], [limits] and [weights] are
// read by the functions below.
func Read(name string, data []byte) (*Brief, error) { return ReadFor(name, data, nil) }

// ReadFor is Read for a brief that is to be met from a cupboard: a wheel or drum
// that the brief names, and numbers of cells none of which is there, are
// problems too. With no cupboard they are not looked at.
func ReadFor(name string, data []byte, cup *parts.Cupboard) (*Brief, error) {
	return ReadWith(name, data, cup, nil)
}

// ReadWith is ReadFor for a file in which more stands, which more reads once the
// rest is read. The speed is then left to more: without one both figures are 0.
func ReadWith(name string, data []byte, cup *parts.Cupboard, more func(root *tomlfile.Table, b *Brief)) (*Brief, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	root.Whole("schema", 1, 1, 1)
	b := &Brief{Name: root.Text("name", name), Limits: DefaultLimits(), Weights: DefaultWeights()}
	b.Model = readModel(root)
	if more == nil || root.Has("speed") {
		b.Speed = readSpeed(root, b.Model)
	}
	root.Offer("speed")
	b.Tolerance = tomlfile.Quantity(root, "tolerance", &units.Shares, 0.25, tomlfile.Range[float64]{Least: 0.01, Most: 0.9})
	b.Sets = root.Whole("sets", 1, 1, MostSets)
	b.MaxStages = root.Whole("max_stages", 3, 1, 4)
	b.Cells = readCells(root)
	b.Direction = readDirection(root.Table("direction"))
	load := root.Table("load")
	b.Load = readLoad(load, b.Model)
	b.Frame = readFrame(root.Table("frame"))
	b.Making = readMaking(root.Table("making"), b.Frame.Sheet > 0)
	readLimits(root.Table("limits"), &b.Limits)
	readWeights(root.Table("weights"), &b.Weights)
	if more != nil {
		more(root, b)
	} else {
		root.Refuse("challenge", "a brief with a challenge is for findrive challenge")
	}
	root.Close()
	if cup != nil {
		inCupboard(root, load, b, cup)
	}
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// readModel is the model, or "" if it is missing or not known, which has been
// noted; then whatever depends on it is left unchecked.
func readModel(t *tomlfile.Table) Model {
	t.Need("model", `"ride on an upright axle"`)
	var phrases []string
	for _, m := range []Model{UprightRide, LevelRide, Vehicle, Lift, PlainShaft} {
		phrases = append(phrases, string(m))
	}
	return Model(t.Choice("model", "", phrases...))
}

// Speeds that can be meant: a turn in ten minutes to a bare motor's, and a
// crawl to a run.
var (
	turnings = tomlfile.Range[units.RPM]{Least: 0.1, Most: 20_000}
	travels  = tomlfile.Range[units.MetresPerSecond]{Least: 0.001, Most: 5}
)

func readSpeed(t *tomlfile.Table, m Model) Speed {
	turning, travel := `"20 rpm" or "1 turn in 3 s"`, `"0.3 m/s" or "10 m in 25 s"`
	example := turning
	if m == Vehicle || m == Lift {
		example = travel
	}
	t.Need("speed", example)
	if !t.IsText("speed") {
		tomlfile.Quantity(t, "speed", &units.Turnings, 1, turnings) // says what is wrong
		return Speed{}
	}
	s := Speed{Words: t.Text("speed", "")}
	if !t.Good("speed") {
		return Speed{}
	}
	rpm, turningErr := units.Turnings.Parse(s.Words)
	metres, travelErr := units.Travels.Parse(s.Words)
	switch {
	case turningErr == nil && within(t, "speed", s.Words, rpm, &units.Turnings, turnings):
		s.Turning = rpm
	case turningErr == nil: // out of range, which has been noted
	case travelErr == nil && (m == UprightRide || m == LevelRide || m == PlainShaft):
		t.Fail("speed", "%s is a speed of travel, and a %s turns: write for example %s", units.Quoted(s.Words), m, turning)
	case travelErr == nil && within(t, "speed", s.Words, metres, &units.Travels, travels):
		s.Linear = metres
	case travelErr == nil:
	case m == Vehicle || m == Lift:
		t.Fail("speed", "%v", units.Unclear("%s is not a speed: write for example %s", s.Words, travel))
	default:
		t.Fail("speed", "%v", units.Unclear("%s is not a speed of turning: write for example %s", s.Words, turning))
	}
	return s
}

// within notes a quantity out of its range.
func within[Q ~float64](t *tomlfile.Table, key, said string, q Q, n *units.Notation[Q], r tomlfile.Range[Q]) bool {
	if q >= r.Least && q <= r.Most {
		return true
	}
	is := ""
	if in := n.Format(q); in != said {
		is = in + ", "
	}
	t.Fail(key, "%s is %sout of range: it must be from %s to %s", units.Quoted(said), is, n.Format(r.Least), n.Format(r.Most))
	return false
}

// readCells are the allowed numbers of cells, ascending.
func readCells(t *tomlfile.Table) []int {
	const most = 8
	var cells []int
	for _, v := range t.List("cells", "[1, 2]", most) {
		n, is := v.(int64)
		if !is || n < 1 || n > most {
			t.Fail("cells", "found %s in the list, it must be of whole numbers from 1 to %d, such as [1, 2]", tomlfile.Shown(v), most)
			return nil
		}
		cells = append(cells, int(n))
	}
	slices.Sort(cells)
	return slices.Compact(cells)
}

// readDirection reads [direction]:
//
//	turns        the output's way: "clockwise", "anticlockwise" or "either"
//	             (otherwise)
//	seen_from    the side that is judged from: "front" (otherwise), "back",
//	             "above" or "below"
//	motor_turns  the motor's way, if its wires may not be swapped; otherwise
//	             "either"
func readDirection(t *tomlfile.Table) Direction {
	ways := []string{string(Clockwise), string(Anticlockwise), string(Either)}
	d := Direction{
		Sense:      Sense(t.Choice("turns", string(Either), ways...)),
		SeenFrom:   t.Choice("seen_from", "front", "front", "back", "above", "below"),
		MotorTurns: Sense(t.Choice("motor_turns", string(Either), ways...)),
	}
	t.Close()
	return d
}

// readMaking reads [making]: drill_frame (false: axles are carried in clips,
// straws or tubes), drill_out (bores may be opened) and glue, all true unless
// said otherwise; and discs (pulleys may be made of discs), false unless said otherwise. An axle
// gets through the sides of a frame of sheet by holes only.
func readMaking(t *tomlfile.Table, ofSheet bool) Making {
	m := Making{DrillFrame: t.Yes("drill_frame", true), DrillOut: t.Yes("drill_out", true), Glue: t.Yes("glue", true), Discs: t.Yes("discs", false)}
	if m.Discs && !m.Glue && t.Good("discs", "glue") {
		t.Fail("discs", "discs are glued on one another: it needs glue = true as well")
	}
	if !m.DrillFrame && ofSheet && t.Good("drill_frame") {
		t.Fail("drill_frame", "an axle gets through sides of sheet by a hole only: let holes be drilled, or build the sides of strip, with rails = [\"30 mm\", \"90 mm\"] or the like under [frame], to which clips or tubes are fixed")
	}
	t.Close()
	return m
}
