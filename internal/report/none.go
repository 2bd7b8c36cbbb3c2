package report

import "findrive/internal/design"

// none writes why there is no drive.
func (p *page) none(r *design.Result, opt TextOptions) {
	p.outcome(r)
	p.refusals(r)
}
