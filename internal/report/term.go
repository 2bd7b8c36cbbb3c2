package report

import (
	"fmt"
	"io"

	"findrive/internal/supply"
)

// TermText writes the least that must be bought for several briefs over one cupboard, and
// which drive each builds. The error is from w.
func TermText(w io.Writer, r *supply.Result, opt ShopOptions) error {
	p := newPage(opt.Width, opt.Colour)
	when := "at the same time"
	if r.Question.InTurn {
		when = "one after another"
	}
	p.heading(fmt.Sprintf("%s, %s: %s", count(len(r.Question.Briefs), "brief"), when, p.shopOutcome(r)))
	if r.Question.InTurn {
		p.say(0, "Motors, holders, pulleys and wheels come back after each brief; bands, axles and sleeves do not, nor what is glued or drilled out.")
	}
	if r.Plan == nil && r.None {
		p.wanting(r)
	}
	p.madeInstead(opt.Made)
	if r.Plan != nil {
		p.order(r)
		p.builds(r)
	}
	if len(r.Never) == 0 {
		p.packs(r)
	}
	if r.Plan != nil {
		p.worth(r, opt.Pupils)
		p.eachBrief(r, opt.Pupils)
	}
	p.shopEnd(r)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// eachBrief writes what each brief uses up, for all and for each child.
func (p *page) eachBrief(r *supply.Result, pupils int) {
	c := r.Question.List.Currency
	columns := []column{{head: "Brief"}, {head: "Groups", right: true, fixed: true}, {head: "Used up", right: true, fixed: true}, {head: "Comes back", right: true, fixed: true}}
	if pupils > 0 {
		columns = append(columns, column{head: "Used up, a child", right: true, fixed: true})
	}
	var rows [][]string
	for i, b := range r.Question.Briefs {
		row := []string{briefCalled(r.Question, i), fmt.Sprint(b.Sets), c.Format(r.Each[i].Consumed), c.Format(r.Each[i].Kept)}
		if pupils > 0 {
			row = append(row, c.Format(upTo(r.Each[i].Consumed, pupils)))
		}
		rows = append(rows, row)
	}
	p.blank()
	p.table(0, columns, rows)
}
