package certificate

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// answers are the saved answers that have a certificate of their drives in them, with
// what to say where there is none.
var answers = map[string]string{
	"findrive swap":      "another of its kind takes the place of the broken part, or nothing does, or the model's file does not say where it is in a frame",
	"findrive challenge": "no drive can enter, or none was found in the time",
}

// answer is what is read of one before its certificate.
type answer struct {
	Kind        string          `json:"kind"`
	Certificate json.RawMessage `json:"certificate"`
}

// IsAnswer reports whether a file is the answer of a command that may have drives in it.
func IsAnswer(data []byte) bool {
	var a answer
	if overLimit(data) != nil || json.Unmarshal(PlainText(data), &a) != nil {
		return false
	}
	_, ok := answers[a.Kind]
	return ok
}

// entries is what is read of a contest's answer besides its certificate.
type entries struct {
	Drives []struct {
		Entered json.RawMessage `json:"entered_as"`
	} `json:"drives"`
}

// DrivesFor reads as Drives does, with the brief that the drive of a rank was found for:
// each drive of a contest has a speed, a load and a slope of its own.
func DrivesFor(data []byte, rank int) (*Certificate, error) {
	c, err := Drives(data)
	if err != nil || !IsAnswer(data) {
		return c, err
	}
	data = PlainText(data)
	var a answer
	var e entries
	var whole map[string]json.RawMessage
	for _, into := range []any{&a, &e} {
		if err := json.Unmarshal(data, into); err != nil {
			return nil, err
		}
	}
	if rank < 1 || rank > len(e.Drives) || len(e.Drives[rank-1].Entered) == 0 {
		return c, nil
	}
	if err := json.Unmarshal(a.Certificate, &whole); err != nil {
		return nil, err
	}
	whole["brief"] = e.Drives[rank-1].Entered
	text, err := json.Marshal(whole)
	if err != nil {
		return nil, err
	}
	if c, err = Read(text); err != nil {
		return nil, fmt.Errorf("drive %d: what it was entered as: %w", rank, err)
	}
	return c, nil
}

// Drives reads a saved certificate, or the one within the answer of a command that
// found drives: a replacement or a contest. The error is that of Read, or says that
// the answer has no drive.
func Drives(data []byte) (*Certificate, error) {
	if !IsAnswer(data) {
		return Read(data)
	}
	data = PlainText(data)
	var a answer
	if err := json.Unmarshal(data, &a); err != nil {
		return nil, err
	}
	if len(a.Certificate) == 0 || string(a.Certificate) == "null" {
		return nil, errors.New("it has no drive in full: " + answers[a.Kind])
	}
	// So that what is wrong in it is found on the line that is said.
	before := bytes.Count(data[:max(0, bytes.Index(data, a.Certificate))], []byte("\n"))
	c, err := Read(append(bytes.Repeat([]byte("\n"), before), a.Certificate...))
	if err != nil {
		return nil, fmt.Errorf("the drives in it: %w", err)
	}
	return c, nil
}
