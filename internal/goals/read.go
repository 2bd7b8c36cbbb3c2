package goals

import (
	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Read reads a brief with a [challenge] table; see brief.Read for the rest of it,
// and for the errors. The table has
//
//	goal       needed: one of the kinds
//	distance   exact time, fastest, slowest, steepest; otherwise 3 m, and 1 m for
//	           slowest and steepest
//	time       exact time: the time to hit, needed; turns: how long is counted,
//	           otherwise 60 s
//	turns      turns in that time, needed
//	height     heaviest: how far up, otherwise 300 mm
//	within     slowest, steepest, heaviest: the longest that counts, otherwise 60 s,
//	           and 10 min for slowest
//
// and two tables in it: rules (cells, parts and budget, whole numbers, footprint, a list
// of two lengths, and holes, by how much each may be off, otherwise 1 mm) and prices (whole numbers for motor, cell,
// pulley, band, axle, wheel, drum and sleeve).
func Read(name string, data []byte, cup *parts.Cupboard) (*Challenge, error) {
	c := &Challenge{}
	b, err := brief.ReadWith(name, data, cup, func(root *tomlfile.Table, b *brief.Brief) {
		c.Brief = b
		root.Need("challenge", `{ goal = "fastest" }`)
		if root.Has("challenge") {
			c.read(root.Table("challenge"), root)
		}
	})
	if err != nil {
		return nil, err
	}
	c.Brief = b
	return c, nil
}

// models are the models that a kind of challenge is for.
func (k Kind) models() []brief.Model {
	switch k {
	case ExactTime, Fastest, Slowest, Steepest:
		return []brief.Model{brief.Vehicle}
	case Heaviest:
		return []brief.Model{brief.Lift}
	case Turns:
		return []brief.Model{brief.UprightRide, brief.LevelRide, brief.PlainShaft}
	}
	return nil
}

// NeedsSpeed reports whether the brief of a kind gives a speed; for the others the
// goal takes its place.
func (k Kind) NeedsSpeed() bool { return k == Forgiving }

func (c *Challenge) read(t, root *tomlfile.Table) {
	t.Need("goal", `"fastest"`)
	c.Kind = Kind(t.Choice("goal", "", string(ExactTime), string(Fastest), string(Slowest), string(Steepest),
		string(Heaviest), string(Turns), string(Forgiving)))
	if c.Kind != "" {
		c.fits(t, root)
	}
	only := func(key string, kinds ...Kind) bool {
		for _, k := range kinds {
			if c.Kind == k {
				return true
			}
		}
		if c.Kind != "" {
			t.Refuse(key, "%s does not belong to the goal %s", key, units.Quoted(string(c.Kind)))
		}
		t.Offer(key)
		return false
	}
	if only("distance", ExactTime, Fastest, Slowest, Steepest) {
		usual := units.Millimetres(3000)
		if c.Kind == Slowest || c.Kind == Steepest {
			usual = 1000
		}
		c.Distance = tomlfile.Quantity(t, "distance", &units.Lengths, usual, tomlfile.Range[units.Millimetres]{Least: 100, Most: 50_000})
	}
	if only("time", ExactTime, Turns) {
		if c.Kind == ExactTime {
			t.Need("time", `"10 s"`)
		}
		c.Time = tomlfile.Quantity(t, "time", &units.Times, 60, tomlfile.Range[units.Seconds]{Least: 1, Most: 600})
	}
	if only("turns", Turns) {
		t.Need("turns", "30")
		c.Turns = t.Number("turns", 30, 1, 10_000)
	}
	if only("height", Heaviest) {
		c.Height = tomlfile.Quantity(t, "height", &units.Lengths, 300, tomlfile.Range[units.Millimetres]{Least: 20, Most: 2000})
	}
	if only("within", Slowest, Steepest, Heaviest) {
		usual := units.Seconds(60)
		if c.Kind == Slowest {
			usual = 600
		}
		c.Within = tomlfile.Quantity(t, "within", &units.Times, usual, tomlfile.Range[units.Seconds]{Least: 1, Most: 3600})
	}
	c.readRules(t.Table("rules"))
	c.readPrices(t.Table("prices"))
	t.Close()
}

// fits notes a goal that the model cannot have, and a speed beside one that takes
// its place.
func (c *Challenge) fits(t, root *tomlfile.Table) {
	models := c.Kind.models()
	fits := len(models) == 0 || c.Brief.Model == ""
	for _, m := range models {
		fits = fits || m == c.Brief.Model
	}
	if !fits {
		t.Fail("goal", "the goal %s is for a %s, and this model is a %s", units.Quoted(string(c.Kind)), models[0], c.Brief.Model)
	}
	if !c.Kind.NeedsSpeed() {
		root.Refuse("speed", "the goal of the challenge takes the place of a speed: take this line away")
	} else {
		root.Need("speed", `"20 rpm"`)
	}
}

// usualHoles is how well holes are drilled by hand from a drawing (judgement).
const usualHoles units.Millimetres = 1

func (c *Challenge) readRules(t *tomlfile.Table) {
	r := &c.Rules
	r.Cells = t.Whole("cells", 0, 1, 8)
	r.Parts = t.Whole("parts", 0, 1, 100)
	r.Budget = t.Whole("budget", 0, 1, 10_000)
	r.Holes = tomlfile.Quantity(t, "holes", &units.Lengths, usualHoles, tomlfile.Range[units.Millimetres]{Least: 0, Most: 5})
	list := t.List("footprint", `["297 mm", "210 mm"]`, 2)
	if t.Has("footprint") && len(list) != 2 && t.Good("footprint") {
		t.Fail("footprint", `two lengths are needed: write for example footprint = ["297 mm", "210 mm"]`)
	}
	if len(list) == 2 {
		for i, to := range []*units.Millimetres{&r.Footprint.Length, &r.Footprint.Width} {
			v, err := tomlfile.Measure(list[i], &units.Lengths, tomlfile.Range[units.Millimetres]{Least: 20, Most: 5000})
			if err != nil {
				t.Fail("footprint", "%v", err)
				break
			}
			*to = v
		}
	}
	t.Close()
}

func (c *Challenge) readPrices(t *tomlfile.Table) {
	p := usualPrices()
	for _, price := range []struct {
		key string
		to  *int
	}{
		{"motor", &p.Motor}, {"cell", &p.Cell}, {"pulley", &p.Pulley}, {"band", &p.Band},
		{"axle", &p.Axle}, {"wheel", &p.Wheel}, {"drum", &p.Drum}, {"sleeve", &p.Sleeve},
	} {
		*price.to = t.Whole(price.key, *price.to, 0, 1000)
	}
	c.Rules.Prices = p
	t.Close()
}
