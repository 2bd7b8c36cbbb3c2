package layout

// On an even grid every rule but those of zone, outline and ground is about how
// shafts stand to each other, so the whole drive can be shifted without changing
// them. The search is therefore over steps, from each shaft to the next, and not
// over places: what fails once is not tried again at every place in the frame.
// Where the first shaft may be follows at the end, as the part that the domains
// of all shafts, shifted back by the steps to them, have in common.

// step is a range of columns and rows from one shaft to the next.
type step = box

// searchSteps is Place for an even grid. The argument for completeness is that
// of Place: a set of ranges is only ruled out if no steps within them can do.
func (s *placing) searchSteps(domains []box) Outcome {
	steps := make([]step, len(domains)-1)
	for i := range steps {
		a, b := domains[i], domains[i+1]
		steps[i] = step{x0: b.x0 - a.x1, x1: b.x1 - a.x0, y0: b.y0 - a.y1, y1: b.y1 - a.y0}
	}
	return s.narrowSteps(domains, steps)
}

func (s *placing) narrowSteps(domains []box, steps []step) Outcome {
	if s.left--; s.left < 0 {
		return GaveUp
	}
	first, ok := s.stepsFit(domains, steps)
	if !ok {
		return Impossible
	}
	widest, i, across := 0, 0, true
	for k, b := range steps {
		if b.x1-b.x0 > widest {
			widest, i, across = b.x1-b.x0, k, true
		}
		if b.y1-b.y0 > widest {
			widest, i, across = b.y1-b.y0, k, false
		}
	}
	if widest == 0 {
		x, y := (first.x0+first.x1)/2, (first.y0+first.y1)/2
		s.at[0] = Point{mm(x) * s.p.Grid.Pitch, mm(y) * s.p.Grid.Pitch}
		for k, b := range steps {
			x, y = x+b.x0, y+b.y0
			s.at[k+1] = Point{mm(x) * s.p.Grid.Pitch, mm(y) * s.p.Grid.Pitch}
		}
		if len(Check(*s.p, s.at)) == 0 {
			return Placed
		}
		return Impossible
	}
	whole := steps[i]
	defer func() { steps[i] = whole }()
	for _, half := range whole.halves(across) {
		steps[i] = half
		if got := s.narrowSteps(domains, steps); got != Impossible {
			return got
		}
	}
	return Impossible
}

// stepsFit gives the places the first shaft may have so that all shafts can lie
// in their domains, and false if there are none or if some pair of shafts cannot
// be at an allowed distance.
func (s *placing) stepsFit(domains []box, steps []step) (box, bool) {
	pitch := s.p.Grid.Pitch
	first := domains[0]
	var to step
	for k, b := range steps {
		to = step{to.x0 + b.x0, to.x1 + b.x1, to.y0 + b.y0, to.y1 + b.y1}
		d := domains[k+1]
		first.x0, first.x1 = max(first.x0, d.x0-to.x1), min(first.x1, d.x1-to.x0)
		first.y0, first.y1 = max(first.y0, d.y0-to.y1), min(first.y1, d.y1-to.y0)
	}
	if first.empty() {
		return first, false
	}
	for i := range steps {
		var to step
		for j := i; j < len(steps); j++ {
			b := steps[j]
			to = step{to.x0 + b.x0, to.x1 + b.x1, to.y0 + b.y0, to.y1 + b.y1}
			nearX, farX := spread(to.x0, to.x1)
			nearY, farY := spread(to.y0, to.y1)
			w := s.pairs[i][j+1]
			near, far := square(mm(nearX)*pitch, mm(nearY)*pitch), square(mm(farX)*pitch, mm(farY)*pitch)
			if far < float64(w.least)*float64(w.least)-noise || near > float64(w.most)*float64(w.most)+noise {
				return first, false
			}
		}
	}
	for _, r := range s.p.Rises {
		y0, y1 := 0, 0
		for _, b := range steps[r.From:r.To] {
			y0, y1 = y0+b.y0, y1+b.y1
		}
		if mm(y1)*pitch < r.Min-noise || mm(y0)*pitch > r.Max+noise {
			return first, false
		}
	}
	return first, true
}

// spread is the least and the greatest size of a number in lo..hi.
func spread(lo, hi int) (least, most int) {
	return max(0, lo, -hi), max(hi, -lo)
}

func square(x, y mm) float64 { return float64(x*x + y*y) }
