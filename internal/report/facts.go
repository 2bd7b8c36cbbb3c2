package report

import "strings"

// The places of facts: a label, and what it says in a column of its own.
const (
	factIndent = 3
	factColumn = 16
)

// fact writes a label and what it says. An empty label goes on with the one above.
func (p *page) fact(label, text string) {
	lead := strings.Repeat(" ", factIndent) + label
	for _, l := range wrap(clean(text), p.width-factColumn) {
		p.line(lead+strings.Repeat(" ", max(1, factColumn-cellWidth.StringWidth(lead)))+l, "")
		lead = ""
	}
}
