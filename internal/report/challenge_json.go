package report

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"findrive/internal/design"
	"findrive/internal/goals"
)

// ChallengeSchemaVersion is raised when a key of the challenge file changes its
// meaning or goes. Keys may be added without raising it.
const ChallengeSchemaVersion = 1

// The types below are the challenge file, key by key; docs/challenge.md says what
// each means.

type challengeFile struct {
	Schema  int                  `json:"schema"`
	Kind    string               `json:"kind"`
	Name    string               `json:"name"`
	Goal    string               `json:"goal"`
	Asked   string               `json:"asked"`
	Status  string               `json:"status"`
	Proved  int                  `json:"proved"`
	Open    string               `json:"unseen_no_better_than,omitempty"`
	Drives  []challengeDriveJSON `json:"drives"`
	Refused []shortRefusalJSON   `json:"refused,omitempty"`
	// What this program asks beyond the rules, dropped because no drive could enter with it.
	AnyStart bool                `json:"any_start"`
	Fine     bool                `json:"finer_holes_needed"`
	Finer    *challengeDriveJSON `json:"better_with_finer_holes,omitempty"`
	// Paper has the drives in full, for findrive sheet.
	Paper *theCertificate `json:"certificate,omitempty"`
}

type challengeDriveJSON struct {
	Rank      int            `json:"rank"`
	Run       *runJSON       `json:"run,omitempty"`
	Off       *number        `json:"off_seconds,omitempty"`
	Takes     *number        `json:"takes_seconds,omitempty"`
	Climbs    *number        `json:"climbs_degrees,omitempty"`
	Lifts     *number        `json:"lifts_g,omitempty"`
	Turns     *number        `json:"turns,omitempty"`
	Holes     *number        `json:"holes_off_mm,omitempty"`
	Traction  *number        `json:"traction_margin,omitempty"`
	Works     *int           `json:"works_of_100,omitempty"`     // in how many classrooms it does that: races, climbs, lifts
	ByScore   int            `json:"by_score"`                   // its place by the score of the likely day, which is what is proved
	ExpectOff *number        `json:"expected_off,omitempty"`     // exact time, turns: seconds or turns, on average
	Expect    *number        `json:"expected_score,omitempty"`   // of the others: the score and how often it is reached
	AtHoles   *number        `json:"at_holes_seconds,omitempty"` // likely, with the holes as they are
	Binds     *bindsJSON     `json:"binds,omitempty"`
	Parts     int            `json:"parts"`
	Price     int            `json:"price"`
	Footprint [2]number      `json:"footprint_mm"`
	Ratio     number         `json:"velocity_ratio"`
	Drive     shortDriveJSON `json:"drive"`
	// Entered is the brief of a certificate for this drive: its speed, and the load and slope
	// of its score; so that every command that takes a list takes this file.
	Entered *briefJSON `json:"entered_as,omitempty"`
}

// bindsJSON is what keeps a drive from doing better.
type bindsJSON struct {
	Rule string `json:"rule"`
	Says string `json:"says"`
	At   number `json:"at"`            // grams or degrees
	Most number `json:"up_to_without"` // 0: no further
}

type runJSON struct {
	Likely   number `json:"likely_seconds"`
	Early    number `json:"early_seconds"`
	Late     number `json:"late_seconds"` // 0: it may not get away at all
	Start    number `json:"start_seconds"`
	Slipping number `json:"slipping_seconds"`
	End      number `json:"end_m_per_s"`
}

type shortRefusalJSON struct {
	Rule    string `json:"rule"`
	Count   int64  `json:"count"`
	Nearest string `json:"nearest"`
}

// ChallengeJSON writes the result for other programs. The error is from w.
func ChallengeJSON(w io.Writer, r *goals.Result) error {
	c := r.Challenge
	f := challengeFile{Schema: ChallengeSchemaVersion, Kind: "findrive challenge", Name: c.Brief.Name, Goal: string(c.Kind),
		Asked: challengeTask(c), Status: string(r.Status), Proved: r.Proved, Drives: []challengeDriveJSON{}}
	f.AnyStart, f.Fine = r.AnyStart, r.Fine
	if r.Finer != nil {
		finer := challengeDrive(c, r.Finer)
		f.Finer = &finer
	}
	if r.Open != nil && r.Status == design.StoppedEarly {
		f.Open = bestWords(c, r.Open)
	}
	var drives []*design.Proposal
	for i := range r.Entries {
		d := challengeDrive(c, &r.Entries[i])
		asked := goals.ListOf(r, i+1)
		asked.Brief.Speed.Words = challengeTask(c) + ", at the speed it was entered with"
		entered := briefOf(asked)
		d.Entered = &entered
		f.Drives = append(f.Drives, d)
		drives = append(drives, r.Entries[i].Proposal)
	}
	f.Paper = printable(r.Cupboard, c.Brief, c.Brief.Name, challengeTask(c), drives)
	for _, no := range r.Refused {
		f.Refused = append(f.Refused, shortRefusalJSON{string(no.Rule), no.Count, no.Nearest})
	}
	return writeJSON(w, f)
}

func challengeDrive(c *goals.Challenge, e *goals.Entry) challengeDriveJSON {
	s := &e.Score
	of := func(v float64) *number { n := number(v); return &n }
	out := challengeDriveJSON{Rank: e.Rank, ByScore: e.ByScore, Parts: e.Bill.Parts, Price: e.Bill.Price, Ratio: number(e.Proposal.Ratio),
		Footprint: [2]number{number(e.Bill.Stands.Length), number(e.Bill.Stands.Width)}, Drive: shortDrive(e.Proposal)}
	if run := s.Run; run != nil {
		out.Run = &runJSON{number(run.Likely), number(run.Early), number(run.Late), number(run.Start), number(run.Slipping), number(run.End)}
	}
	if s.Traction > 0 {
		out.Traction = of(s.Traction)
	}
	if e.AtHoles > 0 {
		out.AtHoles = of(float64(e.AtHoles))
	}
	if b := e.Beyond; b != nil {
		out.Binds = &bindsJSON{string(b.Rule), b.Says, number(b.At), number(b.Most)}
	}
	switch c.Kind {
	case goals.ExactTime, goals.Turns:
		out.ExpectOff = of(e.Expect)
	case goals.Forgiving:
	default:
		works := e.GetsThere()
		if out.Works = &works; !math.IsInf(e.Expect, 0) {
			out.Expect = of(e.Expect)
		}
	}
	switch c.Kind {
	case goals.ExactTime:
		out.Off = of(float64(s.Off))
	case goals.Slowest:
		out.Takes = of(float64(s.Takes))
	case goals.Steepest:
		out.Takes, out.Climbs = of(float64(s.Takes)), of(s.Climbs.Degrees())
	case goals.Heaviest:
		out.Takes, out.Lifts = of(float64(s.Takes)), of(float64(s.Lifts))
	case goals.Turns:
		out.Turns = of(s.Turns)
	case goals.Forgiving:
		out.Holes = of(float64(s.Holes))
	}
	return out
}

// ChallengeCSV writes one row for each drive, best first, the score in the unit of
// its goal. The error is from w.
func ChallengeCSV(w io.Writer, r *goals.Result) error {
	rows := [][]string{{"rank", "goal", "score", "unit", "velocity_ratio", "cells", "parts", "price", "penalty_points", "drive"}}
	for i := range r.Entries {
		e := &r.Entries[i]
		score, unit := plainScore(r.Challenge, e)
		rows = append(rows, []string{strconv.Itoa(e.Rank), string(r.Challenge.Kind), cell(score), unit, cell(e.Proposal.Ratio),
			strconv.Itoa(e.Bill.Cells), strconv.Itoa(e.Bill.Parts), strconv.Itoa(e.Bill.Price), points(e.Proposal.Total), safe(driveLine(e.Proposal))})
	}
	return csv.NewWriter(w).WriteAll(rows)
}

func plainScore(c *goals.Challenge, e *goals.Entry) (float64, string) {
	s := &e.Score
	switch c.Kind {
	case goals.Fastest, goals.ExactTime:
		return float64(s.Run.Likely), "s"
	case goals.Slowest:
		return float64(s.Takes), "s"
	case goals.Steepest:
		return s.Climbs.Degrees(), "deg"
	case goals.Heaviest:
		return float64(s.Lifts), "g"
	case goals.Turns:
		return s.Turns, "turns"
	}
	return float64(s.Holes), "mm"
}
