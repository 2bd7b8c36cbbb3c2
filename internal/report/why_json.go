package report

import (
	"io"

	"findrive/internal/conflict"
	"findrive/internal/why"
)

// WhySchemaVersion is raised when a key of the why file changes its meaning or goes.
// Keys may be added without raising it.
const WhySchemaVersion = 1

// The types below are the why file, key by key; docs/why.md says what each means.

type whyFile struct {
	Schema     int             `json:"schema"`
	Kind       string          `json:"kind"`
	Brief      string          `json:"brief"`
	Status     string          `json:"status"`
	Complete   bool            `json:"complete"`
	Wanted     *shortDriveJSON `json:"wanted_drive"`
	Best       *shortDriveJSON `json:"best_drive"`
	Comparison []whyTermJSON   `json:"comparison"`
	Tie        string          `json:"tie"`
	Lacking    []string        `json:"lacking"`
	Conflicts  []conflictJSON  `json:"conflicts"`
	AllFound   bool            `json:"all_conflicts_found"`
	Cures      [][]string      `json:"set_aside"`
	Changes    []whyChangeJSON `json:"changes"`
	Open       int             `json:"searches_stopped"`
	Levers     []leverJSON     `json:"can_give"`
}

type whyTermJSON struct {
	Term  string `json:"term"`
	First number `json:"first_points"`
	Other number `json:"other_points"`
	WhyA  string `json:"first_why"`
	WhyB  string `json:"other_why"`
}

type leverJSON struct {
	Key   string `json:"key"`
	Words string `json:"kept"`
	Aside string `json:"set_aside"`
}

type conflictJSON struct {
	Members []string `json:"members"`
	Needed  []string `json:"needed"`
}

type whyChangeJSON struct {
	Steps []whyStepJSON  `json:"steps"`
	Drive shortDriveJSON `json:"drive"`
}

type whyStepJSON struct {
	Lever string `json:"gives"`
	Words string `json:"words"`
	Least bool   `json:"least_proved"`
}

// WhyJSON writes the answer for another program. Errors: from w, or a figure that is
// not finite.
func WhyJSON(w io.Writer, a *why.Answer) error {
	f := whyFile{
		Schema: WhySchemaVersion, Kind: "findrive why", Brief: a.Case.Brief.Name, Status: string(a.Found.Status), Complete: a.Complete(),
		Comparison: []whyTermJSON{}, Lacking: list(a.Lacking), Conflicts: []conflictJSON{}, AllFound: a.Conflict.Complete,
		Cures: [][]string{}, Changes: []whyChangeJSON{}, Open: a.Open, Levers: []leverJSON{},
	}
	if a.Possible() {
		f.Status = "possible"
	}
	if a.Wanted != nil {
		d := shortDrive(a.Wanted)
		f.Wanted = &d
	}
	if a.Best != nil {
		d := shortDrive(a.Best)
		f.Best = &d
	}
	if c := a.Comparison; c != nil {
		f.Tie = c.Tie
		for _, t := range c.Terms {
			f.Comparison = append(f.Comparison, whyTermJSON{t.Name, number(t.First.Float()), number(t.Other.Float()), t.WhyFirst, t.WhyOther})
		}
	}
	keys := func(s conflict.Set) []string {
		out := []string{}
		for _, m := range s.Rules() {
			out = append(out, a.Levers[m].Key)
		}
		return out
	}
	for _, l := range a.Levers {
		f.Levers = append(f.Levers, leverJSON{l.Key, l.Words, l.Aside})
	}
	for _, c := range a.Conflict.Conflicts {
		f.Conflicts = append(f.Conflicts, conflictJSON{keys(c.Members), keys(c.Needed)})
	}
	for _, c := range a.Conflict.Cures {
		f.Cures = append(f.Cures, keys(c))
	}
	for _, c := range a.Changes {
		out := whyChangeJSON{Drive: shortDrive(c.Then())}
		for _, s := range c.Steps {
			out.Steps = append(out.Steps, whyStepJSON{a.Levers[s.Lever].Key, s.Words, s.Least})
		}
		f.Changes = append(f.Changes, out)
	}
	return writeJSON(w, f)
}
