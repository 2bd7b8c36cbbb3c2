package report

import (
	"io"
	"strings"
	"unicode"
)

// Next ends an answer with the one thing to do next, a command line as a shell takes it.
// Where it does not fit on one line it goes on after a backslash, which a shell reads as
// one. Nothing is written for "". The width is as for TextOptions; the error is from w.
func Next(w io.Writer, command string, width int, colour bool) error {
	p := newPage(width, colour)
	p.next(command)
	_, err := io.WriteString(w, p.text.String())
	return err
}

// Command is a command line that may be copied, in lines of its own, set in by two blanks and
// broken as that of Next.
func Command(command string, width int) string {
	p := newPage(width, false)
	p.command("  ", command)
	return p.text.String()
}

func (p *page) next(command string) {
	if command != "" {
		p.blank()
		p.command("Next: ", command)
	}
}

// command writes a command to be copied. A flag keeps its value beside it, and a word is never
// cut, though it be longer than the line: it could not be typed as it stands.
func (p *page) command(lead, s string) {
	const more = ` \`
	words := flagsWithValues(shellWords(s))
	further := "  " + lead[:len(lead)-len(strings.TrimLeft(lead, " "))]
	line := lead
	for i, word := range words {
		last := more
		if i == len(words)-1 {
			last = ""
		}
		switch {
		case i == 0:
			line += word
		case cellWidth.StringWidth(line+" "+word+last) <= p.width:
			line += " " + word
		default:
			p.line(line+more, bold)
			line = further + word
		}
	}
	p.line(line, bold)
}

// flagsWithValues joins each flag to the value after it.
func flagsWithValues(words []string) []string {
	var out []string
	for _, w := range words {
		last := len(out) - 1
		if last >= 0 && strings.HasPrefix(out[last], "-") && !strings.HasPrefix(w, "-") && !strings.Contains(out[last], " ") {
			out[last] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// shellWords are the words of a command line with their quotes, in which blanks stay. What
// cannot stand in a line becomes a question mark.
func shellWords(s string) []string {
	var words []string
	var word strings.Builder
	quoted, escaped := false, false
	for _, r := range strings.ToValidUTF8(s, "?") {
		switch {
		case !quoted && !escaped && r == ' ':
			if word.Len() > 0 {
				words = append(words, word.String())
			}
			word.Reset()
			continue
		case escaped:
			escaped = false
		case r == '\'':
			quoted = !quoted
		case r == '\\' && !quoted:
			escaped = true
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != zeroWidthJoiner {
			r = '?'
		}
		word.WriteRune(r)
	}
	if word.Len() > 0 {
		words = append(words, word.String())
	}
	return words
}
