package views

import (
	"fmt"
	"math"

	"pgregory.net/rapid"
)

// anyScene is a drive with parts anywhere in any frame: the drawings must hold up
// for all that could be proposed, and for much that could not.
func anyScene(t *rapid.T) *scene {
	length := func(name string, lo, hi float64) mm {
		return mm(math.Round(rapid.Float64Range(lo, hi).Draw(t, name)*2) / 2)
	}
	s := &scene{upright: rapid.Bool().Draw(t, "upright")}
	s.frame = frame{length: length("length", 60, 700), height: length("height", 40, 400), depth: length("depth", 60, 200), side: 4,
		drilled: rapid.Bool().Draw(t, "drilled")}
	if rapid.Bool().Draw(t, "strip") {
		s.frame.strip, s.frame.side = 10, 10
		s.frame.rails = []mm{10, s.frame.height / 2}
		s.frame.over = overhang{10, 10, 10, 10}
	} else if rapid.Bool().Draw(t, "no room for strips inside") {
		s.frame.over = overhang{left: 10, right: 10}
	}
	s.frame.joiner, s.frame.joiners = 10, []place{{5 - s.frame.over.left, 5}, {s.frame.length - 5, s.frame.height - 5}}
	stages := rapid.IntRange(1, 4).Draw(t, "stages")
	for i := range stages + 1 {
		sh := shaft{name: fmt.Sprintf("axle %d", i), radius: 2.5, length: s.frame.depth + 30, turns: clockwise,
			at: place{length("x", 5, float64(s.frame.length)-5), length("y", 5, float64(s.frame.height)-5)}}
		if i == 0 {
			sh.name, sh.radius, sh.length = "motor", 1, 9
		} else if s.frame.drilled {
			sh.hole = 5.5
		}
		s.shafts = append(s.shafts, sh)
	}
	if rapid.IntRange(0, 3).Draw(t, "motor in the corner") == 0 {
		s.shafts[0].at = place{length("near x", 3, 40), length("near y", 3, 40)}
	}
	s.body = body{width: 24, height: 18, front: 0, length: 30}
	for i := range stages {
		p, q := s.shafts[i].at, s.shafts[i+1].at
		c := mm(math.Hypot(float64(q.x-p.x), float64(q.y-p.y)))
		if c < 8 {
			t.Skip("shafts in one another")
		}
		lane := 34 + 9*mm(i)
		crossed := rapid.Bool().Draw(t, "crossed")
		for j := range 2 {
			most := min(40, float64(c)/2-1)
			r := mm(rapid.Float64Range(2.5, max(2.6, most)).Draw(t, "radius"))
			sh := &s.shafts[i+j]
			k := len(s.pulleys)
			s.pulleys = append(s.pulleys, pulley{letter: letterOf(k), shaft: i + j, outside: r, floor: r * 0.8, width: 7, groove: 4, lane: lane})
			sh.pulleys, sh.rim = append(sh.pulleys, k), max(sh.rim, r)
		}
		a, b := &s.pulleys[2*i], &s.pulleys[2*i+1]
		s.bands = append(s.bands, band{number: i + 1, from: 2 * i, to: 2*i + 1, crossed: crossed,
			fromPitch: a.floor + 0.5, toPitch: b.floor + 0.5, thickness: 1, width: 1.5, lane: lane, centres: c})
	}
	if rapid.Bool().Draw(t, "output") {
		s.output = &round{kind: rapid.SampledFrom([]string{wheelKind, drumKind}).Draw(t, "kind"), radius: length("wheel", 5, 40), width: 10}
	}
	if s.output != nil && s.output.kind == wheelKind && rapid.Bool().Draw(t, "free axle") {
		last := s.shafts[stages]
		s.freeAxle = &shaft{name: "free axle", radius: 2.5, hole: last.hole, rim: 2.5, at: place{length("free x", 5, float64(s.frame.length)-5), last.at.y}}
	}
	s.spaced()
	if rapid.Bool().Draw(t, "floor") {
		g := mm(-5)
		s.frame.ground = &g
	}
	return s
}

// threeStages is a drive in a small box whose first band is crossed.
func threeStages() *scene {
	s := &scene{upright: true, frame: frame{length: 200, height: 110, depth: 90, side: 4, drilled: true}, body: body{20, 15, 0, 25}}
	s.addStages([]place{{44, 87}, {154, 67}, {45, 43}, {95, 39}}, [][2]mm{{4.5, 40}, {6.5, 40}, {6.5, 30}})
	return s
}

// addStages fills a frame with shafts and stages between them, each in a lane of its own.
func (s *scene) addStages(places []place, stages [][2]mm) {
	for i, at := range places {
		sh := shaft{name: fmt.Sprintf("axle %d", i), at: at, radius: 2.5, length: s.frame.depth + 18, hole: 5.5, turns: clockwise}
		if i == 0 {
			sh = shaft{name: "motor", at: at, radius: 1, length: 9, turns: anticlockwise}
		}
		s.shafts = append(s.shafts, sh)
	}
	for i, radii := range stages {
		lane := 29.5 + 10.5*mm(i)
		for j, r := range radii {
			k := len(s.pulleys)
			s.pulleys = append(s.pulleys, pulley{letter: letterOf(k), shaft: i + j, outside: r, floor: r - 2, width: 7, groove: 4, lane: lane})
			sh := &s.shafts[i+j]
			sh.pulleys, sh.rim = append(sh.pulleys, k), max(sh.rim, r)
		}
		p, q := s.shafts[i].at, s.shafts[i+1].at
		s.bands = append(s.bands, band{number: i + 1, from: 2 * i, to: 2*i + 1, crossed: i == 0, fromPitch: radii[0] - 1.5, toPitch: radii[1] - 1.5,
			thickness: 1, width: 1.5, lane: lane, centres: mm(math.Hypot(float64(q.x-p.x), float64(q.y-p.y)))})
	}
	s.spaced()
}

// spaced fills the gaps along the axles with spacers.
func (s *scene) spaced() {
	for i := range s.shafts[1:] {
		sh, at := &s.shafts[i+1], mm(0)
		for _, k := range sh.pulleys {
			p := &s.pulleys[k]
			if front := p.lane - p.width/2; front > at+1 {
				sh.spacers = append(sh.spacers, spacer{at, front})
			}
			at = p.lane + p.width/2
		}
		if s.frame.depth > at+1 {
			sh.spacers = append(sh.spacers, spacer{at, s.frame.depth - 1})
		}
	}
}
