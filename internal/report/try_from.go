package report

import "findrive/internal/parts"

// MadeFrom reports whether a certificate with the given fingerprint of its cupboard was
// made from this cupboard, whatever the order and the comments of its file.
func MadeFrom(print string, cup *parts.Cupboard) bool { return print == fingerprint(cup) }
