package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"findrive/internal/explain"
)

// ExplainText writes the story of a drive for its reader. The error is from w.
func ExplainText(w io.Writer, s *explain.Story, opt TryOptions) error {
	p := newPage(opt.Width, opt.Colour)
	d := s.Drive
	if s.For == explain.Pupil {
		p.heading("How it works")
	} else {
		p.heading(fmt.Sprintf("%s, for the %s", clean(d.Name), s.For))
	}
	if s.For != explain.Technician {
		var letters []string
		for i := range d.Stages {
			for _, q := range []explain.Pulley{d.Stages[i].Driver, d.Stages[i].Driven} {
				letters = append(letters, q.Letter+" "+q.Name)
			}
		}
		lead := "Mark the pulleys in driving order: "
		if s.For == explain.Pupil {
			lead = "(For the adult: mark the pulleys "
		}
		line := lead + strings.Join(letters, ", ") + "."
		if s.For == explain.Pupil {
			line = strings.TrimSuffix(line, ".") + ".)"
		}
		p.say(0, line)
	}
	for _, x := range s.Sections {
		p.blank()
		p.heading(x.Heading)
		for _, l := range x.Lines {
			if s.For == explain.Pupil {
				p.say(0, l)
			} else {
				p.hang(0, 2, "- "+l)
			}
		}
	}
	p.curriculum(s)
	p.blank()
	if s.For == explain.Pupil {
		p.heading("Stay safe")
		for _, c := range s.Cautions {
			p.say(0, c.Young)
		}
	} else {
		p.heading("What to remind them of, step by step")
		for _, c := range s.Cautions {
			p.hang(0, 2, "- "+c.Step+": "+c.Says)
		}
		p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

func (p *page) curriculum(s *explain.Story) {
	if len(s.Curriculum) == 0 {
		return
	}
	p.blank()
	p.heading("What it covers: " + s.Curriculum[0].PlaceName)
	unsure := false
	for _, l := range s.Curriculum {
		words := l.Says
		if l.Quote != "" {
			words = fmt.Sprintf("%q", l.Quote)
		}
		mark := ""
		switch l.Checked {
		case explain.Memory:
			mark, unsure = " [from memory]", true
		case explain.ByTitle:
			mark, unsure = " [title only compared]", true
		}
		p.hang(0, 2, fmt.Sprintf("- %s: %s (%s, %s)%s", l.Ages, strings.TrimSuffix(words, "."), l.Document, l.Date, mark))
	}
	if len(s.Curriculum) < explain.Few {
		p.say(0, fmt.Sprintf("Thin: of this place only %s here. There is more in its documents.", map[bool]string{true: "one line is held", false: "two lines are held"}[len(s.Curriculum) == 1]))
	}
	last := "Curricula change: the document in force in your school decides."
	if unsure {
		last += " Look up what is marked before you print it."
	}
	p.say(0, last)
}

// ExplainSchemaVersion is raised when a key of the file changes its meaning or goes.
const ExplainSchemaVersion = 1

type explainFile struct {
	Schema     int              `json:"schema"`
	Kind       string           `json:"kind"` // "explained drive"
	Name       string           `json:"name"`
	For        string           `json:"for"`
	Ratio      number           `json:"ratio"`
	Sections   []explainSection `json:"sections"`
	Curriculum []curriculumJSON `json:"curriculum"`
	Cautions   []explainCaution `json:"cautions"`
}

type explainSection struct {
	Heading string   `json:"heading"`
	Lines   []string `json:"lines"`
}

type curriculumJSON struct {
	Place    string `json:"place"`
	Ages     string `json:"ages"`
	Quote    string `json:"quote"`
	Says     string `json:"says"`
	Document string `json:"document"`
	Date     string `json:"date"`
	Checked  string `json:"checked"`
}

type explainCaution struct {
	Step string `json:"step"`
	Says string `json:"says"`
}

// ExplainJSON writes the story for other programs. The error is from w.
func ExplainJSON(w io.Writer, s *explain.Story) error {
	f := explainFile{Schema: ExplainSchemaVersion, Kind: "explained drive", Name: clean(s.Drive.Name), For: string(s.For), Ratio: number(s.Drive.Ratio),
		Sections: []explainSection{}, Curriculum: []curriculumJSON{}, Cautions: []explainCaution{}}
	for _, x := range s.Sections {
		f.Sections = append(f.Sections, explainSection{x.Heading, x.Lines})
	}
	for _, l := range s.Curriculum {
		f.Curriculum = append(f.Curriculum, curriculumJSON{l.Place, l.Ages, l.Quote, l.Says, l.Document, l.Date, string(l.Checked)})
	}
	for _, c := range s.Cautions {
		says := c.Says
		if s.For == explain.Pupil {
			says = c.Young
		}
		f.Cautions = append(f.Cautions, explainCaution{c.Step, says})
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}
