package prices

import (
	"fmt"
	"strings"

	"findrive/internal/money"
	"findrive/internal/pattern"
	"findrive/internal/tomlfile"
)

// toml writes the list as TOML, with the cell that each line comes from.
func (s *sheet) toml() (text []byte, from []cell) {
	var b strings.Builder
	line := func(at cell, format string, args ...any) {
		fmt.Fprintf(&b, format+"\n", args...)
		from = append(from, at)
	}
	key := func(name string, g given) {
		if g.value != "" {
			line(g.at, "%s = %s", name, inTOML(name, g.value))
		}
	}
	if t := s.title; t.value != "" {
		key("name", t)
	}
	if s.currency.value == "" {
		s.currency.value = "GBP" // refused already
	}
	key("currency", s.currency)
	for _, name := range s.suppliers {
		line(s.terms[name][supplierColumn].at, "[supplier.%s]", quoted(name))
		for _, term := range terms {
			key(term, s.terms[name][term])
		}
	}
	for _, part := range s.described {
		kind, name, _ := strings.Cut(part, ".")
		line(s.sizes[part][partColumn].at, "[%s.%s]", kind, quoted(name))
		for _, size := range sizes {
			key(size, s.sizes[part][size])
		}
	}
	for _, o := range s.offers {
		line(o.name.at, "[offer.%s]", quoted(o.name.value))
		key("part", o.part)
		key("supplier", o.supplier)
		key("pack", o.pack)
		key("price", s.packPrice(o))
		key("least_packs", o.least)
	}
	return []byte(b.String()), from
}

// packPrice is what a pack costs, where the sheet says what one piece does.
func (s *sheet) packPrice(o sheetOffer) given {
	c, err := money.Of(s.currency.value)
	if err != nil || o.times == 0 {
		return o.price
	}
	each, err := c.Parse(o.price.value)
	if err != nil {
		return o.price // refused with the list
	}
	return given{c.Plain(each * money.Amount(o.times)), o.price.at}
}

// inTOML is a cell as TOML has it: numbers bare under the keys that take them.
func inTOML(key, value string) string {
	switch key {
	case "pack", "least_packs", "cells":
		if whole.MatchString(value) {
			return noZeros(value)
		}
	case "stretch_limit":
		if bareNumber.MatchString(value) {
			return noZeros(value)
		}
	}
	return quoted(value)
}

// noZeros is a number without zeros before it, which TOML does not have.
func noZeros(number string) string {
	minus := ""
	if rest, is := strings.CutPrefix(number, "-"); is {
		minus, number = "-", rest
	}
	number = strings.TrimLeft(number, "0")
	if number == "" || number[0] == '.' {
		number = "0" + number
	}
	return minus + number
}

// quoted is a text as TOML has it. Cells hold nothing that does not print.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// placeOf is the cell of a problem of the list written out.
func (s *sheet) placeOf(p tomlfile.Problem, from []cell) cell {
	if p.Line < 1 || p.Line > len(from) {
		return cell{}
	}
	return from[p.Line-1]
}

var (
	example = pattern.Must(`write for example (\w+) = "?([^"]*)"?$`)
	under   = pattern.Must(`write its sizes under \[.*?\]`)
)

// inSheet is what is wrong in the words of a sheet.
func inSheet(p tomlfile.Problem) string {
	text := example.ReplaceAllString(p.Text, `write for example $2 in a column $1`)
	text = under.ReplaceAllString(text, "give its sizes in columns of their own, such as outside and bore")
	if p.Hint != "" {
		text += fmt.Sprintf(", did you mean %q?", p.Hint)
	}
	return text
}
