package report

import (
	"findrive/internal/certificate"
	"findrive/internal/parts"
)

// discsOf are the sheets of a cupboard that discs can be cut from; nil if there are none.
func discsOf(c *parts.Cupboard) *certificate.Discs {
	if c == nil || c.Discs == nil {
		return nil
	}
	out := &certificate.Discs{Most: c.Discs.Most, Sheets: []certificate.Sheet{}}
	for i := range c.Sheets {
		s := &c.Sheets[i]
		out.Sheets = append(out.Sheets, certificate.Sheet{Name: s.Name, Location: s.Location, Kind: string(s.Kind), Thickness: number(s.Thickness),
			Length: number(s.Length), Width: number(s.Width), Count: s.Count})
	}
	return out
}

// madeOf is how a pulley is made; nil for one that is there.
func madeOf(m *parts.Made) *certificate.Made {
	if m == nil {
		return nil
	}
	return &certificate.Made{Core: discOf(&m.Core), Layers: m.Layers, Flange: discOf(&m.Flange), Error: number(m.Error), Wobble: number(m.Wobble)}
}

func discOf(d *parts.Disc) certificate.Disc {
	return certificate.Disc{Sheet: d.Sheet, Kind: string(d.Kind), Thickness: number(d.Thickness), Diameter: number(d.Diameter), Cutter: d.Cutter, Way: string(d.Way)}
}
