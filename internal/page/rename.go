package page

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/tomledit"
	"findrive/internal/tomlfile"
)

// naming is a name that was typed and refused, and why: it stays in its field.
type naming struct{ on, typed, wrong string }

// nameForm is where a part gets another name.
func (s *Session) nameForm(k *kind, name string) g.Node {
	fid, on := id("name", k.Key, name), pathOf(k.Key, name)
	entered, wrongWords := name, []string(nil)
	if s.naming.on == on {
		entered, wrongWords = s.naming.typed, []string{s.naming.wrong}
	}
	attrs, words := wrong(fid, wrongWords)
	return h.Form(h.ID(fid+"-form"), h.Class("fields"), h.Data("act", "rename"), h.Data("on", on), h.Aria("label", "The name of "+name),
		labelled(fid, "Name", typed(fid, "name", attrs, h.Value(entered)), words),
		h.P(h.Button(h.Type("submit"), h.ID(fid+"-go"), g.Text("Change the name"), h.Span(h.Class("unseen"), g.Text(" of "+name)))))
}

// actRename gives a part another name, wherever it is named.
func (s *Session) actRename(d doing) {
	path := pathIn(d.On)
	if len(path) != 2 {
		return
	}
	k := kindOf(path[0])
	if k == nil || table(s.shelf().values, path...) == nil {
		return
	}
	was, now := path[1], strings.Join(strings.Fields(d.Form["name"]), " ")
	s.naming = naming{}
	if now == was {
		s.said = was + " has that name already."
		d.reply.Focus = id("name", path...)
		return
	}
	after, why := s.files, s.badName(k, now)
	if why == "" {
		after, why = s.files.renamed(k.Key, was, now)
	}
	if why != "" {
		s.naming = naming{d.On, d.Form["name"], why}
		d.reply.Say, d.reply.Focus = why, id("name", path...)
		return
	}
	s.alter("the name of "+was, func(f *files) { *f = after })
	if s.opened == nil {
		s.opened = map[string]bool{}
	}
	s.opened[k.Key+"."+was], s.opened[k.Key+"."+now] = false, true
	s.said = was + " is called " + now + " now."
	d.reply.Focus = id("name", k.Key, now)
}

// badName is why a part cannot be called so; empty if it can.
func (s *Session) badName(k *kind, name string) string {
	switch {
	case name == "":
		return "A part needs a name."
	case utf8.RuneCountInString(name) > tomlfile.MaxName:
		return fmt.Sprintf("A name has at most %d letters.", tomlfile.MaxName)
	case strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }):
		return "A name is all on one line, of letters that can be seen."
	case table(s.shelf().values, k.Key, name) != nil:
		return "There is a " + k.One + " of that name already."
	}
	return ""
}

// cannot is said of a name that is written in a way that only its user understands.
const cannot = "This name cannot be changed here. Change it in the file itself, below."

// renamed are the files with another name for a part of the cupboard, wherever they name it; why
// says why it cannot be so, and is empty if it can. The other files must say the same afterwards:
// a name in a list of prices may be no more than words that are like it.
func (f files) renamed(kind, was, now string) (after files, why string) {
	after = f
	text, err := tomledit.Rename(cupboardName, []byte(f.Cupboard), now, kind, was)
	if err != nil {
		return f, cannot
	}
	after.Cupboard = string(text)
	after.Brief = namedAnew(f.Brief, kind, was, now)
	after.Learned, after.Model = namedAnew(f.Learned, kind, was, now), namedAnew(f.Model, kind, was, now)
	after.Prices = pricesNamed(f.Prices, kind, was, now)
	before, _ := parts.Read(cupboardName, []byte(f.Cupboard))
	if before == nil {
		return after, "" // it has mistakes, and nothing can be told by it yet
	}
	cup, err := parts.Read(cupboardName, []byte(after.Cupboard))
	if err != nil {
		return f, cannot
	}
	if f.readBy(before) && !after.readBy(cup) {
		return f, "Your question, the model on the table or what was learned needs this part by its name. Keep the name, or change it in those files too."
	}
	if !sameOffers(f.Prices, after.Prices, before, cup, kind, was, now) {
		return f, "Your prices mean this part by its name, in a way that cannot be changed from here. Take it out of the prices first, under Buy, or keep the name."
	}
	return after, ""
}

// readBy is whether the files that name parts can be read with a cupboard.
func (f files) readBy(cup *parts.Cupboard) bool {
	_, err := brief.ReadFor(briefName, []byte(f.Brief), cup)
	if err == nil && f.Learned != "" {
		_, err = cup.Calibrate(learnedName, []byte(f.Learned))
	}
	if err == nil && f.Model != "" {
		_, err = built.Read(modelName, []byte(f.Model), cup)
	}
	return err == nil
}

// partAt is the kind of part that a key names by its last word; none for others.
func partAt(key string) string {
	switch key {
	case "wheel", "drum", "motor", "cells", "band", "axle":
		return key
	case "driver", "driven":
		return "pulley"
	}
	return ""
}

// namedAnew is a question, what was learned or a model with another name for a part: where it is
// described and where it is named.
func namedAnew(text, kind, was, now string) string {
	doc, err := tomlfile.Open("", []byte(text))
	if err != nil || text == "" {
		return text
	}
	values := doc.Values()
	if table(values, kind, was) != nil {
		if out, err := tomledit.Rename("", []byte(text), now, kind, was); err == nil {
			text = string(out)
		}
	}
	for _, in := range sortedKeys(values) {
		of, is := values[in].(map[string]any)
		if is && kindOf(in) == nil { // what describes parts is done
			text = namesIn(text, of, []string{in}, kind, was, now)
		}
	}
	return text
}

// namesIn gives a part another name where keys of a table, or of those in it, name it.
func namesIn(text string, values map[string]any, path []string, kind, was, now string) string {
	for _, key := range sortedKeys(values) {
		at := append(slices.Clone(path), key)
		switch v := values[key].(type) {
		case map[string]any:
			text = namesIn(text, v, at, kind, was, now)
		case string:
			if partAt(key) == kind && v == was {
				text = set(text, tomledit.Text(now), at...)
			}
		}
	}
	return text
}

// pricesNamed is a price list with another name for a part: in a file of the program at each offer
// of it, in a table in each cell that has the name and nothing else.
func pricesNamed(text, kind, was, now string) string {
	if offers := table(valuesOf(text), "offer"); offers != nil {
		for _, name := range sortedKeys(offers) {
			if table(offers, name)["part"] == kind+"."+was {
				text = set(text, tomledit.Text(kind+"."+now), "offer", name, "part")
			}
		}
		if out, err := tomledit.Rename("", []byte(text), now, kind, was); err == nil { // it describes it too
			text = string(out)
		}
		return text
	}
	if strings.ContainsAny(now, ",;\t\"|") { // what may part the columns
		return text
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		var b strings.Builder
		for line != "" {
			n := strings.IndexAny(line, ",;\t\"|")
			if n < 0 {
				n = len(line)
			}
			cell := line[:n]
			if bare := strings.TrimSpace(cell); strings.EqualFold(bare, was) {
				cell = strings.Replace(cell, bare, now, 1)
			}
			b.WriteString(cell)
			b.WriteString(line[n:min(n+1, len(line))])
			line = line[min(n+1, len(line)):]
		}
		lines[i] = b.String()
	}
	return strings.Join(lines, "\n")
}

// sameOffers is whether a price list offers the same once a part has another name; one that could
// not be read before need not be read now.
func sameOffers(before, after string, cup, renamed *parts.Cupboard, kind, was, now string) bool {
	if before == "" {
		return true
	}
	l, err := prices.Read("prices", []byte(before), cup)
	if err != nil {
		return true
	}
	m, err := prices.Read("prices", []byte(after), renamed)
	return err == nil && slices.Equal(offersOf(l, kind, was, now), offersOf(m, kind, now, now))
}

func offersOf(l *prices.List, kind, was, now string) []string {
	var out []string
	for _, o := range l.Offers {
		if o.Kind == kind && o.Part == was {
			o.Part = now
		}
		out = append(out, fmt.Sprint(l.Suppliers[o.Supplier].Name, "\n", o.Kind, "\n", o.Part, "\n", o.Pack, o.Price, o.Least))
	}
	slices.Sort(out)
	return out
}
