package cases

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// OrdinaryFiles draws the two files of an ordinary school: few kinds of pulley and band,
// many of each, one motor, one or two cells, and a brief for any model. Nothing is chosen
// to be easy or hard. The same seed gives the same files.
func OrdinaryFiles(seed uint64) (cupboard, task []byte) {
	o := ordinary{Rand: rand.New(rand.NewPCG(seed, 0x0d1)), seed: seed}
	return o.cupboard(), o.task()
}

// Ordinary is what the files of OrdinaryFiles hold. The error is that of their readers,
// and there is none.
func Ordinary(seed uint64) (*parts.Cupboard, *brief.Brief, error) {
	cupboard, task := OrdinaryFiles(seed)
	cup, err := parts.Read("cupboard.toml", cupboard)
	if err != nil {
		return nil, nil, err
	}
	b, err := brief.ReadFor("brief.toml", task, cup)
	return cup, b, err
}

type ordinary struct {
	*rand.Rand
	seed uint64
	strings.Builder
}

func (o *ordinary) pick(v ...float64) float64 { return v[o.IntN(len(v))] }

// some are n of a list, in rising order.
func (o *ordinary) some(n int, list ...float64) []float64 {
	o.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	slices.Sort(list[:n])
	return list[:n]
}

func (o *ordinary) put(format string, args ...any) { fmt.Fprintf(o, format+"\n", args...) }

func (o *ordinary) text() []byte {
	out := []byte(o.String())
	o.Reset()
	return out
}

func (o *ordinary) head() {
	o.put("schema = 1\nname = \"ordinary %d\"", o.seed)
}

func (o *ordinary) cupboard() []byte {
	o.head()
	dowel := o.pick(4, 5, 6)
	pulley := func(kind string, floor, bore float64) {
		o.put("[pulley.%s%g]\noutside = \"%g mm\"\ngroove_floor = \"%g mm\"\ngroove_width = \"%g mm\"\nwidth = \"%g mm\"\nbore = \"%g mm\"\ncount = 30",
			kind, floor, floor+4, floor, o.pick(3, 3.5, 4), o.pick(6, 7, 8), bore)
	}
	for _, floor := range o.some(1+o.IntN(5)/3, 6, 7, 8, 10) {
		pulley("m", floor, 2)
	}
	for _, floor := range o.some([]int{2, 2, 3, 3, 4}[o.IntN(5)], 10, 12, 15, 16, 20, 25, 30, 35, 40, 45, 50, 57, 60, 70, 80) {
		pulley("a", floor, dowel-0.1)
	}
	for _, flat := range o.some([]int{2, 3, 3, 4}[o.IntN(4)], 50, 63, 76, 89, 102, 127, 152, 178, 203) {
		o.put("[band.b%g]\nflat_length = \"%g mm\"\nwidth = \"%g mm\"\nthickness = \"0.9 mm\"\ncount = 100", flat, flat, o.pick(1.5, 1.5, 3))
	}
	motor := [][3]float64{{3, 5200, 2.4}, {3, 8000, 2.0}, {3, 2400, 1.8}, {3, 9600, 2.5}, {1.5, 3500, 1.5}}[o.IntN(5)]
	o.put("[motor.m]\nrated = \"%g V\"\nfree_speed = \"%g rpm\"\nstall_torque = \"%g mN.m\"\nfree_current = \"120 mA\"\ncount = 10", motor[0], motor[1], motor[2])
	for cells := range 2 {
		o.put("[cells.c%d]\ncells = %d\nchemistry = \"zinc-carbon\"\ncount = 10", cells+1, cells+1)
	}
	o.put("[axle.d]\ndiameter = \"%g mm\"\nlength = \"300 mm\"\ncount = 40", dowel)
	o.put("[wheel.w]\ndiameter = \"%g mm\"\nbore = \"%g mm\"\ncount = 40", o.pick(40, 50, 60), dowel-0.1)
	o.put("[drum.r]\ndiameter = \"%g mm\"\nbore = \"%g mm\"\ncount = 20", o.pick(10, 16, 20), dowel-0.1)
	return o.text()
}

func (o *ordinary) task() []byte {
	o.head()
	o.put("sets = %g", o.pick(1, 4, 6, 8))
	model := func(name string, speed float64, unit string) {
		o.put("model = %q\nspeed = \"%g %s\"\n[load]", name, speed, unit)
	}
	mass := func(v ...float64) { o.put("mass = \"%g g\"", o.pick(v...)) }
	switch o.IntN(5) {
	case 0:
		model("ride on an upright axle", o.pick(15, 20, 30, 45, 60, 90), "rpm")
		mass(80, 150, 250)
		o.put("radius = \"60 mm\"")
	case 1:
		model("ride on a level axle", o.pick(10, 15, 20, 30, 40), "rpm")
		mass(100, 200)
		o.put("radius = \"80 mm\"")
	case 2:
		model("vehicle", o.pick(0.2, 0.3, 0.5, 0.8), "m/s")
		mass(200, 300, 400)
	case 3:
		model("lift", o.pick(0.02, 0.04, 0.08), "m/s")
		mass(50, 100, 200)
	default:
		model("plain shaft", o.pick(20, 60, 120, 300), "rpm")
		o.put("torque = \"%g mN.m\"", o.pick(0.5, 2, 5))
	}
	o.put("[frame]\nlength = \"%g mm\"\nheight = \"%g mm\"\ndepth = \"%g mm\"", o.pick(180, 220, 250, 300), o.pick(80, 100, 120, 150), o.pick(80, 100))
	return o.text()
}
