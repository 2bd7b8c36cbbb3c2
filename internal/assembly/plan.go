package assembly

import (
	"cmp"
	"fmt"
	"slices"
)

// StepKind says what a step is about; the words are the sheet's.
type StepKind int

// The kinds of steps, in the order in which they come.
const (
	SawStep StepKind = iota
	CutDiscsStep
	BoreDiscsStep
	GlueDiscsStep
	TrueDiscsStep
	SidesStep
	DrillStep
	BearingStep
	JoinStep
	FitStep  // a part made ready for its shaft
	AxleStep // a rod, what is threaded on it, and the bands that hang on it
	WheelStep
	DrumStep
	GlueStep
	MotorStep
	BandStep
	UnderStep
	RideStep
	CordStep
	TackleStep
	WireStep
	MeasureStep // nothing is put together
)

// Step is what is done before the next check.
type Step struct {
	Kind    StepKind
	Adult   bool
	Shaft   int // AxleStep, WheelStep, DrumStep, RideStep
	Stage   int // BandStep
	Actions []Action
}

// Hands reports whether a step puts something together that pupils see: not sawing,
// frame, fits, glue and measuring.
func (s *Step) Hands() bool {
	switch s.Kind {
	case AxleStep, WheelStep, DrumStep, MotorStep, BandStep, UnderStep, RideStep, CordStep, TackleStep, WireStep:
		return true
	}
	return false
}

// New are the parts that a step puts in their place, in the order in which it does.
func (s *Step) New(b *Build) []int {
	var out []int
	add := func(part int) {
		if part >= 0 && !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	for _, a := range s.Actions {
		switch a.Verb {
		case Enter:
			add(b.Shafts[a.Shaft].Rod)
		case Thread, Cap, Attach, Bear:
			add(a.Part)
		case Hang:
			if a.First { // else it hangs there already
				add(a.Part)
			}
		}
	}
	return out
}

// Plan is the making of a drive, and its taking apart for storing.
type Plan struct {
	Build *Build
	Steps []Step
	Store []Step
	// Stays lists what glue keeps together, besides the frame, when it is stored.
	Stays []int
}

// PlanOf plans the making of a drive and carries it out in the model, to the end and
// back. The error, in plain words, is the step that cannot be done: such a list is
// not to be printed.
func PlanOf(b *Build) (*Plan, error) {
	p := &Plan{Build: b, Steps: steps(b)}
	s, err := Carry(b, p.Steps)
	if err != nil {
		return nil, err
	}
	if err := s.Finished(); err != nil {
		return nil, fmt.Errorf("the steps leave the model unfinished: %w", err)
	}
	p.Store, p.Stays = store(p.Steps, s)
	return p, nil
}

// Carry does steps from parts on the table on. The error names the step, from 1, and
// why it cannot be done; the state is that before its action.
func Carry(b *Build, steps []Step) (*State, error) {
	s := Start(b)
	return s, s.carry(steps)
}

func (s *State) carry(steps []Step) error {
	for i := range steps {
		for _, a := range steps[i].Actions {
			if err := s.Do(a); err != nil {
				return fmt.Errorf("step %d: %w", i+1, err)
			}
		}
	}
	return nil
}

// steps lists them: the frame first, since whatever is threaded on an axle would have
// to come off again for it; then the axles, the output's first, each through the loop
// that hangs on the one before; the bands onto their pulleys once their axles are
// held; and what is outside last, unless it is glued and dries with the rest.
func steps(b *Build) []Step {
	var out []Step
	add := func(kind StepKind, adult bool, actions ...Action) *Step {
		out = append(out, Step{Kind: kind, Adult: adult, Stage: -1, Actions: actions})
		return &out[len(out)-1]
	}
	add(SawStep, true, Action{Verb: Saw})
	out = append(out, b.discSteps()...)
	sides := []Action{{Verb: MakeSides}}
	if b.Frame.OfStrip {
		sides = append(sides, Action{Verb: Dry})
	}
	add(SidesStep, !b.Frame.OfStrip, sides...)
	if b.Drilled {
		add(DrillStep, true, Action{Verb: Clamp}, Action{Verb: Drill}, Action{Verb: Unclamp})
	} else {
		var fix []Action
		for _, k := range b.Bearings {
			fix = append(fix, Action{Verb: Bear, Part: k})
		}
		add(BearingStep, false, append(fix, Action{Verb: Dry})...)
	}
	add(JoinStep, !b.Frame.OfStrip, Action{Verb: Join}, Action{Verb: Dry})
	out = append(out, fits(b)...)
	hung := map[int]int{}
	for i := b.Stages; i >= 1; i-- {
		step := add(AxleStep, false, b.axle(i, hung)...)
		step.Shaft = i
	}
	early := false
	for _, k := range b.joints() {
		early = early || b.Parts[k].Joint == glued && !b.onMotor(k)
	}
	for i := b.Stages + 1; i < len(b.Shafts); i++ {
		step := add(AxleStep, false, append(b.axle(i, hung), b.caps(i)...)...)
		step.Shaft = i
	}
	if early {
		out = append(out, b.outside()...)
		var glue []Action
		for _, k := range b.joints() {
			if b.Parts[k].Joint == glued && !b.onMotor(k) {
				glue = append(glue, Action{Verb: GlueJoint, Part: k})
			}
		}
		add(GlueStep, true, append(glue, Action{Verb: Dry})...)
	}
	motor := []Action{{Verb: Attach, Part: b.Mount}, {Verb: Attach, Part: b.Motor}}
	if a := b.Bands[0].Driver; b.Parts[a].Joint != glued { // a glued one is on it already
		motor = append([]Action{{Verb: Thread, Shaft: 0, Part: a}}, motor...)
	}
	for i := range b.Bands {
		if slices.ContainsFunc(b.Bands[i].Inside, func(in Inside) bool { return in.Shaft == 0 }) {
			motor = append(b.hang(&b.Bands[i], 0, hung), motor...)
		}
	}
	add(MotorStep, true, motor...)
	for i := b.Stages - 1; i >= 0; i-- {
		var put []Action
		band := &b.Bands[i]
		if i == 0 { // the motor's shaft has a free end
			put = b.hang(band, 0, hung)
		}
		for _, l := range band.Loops {
			put = append(put, Action{Verb: Seat, Part: l})
		}
		add(BandStep, false, put...).Stage = i
	}
	if !early {
		out = append(out, b.outside()...)
	}
	if len(b.Under) > 0 {
		var fit []Action
		for _, k := range b.Under {
			fit = append(fit, Action{Verb: Attach, Part: k})
		}
		add(UnderStep, false, fit...)
	}
	if kind, _ := b.Outer(); kind == Ride {
		add(RideStep, false, b.caps(b.Stages)...).Shaft = b.Stages
	}
	if len(b.Lifting) > 0 {
		kind := CordStep
		if b.Rope > 0 { // the cord runs through it: one thing to do
			kind = TackleStep
		}
		var fit []Action
		for _, k := range b.Lifting {
			fit = append(fit, Action{Verb: Attach, Part: k})
		}
		add(kind, false, fit...)
	}
	var wire []Action
	for _, k := range b.Electric {
		wire = append(wire, Action{Verb: Attach, Part: k})
	}
	add(WireStep, false, wire...)
	add(MeasureStep, false)
	return out
}

// joints are all parts that sit on a shaft by a joint.
func (b *Build) joints() []int {
	var out []int
	for k := range b.Parts {
		if b.Parts[k].Joint != "" && b.Parts[k].Kind != Ride {
			out = append(out, k)
		}
	}
	return out
}

func (b *Build) onMotor(part int) bool { return b.Bands[0].Driver == part }

// fits make parts ready for their shafts: one step for the same kind of work.
func fits(b *Build) []Step {
	var out []Step
	for _, k := range b.joints() {
		p := &b.Parts[k]
		a := Action{Part: k}
		switch {
		case p.Joint == opened:
			a.Verb = OpenBore
		case p.Joint == sleeved:
			a.Verb = PackOut
		case p.Joint == glued && b.onMotor(k):
			out = append(out, Step{Kind: FitStep, Adult: true, Stage: -1, Actions: []Action{{Verb: Thread, Shaft: 0, Part: k}, {Verb: GlueJoint, Part: k}, {Verb: Dry}}})
			continue
		default:
			continue
		}
		at := slices.IndexFunc(out, func(s Step) bool { return s.Actions[0].Verb == a.Verb })
		if at < 0 {
			out = append(out, Step{Kind: FitStep, Adult: true, Stage: -1})
			at = len(out) - 1
		}
		out[at].Actions = append(out[at].Actions, a)
	}
	return out
}

// axle puts an axle in: its rod through the front side, on its free end what belongs
// on it from the front on, each band just before its own pulley, and on into the back
// side. A band that only goes round it is hung where its lane is.
func (b *Build) axle(i int, hung map[int]int) []Action {
	out := []Action{{Verb: Enter, Shaft: i}}
	var stages []int
	for k := range b.Bands {
		if _, round := b.Bands[k].farOf(i); round {
			stages = append(stages, k)
		}
	}
	slices.SortStableFunc(stages, func(x, y int) int { return cmp.Compare(b.Bands[x].Lane, b.Bands[y].Lane) })
	hang := func() {
		out = append(out, b.hang(&b.Bands[stages[0]], i, hung)...)
		stages = stages[1:]
	}
	for _, k := range b.Shafts[i].Along {
		if p := &b.Parts[k]; p.Kind == Pulley {
			for len(stages) > 0 && b.Bands[stages[0]].Lane <= (p.From+p.To)/2+sameLane {
				hang()
			}
		}
		out = append(out, Action{Verb: Thread, Shaft: i, Part: k})
	}
	for len(stages) > 0 {
		hang()
	}
	return append(out, Action{Verb: Through, Shaft: i})
}

// hang puts the loops of a band over a shaft's free end. hung has for each loop the
// shaft it was hung on first.
func (b *Build) hang(band *Band, shaft int, hung map[int]int) []Action {
	var out []Action
	for _, l := range band.Loops {
		first, ok := hung[l]
		if !ok {
			first, hung[l] = shaft, shaft
		}
		here, _ := band.farOf(shaft)
		there, _ := band.farOf(first)
		out = append(out, Action{Verb: Hang, Shaft: shaft, Part: l, Turns: band.Turns, Crossed: here != there, First: !ok})
	}
	return out
}

// caps pushes on what an axle carries outside the frame, with what keeps it off the
// sides.
func (b *Build) caps(i int) []Action {
	var out []Action
	for _, k := range b.Shafts[i].Front {
		out = append(out, Action{Verb: Cap, Shaft: i, Part: k})
	}
	for _, k := range b.Shafts[i].Back {
		out = append(out, Action{Verb: Cap, Shaft: i, Part: k, Back: true})
	}
	return out
}

// Outer is what the output axle carries outside the frame: a wheel, drum or ride;
// ok is false for none.
func (b *Build) Outer() (kind Kind, ok bool) {
	s := &b.Shafts[b.Stages]
	if len(s.Front) == 0 {
		return "", false
	}
	return b.Parts[s.Front[len(s.Front)-1]].Kind, true
}

// outside pushes wheels or a drum on the output axle; a ride comes later.
func (b *Build) outside() []Step {
	switch kind, _ := b.Outer(); kind {
	case Wheel:
		return []Step{{Kind: WheelStep, Shaft: b.Stages, Stage: -1, Actions: b.caps(b.Stages)}}
	case Drum:
		return []Step{{Kind: DrumStep, Shaft: b.Stages, Stage: -1, Actions: b.caps(b.Stages)}}
	}
	return nil
}

// alike reports whether the same parts are in the same order; washers, tubes of one
// length, and wheels may stand for each other.
func (b *Build) alike(have, want []int) bool {
	return slices.EqualFunc(have, want, func(i, j int) bool {
		p, q := &b.Parts[i], &b.Parts[j]
		return p.Kind == q.Kind && p.Name == q.Name && p.Letter == q.Letter && p.Length == q.Length
	})
}

// Finished reports what is still to do, in plain words; nil if every part is in its
// place, every band over its pulleys, all glue dry, and nothing left on the table.
func (s *State) Finished() error {
	b := s.build
	if left := s.Loose(); len(left) > 0 {
		return fmt.Errorf("%s is left on the table", s.name(left[0]))
	}
	if len(s.wet) > 0 {
		return fmt.Errorf("glue at %s is wet", s.name(s.wet[0]))
	}
	if err := s.stands(); err != nil {
		return err
	}
	for i := range b.Shafts {
		plan, sh := &b.Shafts[i], &s.shafts[i]
		if i > 0 && sh.hold != held {
			return fmt.Errorf("%s is not in both sides", plan.Name)
		}
		parts := slices.DeleteFunc(slices.Clone(sh.on), func(k int) bool { return s.loops[k] != nil })
		if !b.alike(parts, plan.Along) || !b.alike(sh.front, plan.Front) || !b.alike(sh.back, plan.Back) {
			return fmt.Errorf("%s does not carry what belongs on it", plan.Name)
		}
	}
	for k, l := range s.loops {
		if !l.seated {
			return fmt.Errorf("%s is not on its pulleys", s.name(k))
		}
	}
	for _, k := range b.joints() {
		if b.Parts[k].Joint == glued && !slices.Contains(s.dry, k) {
			return fmt.Errorf("%s has no glue", s.name(k))
		}
	}
	return nil
}
