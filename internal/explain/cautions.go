package explain

import "findrive/internal/brief"

// Caution is a reminder that goes with a step. Says is for adults; a pupil is told
// Young, which may be empty.
type Caution struct {
	Step, Says, Young string
}

// cautionsFor are the usual cautions of the steps this drive has (common practice in
// schools, but for hair and jewellery, which the Ontario curriculum of 2007 names for
// pulleys). They are no risk assessment.
func cautionsFor(d *Drive, to Reader) []Caution {
	var out []Caution
	add := func(step, says, young string) {
		if to != Pupil || young != "" {
			out = append(out, Caution{step, says, young})
		}
	}
	add("Sawing dowel", "bench hook or vice, shown first, closely supervised; an adult's job for younger classes.", "Ask an adult to cut and drill.")
	if d.FrameDrilled {
		add("Drilling the frame", "the work clamped, never held in fingers; an adult drills, or supervises closely.", "")
	}
	if d.Drilled {
		add("Opening a bore", "an adult, the pulley in a vice, never in fingers.", "")
	}
	if d.Glued {
		add("Gluing", "craft glue or a low-temperature gun, with an adult by; no glue in bearings.", "")
	}
	add("Putting bands on", "eyes away, eye protection for tight ones, never flicked; perished bands thrown out. Rubber may be latex: ask about allergies.", "Never flick a band.")
	tight := false
	for i := range d.Stages {
		tight = tight || d.Stages[i].Stretch > 1.35
	}
	if tight {
		add("A tight band", "one band here is stretched more than is comfortable: eye protection on when it is fitted.", "")
	}
	add("Wiring", "never short the cells: they get hot enough to burn. No lithium packs, no button cells, no mains supplies.", "Wires hot? Switch off. Tell an adult.")
	if d.Motor.Share > 0.25 || !d.Turns {
		add("First run", "this motor works hard: a minute or two at a time. If it hums and stands, off within seconds and let it cool.", "If it hums, switch off at once.")
	} else {
		add("First run", "if the motor hums and stands, off within seconds and let it cool.", "If it hums, switch off at once.")
	}
	add("Running", "hair tied back, sleeves and lanyards away, fingers out of band and pulley; switch off before touching.", "Tie back long hair. Switch off before you touch it.")
	switch d.Model {
	case brief.Lift:
		add("Lifting", "hands and feet out from under, something soft below, at most 1 kg; the load runs back when it is switched off.", "Keep hands and feet away from below.")
	case brief.Vehicle:
		add("Racing", "a barrier at the end of the run, no faces at floor level.", "No faces near the floor.")
	}
	add("Putting away", "bands and beads choke small children: count them back; bands off the pulleys, cells out of the holders.", "Count your bands back.")
	return out
}
