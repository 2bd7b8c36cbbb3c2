package page

import (
	"strconv"
	"strings"

	"findrive/internal/tomlfile"
)

// quoted is a text as TOML has it.
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case r < 32 || r == 127:
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// bareWord reports whether a name needs no quote marks as a key.
func keyed(name string) string {
	for _, r := range name {
		if !(r == '-' || r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z') {
			return quoted(name)
		}
	}
	if name == "" {
		return `""`
	}
	return name
}

// literal is what a user put into a field as a value of TOML. What is no value of the
// field's sort is written as it is, so that the reader says what is wrong with it.
func literal(f field, value string) string {
	value = strings.TrimSpace(value)
	switch f.Sort {
	case whole:
		if n, err := strconv.Atoi(value); err == nil {
			return strconv.Itoa(n)
		}
	case decimal:
		if v, err := strconv.ParseFloat(value, 64); err == nil {
			return strconv.FormatFloat(v, 'f', -1, 64)
		}
	case yes:
		return map[string]string{"yes": "true", "no": "false"}[value]
	}
	if unit := plainUnit[f.Sort]; unit != "" {
		if _, err := strconv.ParseFloat(strings.Replace(value, ",", ".", 1), 64); err == nil {
			value = strings.Replace(value, ",", ".", 1) + " " + unit
		}
	}
	return quoted(value)
}

// set changes a key of a file, or removes it if the value is empty.
func set(text, value string, path ...string) string {
	doc, err := tomlfile.Open("", []byte(text))
	if err != nil {
		return text
	}
	line := ""
	if value != "" {
		line = keyed(path[len(path)-1]) + " = " + value
	}
	if at, _, there := doc.Place(path...); there {
		end := at + strings.IndexByte(text[at:]+"\n", '\n')
		if line == "" {
			return text[:at] + strings.TrimPrefix(text[end:], "\n")
		}
		return text[:at] + line + text[end:]
	}
	if line == "" {
		return text
	}
	if len(path) == 1 {
		return line + "\n" + text
	}
	if at, _, there := doc.Place(path[:len(path)-1]...); there {
		end := at + strings.IndexByte(text[at:]+"\n", '\n')
		return text[:end] + "\n" + line + text[end:]
	}
	var names []string
	for _, p := range path[:len(path)-1] {
		names = append(names, keyed(p))
	}
	return strings.TrimRight(text, "\n") + "\n\n[" + strings.Join(names, ".") + "]\n" + line + "\n"
}

// without is a file without a table.
func without(text string, path ...string) string {
	doc, err := tomlfile.Open("", []byte(text))
	if err != nil {
		return text
	}
	at, _, there := doc.Place(path...)
	if !there {
		return text
	}
	start := strings.LastIndexByte(text[:at], '\n') + 1
	end := strings.Index(text[at:], "\n[")
	if end < 0 {
		return text[:start]
	}
	return text[:start] + text[at+end+1:]
}
