package report

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"

	"findrive/internal/hoist"
	"findrive/internal/units"
)

// HoistSchemaVersion is raised when a key of the hoist file changes its meaning or
// goes. Keys may be added without raising it.
const HoistSchemaVersion = 1

// The types below are the hoist file, key by key; docs/hoist.md says what each
// means.

type hoistFile struct {
	Schema   int                `json:"schema"`
	Kind     string             `json:"kind"`
	Status   string             `json:"status"`
	Looked   int                `json:"looked"`
	Passed   int                `json:"passed"`
	Kept     int                `json:"arrangements"`
	Brief    hoistBriefJSON     `json:"brief"`
	Hoists   []hoistJSON        `json:"hoists"`
	Refusals []hoistRefusalJSON `json:"refusals"`
	Lesson   []hoistLessonJSON  `json:"lesson"`
	Makings  []hoistMakingJSON  `json:"makings"`
	Cautions []string           `json:"cautions"`
}

type hoistBriefJSON struct {
	Name     string `json:"name"`
	Cupboard string `json:"cupboard"`
	Mass     number `json:"mass_g"`
	Lift     number `json:"lift_mm"`
	Beam     number `json:"beam_mm"`
	Hook     number `json:"hook_mm"`
	Pull     number `json:"pull_N"`
	Way      string `json:"way"`
	StandOff number `json:"stand_off_mm"`
	Sets     int    `json:"sets"`
	Cord     string `json:"cord"`
	Prefer   string `json:"prefer"`
}

type hoistJSON struct {
	Rank           int             `json:"rank"`
	Name           string          `json:"name"`
	Way            string          `json:"way"`
	Tied           string          `json:"tied_to"`
	Parts          int             `json:"rope_parts"`
	Sheaves        int             `json:"sheaves"`
	Blocks         []hoistRoleJSON `json:"blocks"`
	Cord           string          `json:"cord"`
	CordDiameter   number          `json:"cord_diameter_mm"`
	Mass           number          `json:"mass_g"`
	Hung           number          `json:"moving_block_g"`
	Efficiency     rangeJSON       `json:"efficiency"`
	Advantage      rangeJSON       `json:"mechanical_advantage"`
	Raising        rangeJSON       `json:"pull_raising_N"`
	Sinking        rangeJSON       `json:"pull_sinking_N"`
	OldRule        number          `json:"pull_tenth_rule_N"`
	Meter          *number         `json:"force_meter_N"`
	Beam           number          `json:"beam_carries_N"`
	Heaviest       number          `json:"heaviest_g"`
	HeaviestLikely number          `json:"heaviest_likely_g"`
	Capped         bool            `json:"heaviest_capped"`
	Room           number          `json:"lift_available_mm"`
	CordNeeded     number          `json:"cord_needed_mm"`
	CordPulled     number          `json:"cord_pulled_mm"`
	Work           workJSON        `json:"work"`
	Sets           int             `json:"sets_from_stock"`
	Alike          int             `json:"alike"`
	Assumed        []string        `json:"assumed"`
	Steps          []string        `json:"steps"`
}

type hoistRoleJSON struct {
	Role    string `json:"role"`
	Name    string `json:"name"`
	Sheaves int    `json:"sheaves"`
	Used    int    `json:"used"`
}

type workJSON struct {
	In       number `json:"in_J"`
	Load     number `json:"load_J"`
	Block    number `json:"block_J"`
	Friction number `json:"friction_J"`
}

type hoistRefusalJSON struct {
	Rule    string `json:"rule"`
	Count   int    `json:"count"`
	Alone   int    `json:"alone"`
	Nearest string `json:"nearest"`
}

type hoistLessonJSON struct {
	hoistJSON
	Missing string `json:"missing"`
}

type hoistMakingJSON struct {
	Block      string    `json:"block"`
	Sheaves    int       `json:"sheaves"`
	Width      number    `json:"cheek_width_mm"`
	Height     number    `json:"cheek_height_mm"`
	Opening    [2]number `json:"opening_mm"`
	Above      number    `json:"above_opening_mm"`
	AxleAt     number    `json:"axle_below_top_mm"`
	AxleHole   number    `json:"axle_hole_mm"`
	TieAt      number    `json:"tie_below_top_mm"`
	TieHole    number    `json:"tie_hole_mm"`
	Inside     number    `json:"between_cheeks_mm"`
	Spacers    int       `json:"spacers"`
	AxleLength number    `json:"axle_length_mm"`
	LooseFit   number    `json:"running_fit_mm"`
	Warnings   []string  `json:"warnings"`
}

// HoistJSON writes the whole answer for another program. The same result gives the
// same bytes. Errors: from w, or a figure that is not finite.
func HoistJSON(w io.Writer, r *hoist.Result) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(hoistFileOf(r))
}

var hoistStatus = map[hoist.Status]string{hoist.Ranked: "ranked", hoist.NonePossible: "none possible", hoist.StoppedEarly: "stopped early"}

func hoistFileOf(r *hoist.Result) hoistFile {
	b := r.Brief
	f := hoistFile{
		Schema: HoistSchemaVersion, Kind: "findrive hoist", Status: hoistStatus[r.Status], Looked: r.Looked, Passed: r.Passed, Kept: r.Kept,
		Brief: hoistBriefJSON{
			Name: b.Name, Cupboard: r.Cupboard.Name, Mass: number(b.Mass), Lift: number(b.Lift), Beam: number(b.Beam), Hook: number(b.Hook),
			Pull: number(b.Pull), Way: string(b.Way), StandOff: number(b.StandOff), Sets: b.Sets, Cord: b.Cord, Prefer: string(b.Prefer),
		},
		Hoists: []hoistJSON{}, Refusals: []hoistRefusalJSON{}, Makings: []hoistMakingJSON{}, Cautions: hoistCautions(r),
	}
	for i := range r.Hoists {
		f.Hoists = append(f.Hoists, hoistOf(&r.Hoists[i], i+1))
	}
	for _, no := range r.Refusals {
		f.Refusals = append(f.Refusals, hoistRefusalJSON{string(no.Rule), no.Count, no.Alone, no.Nearest})
	}
	for i := range r.Lesson {
		f.Lesson = append(f.Lesson, hoistLessonJSON{hoistOf(&r.Lesson[i].Hoist, i+1), r.Lesson[i].Missing})
	}
	for _, m := range hoistMakings(r) {
		f.Makings = append(f.Makings, makingOf(&m))
	}
	return f
}

func hoistOf(h *hoist.Hoist, rank int) hoistJSON {
	out := hoistJSON{
		Rank: rank, Name: h.Name(), Way: string(h.Way()), Tied: h.Tied.String(), Parts: h.Parts(), Sheaves: h.Sheaves(),
		Cord: h.Cord.Name, CordDiameter: number(h.Cord.Diameter), Mass: number(h.Mass), Hung: number(h.Hung),
		Efficiency: rangeOf(h.Efficiency), Advantage: rangeOf(h.Advantage), Raising: pullOf(h.Raising), Sinking: pullOf(h.Sinking),
		OldRule: number(h.OldRule), Beam: number(h.BeamCarries), Heaviest: number(h.Heaviest), HeaviestLikely: number(h.HeaviestLikely), Capped: h.Capped,
		Room: number(h.LiftAvailable), CordNeeded: number(h.CordNeeded), CordPulled: number(h.CordPulled),
		Work: workJSON{number(h.Work.In), number(h.Work.Load), number(h.Work.Block), number(h.Work.Friction)},
		Sets: h.SetsFromStock, Alike: h.Alike, Assumed: list(h.Assumed), Steps: h.Steps(),
	}
	if h.Meter > 0 {
		out.Meter = finite(float64(h.Meter))
	}
	for _, role := range hoistRoles(h) {
		if role.block != nil {
			out.Blocks = append(out.Blocks, hoistRoleJSON{role.name, role.block.Name, role.block.Sheaves, role.used})
		}
	}
	return out
}

func pullOf(p hoist.Pull) rangeJSON {
	return rangeJSON{Low: number(p.Low), Likely: number(p.Likely), High: number(p.High)}
}

func makingOf(m *hoist.Making) hoistMakingJSON {
	n := func(l units.Millimetres) number { return number(l) }
	return hoistMakingJSON{
		Block: m.Block.Name, Sheaves: m.Block.Sheaves, Width: n(m.Width), Height: n(m.Height), Opening: [2]number{n(m.OpeningWidth), n(m.OpeningHeight)},
		Above: n(m.Above), AxleAt: n(m.AxleAt), AxleHole: n(m.AxleHole), TieAt: n(m.TieAt), TieHole: n(m.TieHole), Inside: n(m.Inside),
		Spacers: m.Spacers, AxleLength: n(m.AxleLength), LooseFit: n(m.LooseFit), Warnings: list(m.Warnings),
	}
}

var hoistHeader = []string{
	"table", "rank", "arrangement", "pulled", "tied_to", "rope_parts", "sheaves", "fixed_block", "moving_block", "lead_at_beam", "lead_at_foot", "cord",
	"mass_g", "pull_low_N", "pull_N", "pull_high_N", "pull_sinking_N", "force_meter_N", "advantage", "efficiency_percent", "cord_needed_mm", "cord_pulled_mm",
	"lift_available_mm", "heaviest_g", "beam_carries_N", "work_in_J", "work_load_J", "work_block_J", "work_friction_J", "sets_from_stock", "measured_pull_N", "measured_cord_mm",
}

// HoistCSV writes one row for each ranked hoist and one for each arrangement of the
// lesson, told apart by the first column; the last two columns are empty, for what a
// class measures. The error is from w.
func HoistCSV(w io.Writer, r *hoist.Result) error {
	out := csv.NewWriter(w)
	rows := [][]string{hoistHeader}
	for i := range r.Hoists {
		rows = append(rows, hoistRow("ranked", i+1, &r.Hoists[i], strconv.Itoa(r.Hoists[i].SetsFromStock)))
	}
	for i := range r.Lesson {
		rows = append(rows, hoistRow("lesson", i+1, &r.Lesson[i].Hoist, ""))
	}
	return out.WriteAll(rows)
}

func hoistRow(table string, rank int, h *hoist.Hoist, sets string) []string {
	row := []string{table, strconv.Itoa(rank), h.Name(), string(h.Way()), h.Tied.String(), strconv.Itoa(h.Parts()), strconv.Itoa(h.Sheaves())}
	for _, role := range hoistRoles(h) {
		name := ""
		if role.block != nil {
			name = role.block.Name
		}
		row = append(row, safe(name))
	}
	meter := ""
	if h.Meter > 0 {
		meter = cell(h.Meter)
	}
	return append(row, safe(h.Cord.Name), cell(h.Mass), cell(h.Raising.Low), cell(h.Raising.Likely), cell(h.Raising.High), cell(h.Sinking.Likely), meter,
		cell(h.Advantage.Likely), cell(100*h.Efficiency.Likely), cell(h.CordNeeded), cell(h.CordPulled), cell(h.LiftAvailable), cell(h.Heaviest), cell(h.BeamCarries),
		cell(h.Work.In), cell(h.Work.Load), cell(h.Work.Block), cell(h.Work.Friction), sets, "", "")
}
