package report

import (
	"io"

	"findrive/internal/money"
	"findrive/internal/supply"
)

// ShopSchemaVersion is raised when a key of the file of shop or term changes its meaning
// or goes. Keys may be added without raising it.
const ShopSchemaVersion = 1

type shopFile struct {
	Schema   int           `json:"schema"`
	Kind     string        `json:"kind"`
	Cupboard string        `json:"cupboard"`
	Prices   string        `json:"prices"`
	Currency string        `json:"currency"`
	Digits   int           `json:"currency_digits"`
	Briefs   []shopBrief   `json:"briefs"`
	InTurn   bool          `json:"in_turn"`
	None     bool          `json:"none_possible"`
	Stopped  bool          `json:"stopped_early"`
	Drives   int           `json:"drives_weighed"`
	Plan     *shopPlanJSON `json:"plan"`
	Line     []shopPoint   `json:"money_against_speed"`
	Whole    bool          `json:"money_against_speed_whole"`
	Packs    []shopPack    `json:"one_pack_by_itself"`
	Wanting  []shopPiece   `json:"wanting,omitempty"`
	Short    []shopShort   `json:"short_by_count,omitempty"`
}

type shopShort struct {
	Kind   string `json:"kind"`
	Name   string `json:"part,omitempty"`
	Wanted int    `json:"wanted_at_least"`
	Have   int    `json:"have"`
}

type shopBrief struct {
	Name     string       `json:"name"`
	Groups   int          `json:"groups"`
	Consumed money.Amount `json:"consumed"`
	Kept     money.Amount `json:"kept"`
}

type shopPlanJSON struct {
	Money        money.Amount   `json:"money"`
	AtLeast      money.Amount   `json:"at_least"`
	Proved       bool           `json:"proved"`
	Points       string         `json:"penalty_points"`
	PointsProved bool           `json:"points_proved"`
	Bought       []shopBought   `json:"bought"`
	Carriage     []shopCarriage `json:"carriage"`
	Shares       []shopShare    `json:"shares"`
	Consumed     money.Amount   `json:"consumed"`
	Kept         money.Amount   `json:"kept"`
}

type shopBought struct {
	Supplier string       `json:"supplier"`
	Offer    string       `json:"offer"`
	Kind     string       `json:"kind"`
	Part     string       `json:"part"`
	Packs    int          `json:"packs"`
	Pack     int          `json:"pack"`
	Price    money.Amount `json:"price"`
	Sum      money.Amount `json:"sum"`
	Left     int          `json:"left_over"`
}

type shopCarriage struct {
	Supplier string       `json:"supplier"`
	Goods    money.Amount `json:"goods"`
	Paid     money.Amount `json:"paid"`
}

type shopShare struct {
	Brief  int            `json:"brief"` // from 0
	Groups int            `json:"groups"`
	Drive  shortDriveJSON `json:"drive"`
}

type shopPoint struct {
	Percent int          `json:"within_percent"`
	Money   money.Amount `json:"money"`
	Proved  bool         `json:"proved"`
}

type shopPack struct {
	Offer  string       `json:"offer"`
	Packs  int          `json:"packs"`
	Money  money.Amount `json:"money"`
	Before []int        `json:"groups_before"`
	After  []int        `json:"groups_after"`
}

type shopPiece struct {
	Kind   string `json:"kind"`
	Part   string `json:"part"`
	Pieces int    `json:"pieces"`
}

// ShopJSON writes the whole answer of shop or term for another program, money in the
// smallest coin. The same result gives the same bytes. Errors: from w, or a figure that is
// not finite.
func ShopJSON(w io.Writer, kind string, r *supply.Result) error {
	l := r.Question.List
	f := shopFile{
		Schema: ShopSchemaVersion, Kind: kind, Cupboard: r.Question.Cupboard.Name, Prices: l.Name, Currency: l.Currency.Code, Digits: l.Currency.Digits,
		InTurn: r.Question.InTurn, None: r.None, Stopped: r.Stopped, Drives: r.Drives, Whole: r.LineWhole, Line: []shopPoint{}, Packs: []shopPack{},
	}
	for i, b := range r.Question.Briefs {
		brief := shopBrief{Name: b.Name, Groups: b.Sets}
		if i < len(r.Each) {
			brief.Consumed, brief.Kept = r.Each[i].Consumed, r.Each[i].Kept
		}
		f.Briefs = append(f.Briefs, brief)
	}
	if p := r.Plan; p != nil {
		out := &shopPlanJSON{
			Money: p.Money, AtLeast: p.AtLeast, Proved: p.Proved, Points: points(p.Points), PointsProved: p.PointsProved,
			Bought: []shopBought{}, Carriage: []shopCarriage{}, Consumed: r.Worth.Consumed, Kept: r.Worth.Kept,
		}
		for _, b := range p.Bought {
			out.Bought = append(out.Bought, shopBought{l.Suppliers[b.Offer.Supplier].Name, b.Offer.Name, b.Offer.Kind, b.Offer.Part, b.Packs, b.Offer.Pack, b.Offer.Price, b.Sum, b.Left})
		}
		for _, c := range p.Carriage {
			out.Carriage = append(out.Carriage, shopCarriage(c))
		}
		for _, s := range p.Shares {
			out.Shares = append(out.Shares, shopShare{s.Brief, s.Groups, shortDrive(s.Drive)})
		}
		f.Plan = out
	}
	for _, p := range r.Line {
		f.Line = append(f.Line, shopPoint{p.Percent, p.Plan.Money, p.Proved})
	}
	for _, p := range r.Packs {
		f.Packs = append(f.Packs, shopPack{p.Offer.Name, p.Packs, p.Money, p.Before, p.After})
	}
	for _, n := range r.Short {
		f.Short = append(f.Short, shopShort(n))
	}
	if r.Wanting != nil {
		for _, n := range r.Wanting.Pieces {
			f.Wanting = append(f.Wanting, shopPiece{n.Kind, n.Name, n.Pieces})
		}
	}
	return writeJSON(w, f)
}
