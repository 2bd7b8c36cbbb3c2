package report

import (
	"io"
	"slices"

	"findrive/internal/built"
	"findrive/internal/units"
)

// RepliesText writes short answers to questions about a drive: the answer in one
// sentence, then what stands behind it. The error is from w.
func RepliesText(w io.Writer, t *built.Working, replies []*built.Reply, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.say(0, clean(t.Build.Name)+":")
	for _, r := range replies {
		p.blank()
		p.heading(units.Capital(string(r.Question)) + "?")
		p.emphasised(0, 0, r.Short, bold)
		for _, s := range append(slices.Clone(r.Faults), r.Says...) {
			p.hang(0, 2, "- "+s)
		}
	}
	p.blank()
	p.heading("Before anyone touches it")
	for _, s := range tryCautions(t) {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

// inFrame says how the drive sits in its frame.
func (p *page) inFrame(t *built.Working) {
	if t.InFrame == nil {
		return
	}
	r := built.Ask(t, built.FrameFit)
	p.blank()
	p.heading("In the frame")
	p.hang(0, 2, "- "+r.Short)
	for _, s := range r.Says {
		p.hang(0, 2, "- "+s)
	}
}
