package proof

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// Version is that of the format and of what the checker takes a line to mean. A
// proof of another version is refused.
const Version = 2

// A proof is gzipped text: a head that says what it is about, the listed drives, one a
// line, the names behind the keys, and what is left out, one part of the space a line.
// docs/proof.md describes it.
const firstLine = "findrive proof"

// Words for a part of the space, besides what everything in it costs at least.
const (
	nothing = "none"   // no design of it is allowed
	open    = "open"   // it is not settled
	better  = "better" // it has a drive that should have been listed
)

// fingerprint tells whether two cupboards or two briefs say the same, whatever the order
// and the comments of their files: the SHA-256 of all they say.
func fingerprint(of any) (string, error) {
	if b, is := of.(*brief.Brief); is && b.Making.Discs {
		of = []any{b, b.Weights.MadePulley}
	}
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

func inPoints(p points) string { return strconv.FormatFloat(p.Float(), 'f', -1, 64) }

// word is what is written of a part of the space.
func (f found) word() string {
	switch {
	case f.open:
		return open
	case f.least == never:
		return nothing
	}
	return inPoints(f.least)
}

// legend says which parts the keys of a proof stand for.
func legend(all []*space) []string {
	var out []string
	for t, s := range all {
		for h := range s.heads {
			hd := &s.heads[h]
			words := fmt.Sprintf("t%d h%d: %d stages, motor %q, cells %q", t, h, hd.stages, s.motors[hd.motor].Part.Name, s.holders[hd.holder].Part.Name)
			switch wheel, drum := s.part(hd.output); {
			case wheel != nil:
				words += fmt.Sprintf(", wheel %q", wheel.Name)
			case drum != nil:
				words += fmt.Sprintf(", drum %q", drum.Name)
			}
			out = append(out, words)
		}
	}
	for e, level := range all[0].levels {
		out = append(out, fmt.Sprintf("e%d: holes out of place by %g mm", e, float64(level)))
	}
	for p := range all[0].pulleys {
		out = append(out, fmt.Sprintf("p%d: %q", p, all[0].pulleys[p].Part.Name))
	}
	return out
}

// file puts a proof together and packs it.
func file(h header, list []Listed, names []string, lines int, tree *bytes.Buffer) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(z, "%s %d\ncupboard %s\nbrief %s\nkeep %d\ndrives %d\n", firstLine, Version, h.cupboard, h.brief, h.keep, len(list))
	for i := range list {
		said, err := json.Marshal(&list[i])
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(z, "%s\n", said)
	}
	fmt.Fprintf(z, "names %d\n", len(names))
	for _, name := range names {
		fmt.Fprintln(z, name)
	}
	fmt.Fprintf(z, "parts %d\n", lines)
	if _, err := z.Write(tree.Bytes()); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
