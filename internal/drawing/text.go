package drawing

import (
	"math"
	"strings"
	"unicode"

	"findrive/internal/units"
)

// Style is how words are set. The zero value has no size; see Words.
type Style struct {
	Size  units.Millimetres // of the em; see Points
	Bold  bool
	Align Align
	Level Level
	Turn  units.Radians // about the point, anticlockwise as seen
}

// Align says which part of the line is at the point.
type Align int

// The alignments.
const (
	Start Align = iota
	Middle
	End
)

// Level says how the point lies to the height of the letters.
type Level int

// The levels. Heights are those of capitals and figures.
const (
	OnLine Level = iota // the letters stand on the point
	Centred
	Below // the letters hang from the point
)

// Points is a size of type in millimetres: 72 points are an inch.
func Points(points float64) units.Millimetres { return mm(points * units.MillimetresPerInch / 72) }

// Words is plain type of so many points.
func Words(points float64) Style { return Style{Size: Points(points)} }

// The style with one thing changed.
func (s Style) WithAlign(a Align) Style        { s.Align = a; return s }
func (s Style) WithLevel(l Level) Style        { s.Level = l; return s }
func (s Style) WithTurn(t units.Radians) Style { s.Turn = t; return s }
func (s Style) InBold() Style                  { s.Bold = true; return s }

// substitute stands for characters that the font lacks.
const substitute = '□'

// instead are characters that people type and the font lacks, and those that say the same.
var instead = map[rune]rune{'∅': 'Ø', '⌀': 'Ø', '‐': '-', '‑': '-', '‒': '–'}

// printable is the words with boxes for what cannot be drawn and has no other sign that says
// the same, and blanks for tabs and line ends.
func (s Style) printable(words string) string {
	face := FaceOf(s.Bold)
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) && r != '\u00a0':
			return ' '
		case unicode.Is(unicode.Cf, r): // marks of direction, soft hyphens
			return -1
		case face.Has(r):
			return r
		case instead[r] != 0:
			return instead[r]
		}
		return substitute
	}, words)
}

// Width is the length of words set in one line.
func (s Style) Width(words string) units.Millimetres {
	face, sum := FaceOf(s.Bold), 0.0
	for _, r := range s.printable(words) {
		sum += face.advances[r]
	}
	return mm(sum) * s.Size
}

// CapHeight is the height of capitals.
func (s Style) CapHeight() units.Millimetres { return mm(FaceOf(s.Bold).CapHeight) * s.Size }

// Descent is how far letters like g reach below the line.
func (s Style) Descent() units.Millimetres { return mm(FaceOf(s.Bold).Descent) * s.Size }

// LineHeight is from one line of a paragraph to the next.
func (s Style) LineHeight() units.Millimetres { return 1.3 * s.Size }

// Origin is where the pen starts so that words set in the style lie at a point:
// the left end of the line the letters stand on.
func (s Style) Origin(at Point, words string) Point {
	along, down := mm(0), mm(0)
	switch s.Align {
	case Middle:
		along = -s.Width(words) / 2
	case End:
		along = -s.Width(words)
	}
	switch s.Level {
	case Centred:
		down = s.CapHeight() / 2
	case Below:
		down = s.CapHeight()
	}
	return at.Towards(s.Turn, along).Towards(s.Turn-math.Pi/2, down)
}

// Bounds is the smallest upright rectangle round words set at a point, with room
// for letters that hang below the line.
func (s Style) Bounds(at Point, words string) Rect {
	o, w := s.Origin(at, words), s.Width(words)
	out := Rect{o.X, o.Y, o.X, o.Y}
	for _, along := range []mm{0, w} {
		for _, up := range []mm{-s.Descent(), s.CapHeight()} {
			q := o.Towards(s.Turn, along).Towards(s.Turn+math.Pi/2, up)
			out = out.Union(Rect{q.X, q.Y, q.X, q.Y})
		}
	}
	return out
}

// Wrap breaks words into lines no longer than a width, at blanks, and within a
// word only if it is too long for a line by itself. Line ends in the words stay.
// There is at least one line.
func (s Style) Wrap(words string, width units.Millimetres) []string {
	var lines []string
	for _, para := range strings.Split(words, "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			if joined := strings.TrimPrefix(line+" "+word, " "); s.Width(joined) <= width {
				line = joined
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for s.Width(word) > width {
				head, tail := s.breakWord(word, width)
				if tail == "" {
					break
				}
				lines, word = append(lines, head), tail
			}
			line = word
		}
		lines = append(lines, line)
	}
	return lines
}

// breakWord takes from a word what goes into a width, one character at least.
func (s Style) breakWord(word string, width mm) (head, tail string) {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if end > 0 && s.Width(word[:next]) > width {
			break
		}
		end = next
	}
	return word[:end], word[end:]
}

// Fit makes words go into a width: set smaller if need be, down to a least
// size, and cut with an ellipsis if that is not enough.
func (s Style) Fit(words string, width, least units.Millimetres) (Style, string) {
	w := s.Width(words)
	if w <= width {
		return s, words
	}
	s.Size = max(min(least, s.Size), s.Size*width/w*0.999)
	if s.Width(words) <= width {
		return s, words
	}
	letters := []rune(words)
	for n := len(letters) - 1; n > 0; n-- {
		cut := strings.TrimRight(string(letters[:n]), " ,;-") + "…"
		if s.Width(cut) <= width {
			return s, cut
		}
	}
	return s, "…"
}

// FitLines wraps words into so many lines of a width at most: set smaller if
// need be, down to a least size, and the last line cut if that is not enough.
func (s Style) FitLines(words string, width units.Millimetres, most int, least units.Millimetres) (Style, []string) {
	least = min(least, s.Size)
	for {
		lines := s.Wrap(words, width)
		if len(lines) <= most {
			return s, lines
		}
		if s.Size <= least {
			_, last := s.Fit(strings.Join(lines[most-1:], " "), width, least)
			return s, append(lines[:most-1:most-1], last)
		}
		s.Size = max(least, s.Size*0.95)
	}
}
