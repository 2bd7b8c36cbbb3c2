package hoist

import "fmt"

// sheaveWords name a block by the sheaves in use.
var sheaveWords = []string{"none", "single", "double", "treble", "fourfold"}

// Name is the arrangement in the trade's words, by the sheaves in use: "one fixed
// pulley", "two singles", "double over single", the block at the beam first.
func (r *Reeving) Name() string {
	fixed, moving := r.FixedTurns(), r.MovingTurns()
	var name string
	switch {
	case moving == 0:
		name = "one fixed pulley"
	case fixed == 0:
		name = "one moving pulley"
	case fixed == moving:
		name = "two " + sheaveWords[fixed] + "s"
	default:
		name = sheaveWords[fixed] + " over " + sheaveWords[moving]
	}
	switch {
	case r.BeamLead != nil && r.FootLead != nil:
		name += ", two lead blocks"
	case r.BeamLead != nil:
		name += ", lead block at the beam"
	case r.FootLead != nil:
		name += ", lead block at the foot"
	}
	return name
}

// Title is the name, the rope parts and the way of pulling.
func (r *Reeving) Title() string {
	return fmt.Sprintf("%s (%s, pulled %s)", r.Name(), Count(r.Parts(), "rope part"), r.Way())
}

// Count is "1 sheave" or "2 sheaves".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Steps are how to thread the cord, each a sentence, from the tied end to the hand.
func (r *Reeving) Steps() []string {
	var out []string
	switch {
	case r.Tied == Beam:
		out = append(out, "Tie the end of the cord to the beam, beside where the blocks hang.")
	case r.Moving == nil:
		out = append(out, "Tie the end of the cord to the load.")
	default:
		out = append(out, fmt.Sprintf("Tie the end of the cord to the top of the moving block, %s.", r.Moving.Name))
	}
	at, fixed, moving := r.Tied, 0, 0
	for range r.Turns {
		at = at.other()
		if at == Load {
			moving++
			out = append(out, fmt.Sprintf("Down and round sheave %d of the moving block, %s.", moving, r.Moving.Name))
		} else {
			fixed++
			out = append(out, fmt.Sprintf("Up and over sheave %d of the fixed block, %s.", fixed, r.Fixed.Name))
		}
	}
	if r.BeamLead != nil {
		out = append(out, fmt.Sprintf("Up and over the lead block at the beam, %s.", r.BeamLead.Name))
	}
	if r.FootLead != nil {
		out = append(out, fmt.Sprintf("Down and round the lead block at the foot, %s; fix the foot, it is pulled up.", r.FootLead.Name))
	}
	switch r.Way() {
	case Up:
		out = append(out, "Pull the end up, from above.")
	case Down:
		out = append(out, "Pull the end down, standing clear of the load.")
	case Level:
		out = append(out, "Pull the end along the floor or table, away from the load.")
	}
	return out
}

// Gain says what the reeving does for the puller, in plain words.
func (h *Hoist) Gain() string {
	switch {
	case h.Parts() == 1:
		return "No gain: it only turns the pull round, so that the puller stands safely on the floor. Friction makes the pull a little more than the weight."
	case h.Advantage.Likely < 1:
		return fmt.Sprintf("No gain: friction takes more than the %d rope parts give.", h.Parts())
	}
	return fmt.Sprintf("%d rope parts hold the load, so without friction the pull would be 1/%d of the weight; with friction about 1/%.2g. The hand pulls %d times as much cord as the load rises.", h.Parts(), h.Parts(), h.Advantage.Likely, h.Parts())
}
