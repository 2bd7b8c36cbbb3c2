package certificate

import (
	"encoding/json"
	"errors"
	"fmt"
)

// answers are the saved answers that have a certificate of their drives in them, with
// what to say where there is none.
var answers = map[string]string{
	"findrive swap":      "nothing takes the place of the broken part but another of its kind, or nothing at all: print the model's own pages",
	"findrive challenge": "no drive can enter, or none was found in the time",
}

// Drives reads a saved certificate, or the one within the answer of a command that
// found drives: a replacement or a contest. The error is that of Read, or says that
// the answer has no drive.
func Drives(data []byte) (*Certificate, error) {
	if len(data) > 2*MaxBytes {
		return nil, overLimit(data)
	}
	var a struct {
		Kind        string          `json:"kind"`
		Certificate json.RawMessage `json:"certificate"`
	}
	data = plainText(data)
	if err := overLimit(data); err != nil {
		return nil, err
	}
	// What is not JSON, or no answer, is for Read to say.
	if err := json.Unmarshal(data, &a); err != nil {
		return Read(data)
	}
	none, ok := answers[a.Kind]
	if !ok {
		return Read(data)
	}
	if len(a.Certificate) == 0 || string(a.Certificate) == "null" {
		return nil, errors.New("it has no drive in full: " + none)
	}
	c, err := Read(a.Certificate)
	if err != nil {
		return nil, fmt.Errorf("the drives in it: %w", err)
	}
	return c, nil
}
