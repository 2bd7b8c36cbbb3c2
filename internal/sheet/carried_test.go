package sheet

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
)

// reader does what a build sheet says, word by word, with what is on the table, and
// knows nothing of the plan that the words come from.
type reader struct {
	t     require.TestingT
	b     *assembly.Build
	state *assembly.State
	cut   map[int]bool // discs that are cut out
}

func (r *reader) do(said string, a assembly.Action) {
	require.NoError(r.t, r.state.Do(a), "%q", said)
}

// take is a part of the table for which the test holds.
func (r *reader) take(said string, is func(*assembly.Part) bool) int {
	for _, k := range r.state.Loose() {
		if is(&r.b.Parts[k]) {
			return k
		}
	}
	require.Fail(r.t, "nothing like it is on the table", "%q", said)
	return 0
}

var (
	axleSaid    = regexp.MustCompile(`^Push axle (\d)(?: \(output\))? in through the \w+ side\. Over its free end, in order: (.*)\. Push it into the \w+ side\.$`)
	freeSaid    = regexp.MustCompile(`^Push the free axle through both sides, \S+ across and \S+ up\. On both ends: (.*)\.$`)
	endSaid     = regexp.MustCompile(`^On (?:both ends|the \w+ end) of axle (\d): (.*)\.$`)
	bandSaid    = regexp.MustCompile(`^(?:both bands|band) ([A-H]) to ([A-H])(?: \(([^)]*)\))?( wound twice)?( crossed once like an 8)?$`)
	liftSaid    = regexp.MustCompile(`^Lift (.*) onto ([A-H]) and ([A-H])\.$`)
	motorSaid   = regexp.MustCompile(`^Take (.*) over the end of the motor's shaft, and lift it onto ([A-H]) and ([A-H])\.$`)
	throughSaid = regexp.MustCompile(`Pass the motor through ([^.]*)\. `)
	tubeSaid    = regexp.MustCompile(`^tube (\S+) mm$`)
	// What is done with the frame as a whole, which changes nothing of the model.
	standSaid  = regexp.MustCompile(`^(?:(?:The ride|The drum|Pulley [A-H]) reaches|Hang the drum's side) [^.]*\. `)
	washerSaid = regexp.MustCompile(`^(\d+) washers?$`)
)

// carryOut does one printed step.
func (r *reader) carryOut(s Step) {
	said := standSaid.ReplaceAllString(s.Do, "")
	act := func(verbs ...assembly.Verb) {
		for _, v := range verbs {
			r.do(said, assembly.Action{Verb: v})
		}
	}
	dries := func() {
		if strings.Contains(strings.ToLower(said+s.Check), " dry") {
			act(assembly.Dry)
		}
	}
	attach := func(parts ...int) {
		for _, k := range parts {
			r.do(said, assembly.Action{Verb: assembly.Attach, Part: k})
		}
	}
	switch {
	case strings.HasPrefix(said, "Saw all pieces"):
		act(assembly.Saw)
	case discSaid.MatchString(said):
		r.discs(said)
		dries()
	case strings.HasPrefix(said, "Saw two sides"), strings.HasPrefix(said, "Glue two sides"), strings.HasPrefix(said, "Join (screws, nails or glue, as your school does) two sides"):
		act(assembly.MakeSides)
		dries()
	case strings.HasPrefix(said, "Clamp the sides together, ") && strings.Contains(said, "along the two datum lines") && strings.Contains(said, "Drill both at once."):
		act(assembly.Clamp, assembly.Drill, assembly.Unclamp)
	case strings.HasPrefix(said, "Fix a clip, straw or tube for each axle on both sides"):
		for _, k := range r.b.Bearings {
			r.do(said, assembly.Action{Verb: assembly.Bear, Part: k})
		}
		dries()
	case strings.HasPrefix(said, "Join the sides"):
		act(assembly.Join)
		dries()
	case axleSaid.MatchString(said):
		m := axleSaid.FindStringSubmatch(said)
		r.axle(said, int(m[1][0]-'0'), strings.Split(m[2], ", "))
	case freeSaid.MatchString(said):
		shaft := len(r.b.Shafts) - 1
		r.do(said, assembly.Action{Verb: assembly.Enter, Shaft: shaft})
		r.do(said, assembly.Action{Verb: assembly.Through, Shaft: shaft})
		r.caps(said, shaft, freeSaid.FindStringSubmatch(said)[1], true)
	case endSaid.MatchString(said):
		m := endSaid.FindStringSubmatch(said)
		r.caps(said, int(m[1][0]-'0'), m[2], strings.HasPrefix(said, "On both"))
	case liftSaid.MatchString(said):
		r.lift(said, liftSaid.FindStringSubmatch(said), false)
	case motorSaid.MatchString(said):
		r.lift(said, motorSaid.FindStringSubmatch(said), true)
	case strings.HasPrefix(said, "A drop of glue on the rod at "):
		names, rest, _ := strings.Cut(strings.TrimPrefix(said, "A drop of glue on the rod at "), ".")
		require.Contains(r.t, rest, "Wait until it is dry")
		for _, k := range r.named(names) {
			r.do(said, assembly.Action{Verb: assembly.GlueJoint, Part: k})
		}
		act(assembly.Dry)
	case strings.Contains(said, "Strap or clip the motor"):
		for _, m := range throughSaid.FindAllStringSubmatch(said, -1) {
			r.hang(said, m[1], 0)
		}
		if strings.Contains(said, "Push A on the motor's shaft. ") {
			r.do(said, assembly.Action{Verb: assembly.Thread, Part: r.letter(said, "A")})
		}
		attach(r.b.Mount, r.b.Motor)
	case strings.HasPrefix(said, "Stick "):
		attach(r.b.Under...)
	case strings.HasPrefix(said, "Tie the cord to the drum"):
		attach(r.b.Lifting[0])
		if strings.Contains(said, "Thread it through the blocks") {
			attach(r.b.Lifting[1])
		}
	case strings.Contains(said, "Wire it to the motor through a switch"):
		attach(r.b.Electric...)
	case said == "Measure the speed.":
	default:
		r.fits(said)
	}
}

// fits gets parts ready for their shafts.
func (r *reader) fits(said string) {
	for _, work := range strings.Split(strings.TrimSuffix(said, "."), "; ") {
		names, how, ok := strings.Cut(work, ": ")
		require.True(r.t, ok, "nobody knows what to do: %q", said)
		for _, k := range r.named(names) {
			switch {
			case strings.HasPrefix(how, "sleeve"):
				r.do(said, assembly.Action{Verb: assembly.PackOut, Part: k})
			case strings.HasPrefix(how, "drill the bore out"):
				r.do(said, assembly.Action{Verb: assembly.OpenBore, Part: k})
			case strings.HasPrefix(how, "push it on the motor's shaft with a drop of glue"):
				r.do(said, assembly.Action{Verb: assembly.Thread, Part: k})
				r.do(said, assembly.Action{Verb: assembly.GlueJoint, Part: k})
				r.do(said, assembly.Action{Verb: assembly.Dry})
			default:
				require.Fail(r.t, "nobody knows what to do", "%q", said)
			}
		}
	}
}

// named are the parts in a list of names, wherever they are.
func (r *reader) named(names string) []int {
	var out []int
	for _, n := range regexp.MustCompile(`, | and `).Split(names, -1) {
		for k := range r.b.Parts {
			p := &r.b.Parts[k]
			if n == p.Letter && n != "" || strings.EqualFold(n, "the wheels") && p.Kind == assembly.Wheel || strings.EqualFold(n, "the drum") && p.Kind == assembly.Drum {
				out = append(out, k)
			}
		}
	}
	require.NotEmpty(r.t, out, "%q names nothing", names)
	return out
}

func (r *reader) letter(said, letter string) int {
	return r.take(said, func(p *assembly.Part) bool { return p.Letter == letter })
}

func (r *reader) tube(said, long string, shaft int) int {
	return r.take(said, func(p *assembly.Part) bool {
		return p.Kind == assembly.Tube && mm(p.Length) == long && p.Name == assembly.TubeFor(r.b.Shafts[shaft].Diameter)
	})
}

func (r *reader) axle(said string, shaft int, order []string) {
	r.do(said, assembly.Action{Verb: assembly.Enter, Shaft: shaft})
	thread := func(k int) { r.do(said, assembly.Action{Verb: assembly.Thread, Shaft: shaft, Part: k}) }
	for _, w := range order {
		switch {
		case tubeSaid.MatchString(w):
			thread(r.tube(said, tubeSaid.FindStringSubmatch(w)[1], shaft))
		case washerSaid.MatchString(w):
			n := 0
			_, err := fmt.Sscan(washerSaid.FindStringSubmatch(w)[1], &n)
			require.NoError(r.t, err)
			for range n {
				thread(r.take(said, func(p *assembly.Part) bool {
					return p.Kind == assembly.Washer && strings.Contains(p.Name, "for "+mm(r.b.Shafts[shaft].Diameter)+" mm")
				}))
			}
		case len(w) == 1:
			thread(r.letter(said, w))
		default:
			r.hang(said, w, shaft)
		}
	}
	r.do(said, assembly.Action{Verb: assembly.Through, Shaft: shaft})
}

// loops are the bands between two letters.
func (r *reader) loops(said, from, to string) []int {
	for i := range r.b.Bands {
		b := &r.b.Bands[i]
		if r.b.Parts[b.Driver].Letter == from && r.b.Parts[b.Driven].Letter == to {
			return b.Loops
		}
	}
	require.Fail(r.t, "there is no such band", "%q", said)
	return nil
}

func (r *reader) hang(said, words string, shaft int) {
	m := bandSaid.FindStringSubmatch(words)
	require.NotNil(r.t, m, "%q in %q", words, said)
	loops := r.loops(said, m[1], m[2])
	require.Equal(r.t, len(loops) == 2, strings.HasPrefix(words, "both"), "%q", said)
	for _, l := range loops {
		turns := 1
		if m[4] != "" {
			turns = 2
		}
		r.do(said, assembly.Action{Verb: assembly.Hang, Shaft: shaft, Part: l, Turns: turns, Crossed: m[5] != ""})
	}
}

func (r *reader) lift(said string, m []string, motor bool) {
	if motor {
		r.hang(said, m[1], 0)
	}
	for _, l := range r.loops(said, m[2], m[3]) {
		r.do(said, assembly.Action{Verb: assembly.Seat, Part: l})
	}
}

// caps pushes on what is named, from the side outwards.
func (r *reader) caps(said string, shaft int, words string, both bool) {
	for _, back := range []bool{false, true}[:map[bool]int{false: 1, true: 2}[both]] {
		cap := func(k int) {
			r.do(said, assembly.Action{Verb: assembly.Cap, Shaft: shaft, Part: k, Back: back})
		}
		for _, w := range regexp.MustCompile(`, | and `).Split(words, -1) {
			kind := assembly.Kind("")
			switch {
			case tubeSaid.MatchString(w):
				cap(r.tube(said, tubeSaid.FindStringSubmatch(w)[1], shaft))
				continue
			case washerSaid.MatchString(w):
				n := 0
				_, err := fmt.Sscan(w, &n)
				require.NoError(r.t, err)
				for range n {
					cap(r.take(said, func(p *assembly.Part) bool {
						return p.Kind == assembly.Washer && strings.Contains(p.Name, "for "+mm(r.b.Shafts[shaft].Diameter)+" mm")
					}))
				}
				continue
			case strings.HasPrefix(w, "a wheel ("):
				kind = assembly.Wheel
			case strings.HasPrefix(w, "the drum ("):
				kind = assembly.Drum
			case w == "the ride":
				kind = assembly.Ride
			}
			cap(r.take(said, func(p *assembly.Part) bool { return p.Kind == kind }))
		}
	}
}

// printedCanBeBuilt builds what the build sheet of a drive says, and takes it apart as
// the page with the pictures says.
func printedCanBeBuilt(t require.TestingT, b *certificate.Brief, p *certificate.Proposal) {
	s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
	require.NoError(t, err)
	r := &reader{t: t, b: s.plan.Build, state: assembly.Start(s.plan.Build), cut: map[int]bool{}}
	for _, step := range s.steps() {
		r.carryOut(step)
	}
	require.Empty(t, r.state.Loose(), "left on the table")
	require.NoError(t, r.state.Finished())
	r.store(s.storeWords(), len(s.plan.Stays) > 0)
	require.Empty(t, r.state.Stretched())
	var left []assembly.Kind
	for k := range r.b.Parts {
		if !slices.Contains(r.state.Loose(), k) {
			left = append(left, r.b.Parts[k].Kind)
		}
	}
	for _, kind := range left {
		if len(s.plan.Stays) == 0 {
			require.Contains(t, []assembly.Kind{assembly.Piece, assembly.Bearing, assembly.Foot, assembly.Sleeve, assembly.Disc}, kind, "not put away")
		}
	}
}

// What the build sheet says, read word by word, builds every drive of every example
// and thousands drawn at random, with nothing left over.
func TestWordsCanBeCarriedOut(t *testing.T) {
	for _, name := range every {
		c := saved(t, name)
		for i := range c.Proposals {
			printedCanBeBuilt(t, &c.Brief, &c.Proposals[i])
		}
	}
	for seed := range uint64(4000) {
		b, p := assemblytest.Drive(seed)
		printedCanBeBuilt(t, b, p)
	}
}

func TestWordsOfDrawnDrives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := assemblytest.Drive(rapid.Uint64().Draw(t, "seed"))
		printedCanBeBuilt(t, b, p)
	})
}

// besides tells whether a thing on the kit list is no part of the drive.
func besides(name string) bool {
	return name == "soft mat" || strings.HasPrefix(name, "load of ") || strings.HasPrefix(name, "peg or catch") || strings.HasPrefix(name, "guide for the cord")
}

// Every part that is built in is on the kit list, as often, and nothing else is but
// glue and what a lift stands over.
func TestKitHasWhatIsBuiltIn(t *testing.T) {
	check := func(c *certificate.Certificate, name string) {
		s, err := New(c, 1, DefaultOptions())
		require.NoError(t, err, name)
		lines, err := s.kit()
		require.NoError(t, err, name)
		total := 0
		for _, k := range lines {
			total += k.each
		}
		for _, o := range s.others() {
			var n int
			if _, err := fmt.Sscan(o[1], &n); err != nil {
				assert.Contains(t, []string{"glue", "screws, nails or glue for the frame", "tape for the cord"}, o[0], name)
				continue
			}
			if !besides(o[0]) {
				total += n
			}
		}
		assert.Equal(t, len(s.plan.Build.Parts), total, name)
	}
	for _, name := range every {
		check(saved(t, name), name)
	}
	for seed := range uint64(500) {
		b, p := assemblytest.Drive(seed)
		check(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, fmt.Sprint(seed))
	}
}

// The pieces of the cutting list, put end to end along each axle, are those that are
// threaded on it.
func TestTubesAreCut(t *testing.T) {
	for seed := range uint64(500) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		cut, built := map[string]int{}, map[string]int{}
		for _, o := range s.sections() {
			for _, piece := range o.pieces {
				cut[mm(math.Round(float64(piece.Length)*10)/10)] += piece.Count
			}
		}
		for _, q := range s.plan.Build.Parts {
			if slices.Contains([]assembly.Kind{assembly.Rod, assembly.Tube, assembly.Foot}, q.Kind) || q.Kind == assembly.Piece && q.Length > 0 && q.Width == 0 {
				built[mm(q.Length)]++
			}
		}
		require.Equal(t, built, cut, "seed %d", seed)
	}
}

var pullSaid = regexp.MustCompile(`^pull (.*) out of the \w+ side, taking off what comes to the free end$`)

// store takes a model apart as it is said. Where glue holds things together what it is
// in the way of stays, and the words say so.
func (r *reader) store(said string, glue bool) {
	require.Equal(r.t, glue, strings.Contains(said, "What is glued to an axle stays on it"))
	list, _, _ := strings.Cut(strings.TrimPrefix(said, "To store it: "), ".")
	all := func(v assembly.Verb, parts ...int) {
		for _, k := range slices.Backward(parts) {
			r.do(said, assembly.Action{Verb: v, Part: k})
		}
	}
	for _, w := range strings.Split(list, "; ") {
		switch {
		case w == "cells out, wires off":
			all(assembly.Detach, r.b.Electric...)
		case w == "cord and tackle off":
			all(assembly.Detach, r.b.Lifting...)
		case w == "cord off":
			all(assembly.Detach, r.b.Lifting[0])
		case w == "ride off", w == "drum off":
			r.uncap(said, r.b.Stages)
		case strings.HasPrefix(w, "wheels off axle "):
			r.uncap(said, int(w[len(w)-1]-'0'))
		case strings.HasPrefix(w, "bands off their pulleys, the first over the end of the motor's shaft"):
			for i := range r.b.Bands {
				all(assembly.Unseat, r.b.Bands[i].Loops...)
			}
			all(assembly.Unhang, r.b.Bands[0].Loops...)
		case w == "motor out":
			all(assembly.Detach, r.b.Mount, r.b.Motor)
			if p := &r.b.Parts[r.b.Bands[0].Driver]; p.Joint != "drop of glue" {
				all(assembly.Unthread, r.b.Bands[0].Driver)
			}
			for i := 1; i < r.b.Stages; i++ {
				for _, in := range r.b.Bands[i].Inside {
					if in.Shaft == 0 {
						all(assembly.Unhang, r.b.Bands[i].Loops...)
					}
				}
			}
		case w == "wheels off the free axle, and pull it out":
			shaft := len(r.b.Shafts) - 1
			r.uncap(said, shaft)
			r.pull(said, shaft)
		case pullSaid.MatchString(w):
			for _, axle := range strings.Split(pullSaid.FindStringSubmatch(w)[1], ", then ") {
				r.pull(said, int(axle[len(axle)-1]-'0'))
			}
		default:
			require.Fail(r.t, "nobody knows how to do that", "%q in %q", w, said)
		}
	}
}

// uncap takes off what is outside the frame.
func (r *reader) uncap(said string, shaft int) {
	for _, back := range []bool{false, true} {
		for {
			k, ok := r.state.Outermost(shaft, back)
			if !ok {
				break
			}
			r.do(said, assembly.Action{Verb: assembly.Uncap, Shaft: shaft, Part: k, Back: back})
		}
	}
}

// pull takes an axle out.
func (r *reader) pull(said string, shaft int) {
	r.do(said, assembly.Action{Verb: assembly.Retreat, Shaft: shaft})
	for {
		k, ok := r.state.Last(shaft)
		if !ok {
			break
		}
		verb := assembly.Unthread
		if r.b.Parts[k].Kind == assembly.Loop {
			verb = assembly.Unhang
		}
		r.do(said, assembly.Action{Verb: verb, Shaft: shaft, Part: k})
	}
	r.do(said, assembly.Action{Verb: assembly.Withdraw, Shaft: shaft})
}
