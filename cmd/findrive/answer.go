package main

import (
	"bytes"
	"fmt"
	"io"
)

// answer makes an answer in full before any of it is printed.
func answer(stdout io.Writer, write func(io.Writer) error) error {
	var page bytes.Buffer
	if err := write(&page); err != nil {
		return outcome{exitFailure, err.Error()}
	}
	if _, err := page.WriteTo(stdout); err != nil {
		return fmt.Errorf("%w: %w", outcome{exitFailure, "cannot write the answer: " + err.Error()}, err)
	}
	return nil
}

// writtenFirst writes files before the answer, so that what to write next names none that is
// not there, and gives the answer all the same where they could not be written. What the
// writing says comes behind the answer.
func writtenFirst(stdout, stderr io.Writer, files func(stderr io.Writer) error, page func(io.Writer) error) error {
	var says bytes.Buffer
	failed := files(&says)
	if err := answer(stdout, page); err != nil {
		return err
	}
	_, _ = says.WriteTo(stderr)
	return failed
}

// contradiction is for what the program finds wrong with itself.
func contradiction(err error) error {
	return outcome{exitFailure, fmt.Sprintf("the program contradicts itself, please report this: %v", err)}
}
