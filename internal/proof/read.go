package proof

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Limits on what is read.
const (
	// MaxBytes is the most a proof may have as it lies in its file.
	MaxBytes = 64 << 20
	maxLine  = 32 << 10
	maxLines = 50_000_000
	maxKeep  = 1000
)

// Rejection says why a proof is not accepted. Text of the file is quoted in it.
type Rejection struct {
	Line int // of the parts, from 1; 0 where the proof as a whole is meant
	Says string
}

func (r *Rejection) Error() string {
	if r.Line == 0 {
		return r.Says
	}
	return fmt.Sprintf("part %d: %s", r.Line, r.Says)
}

// ErrNotProof begins what is said of a file that is no proof at all.
var ErrNotProof = errors.New("this is not a findrive proof, or not all of it")

// reader reads a proof line by line. Of what it has read it keeps the list alone, however
// large the file makes itself out to be.
type reader struct {
	from        *bufio.Reader
	header      header
	list        []Listed
	lines, read int // of the parts: announced, and read so far
}

// openProof reads the head of a proof and its list.
func openProof(data []byte) (*reader, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%w: it is over %d MB", ErrNotProof, MaxBytes>>20)
	}
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, ErrNotProof
	}
	r := &reader{from: bufio.NewReaderSize(z, 64<<10)}
	version, err := r.count(firstLine, 1_000_000)
	if err != nil {
		return nil, err
	}
	if version != Version {
		return nil, &Rejection{Says: fmt.Sprintf("the proof is of version %d, and only %d is known here", version, Version)}
	}
	if r.header.cupboard, err = r.word("cupboard"); err != nil {
		return nil, err
	}
	if r.header.brief, err = r.word("brief"); err != nil {
		return nil, err
	}
	if r.header.keep, err = r.count("keep", maxKeep); err != nil {
		return nil, err
	}
	if r.header.keep < 1 {
		return nil, fmt.Errorf("%w: a proof is of 1 drive at least", ErrNotProof)
	}
	n, err := r.count("drives", maxKeep)
	if err != nil {
		return nil, err
	}
	for range n {
		line, err := r.text()
		if err != nil {
			return nil, err
		}
		var l Listed
		from := json.NewDecoder(strings.NewReader(line))
		from.DisallowUnknownFields()
		if err := from.Decode(&l); err != nil || from.More() {
			return nil, fmt.Errorf("%w: line %q is no drive", ErrNotProof, short(line))
		}
		r.list = append(r.list, l)
	}
	return r, nil
}

// legend reads the names, which must be those of the space, up to the parts.
func (r *reader) legend(want []string) error {
	n, err := r.count("names", maxLines)
	if err != nil {
		return err
	}
	if n != len(want) {
		return &Rejection{Says: fmt.Sprintf("the proof names %d choices, and there are %d", n, len(want))}
	}
	for i := range want {
		line, err := r.text()
		if err != nil {
			return err
		}
		if line != want[i] {
			return &Rejection{Says: fmt.Sprintf("name %d is given as %q and should be %q", i+1, short(line), want[i])}
		}
	}
	r.lines, err = r.count("parts", maxLines)
	return err
}

// short is as much of a text as is worth showing.
func short(text string) string {
	const most = 80
	if len(text) > most {
		return text[:most] + "..."
	}
	return text
}

// text is the next line.
func (r *reader) text() (string, error) {
	line, err := r.from.ReadSlice('\n')
	if err != nil || len(line) > maxLine {
		return "", ErrNotProof
	}
	return string(line[:len(line)-1]), nil
}

// word is what follows a key on the next line.
func (r *reader) word(key string) (string, error) {
	line, err := r.text()
	if err != nil {
		return "", err
	}
	word, ok := strings.CutPrefix(line, key+" ")
	if !ok {
		return "", fmt.Errorf("%w: there is no line %q", ErrNotProof, key)
	}
	return word, nil
}

func (r *reader) count(key string, most int) (int, error) {
	word, err := r.word(key)
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(word)
	if err != nil || n < 0 || n > most {
		return 0, fmt.Errorf("%w: %q is no number from 0 to %d", ErrNotProof, key, most)
	}
	return n, nil
}

// part is what the next line says of a part of the space, which must be the one asked
// for.
func (r *reader) part(at string) (string, error) {
	if r.read == r.lines {
		return "", &Rejection{Line: r.read, Says: fmt.Sprintf("the proof ends here, and %s is missing", at)}
	}
	r.read++
	line, err := r.text()
	if err != nil {
		return "", &Rejection{Line: r.read, Says: "the file ends here, or is damaged"}
	}
	word, ok := strings.CutPrefix(line, at+" ")
	if !ok {
		return "", &Rejection{Line: r.read, Says: fmt.Sprintf("%s is missing: there is %q in its place", at, short(line))}
	}
	return word, nil
}

// isNext reports whether the next line is about a part of the space.
func (r *reader) isNext(at string) bool {
	line, err := r.from.Peek(len(at) + 1)
	return err == nil && r.read < r.lines && string(line) == at+" " && !r.pairNext(len(at)+2)
}

// pairNext reports whether the next line goes on with a pair of pulleys after so much.
func (r *reader) pairNext(at int) bool {
	line, err := r.from.Peek(at)
	return err == nil && line[at-1] == 'p'
}

// end makes sure that nothing follows the parts.
func (r *reader) end() error {
	if r.read != r.lines {
		return &Rejection{Line: r.read + 1, Says: "all of the space is covered, and the proof goes on"}
	}
	if _, err := r.from.ReadByte(); err != io.EOF {
		return &Rejection{Says: "the file goes on after the proof, or is damaged"}
	}
	return nil
}
