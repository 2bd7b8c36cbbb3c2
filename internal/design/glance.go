package design

import (
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// way is a way to band a pair of pulleys: with which band, how used, open or crossed.
type way struct {
	band    int
	use     drive.Use
	crossed bool
}

// uses are the ways to put a band on, in the order of preference among equals.
var uses = [...]drive.Use{drive.Single, drive.LoopedTwice, drive.Paired}

// asUsed is a band as it is used, with what of it does not depend on the pulleys.
type asUsed struct {
	loop  mechanics.Loop
	base  score.Points // penalty, uncrossed, at a comfortable stretch
	tiers []tier       // the slackest first
}

// tier is a range of fitted stretch over which the band-fit penalty is the same.
type tier struct {
	stretch units.Interval[float64]
	fit     score.Points
}

// section is bands which, used alike, differ in nothing but their lengths.
type section struct {
	asUsed
	bands   []int
	longest units.Millimetres // rest length of any of them
}

// useBands makes the bands ready, section by section, and tells the tally of those of
// which there are too few.
func (t *task) useBands() {
	for _, use := range uses {
		t.used[use] = make([]asUsed, len(t.bands))
		for b := range t.bands {
			band := &t.bands[b].Part
			u := asUsed{loop: drive.LoopOf(band, use), base: score.BandUse(t.brief.Weights, use, false) + score.Assumptions(t.brief.Weights, len(band.Assumed))}
			if no := constraints.EnoughStock(band.Name, t.bands[b].Count, use.BandsTaken(), t.brief.Sets); no != nil {
				t.tally.add(no)
			} else {
				u.tiers = t.tiersOf(band)
				if no := constraints.FittedStretch(t.brief.Limits, band, t.brief.Limits.FittedStretchMin); no != nil && len(u.tiers) == 0 {
					t.tally.add(no)
				} else {
					t.addToSection(use, b, u)
				}
			}
			t.used[use][b] = u
		}
	}
}

func (t *task) addToSection(use drive.Use, band int, u asUsed) {
	at := slices.IndexFunc(t.sections[use], func(s section) bool {
		loop := s.loop
		loop.Rest = u.loop.Rest
		return loop == u.loop && s.base == u.base && slices.Equal(s.tiers, u.tiers)
	})
	if at < 0 {
		at = len(t.sections[use])
		t.sections[use] = append(t.sections[use], section{asUsed: u})
	}
	s := &t.sections[use][at]
	s.bands, s.longest = append(s.bands, band), max(s.longest, u.loop.Rest)
}

func (t *task) tiersOf(b *parts.Band) []tier {
	l := t.brief.Limits
	var out []tier
	for _, stretch := range stretchTiers(l.FittedStretchMin, l.ComfortStretchMin, l.ComfortStretchMax, constraints.FittedWindow(l, b).Hi) {
		out = append(out, tier{stretch, score.BandFit(l, t.brief.Weights, stretch.Mid())})
	}
	return out
}

// stretchTiers cuts the fitted stretch into the steps of the band-fit penalty, the
// slackest first.
func stretchTiers(least, comfortLo, comfortHi, most float64) []units.Interval[float64] {
	var tiers []units.Interval[float64]
	for lo := comfortLo; lo > least+1e-9; lo -= score.BandFitStep {
		tiers = append(tiers, units.Interval[float64]{Lo: max(least, lo-score.BandFitStep), Hi: min(lo, most)})
	}
	slices.Reverse(tiers)
	tiers = append(tiers, units.Interval[float64]{Lo: max(least, comfortLo), Hi: min(most, comfortHi)})
	for hi := comfortHi; hi < most-1e-9; hi += score.BandFitStep {
		tiers = append(tiers, units.Interval[float64]{Lo: max(least, hi), Hi: min(most, hi+score.BandFitStep)})
	}
	return slices.DeleteFunc(tiers, units.Interval[float64].Empty)
}

// suitBands finds which bands lie in which grooves, and tells the tally of those that
// do not.
func (t *task) suitBands() {
	for _, use := range uses {
		t.suits[use] = make([][]bool, len(t.pulleys))
		for p := range t.pulleys {
			t.suits[use][p] = make([]bool, len(t.bands))
			for b := range t.bands {
				no := t.bandSuitsPulley(p, b, use)
				if t.suits[use][p][b] = no == nil; no != nil {
					t.tally.add(no)
				}
			}
		}
	}
}

// pairRoom is what two pulleys and the frame leave the bands round them.
type pairRoom struct {
	driver, driven units.Millimetres // groove floors
	crossed        bool
	// shortest and longest are the lengths of the paths round the groove floors at
	// the least and the largest centre distance there can be.
	shortest, longest units.Millimetres
	cosLean           float64 // of the strands from the line of centres, at the least
}

// crossedCosLean is the cosine of the most that the strands of a crossed band can lean:
// its pulleys are no nearer than their pitch diameters together, so the sine is at most
// a half.
const crossedCosLean = 0.866

// bandNoise covers rounding where a band only just goes round.
const bandNoise = 1e-6

// arcNoise is what the rule about arcs forgives, and a little more: equal pulleys have
// just half a turn.
const arcNoise = 2e-9

// roomFor works out the room for bands between two pulleys whose shafts can be so far
// apart. The pulleys do not touch; an open band has arc enough on the smaller, and a
// crossed one does not rub itself: either least distance is smallest round the bare
// groove floors.
func (t *task) roomFor(driver, driven int, crossed bool, far units.Millimetres) pairRoom {
	a, b := &t.pulleys[driver].Part, &t.pulleys[driven].Part
	r := pairRoom{driver: a.GrooveFloor, driven: b.GrooveFloor, crossed: crossed}
	least := (a.Outside+b.Outside)/2 + t.brief.Limits.Clearance
	if crossed {
		least = max(least, constraints.CrossedCentreMin(r.driver, r.driven))
	} else {
		l := t.brief.Limits
		l.ArcMin -= arcNoise
		least = max(least, constraints.ArcCentreMin(l, r.driver, r.driven))
	}
	if far < least {
		r.shortest, r.longest = units.Millimetres(math.Inf(1)), units.Millimetres(math.Inf(-1)) // no band has any room
		return r
	}
	belt := mechanics.Belt{Driver: r.driver, Driven: r.driven, Centre: least, Crossed: crossed}
	r.shortest = belt.Length() * (1 - bandNoise)
	if r.cosLean = crossedCosLean; !crossed {
		r.cosLean = float64(belt.Span() / least)
	}
	belt.Centre = far
	r.longest = belt.Length() * (1 + bandNoise)
	return r
}

// stretch bounds the stretch of a band between the pulleys, if it is to be within the
// given range: its path at a centre distance is as much longer than that round the
// groove floors as half a turn, or if crossed up to a whole one, of its thickness. It is
// empty for a band that cannot be so: over tells whether it is too short, and by how
// much, or by how much too long.
func (r *pairRoom) stretch(loop *mechanics.Loop, within units.Interval[float64]) (s units.Interval[float64], over units.Millimetres) {
	thin, thick := loop.ThicknessAt(within.Hi), loop.ThicknessAt(within.Lo)
	shortest, longest := r.shortest+math.Pi*thin, r.longest+math.Pi*thick
	if r.crossed {
		longest += math.Pi * thick
	}
	s = units.Interval[float64]{Lo: max(within.Lo, float64(shortest/loop.Rest)), Hi: min(within.Hi, float64(longest/loop.Rest))}
	if s.Empty() {
		over = max(shortest-loop.Rest*units.Millimetres(within.Hi), loop.Rest*units.Millimetres(within.Lo)-longest)
	}
	return s, over
}

// forgiving bounds what is left of the range of stretch that the rules allow a band, if
// two holes may be out of place, which moves the centre distance by twice the error
// either way, beyond where the shafts may be drawn as well. It may be empty.
func (r *pairRoom) forgiving(loop *mechanics.Loop, whole units.Interval[float64], holeError units.Millimetres) units.Interval[float64] {
	wider := *r
	wider.longest += 4 * holeError
	all, _ := wider.stretch(loop, whole)
	return r.without(loop, all, holeError)
}

// without takes from each end of a range of stretch, unless it is empty, what twice the
// error takes from the centre distances. The path grows with the centre distance by the
// cosine of the lean on each side, less what the band gets thinner by.
func (r *pairRoom) without(loop *mechanics.Loop, whole units.Interval[float64], holeError units.Millimetres) units.Interval[float64] {
	if whole.Empty() {
		return whole
	}
	thinning := math.Pi * (loop.ThicknessAt(whole.Lo) - loop.ThicknessAt(whole.Hi))
	if r.crossed {
		thinning *= 2
	}
	margin := float64((2*units.Millimetres(r.cosLean)*2*holeError-thinning)/loop.Rest) * (1 - bandNoise)
	return whole.Grow(-max(0, margin))
}

// someForgiving is the same for all bands of a section that may reach, together.
func (r *pairRoom) someForgiving(s *section, holeError units.Millimetres) units.Interval[float64] {
	loop, whole := s.loop, s.whole()
	reaching := (r.longest + 2*math.Pi*loop.ThicknessAt(whole.Lo)) / units.Millimetres(whole.Lo)
	loop.Rest = min(s.longest, reaching)
	return r.without(&loop, whole, holeError)
}

// keepForgiving leaves of a glance what forgives, if nothing else will do, and notes
// whether anything does; false if nothing is left.
func (g *glance) keepForgiving(must bool, forgiving units.Interval[float64]) bool {
	if must {
		g.stretch = g.stretch.Meet(forgiving)
	}
	g.rigid = forgiving.Empty()
	return !g.stretch.Empty()
}

// glance is what is known of a band round a pair of pulleys before it is worked out.
type glance struct {
	room *pairRoom
	loop *mechanics.Loop
	// stretch bounds the fitted stretch of what can be afforded, cost its penalty.
	stretch units.Interval[float64]
	cost    score.Points
	rigid   bool // it cannot forgive holes out of place
}

// promise is what a glance makes of the band, or of several together.
type promise struct {
	pull   units.Interval[units.Newtons]     // on either axle, at rest
	ratio  units.Interval[float64]           // velocity ratio
	driven units.Interval[units.Millimetres] // pitch diameter
	cost   score.Points
	rigid  bool
	// weakest is the band that pulls least at a stretch, and tightest the most that
	// any is stretched.
	weakest  *mechanics.Loop
	tightest float64
}

// promise works it out. Both strands lean most, and pull least together, at the least
// centre distance; the ratio moves towards 1 as the band gets thicker.
func (g *glance) promise() promise {
	thin, thick := g.loop.ThicknessAt(g.stretch.Hi), g.loop.ThicknessAt(g.stretch.Lo)
	driven := units.Interval[units.Millimetres]{Lo: mechanics.PitchDiameter(g.room.driven, thin), Hi: mechanics.PitchDiameter(g.room.driven, thick)}
	atThin := mechanics.VelocityRatio(mechanics.PitchDiameter(g.room.driver, thin), driven.Lo)
	atThick := mechanics.VelocityRatio(mechanics.PitchDiameter(g.room.driver, thick), driven.Hi)
	return promise{
		pull:  units.Interval[units.Newtons]{Lo: 2 * g.loop.Pull(g.stretch.Lo) * units.Newtons(g.room.cosLean), Hi: 2 * g.loop.Pull(g.stretch.Hi)},
		ratio: units.Interval[float64]{Lo: min(atThin, atThick), Hi: max(atThin, atThick)}, driven: driven,
		cost: g.cost, rigid: g.rigid, weakest: g.loop, tightest: g.stretch.Hi,
	}
}

// join takes in what another promises.
func (p *promise) join(o *promise) {
	p.pull, p.ratio, p.driven = p.pull.Join(o.pull), p.ratio.Join(o.ratio), p.driven.Join(o.driven)
	p.cost, p.tightest = min(p.cost, o.cost), max(p.tightest, o.tightest)
	p.rigid = p.rigid && o.rigid
	if o.weakest.Pull(softStretch) < p.weakest.Pull(softStretch) {
		p.weakest = o.weakest
	}
}

// whole is the range of stretch that the rules allow.
func (u *asUsed) whole() units.Interval[float64] {
	return units.Interval[float64]{Lo: u.tiers[0].stretch.Lo, Hi: u.tiers[len(u.tiers)-1].stretch.Hi}
}

// glance is a first look at a band round a pair of pulleys, whatever its length, at a
// penalty of at most limit; false if it cannot be afforded.
func (u *asUsed) glance(room *pairRoom, limit score.Points, crossing score.Points) (glance, bool) {
	g := glance{room: room, loop: &u.loop, cost: u.base + crossing}
	first, end := 0, len(u.tiers)
	for first < end && g.cost+u.tiers[first].fit > limit {
		first++
	}
	for first < end && g.cost+u.tiers[end-1].fit > limit {
		end--
	}
	if first < end {
		g.stretch = units.Interval[float64]{Lo: u.tiers[first].stretch.Lo, Hi: u.tiers[end-1].stretch.Hi}
	}
	return g, first < end
}

// leastShare bounds from below the share of speed that creep leaves a band that carries
// so much. A band on fixed pulleys takes up the same rest length under load, so its
// slack run pulls no more than both do at rest, and its tight run no less. Creep is the
// change of stretch from one to the other, as a share, for which a pull counts the more
// the further the rubber is stretched already (up to softStretch): it is most if the
// slack run kept all of its pull, of the tightest band. otherwise is what the share is
// known to be beyond that.
func (p *promise) leastShare(effective units.Newtons, otherwise float64) float64 {
	if tight := p.weakest.StretchAt(p.weakest.Pull(p.tightest) + effective); tight <= softStretch {
		return max(otherwise, p.tightest/tight)
	}
	return otherwise
}

// softStretch is the stretch up to which a change of pull changes the stretch, as a
// share, by the more the further the default rubber is stretched: that is as 1/(s dP/ds),
// and s dP/ds falls until C1 = 4 C1/s^3 + 9 C2/s^4.
const softStretch = 2.1

// anyBand is what all bands promise together that cost at most limit, on no pulleys in
// particular; false if there are none. An open band leans no more than its arc of
// contact allows, a crossed one no more than crossedCosLean. Pitch diameters are those
// on a pulley of no size, and the ratio means nothing.
func (t *task) anyBand(limit score.Points) (promise, bool) {
	var all promise
	for _, crossed := range []bool{false, true} {
		room := pairRoom{crossed: crossed, cosLean: math.Sin(float64(t.brief.Limits.ArcMin) / 2)}
		if crossed {
			room.cosLean = crossedCosLean
		}
		for _, use := range uses {
			for i := range t.sections[use] {
				g, ok := t.sections[use][i].glance(&room, limit, score.BandUse(t.brief.Weights, drive.Single, crossed))
				if !ok {
					continue
				}
				if one := g.promise(); all.weakest == nil {
					all = one
				} else {
					all.join(&one)
				}
			}
		}
	}
	return all, all.weakest != nil
}
