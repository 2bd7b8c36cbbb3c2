package prices

import (
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/stocktake"
	"findrive/internal/units"
)

var (
	decimalComma = pattern.Must(`^([^\d,.]*\d+),(\d{1,2})([^\d,.]*)$`)
	bareNumber   = pattern.Must(`^[0-9]+(\.[0-9]+)?$`)
	whole        = pattern.Must(`^-?[0-9]{1,9}$`)

	pence    = pattern.Must(`^(\d{1,5})\s*p(?:ence)?$`)
	behind   = pattern.Must(`(?i)^(.*?\d\S*?)\s*(?:/|per|an?)?\s*(pack|packet|pk|pkt|bag|box|set|tub)$`)
	forOne   = pattern.Must(`(?i)^(.*?\d\S*?)\s*(?:/|per|an?)?\s*(each|ea|piece|pc|one|unit)\.?$`)
	forMany  = pattern.Must(`(?i)^(.*?\d\S*?)\s*(?:/|per|for)\s*(?:an?\s+)?(?:(?:pack|packet|pk|pkt|bag|box|set)\s*(?:of\s*)?)?(\d{1,6})$`)
	noNought = pattern.Must(`^(\D?)\.(\d)`)
	vatWords = pattern.Must(`(?i)\s*\(?(?:inc|incl|including)\.?\s+vat\)?$`)
	signLast = pattern.Must(`^(\d[\d.]*)\s*([£€$])$`)
)

var (
	packsOf = pattern.Must(`(?i)^(?:per|(?:pack|packet|pk|pkt|bag|box|set)s?(?:\s*of)?|x)\s*\.?\s*(\d{1,6})$`)
	dozens  = pattern.Must(`(?i)^(\d{1,3})?\s*(?:doz|dozen)\.?$`)
)

// price is what a cell says a pack costs, or one piece of it.
type price struct {
	amount string // as money.Currency.Parse has it
	each   bool   // of one piece
	pack   int    // pieces that it is for, if the cell says so; else 0
}

// readPrice takes the words off a price: "85p", "2.80 per pack", "£2.40 for 10", "35p each".
func readPrice(text string) price {
	var p price
	text = vatWords.ReplaceAllString(strings.TrimSpace(text), "")
	if m := behind.FindStringSubmatch(text); m != nil {
		text = m[1]
	} else if m := forOne.FindStringSubmatch(text); m != nil {
		text, p.each = m[1], true
	} else if m := forMany.FindStringSubmatch(text); m != nil && strings.ContainsAny(m[1], "£€$.,pP") { // 2 for 5 may be either way
		text = m[1]
		p.pack, _ = strconv.Atoi(m[2])
	}
	text = noNought.ReplaceAllString(decimalComma.ReplaceAllString(text, "$1.$2$3"), "${1}0.$2")
	if m := pence.FindStringSubmatch(text); m != nil {
		n, _ := strconv.Atoi(m[1])
		text = "£" + strconv.Itoa(n/100) + "." + string(rune('0'+n/10%10)) + string(rune('0'+n%10))
	}
	if m := signLast.FindStringSubmatch(text); m != nil {
		text = m[2] + m[1]
	}
	p.amount = text
	return p
}

// pricing settles how many pieces a row's price is for.
func (s *sheet) pricing(r stocktake.CellRow, o *sheetOffer, said int) {
	cellPrice := s.of(r, priceColumn)
	if cellPrice.value == "" {
		if each := s.of(r, eachColumn); each.value != "" {
			cellPrice = each
			// The unit of a shop is what it sells: a pack, where the name says so.
			packed := said > 0 && s.of(r, packColumn).value == "" && strings.HasPrefix(strings.ToLower(s.headings[each.at.column]), "unit")
			if !packed && readPrice(each.value).pack == 0 && !readPrice(each.value).each {
				cellPrice.value += " each"
			}
			if packed {
				s.note("row %d: %s is taken for what the pack of %d costs, which its name says", r.Number, each.value, said)
			}
		}
	}
	o.price = cellPrice
	p := readPrice(cellPrice.value)
	o.price.value = p.amount
	if o.pack.value == "" {
		switch {
		case p.pack > 0:
			o.pack.value = strconv.Itoa(p.pack)
		case said > 0:
			o.pack.value = strconv.Itoa(said)
		case s.of(r, packColumn).at.column < 0 || p.each:
			o.pack.value = "1"
		}
	}
	s.needPieces(&o.pack)
	s.needWhole(&o.least, false, "leave it empty if one pack can be had")
	pack, err := strconv.Atoi(o.pack.value)
	switch {
	case o.price.value == "":
		s.fail(o.price.at, "write what a pack costs")
		o.price.value = "1"
	case err != nil:
	case p.pack > 0 && p.pack != pack:
		s.fail(o.price.at, "%s is for %d, and the pack is one of %d: which is it?", units.Quoted(cellPrice.value), p.pack, pack)
	case said > 0 && pack != said:
		s.fail(o.pack.at, "found %s, but the part is called %s, which is a pack of %d: which is it?", units.Quoted(o.pack.value), units.Quoted(o.called), said)
	case p.each && pack > 1:
		o.times = pack
		s.note("row %d: %s each is taken for a pack of %d", r.Number, p.amount, pack)
	}
}

// needPieces reads how many are in a pack: "10", "10 pcs", "pack of 10", "10 per pack".
func (s *sheet) needPieces(g *given) {
	const hint = "write how many pieces are in one pack"
	if g.value != "" && !whole.MatchString(g.value) {
		switch n, ok := stocktake.Pieces(g.value); {
		case packsOf.MatchString(g.value):
			g.value = packsOf.FindStringSubmatch(g.value)[1]
		case dozens.MatchString(g.value):
			n, err := strconv.Atoi("0" + dozens.FindStringSubmatch(g.value)[1])
			g.value = strconv.Itoa(12 * max(1, n))
			if err != nil {
				g.value = "x" // refused below
			}
		case ok:
			g.value = strconv.Itoa(n)
		case strings.EqualFold(g.value, "each") || strings.EqualFold(g.value, "singles"):
			g.value = "1"
		}
	}
	s.needWhole(g, true, hint)
}

// moneySeen is the currency that the list's prices and headings are written in, where no
// column says it: by its sign, or in pence; empty if there is none.
func (s *sheet) moneySeen() given {
	signs := map[string]string{"£": "GBP", "€": "EUR"}
	for _, h := range s.heads {
		if h.money != "" {
			if code := signs[h.money]; code != "" {
				return given{code, cell{}}
			} else if h.money != "$" {
				return given{h.money, cell{}}
			}
		}
	}
	for _, o := range s.offers {
		for sign, code := range signs {
			if strings.Contains(o.price.value, sign) {
				return given{code, o.price.at}
			}
		}
	}
	return given{}
}
