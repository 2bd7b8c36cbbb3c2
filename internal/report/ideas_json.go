package report

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"

	"findrive/internal/design"
	"findrive/internal/ideas"
)

// IdeasSchemaVersion is raised when a key of the ideas file changes its meaning or
// goes. Keys may be added without raising it.
const IdeasSchemaVersion = 1

// The types below are the ideas file, key by key; docs/ideas.md says what each
// means.

type ideasFile struct {
	Schema   int        `json:"schema"`
	Kind     string     `json:"kind"`
	Cupboard string     `json:"cupboard"`
	Stopped  bool       `json:"stopped_early"`
	Ideas    []ideaJSON `json:"ideas"`
}

type ideaJSON struct {
	Rank         int              `json:"rank"`
	File         string           `json:"file"`
	Name         string           `json:"name"`
	Model        string           `json:"model"`
	Answer       string           `json:"answer"`
	Asked        int              `json:"sets_asked"`
	Sets         int              `json:"sets"`
	BestProved   bool             `json:"best_proved"`
	MostProved   bool             `json:"most_sets_proved"`
	Drive        *shortDriveJSON  `json:"drive"`
	RunsOut      []shortUseJSON   `json:"runs_out_first"`
	Lacking      []string         `json:"lacking"`
	Nearest      *nearestJSON     `json:"nearest_miss"`
	Changes      []ideaChangeJSON `json:"changes"`
	ChangesTried bool             `json:"changes_all_tried"`
}

// shortDriveJSON is a drive in short; findrive propose gives the whole of it.
type shortDriveJSON struct {
	Points number           `json:"penalty_points"`
	Speed  rangeJSON        `json:"output_speed_rpm"`
	Travel *rangeJSON       `json:"travel_m_per_s"`
	Motor  string           `json:"motor"`
	Cells  int              `json:"cells"`
	Tackle int              `json:"tackle_parts"`
	Stages []shortStageJSON `json:"stages"`
}

type shortStageJSON struct {
	Driver string `json:"driver"`
	Driven string `json:"driven"`
	Band   string `json:"band"`
}

type shortUseJSON struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	Each int    `json:"each"`
	Have int    `json:"have"`
}

type nearestJSON struct {
	Rule  string `json:"rule"`
	Words string `json:"words"`
}

type ideaChangeJSON struct {
	Words string         `json:"words"`
	Sets  int            `json:"sets"`
	Drive shortDriveJSON `json:"drive"`
}

// IdeasJSON writes the whole answer for another program. The same result gives the
// same bytes. Errors: from w, or a figure that is not finite.
func IdeasJSON(w io.Writer, r *ideas.Result) error {
	f := ideasFile{Schema: IdeasSchemaVersion, Kind: "findrive ideas", Cupboard: r.Cupboard.Name, Stopped: r.Stopped, Ideas: []ideaJSON{}}
	for i := range r.Answers {
		a := &r.Answers[i]
		out := ideaJSON{
			Rank: i + 1, File: a.File, Name: a.Brief.Name, Model: string(a.Brief.Model), Answer: string(a.Kind), Asked: a.Brief.Sets, Sets: a.Sets,
			BestProved: a.BestProved, MostProved: a.MostProved, RunsOut: shortUses(a.First), Lacking: list(a.Lacking),
			Changes: []ideaChangeJSON{}, ChangesTried: a.ChangesTried,
		}
		if a.Best != nil {
			d := shortDrive(a.Best)
			out.Drive = &d
		}
		if a.Nearest != nil {
			out.Nearest = &nearestJSON{string(a.Nearest.Rule), a.Nearest.Nearest}
		}
		for _, c := range a.Changes {
			out.Changes = append(out.Changes, ideaChangeJSON{c.Words, c.Sets, shortDrive(c.Drive)})
		}
		f.Ideas = append(f.Ideas, out)
	}
	return writeJSON(w, f)
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

func shortDrive(q *design.Proposal) shortDriveJSON {
	out := shortDriveJSON{
		Points: number(q.Total.Float()), Speed: rangeJSON{Low: number(q.Speed.Low), Likely: number(q.Speed.Likely), High: number(q.Speed.High)},
		Motor: q.Drive.Motor.Name, Cells: q.Drive.Holder.Cells, Stages: []shortStageJSON{},
	}
	if l := q.Linear; l != nil {
		out.Travel = &rangeJSON{Low: number(l.Low), Likely: number(l.Likely), High: number(l.High)}
	}
	if q.Tackle != nil {
		out.Tackle = q.Tackle.Parts
	}
	for i := range q.Stages {
		out.Stages = append(out.Stages, shortStageJSON{q.Stages[i].Driver, q.Stages[i].Driven, q.Stages[i].Band.Name})
	}
	return out
}

func shortUses(uses []design.Use) []shortUseJSON {
	out := []shortUseJSON{}
	for _, u := range uses {
		out = append(out, shortUseJSON{u.Kind, u.Name, u.Each, u.Have})
	}
	return out
}

var ideasHeader = []string{
	"rank", "file", "name", "model", "answer", "sets_asked", "sets", "best_proved", "penalty_points",
	"output_speed_rpm", "travel_m_per_s", "drive", "in_the_way", "changes",
}

// IdeasCSV writes one row for each model, best first. The error is from w.
func IdeasCSV(w io.Writer, r *ideas.Result) error {
	rows := [][]string{ideasHeader}
	for i := range r.Answers {
		a := &r.Answers[i]
		row := []string{strconv.Itoa(i + 1), safe(a.File), safe(a.Brief.Name), string(a.Brief.Model), string(a.Kind), strconv.Itoa(a.Brief.Sets), strconv.Itoa(a.Sets), strconv.FormatBool(a.BestProved)}
		if q := a.Best; q != nil {
			travel := ""
			if q.Linear != nil {
				travel = cell(q.Linear.Likely)
			}
			row = append(row, points(q.Total), cell(q.Speed.Likely), travel, safe(driveLine(q)))
		} else {
			row = append(row, "", "", "", "")
		}
		why, changes := "", ""
		switch {
		case a.Kind == ideas.FewerSets:
			why = shortfall(shortOf(r.Cupboard, a))
		case a.Kind == ideas.NoDrive:
			why = inTheWay(a)
		}
		for k, c := range a.Changes {
			if k > 0 {
				changes += "; "
			}
			changes += c.Words
		}
		rows = append(rows, append(row, safe(why), safe(changes)))
	}
	return csv.NewWriter(w).WriteAll(rows)
}
