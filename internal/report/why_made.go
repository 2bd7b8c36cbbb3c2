package report

import (
	"fmt"
	"strings"

	"findrive/internal/tomledit"
	"findrive/internal/why"
)

// WhyMade is a change that has been made in copies of the two files.
type WhyMade struct {
	Number  int
	Files   []WhyFile
	Besides bool // something that is asked besides the files has to be left out too
}

// WhyFile is a file that was written.
type WhyFile struct {
	Path  string
	Edits []tomledit.Edit // what was changed in it; none for a plain copy
}

// made says which change was made and where.
func (p *page) made(a *why.Answer, opt WhyOptions) {
	m := opt.Made
	if m == nil {
		return
	}
	var words []string
	for _, s := range a.Changes[m.Number-1].Steps {
		words = append(words, s.Words)
	}
	p.blank()
	p.heading("Made in copies of your two files")
	p.say(0, fmt.Sprintf("Change %d: %s.", m.Number, strings.Join(words, ", and ")))
	for _, f := range m.Files {
		if len(f.Edits) == 0 {
			p.hang(2, 4, f.Path+": as it was")
			continue
		}
		p.hang(2, 4, f.Path+":")
		for _, e := range f.Edits {
			p.hang(4, 8, e.String())
		}
	}
	if m.Besides {
		p.say(0, "What you ask for besides the files is not in them: leave that part of it out yourself.")
	}
}
