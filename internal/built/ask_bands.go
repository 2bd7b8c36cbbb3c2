package built

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func frameFit(r *Reply, w *Working) {
	in := w.InFrame
	if in == nil {
		r.Short = "That cannot be said yet: the file has no frame."
		r.says("Write a table [frame] into it with length, height and depth of the inside, and motor_at, the place of the motor's shaft, if that is settled.")
		return
	}
	var wrong []string
	for _, f := range w.Findings {
		if s := sentence(f.Says) + "."; f.Broken && frameRule(f.Rule) && !slices.Contains(wrong, s) {
			wrong = append(wrong, s)
		}
	}
	where := "with the motor where the file says"
	if !in.Given {
		where = "put where it fits best"
	}
	r.Short = fmt.Sprintf("Yes: it fits, %s.", where)
	if len(wrong) > 0 {
		r.Short = fmt.Sprintf("No, not as it lies, %s.", where)
	}
	r.Faults = wrong
	var rooms []string
	for _, e := range []struct {
		name string
		Edge
	}{{"left", in.Left}, {"right", in.Right}, {"below", in.Bottom}, {"above", in.Top}} {
		room := millimetres(e.Room)
		if e.Room < 0 {
			room = millimetres(-e.Room) + " beyond it"
		}
		rooms = append(rooms, fmt.Sprintf("%s %s (%s)", e.name, room, e.What))
	}
	depth := ""
	if in.Depth >= 0 {
		depth = fmt.Sprintf(" In depth %s are left.", millimetres(in.Depth))
	}
	r.says("Room to the frame: %s.%s", strings.Join(rooms, ", "), depth)
	r.says("Holes (from the left, from below, inside the frame): %s.", holeWords(in.Holes))
	switch {
	case len(wrong) == 0:
	case in.Otherwise != nil:
		r.says("Laid out otherwise it fits, with the same bands and centre distances to within 1 mm: %s.", holeWords(in.Otherwise))
	case in.OtherwiseProved:
		r.says("No other way of laying it out with these centre distances fits either: all were looked at. It takes a larger frame, or smaller pulleys.")
	}
}

func holeWords(at []layout.Point) string {
	out := make([]string, len(at))
	for i, p := range at {
		name := fmt.Sprintf("axle %d", i)
		if i == 0 {
			name = "motor"
		}
		out[i] = fmt.Sprintf("%s (%s, %s)", name, units.Decimals(float64(p.X), 1), units.Decimals(float64(p.Y), 1))
	}
	return strings.Join(out, ", ") + " mm"
}

// frameRule reports whether a rule is one about the frame.
func frameRule(r constraints.Rule) bool {
	return r == constraints.Depth || r == constraints.HoleWall || r == constraints.Room || r == constraints.Floor
}

// quarterTwistCentres is how many times the two diameters together the axles of a
// quarter-twist band should at least be apart (common practice); nearer, the band leaves
// the pulleys too much aslant to stay on.
const quarterTwistCentres = 2

func upright(r *Reply, w *Working) {
	b, lim := w.Build, w.Build.Brief.Limits
	r.Short = "Best turn the motor: with its shaft upright too, all axles are parallel and any band will do."
	r.says("Lay the frame flat: what was its front is then its top. Strap the motor with its shaft upright. Nothing in the numbers changes.")
	r.says("Or lead one band round the corner with a quarter twist. Its axles must be twice the two diameters together apart, at least (common practice), and it wants a longer band.")
	var could []string
	for i := range b.Drive.Stages {
		s, f := &b.Drive.Stages[i], w.Stages[i].Fitted
		need, have := quarterTwistCentres*(s.Driver.Outside+s.Driven.Outside), b.Drive.Centre(i)
		at, apart := have, fmt.Sprintf("the axles are %s apart, far enough (%s are needed)", millimetres(have), millimetres(need))
		if have < need {
			at, apart = need, fmt.Sprintf("the axles are %s apart, too near: %s are needed", millimetres(have), millimetres(need))
		}
		length := mechanics.QuarterTwistLength(f.DriverPitch, f.DrivenPitch, at)
		var fit []string
		for k := range b.Cupboard.Bands {
			band := &b.Cupboard.Bands[k]
			if stretch := float64(length) / (2 * float64(band.FlatLength)); band.Width <= wide && lim.ComfortStretchMin <= stretch && stretch <= lim.ComfortStretchMax {
				fit = append(fit, band.Name)
			}
		}
		words := "no narrow band of the cupboard is right for that"
		if b.Alone {
			words = "none of its own narrow bands is right for that"
		}
		if len(fit) > 0 {
			words = strings.Join(fit, " or ") + " would do"
			if have >= need {
				could = append(could, fmt.Sprintf("stage %d", i+1))
			}
		}
		flat := float64(length) / lim.IdealStretch / 2
		r.says("Stage %d: %s. At %s the way round is %s, for a band of about %s mm laid flat: %s.", i+1, apart, millimetres(at), millimetres(units.Millimetres(math.Round(float64(length)))), units.Decimals(flat, 0), words)
	}
	if len(could) == 0 {
		r.says("So as it is built no stage can be twisted: move axles apart, or turn the motor.")
		return
	}
	r.says("So %s could be twisted. Line it up with a string: from where the band leaves each pulley it must run straight into the middle of the other's groove.", strings.Join(could, " or "))
	r.says("It then runs one way round only: the other way the band jumps off at once. How well it pulls and stays on is not worked out here: try it.")
}

// wide is the width from which a stationery band counts as fat: the narrow families
// are 1.5 mm (1/16 in), the next 3 mm (1/8 in).
const wide = 2

func fatBands(r *Reply, w *Working) {
	b := w.Build
	any, works := false, 0
	for i := range b.Drive.Stages {
		var yes, no string
		miss := math.Inf(1)
		for k := range b.Cupboard.Bands {
			band := &b.Cupboard.Bands[k]
			if band.Width <= wide {
				continue
			}
			any = true
			for _, use := range []drive.Use{drive.Single, drive.LoopedTwice} {
				for _, o := range b.withBand(i, band, use) {
					broken, sum := o.brokenAt(i)
					at := fmt.Sprintf("band %s, %s, with the axles %s apart", band.Name, use, millimetres(o.Drive.Centre(i)))
					switch {
					case broken == "" && yes == "":
						yes = at
					case broken != "" && sum < miss:
						miss, no = sum, fmt.Sprintf("the nearest is %s, and there %s", at, broken)
					}
				}
			}
		}
		switch {
		case yes != "":
			works++
			r.says("Stage %d: yes, %s.", i+1, yes)
		case no != "":
			r.says("Stage %d: no; %s.", i+1, no)
		}
	}
	switch {
	case !any && b.Alone:
		r.Short = fmt.Sprintf("That cannot be said: no band but its own is known, and those are at most %d mm wide.", wide)
	case !any:
		r.Short = fmt.Sprintf("The cupboard has none: every band in it is at most %d mm wide.", wide)
	case works == len(b.Drive.Stages):
		r.Short = "Yes, fat bands will do at every stage."
	case works == 0:
		r.Short = "No: at no stage will a fat band of this cupboard do."
	default:
		r.Short = fmt.Sprintf("In part: at %d of %d stages a fat band will do.", works, len(b.Drive.Stages))
	}
	r.says("Fat bands climb out of narrow grooves, and all their pull rubs in the bearings. Two narrow ones side by side grip as well and stay in (common practice).")
}

// withBand is the build with another band in a stage: at its own centre distance, and at
// the one that stretches the band as is ideal.
func (b *Build) withBand(i int, band *parts.Band, use drive.Use) []*Build {
	make := func(c units.Millimetres) *Build {
		o := b.copied()
		o.Drive.Stages[i].Band, o.Drive.Stages[i].Use = band, use
		to := centres(o.Drive)
		to[i] = c
		place(o.Drive, to)
		return o
	}
	out := []*Build{make(b.Drive.Centre(i))}
	if c, ok := out[0].Drive.Stages[i].Mechanics(likelyGrip).CentreAtStretch(b.Brief.Limits.IdealStretch); ok && c > 2 {
		out = append(out, make(units.Millimetres(math.Round(float64(c)))))
	}
	return out
}

// brokenAt is the worst rule that stage i breaks, in words, empty if none; and how far
// all are missed together.
func (b *Build) brokenAt(i int) (words string, sum float64) {
	s, err := b.at(drive.Conditions{})
	if err != nil {
		return err.Error(), math.Inf(1)
	}
	var l ledger
	b.judge(&l, s)
	worst := -1.0
	for _, f := range l.findings {
		of := f.Stage == i+1 || f.Stage == 0 && (f.Rule == constraints.MotorRuns || f.Rule == constraints.MotorStarts)
		if !f.Broken || !of {
			continue
		}
		sum += 1 + f.Miss
		if f.Miss > worst {
			worst, words = f.Miss, f.Says
		}
	}
	if !s.whole && words == "" {
		words, sum = "a band is off", sum+1
	}
	return words, sum
}

// knotTakes is the rubber that one knot takes from the loop (judgement, for narrow
// bands); a loop of two bands that were cut open has two.
const knotTakes = 15

func joinBands(r *Reply, w *Working) {
	b, lim := w.Build, w.Build.Brief.Limits
	bands := b.Cupboard.Bands
	r.Short = "Yes where it turns slowly, and only if no single band is long enough; not on the motor's pulley."
	for i := range w.Stages {
		f, st := w.Stages[i].Fitted, &b.Drive.Stages[i]
		want := float64(f.Length) / lim.IdealStretch / 2
		s := fmt.Sprintf("Stage %d, axles %s apart, wants a flat length of about %s mm", i+1, millimetres(f.Centre), units.Decimals(want, 0))
		var single, joined []string
		for k := range bands {
			if stretch := float64(f.Length) / (2 * float64(bands[k].FlatLength)); lim.ComfortStretchMin <= stretch && stretch <= lim.ComfortStretchMax {
				single = append(single, bands[k].Name)
			}
			for m := k; m < len(bands); m++ {
				rest := 2*float64(bands[k].FlatLength+bands[m].FlatLength) - 2*knotTakes
				stretch := float64(f.Length) / rest
				if bands[k].Width == bands[m].Width && bands[k].Width <= wide && lim.ComfortStretchMin <= stretch && stretch <= lim.ComfortStretchMax {
					joined = append(joined, bands[k].Name+" with "+bands[m].Name)
				}
			}
		}
		switch {
		case len(single) > 0:
			s += ": " + strings.Join(single, " or ") + " has it as it is, so there is nothing to join"
		case len(joined) > 0:
			s += ": no single band has it; cut open and tied, " + strings.Join(joined[:min(3, len(joined))], ", or ") + " would"
		default:
			s += ": neither a band nor two tied together have it; move the axles"
		}
		r.Says = append(r.Says, s+".")
		if w.Stops == Turns && f.Length > 0 {
			turns := float64(w.Motor.Speed)
			for k := range i {
				turns /= w.Stages[k].Fitted.Ratio
			}
			thumps := turns * math.Pi * float64(f.DriverPitch) / float64(f.Length) / 60
			word := "too often: it will throw the band"
			if thumps < 1.5 {
				word = "slow enough to put up with"
			}
			r.says("A knot in the band of stage %d (%s to %s) would go over each pulley %s times a second, %s.", i+1, st.Driver.Name, st.Driven.Name, figure(thumps), word)
		}
	}
	r.says("Each knot takes about %d mm of rubber (judgement) and thumps as it passes. Round cord, cut square and butted with instant glue by an adult, runs smoother (common practice).", knotTakes)
}
