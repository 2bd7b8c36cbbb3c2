package hoist

import (
	"errors"
	"fmt"
	"strconv"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Brief is what is to be lifted, where, and by whom. Every optional field has its
// default.
type Brief struct {
	Name string
	// Mass of what is lifted; 0 asks instead how much can be lifted.
	Mass units.Grams
	Lift units.Millimetres // how far up
	Beam units.Millimetres // the beam above where the load stands
	Hook units.Millimetres // the load's hook above where the load stands
	Pull units.Newtons     // the greatest comfortable pull
	Way  Way               // which way the puller pulls
	// StandOff is how far off to the side the puller stands.
	StandOff units.Millimetres
	Sets     int    // hoists built at once from one cupboard
	Cord     string // name of a cord, empty for any
	Prefer   Preference
}

// Preference says which of two hoists that both do is better.
type Preference string

// The preferences.
const (
	Simplest Preference = "simplest"      // fewest sheaves
	Lightest Preference = "lightest pull" // least pull
)

// HeaviestLoad is the cap on what may be lifted in a classroom (common practice).
const HeaviestLoad units.Grams = 1000

// The defaults of a brief. The pull is that of one hand of a child without effort,
// about the weight of a one-litre bottle; it and the stand-off are judgement.
const (
	usualPull     units.Newtons     = 10
	usualHook     units.Millimetres = 60
	usualStandOff units.Millimetres = 500
)

// The ranges of a brief.
var (
	masses   = tomlfile.Range[units.Grams]{Least: 1, Most: 1000 * HeaviestLoad}
	lifts    = tomlfile.Range[units.Millimetres]{Least: 10, Most: 3000}
	beams    = tomlfile.Range[units.Millimetres]{Least: 100, Most: 4000}
	hooks    = tomlfile.Range[units.Millimetres]{Least: 0, Most: 1000}
	pulls    = tomlfile.Range[units.Newtons]{Least: 0.1, Most: 50}
	standOff = tomlfile.Range[units.Millimetres]{Least: 0, Most: 5000}
)

const mostSets = 1000

// ReadBrief reads hoist.toml. name is the file's name in messages. The error is
// tomlfile.Problems: every problem in the document, each at its line and column.
//
//	mass       of the load, at most 1 kg; without it the program says how much
//	           can be lifted
//	lift       how far up; needed
//	beam       height of the beam above where the load stands; needed
//	hook       height of the load's hook, otherwise 60 mm
//	pull       greatest comfortable pull, otherwise 10 N
//	way        "down", "up", "level" or "any" (otherwise)
//	stand_off  how far to the side the puller stands, otherwise 500 mm
//	sets       hoists built at once, otherwise 1
//	cord       a name in the cupboard, otherwise any
//	prefer     "simplest" (otherwise) or "lightest pull"
//
// With a cupboard, a cord that it has not got is a problem too.
func ReadBrief(name string, data []byte, cup *parts.Cupboard) (*Brief, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	t := doc.Root()
	t.Whole("schema", 1, 1, 1)
	b := &Brief{Name: t.Text("name", name)}
	b.Mass = tomlfile.Quantity(t, "mass", &units.Masses, 0, masses)
	if err := tooHeavy(b.Mass); err != nil {
		t.Fail("mass", "%v", err)
	}
	t.Need("lift", `"300 mm"`)
	b.Lift = tomlfile.Quantity(t, "lift", &units.Lengths, lifts.Least, lifts)
	t.Need("beam", `"800 mm"`)
	b.Beam = tomlfile.Quantity(t, "beam", &units.Lengths, beams.Most, beams)
	b.Hook = tomlfile.Quantity(t, "hook", &units.Lengths, usualHook, hooks)
	b.Pull = tomlfile.Quantity(t, "pull", &units.Forces, usualPull, pulls)
	b.Way = Way(t.Choice("way", string(AnyWay), ways()...))
	b.StandOff = tomlfile.Quantity(t, "stand_off", &units.Lengths, usualStandOff, standOff)
	b.Sets = t.Whole("sets", 1, 1, mostSets)
	b.Cord = t.Text("cord", "")
	if cup != nil && len(cup.Cords) > 0 && b.Cord != "" && t.Good("cord") {
		names := make([]string, 0, len(cup.Cords))
		for i := range cup.Cords {
			names = append(names, cup.Cords[i].Name)
		}
		t.Known("cord", b.Cord, names)
	}
	b.Prefer = Preference(t.Choice("prefer", string(Simplest), string(Simplest), string(Lightest)))
	if t.Good("lift", "beam", "hook") {
		if err := b.fits(); err != nil {
			t.Fail("lift", "%v", err)
		}
	}
	t.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

func ways() []string { return []string{string(Down), string(Up), string(Level), string(AnyWay)} }

func tooHeavy(m units.Grams) error {
	if m <= HeaviestLoad {
		return nil
	}
	return fmt.Errorf("%s is too heavy to lift in a classroom: it must be at most %s, for a hand or foot may be under it when the cord slips", units.Masses.Format(m), units.Masses.Format(HeaviestLoad))
}

// fits is the rule that no block whatever is needed to break.
func (b *Brief) fits() error {
	if b.Hook+b.Lift < b.Beam {
		return nil
	}
	return fmt.Errorf("a load whose hook is at %s cannot rise by %s under a beam at %s: write a lift of less, or a beam higher up", units.Lengths.Format(b.Hook), units.Lengths.Format(b.Lift), units.Lengths.Format(b.Beam))
}

// Change sets one field of a brief from the key and the text of its value, as in
// the file. The error is a plain sentence; Check the brief after the last change.
func (b *Brief) Change(key, text string) error {
	switch key {
	case "mass":
		m, err := tomlfile.Measure(text, &units.Masses, masses)
		if err == nil {
			err = tooHeavy(m)
		}
		b.Mass = m
		return err
	case "lift":
		return change(&b.Lift, text, &units.Lengths, lifts)
	case "beam":
		return change(&b.Beam, text, &units.Lengths, beams)
	case "hook":
		return change(&b.Hook, text, &units.Lengths, hooks)
	case "pull":
		return change(&b.Pull, text, &units.Forces, pulls)
	case "sets":
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > mostSets {
			return fmt.Errorf("%s is not so many hoists: write a whole number from 1 to %d", units.Quoted(text), mostSets)
		}
		b.Sets = n
		return nil
	case "way":
		b.Way = Way(text)
		for _, w := range ways() {
			if w == text {
				return nil
			}
		}
		return fmt.Errorf("%s is not known: it can be down, up, level or any", units.Quoted(text))
	}
	return fmt.Errorf("%s cannot be changed", key)
}

func change[Q ~float64](field *Q, text string, n *units.Notation[Q], within tomlfile.Range[Q]) error {
	q, err := tomlfile.Measure(text, n, within)
	*field = q
	return err
}

// Check says what does not go together in a brief that was changed.
func (b *Brief) Check() error { return b.fits() }

// CheckCupboard says what a cupboard lacks for lifting anything. The errors are
// plain sentences, all of them at once.
func CheckCupboard(cup *parts.Cupboard) error {
	var errs []error
	if len(cup.Blocks) == 0 {
		errs = append(errs, errors.New("the cupboard has no blocks: write for example [block.single], sheaves = 1 and sheave = \"30 mm\""))
	}
	if len(cup.Blocks) > maxKinds {
		errs = append(errs, fmt.Errorf("the cupboard has %d kinds of block, and the most is %d: leave out those that will not be used", len(cup.Blocks), maxKinds))
	}
	if len(cup.Cords) > maxCords {
		errs = append(errs, fmt.Errorf("the cupboard has %d kinds of cord, and the most is %d: leave out those that will not be used", len(cup.Cords), maxCords))
	}
	if len(cup.Cords) == 0 {
		errs = append(errs, errors.New("the cupboard has no cord: write for example [cord.string], diameter = \"2 mm\" and length = \"20 m\""))
	}
	return errors.Join(errs...)
}
