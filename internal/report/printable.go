package report

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// printable is a certificate of the drives of an answer, numbered as they are listed,
// for findrive sheet to print. It claims nothing of other drives: its status is that of
// a search that was stopped. name stands on every page, asked says what was wanted; nil
// stands for no drives.
func printable(cup *parts.Cupboard, b *brief.Brief, name, asked string, drives []*design.Proposal) *theCertificate {
	if len(drives) == 0 {
		return nil
	}
	wanted := *b
	wanted.Name = name
	if asked != "" {
		wanted.Speed.Words = asked
	}
	r := design.Result{Cupboard: cup, Brief: &wanted, Status: design.StoppedEarly, Open: score.Points(math.MaxInt64)}
	for i, d := range drives {
		q := *d
		q.Rank = i + 1
		r.Proposals = append(r.Proposals, q)
	}
	c := certificateOf(&r)
	return &c
}
