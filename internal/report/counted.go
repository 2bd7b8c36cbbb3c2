package report

import (
	"fmt"

	"findrive/internal/design"
	"findrive/internal/remembered"
)

// counted says which of the drives were built and counted, and what they then do: a
// calibration file remembers it, and it is narrower than the range of any table's model.
func (p *page) counted(r *design.Result) {
	for _, words := range countedWords(r) {
		p.say(0, words)
	}
}

func countedWords(r *design.Result) (out []string) {
	for i := range r.Proposals {
		q := &r.Proposals[i]
		b := r.Brief
		if q.Tackle != nil {
			b = b.With(q.Tackle.Tackle)
		}
		c, words := remembered.Find(r.Cupboard, q.Drive, b), "Drive %d is the one that you counted: that model does %s). The range in the table is that of any other of its kind."
		if c == nil {
			c, words = remembered.Alike(r.Cupboard, q.Drive, b), "Drive %d is the one that you counted, but with other bands or holes: as you have it, it does %s)."
		}
		if c == nil {
			continue
		}
		is := *q
		is.Speed = design.SpeedRange{Low: c.Slowest, Likely: c.Likely, High: c.Fastest}
		is.Linear = design.TravelOf(q.Drive, b, is.Speed)
		out = append(out, fmt.Sprintf(words, q.Rank, inRange(&is, b, false)))
	}
	return out
}
