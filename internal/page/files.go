package page

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/demo"
	"findrive/internal/pattern"
	"findrive/internal/tomlfile"
)

// What tells the files apart from one another.
var (
	cupboardLines = pattern.Must(`(?m)^[ \t]*\[(pulley|band|motor|cells|axle|sleeve|spacer|wheel|drum|block|cord|sheet|cutter)\.`)
	pricesLines   = pattern.Must(`(?m)^[ \t]*\[(offer|supplier)\.`)
	briefLines    = pattern.Must(`(?m)^[ \t]*(model[ \t]*=|\[frame\]|\[load\])`)
)

// actOpen takes files that were chosen or dropped: each is known by what is in it.
func (s *Session) actOpen(d doing) {
	var opened []string
	var lists []File
	for _, f := range d.Files {
		data := bytes.TrimPrefix(f.Data, []byte("\ufeff"))
		text := strings.ReplaceAll(string(data), "\r\n", "\n")
		toml := strings.HasSuffix(strings.ToLower(f.Name), ".toml") || strings.Contains(text, "\nschema =")
		switch {
		case toml && len(data) > tomlfile.MaxBytes:
			s.said = f.Name + " is too large for such a file."
			return
		case toml && pricesLines.MatchString(text):
			s.alter("opening "+f.Name, func(to *files) { to.Prices = text })
			opened = append(opened, "prices")
		case toml && isLearned(text):
			s.alter("opening "+f.Name, func(to *files) { to.Learned, to.Counts = text, []string{fileWords + f.Name} })
			s.taught = taught{}
			opened = append(opened, "what was learned")
		case toml && modelLines.MatchString(text):
			s.alter("opening "+f.Name, func(to *files) { to.Model = text })
			opened = append(opened, "model")
		case toml && briefLines.MatchString(text) && !cupboardLines.MatchString(text):
			s.alter("opening "+f.Name, func(to *files) { to.Brief = text })
			opened = append(opened, "question")
		case toml && cupboardLines.MatchString(text):
			s.alter("opening "+f.Name, func(to *files) {
				to.Cupboard, to.Left = text, nil
				if to.Example {
					to.Brief = string(demo.StarterBrief())
				}
			})
			s.list = reading{}
			opened = append(opened, "cupboard")
		case toml:
			s.said = f.Name + " is no file of findrive: neither a cupboard, a question, a price list, what was learned nor a model."
			return
		default:
			lists = append(lists, f)
		}
	}
	if len(lists) > 0 {
		d.Files = lists
		s.Step = stepList
		s.actListFiles(d)
		return
	}
	if len(opened) == 0 {
		return
	}
	s.said = "Opened: " + strings.Join(opened, " and ") + "."
	s.opened = nil
	r := s.read()
	s.Step, s.asked = stepAnswer, false
	if len(r.problems[cupboardName]) > 0 {
		s.Step, s.asked = stepCupboard, true
	} else if len(r.problems[briefName]) > 0 {
		s.Step, s.asked = stepQuestion, true
	}
	if len(r.problems[learnedName]) > 0 || slices.Contains(opened, "model") {
		s.Step = stepBuilt
	}
	d.reply.Focus = "step-" + s.Step
}

// actUnread says of a file that the browser could not read it.
func (s *Session) actUnread(d doing) {
	s.said = fmt.Sprintf("%s could not be read. Is it a folder, or on a stick that is gone? Copy the file to this computer, and open it from there.", d.Value)
}

// actSave hands out one of the files.
func (s *Session) actSave(d doing) {
	const toml = "application/toml"
	switch d.On {
	case "cupboard":
		d.reply.Files = []File{{cupboardName, toml, []byte(s.Cupboard)}}
	case "brief":
		d.reply.Files = []File{{briefName, toml, []byte(s.Brief)}}
	case "learned":
		if s.Learned == "" {
			return
		}
		d.reply.Files = []File{{learnedName, toml, []byte(s.Learned)}}
	case "model":
		if s.Model == "" {
			return
		}
		d.reply.Files = []File{{modelName, toml, []byte(s.Model)}}
	case "plan":
		if !s.sharedOut() || s.shared.file == nil {
			return
		}
		d.reply.Files = []File{{planName, "application/json", s.shared.file}}
	case "prices":
		name, kind := pricesName, toml
		if !pricesLines.MatchString(s.priceList()) {
			name, kind = "prices.csv", "text/csv"
		}
		d.reply.Files = []File{{name, kind, []byte(s.priceList())}}
	case "order":
		data := s.orderFile()
		if data == nil {
			return
		}
		d.reply.Files = []File{{"order.csv", "text/csv", data}}
	case "answer":
		if s.chosen() == nil {
			return
		}
		_, data, err := s.answer.certificate()
		if err != nil {
			s.said = "It cannot be written: " + err.Error() + "."
			return
		}
		d.reply.Files = []File{{"drives.json", "application/json", data}}
	default:
		return
	}
	s.said = fmt.Sprintf("%s is saved where this browser saves files.", d.reply.Files[0].Name)
}
