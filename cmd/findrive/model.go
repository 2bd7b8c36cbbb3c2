package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/swap"
)

// model says which drive is meant by a command that works on one that is built: one
// described in a file, one of a saved list, or one that a search finds.
type model struct {
	proposals
	drive  string
	ranked bool // --rank was given
	told   bool // something is said or counted of it
}

// flags lets a command take a drive in each of these ways, its search bounded by usual.
func (m *model) flags(cmd *cobra.Command, usual time.Duration) flags {
	f := flagsOf(cmd)
	f.inputs(&m.cupboard, &m.calibration, &m.brief)
	f.list(&m.from, &m.rank)
	f.search(&m.threads, &m.timeLimit, usual)
	return f
}

// ownParts is said where parts are looked for and no cupboard is known.
const ownParts = "only the drive's own parts are known: name the cupboard with -c"

// listed reports whether the drive is one of a list, saved or to be searched for.
func (m *model) listed() bool { return m.from != "" || m.brief != "" || m.ranked }

func (m *model) check() error {
	switch {
	case m.drive != "" && m.listed():
		return outcome{exitUsage, "one drive at a time: either the file that describes it, or one of a list with --from or -b and --rank"}
	case m.from != "" && m.brief != "":
		return outcome{exitUsage, "--from has its own brief in it: leave out -b"}
	case m.rank < 1 || m.rank > 1000:
		return outcome{exitUsage, "--rank must be from 1 to 1000"}
	case m.threads < 1 || m.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case m.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case m.drive == "" && m.from == "" && m.listed() && (m.cupboard == "-" || m.calibration == "-"):
		return outcome{exitUsage, "for a drive that is searched for, cupboard and calibration must be files: they are read twice"}
	case oneStdin(m.cupboard, m.calibration, m.drive, m.brief, m.from):
		return outcome{exitUsage, "only one of the files can come from standard input"}
	}
	return nil
}

// build is the drive; ended is how a search ended, if not with a proof.
func (m *model) build(ctx context.Context, stdin io.Reader, stderr io.Writer) (b *built.Build, ended, err error) {
	if !m.listed() {
		b, err := loadDrive(m.cupboard, m.calibration, m.drive, m.told, stdin, stderr)
		return b, nil, err
	}
	found, left, ended, err := m.ofList(ctx, stdin, stderr)
	if err != nil {
		return nil, nil, err
	}
	b = found.Build(left)
	if m.calibration != "" && m.from != "" { // a search has reckoned with it already
		by := (*parts.Cupboard).Calibrate
		if m.cupboard == "" { // it may have been made from another cupboard
			by = (*parts.Cupboard).CalibrateKnown
		}
		cup, err := calibratedBy(by, b.Cupboard, m.calibration, stdin)
		if err := inFiles(err); err != nil {
			return nil, nil, err
		}
		b = b.Calibrated(cup)
	}
	return b, ended, nil
}

// ofList is the drive of a list, and what else there is: the cupboard that is given,
// without the drive's own parts where it was built from it; nil if none is known.
func (m *model) ofList(ctx context.Context, stdin io.Reader, stderr io.Writer) (found *swap.Model, left *parts.Cupboard, ended, err error) {
	c, ended, err := m.certificate(ctx, stdin, stderr)
	if err != nil {
		return nil, nil, nil, err
	}
	if found, err = swap.FromCertificate(c, m.rank); err != nil {
		if ended != nil && len(c.Proposals) == 0 {
			return nil, nil, nil, ended
		}
		where := ""
		if m.from != "" {
			where = m.from + ": "
		}
		return nil, nil, nil, outcome{exitNone, where + err.Error() + "\nhint: findrive propose lists the drives with their numbers"}
	}
	if left, err = m.left(c, stdin); err != nil {
		return nil, nil, nil, err
	}
	if left != nil && (m.from == "" || m.cupboard == "") {
		left = found.Without(left)
	}
	return found, left, ended, nil
}

// left is the cupboard that is given; without one it is the built-in one, if the list was
// made from that.
func (m *model) left(c *certificate.Certificate, stdin io.Reader) (*parts.Cupboard, error) {
	cup, err := loadCupboard(m.cupboard, stdin)
	if m.from == "" {
		cup, err = calibrated(cup, m.calibration, stdin)
	}
	if err := inFiles(err); err != nil {
		return nil, err
	}
	if m.cupboard == "" && !report.MadeFrom(c.Prints.Cupboard, cup) {
		return nil, nil
	}
	return cup, nil
}

// driveFile is the file that describes a drive, for writing.
func driveFile(b *built.Build, m *model) []byte {
	note := "The drive of " + m.drive
	switch {
	case m.from != "":
		note = fmt.Sprintf("Drive %d of %s", m.rank, m.from)
	case m.listed():
		return b.WriteListed(m.rank)
	case m.drive == "":
		return demo.Drive()
	}
	return b.Write(note)
}

// rememberCount gives a drive of a list the speed at which it was counted, where a
// calibration file remembers it.
func rememberCount(c *certificate.Certificate, rank int, file string, stdin io.Reader) (*certificate.Certificate, error) {
	cup, err := calibratedBy((*parts.Cupboard).CalibrateKnown, &parts.Cupboard{}, file, stdin)
	if err := inFiles(err); err != nil {
		return c, err
	}
	return swap.Remember(c, rank, cup.Remembered), nil
}
