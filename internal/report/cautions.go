package report

import (
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
)

// cautions writes the reminders, once for the whole page. They are common
// practice in schools and no risk assessment.
func (p *page) cautions(r *design.Result) {
	p.blank()
	p.heading("Before anyone builds")
	for _, s := range cautionsFor(r) {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
}

func cautionsFor(r *design.Result) []string {
	out := []string{"Drills, saws and knives are an adult's job or closely supervised, the work clamped and never held in fingers."}
	if glues(r) {
		out = append(out, "Glue: low-temperature guns or craft glue only, with an adult by.")
	}
	out = append(out,
		"A stalled motor gets hot within seconds: switch off first, then free it, and let it cool.",
		"Never short cells: wires and cells get hot enough to burn. No lithium packs, no button cells.",
		"Stretched bands snap: keep eyes away, wear eye protection when testing, throw perished bands out. Rubber may be latex: ask about allergies.",
		"Bands, beads and small pulleys can choke: keep them from small children.",
		"Fingers, hair, sleeves and lanyards stay out of moving bands; switch off before touching.")
	switch r.Brief.Model {
	case brief.Lift:
		out = append(out, "Lifted loads fall: keep hands and feet out from under, put something soft below, and keep the load light.")
	case brief.Vehicle:
		out = append(out, "Vehicles: a barrier at the end of the run, and no faces at floor level.")
	}
	return out
}

func glues(r *design.Result) bool {
	for i := range r.Proposals {
		d := r.Proposals[i].Drive
		if d.OutputJoint.Kind == drive.Glued {
			return true
		}
		for k := range d.Stages {
			if d.Stages[k].DriverJoint.Kind == drive.Glued || d.Stages[k].DrivenJoint.Kind == drive.Glued {
				return true
			}
		}
	}
	return false
}
