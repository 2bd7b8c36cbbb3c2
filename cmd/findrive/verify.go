package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/report"
)

type verifyOptions struct {
	said                                said
	cupboard, calibration, brief, proof string
	timeLimit                           time.Duration
}

func verifyCommand() *cobra.Command {
	var opt verifyOptions
	cmd := &cobra.Command{
		Use:   "verify PROOF",
		Short: "check a proof that drives are the best",
		Long: `verify checks a proof that propose --proof wrote: it goes through all drives
that could be built, with its own account of them and its own bounds, and makes
sure that nothing better was skipped, and that every listed drive keeps every
rule and costs what it is said to cost. Give it the same cupboard and brief;
without them it takes the built-in example. Of a plan that class, shop or term
wrote, it works every drive out again and holds what all groups take to what
there is; with -c, to that cupboard.

Exit codes: 0 the proof holds, 3 the proof, cupboard or brief cannot be read, 4
the proof does not hold, 5 stopped, or something in it is not settled.`,
		Example: `  findrive propose -c cupboard.toml -b brief.toml --proof drives.proof
  findrive verify drives.proof -c cupboard.toml -b brief.toml
  findrive verify plan.json -c cupboard.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return outcome{exitUsage, "verify takes one proof\nhint: write findrive verify drives.proof -c cupboard.toml -b brief.toml"}
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"proof"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said, opt.proof = said{cmd: cmd}, args[0]
			return verify(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.limit(&opt.timeLimit, 0)
	return cmd
}

func verify(ctx context.Context, opt verifyOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if oneStdin(opt.cupboard, opt.calibration, opt.brief, opt.proof) {
		return outcome{exitUsage, "only one of the proof, the cupboard, the calibration and the brief can come from standard input"}
	}
	if opt.timeLimit < 0 {
		return outcome{exitUsage, "--time-limit must not be negative"}
	}
	if limit := within(opt.timeLimit); limit != nil {
		var cancel context.CancelFunc
		ctx, cancel = limit(ctx)
		defer cancel()
	}
	if isPlan(opt.proof) {
		return verifyThePlan(opt, stdin, stdout)
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return err
	}
	cup = cup.InStock()
	data, err := readProof(opt.proof, stdin)
	if err != nil {
		return outcome{exitInput, err.Error()}
	}
	sayBuiltIn(stderr, true, theCupboard(opt.cupboard), theBrief(opt.brief))
	v, err := proof.Check(ctx, data, cup, b)
	var no *proof.Rejection
	switch {
	case errors.As(err, &no):
		return outcome{exitNone, fmt.Sprintf("%q does not hold: %v", opt.proof, no)}
	case errors.Is(err, proof.ErrOpen):
		return outcome{exitStopped, fmt.Sprintf("%q proves nothing: %v", opt.proof, err)}
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return outcome{exitStopped, fmt.Sprintf("the time ran out before the proof was checked\nhint: --time-limit %s gives it more", shortTime(max(10*opt.timeLimit, 5*time.Minute).String()))}
	case ctx.Err() != nil:
		return outcome{exitStopped, "stopped before the proof was checked"}
	case err != nil:
		return outcome{exitInput, fmt.Sprintf("%s: %v\nhint: findrive propose --proof drives.proof writes one", shown(opt.proof), err)}
	}
	next := opt.said.sheet(1)
	if len(v.Ranked) == 0 {
		next = opt.said.then("why")
	}
	return answer(stdout, func(page io.Writer) error {
		return thenNext(page, report.ProofText(page, v, width(stdout)), next, "never", stdout)
	})
}

// verifyThePlan checks a plan, against the cupboard if one is named.
func verifyThePlan(opt verifyOptions, stdin io.Reader, stdout io.Writer) error {
	if opt.brief != "" || opt.calibration != "" {
		return outcome{exitUsage, "a plan has its briefs in it: leave out -b and --calibration"}
	}
	p, all, err := readPlan(opt.proof, stdin)
	if err != nil {
		return err
	}
	var cup *parts.Cupboard
	if opt.cupboard != "" {
		if cup, err = loadCupboard(opt.cupboard, stdin); err != nil {
			return inFiles(err)
		}
	}
	return verifyPlan(p, all, opt.proof, cup, stdout)
}

// readProof reads a proof's file, no more of it than a proof may have.
func readProof(name string, stdin io.Reader) ([]byte, error) {
	data, err := readAtMost(name, proof.MaxBytes, "drives.proof", stdin)
	if err != nil {
		return nil, err
	}
	if name == "-" {
		name = "standard input"
	}
	if say := mistaken(data, aProof); say != "" {
		return nil, fmt.Errorf("%s: %s", shown(name), say)
	}
	return data, nil
}

// writeProof writes the proof of a result that was proved, and more files with it; these are
// written too where the proof cannot be finished.
func writeProof(ctx context.Context, opt proposeOptions, cup *parts.Cupboard, b *brief.Brief, r *design.Result, more []file, stderr io.Writer) (written bool, err error) {
	without := func(how error) (bool, error) {
		if err := writeFiles(more, opt.force, anotherName); err != nil {
			return false, err
		}
		return true, how
	}
	if r.Status == design.StoppedEarly {
		fmt.Fprintf(stderr, "The search stopped before the best was proved: %q is not written.\n", opt.proof)
		return without(nil)
	}
	var list []proof.Listed
	for i := range r.Proposals {
		p, tackle := &r.Proposals[i], 0
		if p.Tackle != nil {
			tackle = p.Tackle.Parts
		}
		l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, tackle)
		if err != nil {
			return false, outcome{exitFailure, fmt.Sprintf("drive %d: %v", i+1, err)}
		}
		list = append(list, l)
	}
	data, err := proof.Record(ctx, cup, b, opt.keep, list)
	switch {
	case ctx.Err() != nil && err != nil:
		say := fmt.Sprintf("the proof is not finished: %q is not written", opt.proof)
		if errors.Is(ctx.Err(), context.DeadlineExceeded) {
			say += fmt.Sprintf("\nhint: --time-limit %s gives it more", shortTime(max(10*opt.timeLimit, 5*time.Minute).String()))
		}
		return without(outcome{exitStopped, say})
	case errors.Is(err, proof.ErrOpen):
		return without(outcome{exitStopped, fmt.Sprintf("the proof is %v: %q is not written", err, opt.proof)})
	case err != nil && !errors.Is(err, proof.ErrMissed):
		return false, contradiction(err)
	}
	if err := writeFiles(append(more, file{opt.proof, data}), opt.force, anotherName); err != nil {
		return false, err
	}
	if err != nil { // what was found out is in the file, for who looks into it
		return true, contradiction(err)
	}
	fmt.Fprintf(stderr, "Wrote %s.\n", shown(opt.proof))
	return true, nil
}
