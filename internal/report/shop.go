package report

import (
	"fmt"
	"io"

	"findrive/internal/ideas"
	"findrive/internal/money"
	"findrive/internal/prices"
	"findrive/internal/supply"
)

// ShopOptions steer ShopText and TermText.
type ShopOptions struct {
	Width  int // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool
	Pupils int // of all groups together; 0 if not said
	// Free are changes with which nothing need be bought; they are only told if
	// something must be. FreeAll is whether all were tried.
	Free    []ideas.Change
	FreeAll bool
	// Mix is whether groups may build different drives.
	Mix bool
	// Made are the briefs of a term that can be built of the cupboard alone with pulleys
	// made of discs, and what is to be made.
	Made []MadeFor
}

// MadeFor is a brief by its name, and what to make for it.
type MadeFor struct {
	Brief  string
	Groups int
	Change *ideas.Change
}

// ShopText writes the least that must be bought so that all groups can build one brief.
// The error is from w.
func ShopText(w io.Writer, r *supply.Result, opt ShopOptions) error {
	p := newPage(opt.Width, opt.Colour)
	name := orElse(r.Question.Briefs[0].Name, "this brief")
	p.heading(name + ": " + p.shopOutcome(r))
	if r.Plan == nil && r.None {
		p.wanting(r)
	}
	if len(r.Short) == 0 && (r.Plan == nil || r.Plan.Money > 0) {
		p.free(opt, r.Question.Briefs[0].Sets)
	}
	if r.Plan != nil {
		p.order(r)
		p.builds(r)
		p.speedLine(r)
	}
	if len(r.Never) == 0 {
		p.packs(r)
	}
	if r.Plan != nil {
		p.worth(r, opt.Pupils)
	}
	p.shopEnd(r)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// wanting tells what is short, or else what stood in the way.
func (p *page) wanting(r *supply.Result) {
	if len(r.Short) > 0 {
		p.countedShort(r)
		return
	}
	w := r.Wanting
	if len(r.Question.Briefs) > 1 {
		for _, i := range r.Never {
			name := briefCalled(r.Question, i)
			p.hang(0, 2, fmt.Sprintf("- %s: not one set can be built, whatever of the list is bought. Leave it out, or change it: findrive why says what would unlock it.", name))
		}
		if len(r.Never) > 1 {
			p.say(0, "Below, the first of them.")
		}
	}
	if w == nil {
		if r.Account != nil {
			p.refusals(r.Account)
		}
		return
	}
	p.blank()
	p.heading("What is short")
	fewest := ""
	if w.Proved {
		fewest = " No fewer pieces would do."
	}
	p.say(0, "With these besides what the cupboard has, all could build."+fewest)
	for _, n := range w.Pieces {
		p.hang(2, 4, fmt.Sprintf("- %d x %s %s", n.Pieces, n.Kind, n.Name))
	}
	p.say(0, "The list does not sell all of them. They might be borrowed, or fewer sets built at once.")
}

// countedShort tells what counting alone settles.
func (p *page) countedShort(r *supply.Result) {
	p.blank()
	for _, s := range r.Short {
		noun := map[string]string{"cells": "battery holders", "wheel": "wheels"}[s.Kind]
		if noun == "" {
			noun = s.Kind + "s"
		}
		if s.Name != "" {
			noun = "of " + s.Kind + " " + s.Name
		}
		p.hang(0, 2, fmt.Sprintf("- %d %s are wanted at least, %d are there, and the list sells none.", s.Wanted, noun, s.Have))
	}
	p.blank()
	counted := ""
	if r.Searches == 0 {
		counted = "Counted; nothing was searched for. "
	}
	if fewest := r.Fewer(); fewest > 0 {
		p.say(0, fmt.Sprintf("%sFewer groups at a time may do: --groups %d. Or borrow them, or add what sells them to the price list.", counted, fewest))
		return
	}
	p.say(0, counted+"Borrow them, build fewer sets at once, or add what sells them to the price list.")
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func (p *page) shopOutcome(r *supply.Result) string {
	groups := 0
	for _, b := range r.Question.Briefs {
		groups += b.Sets
	}
	all := fmt.Sprintf("all %d groups", groups)
	if groups == 1 {
		all = "the group"
	}
	plan := r.Plan
	switch {
	case plan == nil && r.None:
		return fmt.Sprintf("no order from this list lets %s build. %s", all, provedOf(r.Question.List))
	case plan == nil:
		in := ""
		if r.Stopped {
			in = " in the time"
		}
		return fmt.Sprintf("no order that lets %s build was found%s, which does not prove that there is none.", all, in)
	case plan.Money == 0:
		return fmt.Sprintf("buy nothing. The cupboard serves %s.", all)
	}
	money := r.Question.List.Currency.Format
	if plan.Proved {
		return fmt.Sprintf("%s is the least that lets %s build. %s", money(plan.Money), all, provedOf(r.Question.List))
	}
	return fmt.Sprintf("%s lets %s build. It is not proved that this is the least: an order could still cost as little as %s.", money(plan.Money), all, money(plan.AtLeast))
}

// provedOf says of what a thing is proved: not of rows of a price list that could not be read.
func provedOf(l *prices.List) string {
	switch l.Unread {
	case 0:
		return "Proved."
	case 1:
		return "Proved for the rows that could be read; 1 could not."
	}
	return fmt.Sprintf("Proved for the rows that could be read; %d could not.", l.Unread)
}

// free tells what can be done instead of buying.
func (p *page) free(opt ShopOptions, groups int) {
	p.blank()
	p.heading("Before you buy")
	p.say(0, "Sleeves, drilled bores, glue, one cell, and doubled bands have been tried wherever the brief allows them.")
	one := ", all building one drive"
	if opt.Mix {
		one = ", different drives included"
	}
	if len(opt.Free) == 0 {
		none := "No single change of the brief that was tried does without buying"
		if !opt.FreeAll {
			none = "No single change of the brief that does without buying was found in the time"
		}
		p.say(0, none+one+".")
		return
	}
	p.say(0, fmt.Sprintf("Nothing need be bought for %s if you", count(groups, "group")))
	for _, c := range opt.Free {
		if c.Different > 1 {
			p.hang(2, 4, fmt.Sprintf("- %s: %d different drives, most of them %s, %s points.", c.Words, c.Different, ideaSpeed(c.Drive), points(c.Drive.Total)))
			continue
		}
		p.hang(2, 4, fmt.Sprintf("- %s: one drive for all, %s, %s points.", c.Words, ideaSpeed(c.Drive), points(c.Drive.Total)))
	}
	p.say(0, "Each was searched for with the change made.")
}

// madeInstead tells which briefs of a term can be built, each by itself, with pulleys made
// of discs and nothing bought.
func (p *page) madeInstead(list []MadeFor) {
	if len(list) == 0 {
		return
	}
	p.blank()
	p.heading("Before you buy")
	p.say(0, "Each by itself, from the cupboard alone and all its groups building one drive, if you")
	for _, m := range list {
		p.hang(2, 4, fmt.Sprintf("- %s (%s): %s: %s, %s points.", m.Brief, count(m.Groups, "group"), m.Change.Words, ideaSpeed(m.Change.Drive), points(m.Change.Drive.Total)))
	}
}

// order writes what to buy where, with what is left over.
func (p *page) order(r *supply.Result) {
	if len(r.Plan.Bought) == 0 {
		return
	}
	l := r.Question.List
	p.blank()
	p.heading("The order")
	var rows [][]string
	fill := Fillers(r)
	for i, b := range r.Plan.Bought {
		rows = append(rows, []string{
			l.Suppliers[b.Offer.Supplier].Name, fmt.Sprintf("%d x %d", b.Packs, b.Offer.Pack), b.Offer.Kind + " " + b.Offer.Part + filling(fill[i], b.Packs),
			l.Currency.Format(b.Offer.Price), l.Currency.Format(b.Sum), fmt.Sprint(b.Left),
		})
	}
	p.table(0, []column{{head: "From"}, {head: "Packs", right: true, fixed: true}, {head: "Of"}, {head: "A pack", right: true, fixed: true},
		{head: "Sum", right: true, fixed: true}, {head: "Left over", right: true, fixed: true}}, rows)
	for _, c := range r.Plan.Carriage {
		p.say(0, fmt.Sprintf("%s: goods %s, %s.", c.Supplier, l.Currency.Format(c.Goods), carriageWords(l, c.Supplier, c.Paid)))
	}
	p.say(0, totalWords(l, r.Plan.Money))
}

// briefCalled is the name of one of several briefs, with its number if others have it too.
func briefCalled(q *supply.Question, i int) string {
	name := q.Briefs[i].Name
	for k := range q.Briefs {
		if name != "" && k != i && q.Briefs[k].Name == name {
			return fmt.Sprintf("%d. %s", i+1, name)
		}
	}
	return orElse(name, fmt.Sprintf("brief %d", i+1))
}

// builds writes who builds what.
func (p *page) builds(r *supply.Result) {
	p.blank()
	p.heading("What they build")
	several := len(r.Question.Briefs) > 1
	columns := []column{{head: "Groups", right: true, fixed: true}, {head: "Goes", right: true, fixed: true}, {head: "Points", right: true, fixed: true}}
	if several {
		columns = append(columns, column{head: "Brief"})
	}
	var rows [][]string
	for i := range r.Plan.Shares {
		s := &r.Plan.Shares[i]
		row := []string{fmt.Sprint(s.Groups), ideaSpeed(s.Drive), points(s.Drive.Total)}
		if several {
			row = append(row, briefCalled(r.Question, s.Brief))
		}
		rows = append(rows, append(row, driveLine(s.Drive)+"; "+bandsOf(s.Drive)))
	}
	p.table(0, columns, rows)
	proved := "of the plans for this money made of them this has the fewest points"
	if !r.Plan.PointsProved {
		proved = "a plan for this money with fewer points may be among them"
	}
	p.say(0, fmt.Sprintf("%s weighed; %s.", wereDrives(r.Drives), proved))
	p.makeFirst("", madeBy(r.Plan.Shares))
}

// speedLine writes the trade-off between money and speed.
func (p *page) speedLine(r *supply.Result) {
	if len(r.Line) == 0 {
		return
	}
	p.blank()
	p.heading("What nearer speeds cost")
	var rows [][]string
	for _, at := range r.Line {
		proved := "proved least"
		if !at.Proved {
			proved = fmt.Sprintf("not proved: %s at least", r.Question.List.Currency.Format(at.Plan.AtLeast))
		}
		rows = append(rows, []string{r.Question.List.Currency.Format(at.Plan.Money), fmt.Sprintf("%d %%", at.Percent), proved})
	}
	p.table(0, []column{{head: "Money", right: true, fixed: true}, {head: "Within", right: true, fixed: true}, {head: "", fixed: true}}, rows)
	said := "Within: how near every group's likely speed is to the one asked for, in whole percent."
	switch last := r.Line[len(r.Line)-1]; {
	case !r.LineWhole:
		said += " Whether nearer ones can be had was not settled."
	case last.Percent > 1:
		said += fmt.Sprintf(" No order comes nearer than %d %%: proved.", last.Percent)
	}
	p.say(0, said)
}

// packs writes what one pack of each offer does by itself.
func (p *page) packs(r *supply.Result) {
	if len(r.Packs) == 0 || r.Plan == nil && !r.None { // nothing was found that could be told of
		return
	}
	p.blank()
	p.heading("One pack by itself")
	now, asked := 0, 0
	for i, b := range r.Question.Briefs {
		now, asked = now+r.Packs[0].Before[i], asked+b.Sets
	}
	each := ""
	if len(r.Question.Briefs) > 1 {
		each = ", each brief by itself"
	}
	least := ""
	if now < asked {
		least = "at least "
	}
	p.say(0, fmt.Sprintf("From the cupboard alone %s%d of %s can build%s.", least, now, count(asked, "group"), each))
	if now == asked {
		p.say(0, "No pack is needed for more.")
		return
	}
	var rows [][]string
	var idle []string
	for i := range r.Packs {
		o := &r.Packs[i]
		if o.Gained() == 0 {
			idle = append(idle, o.Offer.Name)
			continue
		}
		rows = append(rows, []string{
			fmt.Sprintf("+%d", o.Gained()), r.Question.List.Currency.Format(o.Money), perGroup(r.Question.List.Currency, o), fmt.Sprintf("%d x %d %s %s", o.Packs, o.Offer.Pack, o.Offer.Kind, o.Offer.Part),
		})
	}
	if len(rows) > 0 {
		p.table(0, []column{{head: "Groups", right: true, fixed: true}, {head: "With carriage", right: true, fixed: true}, {head: "A group", right: true, fixed: true}, {head: "Packs"}}, rows)
		p.say(0, "Best for the money first; by the drives weighed, of which there may be more.")
	}
	if len(idle) > 0 {
		p.hang(0, 2, "By themselves these were not found to serve more: "+someOf(idle)+".")
	}
}

// perGroup is what a group more costs, rounded up.
func perGroup(c money.Currency, o *supply.OnePack) string {
	return c.Format(upTo(o.Money, o.Gained()))
}

// upTo is one of n shares of an amount, rounded up.
func upTo(a money.Amount, n int) money.Amount { return (a + money.Amount(n) - 1) / money.Amount(n) }

// worth writes what it comes to for each child.
func (p *page) worth(r *supply.Result, pupils int) {
	c := r.Question.List.Currency
	p.blank()
	groups := 0
	for _, b := range r.Question.Briefs {
		groups += b.Sets
	}
	if r.Question.InTurn || len(r.Question.Briefs) > 1 {
		groups = 0 // a group of one brief is a group of the next, or is not: who knows
	}
	heads, noun := pupils, "child"
	if heads == 0 {
		heads, noun = groups, "group"
	}
	p.heading("What it costs, and what comes back")
	share := func(a money.Amount) string {
		if heads == 0 {
			return c.Format(a)
		}
		return fmt.Sprintf("%s, %s for each %s", c.Format(a), c.Format(upTo(a, heads)), noun)
	}
	p.hang(0, 2, "- To pay now: "+share(r.Plan.Money)+".")
	used := "bands, axles, sleeves; what is glued or drilled out"
	if len(madeBy(r.Plan.Shares)) > 0 {
		used = "bands, axles, sleeves, sheets for discs; what is glued or drilled out"
	}
	p.hang(0, 2, "- Used up ("+used+"): "+share(r.Worth.Consumed)+".")
	p.hang(0, 2, "- Comes back when the models are taken apart: "+share(r.Worth.Kept)+".")
	said := "At the prices of the list, cupboard parts too."
	if len(r.Worth.Unpriced) > 0 {
		var names []string
		for _, u := range r.Worth.Unpriced {
			names = append(names, u.Kind+" "+u.Name)
		}
		said += " Not counted, for want of a price: " + someOf(names) + "."
	}
	p.say(0, said+" Spent cells are not counted.")
}

func (p *page) shopEnd(r *supply.Result) {
	p.blank()
	if name := r.Question.List.Name; name != "" {
		p.say(0, "Prices: "+name+". Check them before you order.")
	}
	p.say(0, "propose and sheet show a drive in full, with the cautions. Your school's own risk assessment, local codes and competent staff decide.")
}
