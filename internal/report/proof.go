package report

import (
	"fmt"
	"io"

	"findrive/internal/proof"
	"findrive/internal/score"
)

// ProofText writes what a proof comes to that has been replayed and holds. The error
// is from w.
func ProofText(w io.Writer, v *proof.Verdict, width int) error {
	p := newPage(width, false)
	switch n := len(v.Ranked); {
	case n == 0:
		p.say(0, "The proof holds: no drive of this cupboard meets the brief.")
	case n < v.Asked && n == 1:
		p.say(0, fmt.Sprintf("The proof holds: this is the best drive for the brief, and any other would cost over %s points more, not worth building.", points(score.Worth)))
	case n < v.Asked:
		p.say(0, fmt.Sprintf("The proof holds: these are the best %s for the brief, and any other would cost over %s points more than the first, not worth building.", count(n, "drive"), points(score.Worth)))
	case n == 1:
		p.say(0, "The proof holds: this is the best drive for the brief, and nothing better was skipped.")
	default:
		p.say(0, fmt.Sprintf("The proof holds: these are the best %s for the brief, and nothing better was skipped.", count(n, "drive")))
	}
	p.blank()
	if n := len(v.Ranked); n > 0 {
		p.hang(0, 2, "- Each listed drive was built again from the cupboard's parts, worked out at its spacings, and its holes keep every rule. "+costRange(v.Ranked))
	}
	p.hang(0, 2, fmt.Sprintf("- %s of the space gone through again: %s worked out, %s of pulleys looked through design by design. What the proof says of each part holds.",
		count(v.Parts, "part"), count(v.Nodes, "bound"), count(v.Rows, "row")))
	p.blank()
	if len(v.Left) > 0 {
		p.say(0, "Left out, mostly many designs at a time:")
	}
	for _, c := range v.Left {
		p.hang(2, 4, fmt.Sprintf("%d: %s", c.Times, leftBecause(c.Reason)))
	}
	p.blank()
	p.say(0, "What is a design, and what it costs: docs/model.md. A proof is about figures: your school's own risk assessment, local codes and competent staff decide what is built.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func costRange(costs []score.Points) string {
	first, last := costs[0], costs[len(costs)-1]
	if first == last {
		return fmt.Sprintf("Penalty: %s points.", points(first))
	}
	return fmt.Sprintf("Penalties: %s to %s points.", points(first), points(last))
}

// leftBecause puts a reason into words.
func leftBecause(reason string) string {
	switch reason {
	case "dear":
		return "cost too much to be listed"
	case "room in the frame":
		return "have no holes that keep everything clear"
	}
	return "break the rule \"" + reason + "\""
}
