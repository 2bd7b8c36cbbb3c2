package proof

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Limits on what is read. A proof of a class's cupboard has a few thousand lines.
const (
	// MaxBytes is the most a proof may have as it lies in its file.
	MaxBytes       = 64 << 20
	maxCertificate = 32 << 20 // bytes
	maxLine        = 4 << 10
	maxLines       = 50_000_000
)

// Rejection says why a proof is not accepted.
type Rejection struct {
	Line int // of the tree, from 1; 0 where the proof as a whole is meant
	Says string
}

func (r *Rejection) Error() string {
	if r.Line == 0 {
		return r.Says
	}
	return fmt.Sprintf("line %d of the tree: %s", r.Line, r.Says)
}

// ErrNotProof begins what is said of a file that is no proof at all.
var ErrNotProof = errors.New("this is not a findrive proof, or not all of it")

// reader reads a proof line by line. It never holds more than one line and the
// certificate, however large the file makes itself out to be.
type reader struct {
	from        *bufio.Reader
	header      header
	certificate []byte
	lines, read int // of the tree: announced, and read so far
}

// open reads the head of a proof and its certificate.
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
	if r.header.keep, err = r.count("keep", 1000); err != nil {
		return nil, err
	}
	size, err := r.count("certificate", maxCertificate)
	if err != nil {
		return nil, err
	}
	// Read as it comes, so that a size that is only claimed costs nothing.
	if r.certificate, err = io.ReadAll(io.LimitReader(r.from, int64(size))); err != nil || len(r.certificate) != size {
		return nil, ErrNotProof
	}
	if end, err := r.text(); err != nil || end != "" {
		return nil, ErrNotProof
	}
	return r, nil
}

// legend reads the names, which must be those of the space, up to the tree.
func (r *reader) legend(want []string) error {
	n, err := r.count("names", maxLines)
	if err != nil {
		return err
	}
	if n != len(want) {
		return &Rejection{Says: fmt.Sprintf("the proof names %d heads and pulleys, and there are %d", n, len(want))}
	}
	for i := range want {
		line, err := r.text()
		if err != nil {
			return err
		}
		if line != want[i] {
			return &Rejection{Says: fmt.Sprintf("name %d is given as %q and should be %q", i+1, line, want[i])}
		}
	}
	r.lines, err = r.count("tree", maxLines)
	return err
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

// node is the next line of the tree, in words.
func (r *reader) node() ([]string, error) {
	if r.read == r.lines {
		return nil, &Rejection{Line: r.read, Says: "the tree ends here, and not all of the space is covered"}
	}
	r.read++
	line, err := r.text()
	if err != nil {
		return nil, &Rejection{Line: r.read, Says: "the file ends in the middle of the tree, or is damaged"}
	}
	return strings.Split(line, " "), nil
}

// end makes sure that nothing follows the tree.
func (r *reader) end() error {
	if r.read != r.lines {
		return &Rejection{Line: r.read + 1, Says: "all of the space is covered, and the tree goes on"}
	}
	if _, err := r.from.ReadByte(); err != io.EOF {
		return &Rejection{Says: "the file goes on after the tree, or is damaged"}
	}
	return nil
}
