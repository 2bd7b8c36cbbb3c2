package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"time"

	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/report"
)

// proposals says where drives come from that a command makes something of: a saved
// certificate, or a search.
type proposals struct {
	cupboard, calibration, brief, from string

	rank, threads int
	timeLimit     time.Duration
}

// certificate is the saved one, or that of a search. ended is how the search
// ended, if it was not with a proof.
func (p proposals) certificate(ctx context.Context, stdin io.Reader, stderr io.Writer) (c *certificate.Certificate, ended, err error) {
	if p.from != "" {
		c, err := readCertificate(p.from, p.rank, stdin)
		return c, nil, err
	}
	cup, b, err := loadInputs(p.cupboard, p.calibration, p.brief, stdin)
	if err != nil {
		return nil, nil, err
	}
	cup = cup.InStock()
	sayBuiltIn(stderr, p.calibration != "", theCupboard(p.cupboard), theBrief(p.brief))
	if p.timeLimit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, p.timeLimit)
		defer cancel()
	}
	bar := newProgress(stderr)
	result, err := design.Find(ctx, cup, b, design.Options{Keep: p.rank, Threads: p.threads, Watch: bar.watch})
	bar.done()
	if err != nil {
		return nil, nil, contradiction(err)
	}
	// By way of the certificate, so that a sheet is the same from a saved one.
	var data bytes.Buffer
	if err := report.JSON(&data, result, report.JSONOptions{Compact: true}); err != nil {
		return nil, nil, outcome{exitFailure, err.Error()}
	}
	if c, err = certificate.Read(data.Bytes()); err != nil {
		return nil, nil, contradiction(err)
	}
	switch result.Status {
	case design.NonePossible:
		ended = outcome{exitNone, "no drive is possible\nhint: findrive propose says which rules stand in the way"}
	case design.StoppedEarly:
		ended = outcome{exitStopped, "stopped before it was proved that this is the best"}
	}
	return c, ended, nil
}

// builtInOf refuses a list that was not made from the built-in cupboard, which is read where none
// is named: whoever has the drive has none of the parts in that. cup is the built-in one with what
// is read besides.
func builtInOf(c *certificate.Certificate, from string, how said, stdin io.Reader, cup *parts.Cupboard) error {
	plain, err := loadCupboard("", stdin)
	if err := inFiles(err); err != nil {
		return err
	}
	if report.MadeFrom(c.Prints.Cupboard, plain) || report.MadeFrom(c.Prints.Cupboard, cup) {
		return nil
	}
	return outcome{exitUsage, fmt.Sprintf("%s was made from another cupboard than the built-in example: name yours with -c\nhint: %s", shown(from), how.again("-c", "cupboard.toml"))}
}

// readCertificate is a saved list of drives: a certificate, the answer of swap or challenge,
// or a plan, whose drives are numbered as they are lettered. Its brief is the one that the
// drive of the rank was found for.
func readCertificate(path string, rank int, stdin io.Reader) (*certificate.Certificate, error) {
	data, err := readAtMost(path, certificate.MaxBytes, "drives.json", stdin)
	if err != nil {
		return nil, outcome{exitInput, err.Error()}
	}
	if path == "-" {
		path = "standard input"
	}
	if plan.Is(data) {
		c, err := plan.List(data, rank)
		if err != nil {
			return nil, outcome{exitInput, fmt.Sprintf("%s: %v", shown(path), err)}
		}
		return c, nil
	}
	if say := mistaken(data, aCertificate); say != "" && !certificate.IsAnswer(data) {
		return nil, outcome{exitInput, fmt.Sprintf("%s: %s", shown(path), say)}
	}
	c, err := certificate.DrivesFor(data, rank)
	if err != nil {
		return nil, outcome{exitInput, fmt.Sprintf("%s: %v\nhint: findrive propose -o drives.json saves one", shown(path), err)}
	}
	return c, nil
}
