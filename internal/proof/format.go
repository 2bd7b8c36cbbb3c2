package proof

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// Version is that of the format and of what the checker takes a line to mean. A
// proof of another version is refused.
const Version = 1

// A proof is gzipped text: a head that says what it is about, the certificate of
// the answer, and the tree, one line a node, parents before children and children
// in order. docs/proof.md describes it.
const firstLine = "findrive proof"

// print tells whether two cupboards or two briefs say the same, whatever the order
// and the comments of their files: the SHA-256 of all they say.
func fingerprint(of any) (string, error) {
	said, err := json.Marshal(of)
	if err != nil {
		return "", fmt.Errorf("it has a figure that cannot be written: %w", err)
	}
	sum := sha256.Sum256(said)
	return hex.EncodeToString(sum[:]), nil
}

// header is the head of a proof.
type header struct {
	cupboard, brief string // fingerprints
	keep            int
}

func headerOf(cup *parts.Cupboard, b *brief.Brief, keep int) (header, error) {
	h := header{keep: keep}
	var err error
	if h.cupboard, err = fingerprint(cup); err != nil {
		return h, err
	}
	h.brief, err = fingerprint(b)
	return h, err
}

// log is the tree being written.
type log struct {
	text  bytes.Buffer
	lines int
}

func (l *log) line(key string, words ...string) {
	l.text.WriteString(key)
	for _, w := range words {
		l.text.WriteByte(' ')
		l.text.WriteString(w)
	}
	l.text.WriteByte('\n')
	l.lines++
}

// expanded is the word for a node whose children follow.
const expanded = "+"

// split is the word for a box cut in two, before the number of the axis.
const split = "/"

// leave writes a node that is left out.
func (l *log) leave(key string, no reason) {
	word := strings.ReplaceAll(no.rule, " ", "-")
	switch {
	case no.rule == dear:
		l.line(key, word, inPoints(no.bound))
	case no.figure != 0:
		l.line(key, word, figure(no.figure))
	default:
		l.line(key, word)
	}
}

// stands writes a box for which a placement stands.
func (l *log) stands(key, word string, at []layout.Point, lanes int) {
	words := []string{word, strconv.Itoa(lanes)}
	for _, p := range at {
		words = append(words, number(float64(p.X))+","+number(float64(p.Y)))
	}
	l.line(key, words...)
}

func inPoints(p score.Points) string { return number(p.Float()) }
func number(v float64) string        { return strconv.FormatFloat(v, 'g', -1, 64) }
func figure(v float64) string        { return strconv.FormatFloat(v, 'g', 5, 64) }

// legend says which parts the keys of the tree stand for.
func legend(all []*space) []string {
	var out []string
	for t, s := range all {
		for h := range s.heads {
			hd := &s.heads[h]
			words := fmt.Sprintf("%s %s: %d stages, motor %q, cells %q", key("t", t), key("h", h), hd.stages, s.motors[hd.motor].part.Name, s.holders[hd.holder].part.Name)
			switch wheel, drum := s.part(hd.output); {
			case wheel != nil:
				words += fmt.Sprintf(", wheel %q", wheel.Name)
			case drum != nil:
				words += fmt.Sprintf(", drum %q", drum.Name)
			}
			out = append(out, words)
		}
	}
	for p := range all[0].pulleys {
		out = append(out, fmt.Sprintf("%s: %q", key("p", p), all[0].pulleys[p].part.Name))
	}
	return out
}

// file puts a proof together and packs it.
func file(h header, certificate []byte, names []string, l *log) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(z, "%s %d\ncupboard %s\nbrief %s\nkeep %d\ncertificate %d\n", firstLine, Version, h.cupboard, h.brief, h.keep, len(certificate))
	if _, err := z.Write(certificate); err != nil {
		return nil, err
	}
	fmt.Fprintf(z, "\nnames %d\n", len(names))
	for _, name := range names {
		fmt.Fprintln(z, name)
	}
	fmt.Fprintf(z, "tree %d\n", l.lines)
	if _, err := z.Write(l.text.Bytes()); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
