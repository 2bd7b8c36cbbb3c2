package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"findrive/internal/prices"
	"findrive/internal/supply"
)

// Fillers is how many packs of each line of an order nobody needs: without them all groups
// could build. They are there because the goods must come to a least order, or are carried
// free from a sum on.
func Fillers(r *supply.Result) []int {
	out := make([]int, len(r.Plan.Bought))
	left := map[[2]string]int{}
	for i, b := range r.Plan.Bought {
		k := [2]string{b.Offer.Kind, b.Offer.Part}
		if _, met := left[k]; !met {
			left[k] = b.Left
		}
		s := &r.Question.List.Suppliers[b.Offer.Supplier]
		if s.Minimum == 0 && s.FreeFrom == 0 {
			continue
		}
		n := min(b.Packs, left[k]/b.Offer.Pack)
		if kept := b.Packs - n; kept > 0 && kept < b.Offer.Least {
			n = b.Packs - b.Offer.Least // the shop sells no fewer
		}
		out[i] = n
		left[k] -= n * b.Offer.Pack
	}
	return out
}

// filling says that packs of a line only fill the order up.
func filling(n, packs int) string {
	switch {
	case n == 0:
		return ""
	case n == packs:
		return " (only fills the order up)"
	}
	return fmt.Sprintf(" (%d of them only fill the order up)", n)
}

// mostNamed is how many names of a list are worth reading.
const mostNamed = 6

// someOf names the first few of a list, and says how many others there are.
func someOf(names []string) string {
	if len(names) <= mostNamed+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d others", strings.Join(names[:mostNamed], ", "), len(names)-mostNamed)
}

// vatWords says whether prices are with VAT.
func vatWords(v prices.VAT) string {
	switch v {
	case prices.VATIncluded:
		return "VAT included"
	case prices.VATNot:
		return "VAT not included"
	}
	return "with or without VAT, the list does not say"
}

// Order is what is ordered at one supplier.
type Order struct {
	Supplier string
	Rows     [][]string // under orderHeader
}

var orderHeader = []string{"supplier", "offer", "kind", "part", "packs", "pack_size", "pack_price", "line_price", "left_over", "currency", "vat", "packs_to_fill_up"}

// Orders are the orders of a purchase, one for each supplier, in the order of the list.
func Orders(r *supply.Result) []Order {
	var out []Order
	if r.Plan == nil {
		return nil
	}
	c, vat := r.Question.List.Currency, string(r.Question.List.VAT)
	if vat == "" {
		vat = string(prices.VATNotSaid)
	}
	fill := Fillers(r)
	for at, s := range r.Question.List.Suppliers {
		o := Order{Supplier: s.Name}
		for i, b := range r.Plan.Bought {
			if b.Offer.Supplier == at {
				o.Rows = append(o.Rows, []string{
					safe(s.Name), safe(b.Offer.Name), b.Offer.Kind, safe(b.Offer.Part), strconv.Itoa(b.Packs), strconv.Itoa(b.Offer.Pack),
					c.Plain(b.Offer.Price), c.Plain(b.Sum), strconv.Itoa(b.Left), c.Code, vat, strconv.Itoa(fill[i]),
				})
			}
		}
		for _, g := range r.Plan.Carriage {
			if g.Supplier == s.Name {
				o.Rows = append(o.Rows, []string{safe(g.Supplier), "carriage", "", "", "", "", "", c.Plain(g.Paid), "", c.Code, vat, ""})
			}
		}
		if len(o.Rows) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// CSV writes an order for a spreadsheet, one row for each offer and one for carriage. The
// error is from w.
func (o *Order) CSV(w io.Writer) error {
	return csv.NewWriter(w).WriteAll(append([][]string{orderHeader}, o.Rows...))
}

// ShopCSV writes the orders of all suppliers. The error is from w.
func ShopCSV(w io.Writer, r *supply.Result) error {
	rows := [][]string{orderHeader}
	for _, o := range Orders(r) {
		rows = append(rows, o.Rows...)
	}
	return csv.NewWriter(w).WriteAll(rows)
}
