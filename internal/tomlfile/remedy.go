package tomlfile

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// remedy is a line put right.
type remedy struct {
	at      int    // where in the line the mistake is
	say     string // what was found and what would be right; empty if that is not plain
	instead string // the line to read in its place; empty if what follows cannot be told apart
}

var (
	colon   = pattern.Must(`^(\s*)([A-Za-z0-9_-]+)[ \t]*(:=|:)[ \t]*(\S.*?)[ \t\r]*$`)
	nothing = pattern.Must(`^(\s*)([A-Za-z0-9_-]+)[ \t]+([0-9"'].*?)[ \t\r]*$`)
	spaced  = pattern.Must(`^(\s*)([A-Za-z0-9_-]+(?:[ \t]+[A-Za-z0-9_-]+)+)[ \t]*=[ \t]*(\S.*?)[ \t\r]*$`)
	loose   = pattern.Must(`^(\s*)([A-Za-z][A-Za-z0-9_-]*)[ \t]*\.[ \t]*([^\[\]"'=#]+?)[ \t]*\][ \t\r]*(#.*)?$`)
)

// remedyOf is what would be right in place of a line that is not "key = value"
// with a wrong value, if that is plain.
func remedyOf(line string) remedy {
	if r := headerRemedy(line); r.say != "" {
		return r
	}
	if len(line) > MaxText || strings.ContainsFunc(strings.TrimRight(line, "\t\r"), unprintable) {
		return remedy{}
	}
	if m := colon.FindStringSubmatch(line); m != nil {
		return wordedAs(line, len(m[1])+len(m[2]), fmt.Sprintf("a value stands behind =, and not behind %q", m[3]), m[2], m[4])
	}
	if m := spaced.FindStringSubmatch(line); m != nil {
		return wordedAs(line, len(m[1]), "a key has no spaces in it", strings.Join(strings.Fields(m[2]), "_"), m[3])
	}
	if m := nothing.FindStringSubmatch(line); m != nil {
		return wordedAs(line, len(m[1])+len(m[2]), "there is no = behind the key", m[2], m[3])
	}
	if r := keyRemedy(line); r.say != "" {
		return r
	}
	if strings.Contains(line, "=") && strings.TrimSpace(strings.SplitN(line, "=", 2)[0]) != "" || strings.TrimSpace(line) == "" {
		return remedy{}
	}
	at := len(line) - len(strings.TrimLeft(line, " \t"))
	if strings.HasPrefix(line[at:], "=") {
		return remedy{at, "there is no key before the =: write key = value", "#"}
	}
	found := units.Quoted(strings.TrimSpace(line))
	return remedy{at, fmt.Sprintf("found %s, which is neither [kind.name] nor key = value: put # before it if it is a remark", found), "#"}
}

// keyRemedy is a line whose key has signs in it that no key has.
func keyRemedy(line string) remedy {
	before, value, is := strings.Cut(line, "=")
	key, value := strings.TrimSpace(before), strings.TrimSpace(value)
	if !is || key == "" || value == "" || Bare(strings.ReplaceAll(key, ".", "")) || strings.HasPrefix(key, "[") || strings.HasPrefix(key, "#") || readable(key+" = 1") {
		return remedy{}
	}
	at := len(before) - len(strings.TrimLeft(before, " \t"))
	right := strings.Map(func(r rune) rune {
		if Bare(string(r)) {
			return r
		}
		return -1
	}, key)
	say := "a key has no signs but letters, figures, - and _"
	if right == "" || strings.ContainsAny(key, " \t") {
		return remedy{at, say + ": write key = value", "#"}
	}
	return wordedAs(line, at, say, right, value)
}

// wordedAs is the remedy that writes key = value. What would be wrong with the value
// by itself is told when the line that stands instead is read.
func wordedAs(line string, at int, say, key, value string) remedy {
	instead := key + " = " + value
	if readable(instead) {
		say += ": write " + instead
	} else {
		say += fmt.Sprintf(": write %s = and then the value", key)
	}
	return remedy{at, say, instead}
}

// headerRemedy is the header of a table put right.
func headerRemedy(line string) remedy {
	at := len(line) - len(strings.TrimLeft(line, " \t"))
	text, remark, _ := strings.Cut(line[at:], "#")
	text = strings.TrimSpace(text)
	if m := loose.FindStringSubmatch(line); m != nil {
		say := "[" + m[2] + "." + quotedName(m[3]) + "]"
		return remedy{at, "the [ at the beginning is missing: write " + say, say}
	}
	if !strings.HasPrefix(text, "[") || strings.HasPrefix(text, "[[") || readable(line) {
		return remedy{}
	}
	if strings.ContainsFunc(text, unprintable) || utf8.RuneCountInString(text) > 2*MaxName {
		return remedy{}
	}
	inner, behind, closed := strings.Cut(text[1:], "]")
	inner, behind = strings.TrimSpace(inner), strings.TrimSpace(behind)
	kind, name, two := strings.Cut(inner, ".")
	kind, name = strings.TrimSpace(kind), strings.Trim(strings.TrimSpace(name), `"'`+curlyQuotes)
	if strings.Contains(inner, "=") && !closed {
		return remedy{at: at, say: "a header is a line of its own and ends with ]: write [kind.NAME], and its keys on the lines below"}
	}
	if !Bare(kind) || strings.Contains(inner, "=") {
		return remedy{}
	}
	if two && strings.TrimSpace(name) == "" {
		return remedy{at + 1, fmt.Sprintf("a name is missing: write [%s.NAME]", kind), fmt.Sprintf("[%s.%q]", kind, fmt.Sprintf("nameless %d", len(line)))}
	}
	right := "[" + kind + "]"
	if two {
		right = "[" + kind + "." + quotedName(name) + "]"
	}
	if !readable(right) {
		return remedy{}
	}
	if remark != "" && closed && behind == "" && readable(right+" #"+remark) {
		remark = " #" + remark
	} else {
		remark = ""
	}
	switch {
	case !closed:
		return remedy{at, "the ] at the end is missing: write " + right, right}
	case behind != "":
		return remedy{at + strings.Index(text, "]") + 1, fmt.Sprintf("nothing may stand behind the ] but a remark after #: write %s, and the rest on the next line", right), right}
	case two:
		return remedy{at + 1 + strings.Index(text[1:], ".") + 1, fmt.Sprintf("a name with a space or another such sign has quotes at both ends: write %s", right), right + remark}
	}
	return remedy{}
}

// quotedName is a name as a header has it: in quotes if it needs them.
func quotedName(name string) string {
	if name = strings.TrimSpace(name); Bare(name) {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
}

// readable reports whether a line is TOML by itself.
func readable(line string) bool {
	var alone map[string]any
	_, err := toml.Decode(line, &alone)
	return err == nil
}
