package report

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/hoist"
)

// fingerprintLetters are enough to tell a school's files apart, and short enough
// to be compared by eye.
const fingerprintLetters = 8

// fingerprint tells whether two cupboards or two briefs say the same, whatever
// the order and the comments of their files: the first letters of the SHA-256 of
// all they say. What is read from a file can always be written as JSON; were it
// not so, the fingerprint would be empty.
func fingerprint(of any) string {
	if b, is := of.(*brief.Brief); is && b.Making.Discs {
		of = []any{b, b.Weights.MadePulley}
	}
	said, err := json.Marshal(of)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(said)
	return hex.EncodeToString(sum[:])[:fingerprintLetters]
}

// HoistPrint tells what a drawing of hoists was made from, for its foot: fingerprints of
// cupboard and brief, and of the hoist with the number which, from 1, if there is one.
func HoistPrint(r *hoist.Result, which int) string {
	words := fmt.Sprintf("cupboard %s, brief %s", fingerprint(r.Cupboard), fingerprint(r.Brief))
	if which >= 1 && which <= len(r.Hoists) {
		words += ", hoist " + fingerprint(r.Hoists[which-1].Reeving)
	}
	return words
}
