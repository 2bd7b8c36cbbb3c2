package tomlfile

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// lines turns places in a document into line and column.
type lines struct {
	data   []byte
	starts []int // of each line
}

func linesOf(data []byte) lines {
	starts := []int{0}
	for i := 0; ; {
		n := bytes.IndexByte(data[i:], '\n')
		if n < 0 {
			return lines{data, starts}
		}
		i += n + 1
		starts = append(starts, i)
	}
}

// line is the line an offset is on, from 1.
func (l lines) line(offset int) int {
	n, exact := slices.BinarySearch(l.starts, offset)
	if exact {
		n++
	}
	return n
}

// place is the line and the column of an offset, both from 1; the column counts
// characters, not bytes.
func (l lines) place(offset int) (line, column int) {
	offset = min(max(offset, 0), len(l.data))
	line = l.line(offset)
	return line, 1 + utf8.RuneCount(l.data[l.starts[line-1]:offset])
}

// bounds are the first byte of a line, counted from 1, and the byte behind it,
// its line feed left out.
func (l lines) bounds(line int) (start, end int) {
	start, end = l.starts[line-1], len(l.data)
	if line < len(l.starts) {
		end = l.starts[line] - 1
	}
	return start, end
}
