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
	case n < v.Asked:
		p.say(0, fmt.Sprintf("The proof holds: there are %s for this brief, and no other.", count(n, "drive")))
	case n == 1:
		p.say(0, "The proof holds: this is the best drive for the brief, and nothing better was skipped.")
	default:
		p.say(0, fmt.Sprintf("The proof holds: these are the best %s for the brief, and nothing better was skipped.", count(n, "drive")))
	}
	p.blank()
	if n := len(v.Ranked); n > 0 {
		p.hang(0, 2, "- Each ranked drive was built again from the cupboard's parts and keeps every rule. "+costRange(v.Ranked))
	}
	p.hang(0, 2, fmt.Sprintf("- %s of the space looked at, %d left out; for %d of those the reason was worked out again.",
		count(v.Nodes, "part"), v.Total(), v.Total()-v.Trusted))
	if v.Trusted > 0 {
		p.hang(0, 2, fmt.Sprintf("- %d could not be settled and are taken on trust.", v.Trusted))
	}
	p.blank()
	p.say(0, "Why parts were left out:")
	for _, c := range v.Left {
		p.hang(2, 4, fmt.Sprintf("%d: %s", c.Parts, leftBecause(c.Reason)))
	}
	p.blank()
	p.say(0, "Placements that a drill cannot tell apart count as one; see docs/proof.md. A proof is about figures: your school's own risk assessment, local codes and competent staff decide what is built.")
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
		return "could only cost more than the last that is ranked"
	case "ways":
		return "no band that could be afforded goes round the pulleys"
	case "room":
		return "no holes keep everything clear"
	case "seen":
		return "a placement was worked out that stands for them, and is no better"
	case "near":
		return "the same, though another placement in the same cell would be better"
	case "open":
		return "not settled"
	}
	return "all break the rule \"" + reason + "\""
}
