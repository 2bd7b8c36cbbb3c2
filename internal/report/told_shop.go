package report

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/money"
	"findrive/internal/prices"
	"findrive/internal/supply"
	"findrive/internal/units"
)

// ToldShop is what must be bought, in the words of ShopText, piece by piece.
type ToldShop struct {
	Outcome string
	Order   [][]string // From, Packs, Of, A pack, Sum, Left over
	Total   []string   // carriage of each supplier, then the total
	Builds  []string   // who builds what
	Short   []string   // what is short where the list does not sell it
}

// OrderHead are the headings of ToldShop.Order.
func OrderHead() []string { return []string{"From", "Packs", "Of", "A pack", "Sum", "Left over"} }

// TellShop puts a purchase for one brief into words.
func TellShop(r *supply.Result) *ToldShop {
	t := &ToldShop{Outcome: units.Capital((&page{}).shopOutcome(r))}
	if r.Plan == nil {
		if r.Wanting != nil {
			for _, n := range r.Wanting.Pieces {
				t.Short = append(t.Short, fmt.Sprintf("%d x %s %s", n.Pieces, n.Kind, n.Name))
			}
		}
		return t
	}
	l := r.Question.List
	for _, b := range r.Plan.Bought {
		t.Order = append(t.Order, []string{
			l.Suppliers[b.Offer.Supplier].Name, fmt.Sprintf("%d x %d", b.Packs, b.Offer.Pack), b.Offer.Kind + " " + b.Offer.Part,
			l.Currency.Format(b.Offer.Price), l.Currency.Format(b.Sum), fmt.Sprint(b.Left),
		})
	}
	for _, c := range r.Plan.Carriage {
		t.Total = append(t.Total, fmt.Sprintf("%s: goods %s, %s.", c.Supplier, l.Currency.Format(c.Goods), carriageWords(l, c.Supplier, c.Paid)))
	}
	if len(t.Order) > 0 {
		t.Total = append(t.Total, totalWords(l, r.Plan.Money))
	}
	for i := range r.Plan.Shares {
		s := &r.Plan.Shares[i]
		t.Builds = append(t.Builds, fmt.Sprintf("%s: %s, %s.", count(s.Groups, "group"), ideaSpeed(s.Drive), strings.ReplaceAll(driveLine(s.Drive), " -> ", " > ")))
	}
	return t
}

// totalWords are what an order comes to.
func totalWords(l *prices.List, all money.Amount) string {
	return fmt.Sprintf("Total %s, %s. Left over: that part, in the cupboard, while all groups have theirs.", l.Currency.Format(all), vatWords(l.VAT))
}

// carriageWords are what is paid for the carriage of an order.
func carriageWords(l *prices.List, supplier string, paid money.Amount) string {
	at := slices.IndexFunc(l.Suppliers, func(s prices.Supplier) bool { return s.Name == supplier })
	switch {
	case paid > 0:
		return "carriage " + l.Currency.Format(paid)
	case at >= 0 && l.Suppliers[at].Carriage == 0:
		return "no carriage in the list"
	}
	return "carriage free"
}
