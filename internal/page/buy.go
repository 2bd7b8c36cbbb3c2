package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/prices"
	"findrive/internal/report"
	"findrive/internal/supply"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// pricesName is the price list as it is saved.
const pricesName = "prices.toml"

// priceExample is how a price list may look.
const priceExample = "Supplier, Kind, Part, Pack, Price\nHill and Son, pulley, disc-80, 5, 3.00\nHill and Son, band, no-16, 100, 2.40"

// buying is a purchase that is looked for or was found.
type buying struct {
	wanted bool // a search is to be made
	to     question
	prices string // the texts it answers
	result *supply.Result
	failed string
}

func (s *Session) buyLine() string {
	if s.bought() {
		return report.TellShop(s.buy.result).Outcome
	}
	return "The least to buy so that all groups can build."
}

// bought is whether there is an answer for the files as they are.
func (s *Session) bought() bool {
	b := &s.buy
	return b.result != nil && b.to == s.question() && b.prices == s.priceList()
}

// priceList is the list that was given; that of the example for the example.
func (s *Session) priceList() string {
	if s.Prices == "" && s.Example {
		return string(demo.Prices())
	}
	return s.Prices
}

// buyStep is the sixth step, open.
func (s *Session) buyStep(r read) g.Node {
	if r.cup == nil {
		return s.summary(r)
	}
	if s.buy.wanted {
		return searching(everyWay)
	}
	note := "Paste the prices you were quoted: a row for each, with headings such as Supplier, Kind, Part, Pack and Price. A part must be one of your cupboard, by its name there, or be described in the list. Or open a price list of findrive, prices.toml."
	if s.Example && s.Prices == "" {
		note = "These prices are invented and belong to the example. " + note
	}
	return g.Group{
		h.P(g.Text(note)),
		h.Form(h.ID("prices"), h.Data("act", "prices"), h.Aria("label", "Your prices"),
			g.If(s.buy.failed != "", h.P(h.Class("wrong"), h.ID("prices-wrong"), g.Text(s.buy.failed))),
			labelledWide("prices-text", "Your prices", textArea("prices-text", "9", h.Placeholder(priceExample), g.Text(s.priceList()))),
			h.P(h.Class("links"), h.Button(h.Type("submit"), h.ID("prices-go"), h.Class("main"), g.Text("What is the least to buy?")),
				h.Button(h.Type("button"), h.ID("prices-pick"), h.Class("quiet"), h.Data("act", "pick"), h.Data("on", "prices-files"), g.Text("Open a price list")),
				h.Input(h.Type("file"), h.ID("prices-files"), h.Class("unseen"), h.Aria("label", "A price list"), h.TabIndex("-1"), h.Data("act", "prices file")),
				g.If(s.priceList() != "", button("save-prices", "save", "prices", "quiet", "Save the prices")))),
		s.order(),
	}
}

// order is what is to be bought.
func (s *Session) order() g.Node {
	if !s.bought() {
		return nil
	}
	t := report.TellShop(s.buy.result)
	nodes := []g.Node{h.ID("order"), h.Class("trouble"), h.Aria("labelledby", "order-head"), h.H3(h.ID("order-head"), g.Text("The order")), h.P(h.Class("outcome"), g.Text(t.Outcome)), s.takenForGranted()}
	if len(t.Order) > 0 {
		var heads, rows []g.Node
		for _, w := range report.OrderHead() {
			heads = append(heads, head(w))
		}
		for _, row := range t.Order {
			var cells []g.Node
			for i, w := range row {
				cells = append(cells, cell(report.OrderHead()[i], g.Text(w)))
			}
			rows = append(rows, h.Tr(cells...))
		}
		nodes = append(nodes, h.Table(h.Class("cards-when-narrow"), h.THead(h.Tr(heads...)), h.TBody(rows...)), list(t.Total), h.P(button("save-order", "save", "order", "", "Save the order for a spreadsheet")))
	}
	if len(t.Builds) > 0 {
		nodes = append(nodes, h.H3(g.Text("What they build")), drivesList(t.Builds))
	}
	if len(t.Short) > 0 {
		nodes = append(nodes, h.H3(g.Text("What is short")), list(t.Short))
	}
	return h.Section(nodes...)
}

// takenForGranted is what was taken for granted in the price list, and which of its rows were not
// used: what is wanted may stand in those.
func (s *Session) takenForGranted() g.Node {
	notes := s.buy.result.Question.List.Notes
	if len(notes) == 0 {
		return nil
	}
	var all []string
	for _, n := range notes {
		all = append(all, units.Capital(partWords.Replace(plain(n))))
	}
	return h.Div(h.ID("prices-taken"), h.Class("note"), h.P(g.Text("Of your prices:")), list(all))
}

// actPrices takes a price list that was typed or pasted, and has the least looked for.
func (s *Session) actPrices(d doing) { s.takePrices(d, d.Form["text"]) }

// actPricesFile takes a price list from a file.
func (s *Session) actPricesFile(d doing) {
	if len(d.Files) == 0 {
		return
	}
	text, err := prices.Text(d.Files[0].Data)
	if err != nil {
		s.buy = buying{failed: shopFault(err)}
		d.reply.Focus = "prices-text"
		return
	}
	s.takePrices(d, text)
}

func (s *Session) takePrices(d doing, text string) {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	s.buy = buying{}
	if text != s.priceList() {
		s.alter("the prices", func(f *files) { f.Prices = text })
	}
	if strings.TrimSpace(s.priceList()) == "" {
		s.buy.failed = "There are no prices yet: paste them, or open a price list."
		d.reply.Focus = "prices-text"
		return
	}
	if _, _, err := s.shop(); err != nil {
		s.buy.failed = shopFault(err)
		d.reply.Focus = "prices-text"
		return
	}
	s.buy.wanted = true
	d.reply.Next = "buy"
}

// shop reads what a purchase is looked for with.
func (s *Session) shop() (*prices.List, *brief.Brief, error) {
	r := s.read()
	if r.cup == nil {
		return nil, nil, errors.New("the cupboard is to be put right first")
	}
	l, err := prices.Read("prices", []byte(s.priceList()), r.cup)
	if err != nil {
		return nil, nil, err
	}
	b, err := brief.ReadFor(briefName, []byte(s.Brief), l.Parts.With(r.cup)) // it may ask for a part that can be bought
	if err != nil {
		return nil, nil, errors.New("the question is to be put right first")
	}
	return l, b, nil
}

// shopFault are the first mistakes of a price list.
func shopFault(err error) string {
	var all tomlfile.Problems
	if !errors.As(err, &all) {
		return units.Capital(err.Error()) + "."
	}
	var out []string
	for i, p := range all {
		if i == 3 {
			out = append(out, fmt.Sprintf("And %d more.", len(all)-i))
			break
		}
		words := sentence(p)
		switch {
		case p.Cell != "":
			words = strings.Join(append([]string{units.Capital(p.Cell)}, nonEmpty(p.Key)...), ", ") + ": " + words
		case p.Line > 0:
			words = fmt.Sprintf("Line %d: %s", p.Line, words)
		}
		out = append(out, plain(words))
	}
	return strings.Join(out, " ")
}

// actBuy looks for the least to buy.
func (s *Session) actBuy(d doing) {
	if !s.buy.wanted {
		return
	}
	s.buy.wanted = false
	l, b, err := s.shop()
	r := s.read()
	if err != nil || r.cup == nil {
		return
	}
	limited, end := bounded(d.ctx, s.limits.Find)
	defer end()
	result, err := supply.Find(limited, &supply.Question{Cupboard: r.cup, List: l, Briefs: []*brief.Brief{b}, Mix: true}, supply.Options{Threads: 1, Limit: s.limits.First, Relax: s.limits.One})
	if errors.Is(context.Cause(d.ctx), ErrOvertaken) {
		return
	}
	if err != nil {
		s.buy.failed = "The program contradicts itself and will not answer: " + err.Error()
		return
	}
	s.buy = buying{to: s.question(), prices: s.priceList(), result: result}
	d.reply.Focus = "order-head"
}

// orderFile is the order for a spreadsheet.
func (s *Session) orderFile() []byte {
	var b bytes.Buffer
	if !s.bought() || report.ShopCSV(&b, s.buy.result) != nil {
		return nil
	}
	return b.Bytes()
}
