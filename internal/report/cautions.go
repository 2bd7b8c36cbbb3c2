package report

import (
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
)

// cautions writes the reminders, once for the whole page. They are common
// practice in schools and no risk assessment. In full they are a list, else a
// paragraph that says the same in fewer words.
func (p *page) cautions(r *design.Result, full bool) {
	p.blank()
	if !full {
		p.say(0, shortCautions(r))
		return
	}
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

func shortCautions(r *design.Result) string {
	out := "Before anyone builds: drills, saws and knives are for adults or close supervision, the work clamped, never held in fingers. "
	if glues(r) {
		out += "Glue: low-temperature gun or craft glue, an adult by. "
	}
	out += "A stalled motor gets hot in seconds: switch off, free it, let it cool. Never short cells, they burn; no lithium packs or button cells. " +
		"Stretched bands snap: eyes away, eye protection when testing, perished ones out; latex: ask about allergies. " +
		"Bands, beads and small pulleys choke: keep from small children. Fingers, hair, sleeves, lanyards off moving bands; switch off before touching. "
	switch r.Brief.Model {
	case brief.Lift:
		out += "Lifted loads fall: hands and feet out from under, something soft below, a light load. "
	case brief.Vehicle:
		out += "Vehicles: a barrier at the end of the run, no faces at floor level. "
	}
	return out + "Your school's own risk assessment, local codes and competent staff decide."
}

// glues tells whether any drive has glue on a shaft, or between the discs of a pulley.
func glues(r *design.Result) bool {
	for i := range r.Proposals {
		d := r.Proposals[i].Drive
		if d.OutputJoint.Kind == drive.Glued {
			return true
		}
		for k := range d.Stages {
			s := &d.Stages[k]
			if s.DriverJoint.Kind == drive.Glued || s.DrivenJoint.Kind == drive.Glued || s.Driver.Made != nil || s.Driven.Made != nil {
				return true
			}
		}
	}
	return false
}
