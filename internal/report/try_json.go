package report

import (
	"encoding/json"
	"io"
	"slices"

	"findrive/internal/built"
	"findrive/internal/layout"
)

// TrySchemaVersion is raised when a key of the file of a tried drive changes its
// meaning or goes. Keys may be added without raising it.
const TrySchemaVersion = 1

type tryFile struct {
	Schema   int            `json:"schema"`
	Kind     string         `json:"kind"` // "tried drive"
	Name     string         `json:"name"`
	Model    string         `json:"model"`
	Stops    string         `json:"stops"` // empty: it turns
	Target   *number        `json:"target_rpm"`
	Speed    rangeJSON      `json:"speed_rpm"`
	Travel   *rangeJSON     `json:"travel_m_s"`
	Turns    string         `json:"turns"` // of the output, seen from the front
	Ratio    *number        `json:"ratio"`
	Motor    tryMotorJSON   `json:"motor"`
	Stages   []tryStageJSON `json:"stages"`
	Weakest  int            `json:"weakest_stage"`
	Findings []findingJSON  `json:"findings"`
	Frame    *inFrameJSON   `json:"frame"`  // null if the file has none
	Advice   *adviceJSON    `json:"advice"` // of the first symptom that has a measure
	// Found is what may be wrong by all that was told; null if nothing was.
	Found    *diagnosisJSON `json:"diagnosis"`
	Answers  []answerJSON   `json:"answers"`
	Cautions []string       `json:"cautions"`
}

type tryMotorJSON struct {
	Name    string  `json:"name"`
	Cells   int     `json:"cells"`
	Speed   *number `json:"speed_rpm"`
	Share   *number `json:"share_of_stall"`
	Current *number `json:"current_A"`
	Minutes *number `json:"minutes"`
	Stall   number  `json:"stall_mNm"`
}

type tryStageJSON struct {
	Driver   string  `json:"driver"`
	Driven   string  `json:"driven"`
	Band     string  `json:"band"`
	Use      string  `json:"use"`
	Crossed  bool    `json:"crossed"`
	Centre   number  `json:"centre_mm"`
	Stretch  *number `json:"stretch"`
	Arc      *number `json:"arc_deg"`
	Ratio    *number `json:"ratio"`
	Running  *number `json:"grip_running"`
	Starting *number `json:"grip_starting"`
	Creep    *number `json:"creep"`
}

type findingJSON struct {
	Rule   string `json:"rule"`
	Stage  int    `json:"stage"`
	Broken bool   `json:"broken"`
	Miss   number `json:"miss"`
	Says   string `json:"says"`
}

type inFrameJSON struct {
	Given     bool        `json:"motor_given"`
	Holes     [][2]number `json:"holes_mm"` // motor first, from the lower left inside corner
	Room      edgesJSON   `json:"room_mm"`
	Depth     number      `json:"depth_left_mm"`
	Otherwise [][2]number `json:"would_fit_at_mm"` // null if not looked for, or none found
}

type edgesJSON struct {
	Left  number `json:"left"`
	Right number `json:"right"`
	Below number `json:"below"`
	Above number `json:"above"`
}

type answerJSON struct {
	Question string   `json:"question"`
	Short    string   `json:"short"`
	Says     []string `json:"says"`
}

type adviceJSON struct {
	Symptom string      `json:"symptom"`
	Shows   bool        `json:"shows"`
	Trouble number      `json:"trouble"`
	Causes  []causeJSON `json:"causes"`
	Unseen  []string    `json:"unseen"`
	One     *changeJSON `json:"one_change"`
	Two     *changeJSON `json:"two_changes"`
	Staged  *changeJSON `json:"more_stages"` // a drive of more stages that cures, where no change does
	Enough  []string    `json:"enough"`      // what would cure, where no change does
}

type causeJSON struct {
	Name    string `json:"name"`
	Stage   int    `json:"stage"`
	Unusual bool   `json:"unusual"`
	Says    string `json:"says"`
	Takes   number `json:"takes"`
}

type changeJSON struct {
	Steps   []string  `json:"steps"`
	Trouble number    `json:"trouble"`
	Broken  int       `json:"broken_rules"`
	Stops   string    `json:"stops"`
	Speed   rangeJSON `json:"speed_rpm"`
}

// TryJSON writes a built drive that was worked out, and what may be wrong if
// something was told, and to questions, for other programs. Figures that are not known are null. The error
// is from w.
func TryJSON(w io.Writer, t *built.Working, found *built.Diagnosis, replies []*built.Reply) error {
	q := asProposal(t)
	d := t.Build.Drive
	f := tryFile{
		Schema: TrySchemaVersion, Kind: "tried drive", Name: t.Build.Name, Model: string(t.Build.Brief.Model), Stops: string(t.Stops),
		Target: positive(t.Target), Speed: speedJSON(t), Turns: string(q.Turns), Ratio: positive(t.Ratio),
		Motor: tryMotorJSON{Name: d.Motor.Name, Cells: d.Holder.Cells, Speed: positive(t.MotorSpeed()), Share: positive(t.Motor.Share),
			Current: positive(t.Motor.Current), Minutes: positive(t.Motor.Minutes), Stall: number(t.Motor.Stall)},
		Weakest: t.SlipsFirst + 1, Cautions: tryCautions(t), Stages: []tryStageJSON{}, Findings: []findingJSON{}, Answers: []answerJSON{},
	}
	f.Frame = inFrameOf(t.InFrame)
	for _, r := range replies {
		f.Answers = append(f.Answers, answerJSON{string(r.Question), r.Short, append(slices.Clone(r.Faults), r.Says...)})
	}
	if l := t.Linear; l != nil {
		f.Travel = &rangeJSON{Low: number(l.Low), Likely: number(l.Likely), High: number(l.High)}
	}
	for i := range t.Stages {
		f.Stages = append(f.Stages, triedStage(t, i))
	}
	for _, v := range t.Findings {
		f.Findings = append(f.Findings, findingJSON{string(v.Rule), v.Stage, v.Broken, number(v.Miss), clean(v.Says)})
	}
	if found != nil {
		f.Found = diagnosisOf(found)
		if len(found.Advice) > 0 {
			f.Advice = adviceOf(found.Advice[0])
		}
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}

func speedJSON(t *built.Working) rangeJSON {
	return rangeJSON{Low: number(t.Speed.Low), Likely: number(t.Speed.Likely), High: number(t.Speed.High)}
}

// positive is a figure that is only known if it is above 0.
func positive[T ~float64](v T) *number {
	if !(v > 0) {
		return nil
	}
	return finite(float64(v))
}

func triedStage(t *built.Working, i int) tryStageJSON {
	s, st := &t.Stages[i], &t.Build.Drive.Stages[i]
	out := tryStageJSON{Driver: st.Driver.Name, Driven: st.Driven.Name, Band: st.Band.Name, Use: st.Use.String(), Crossed: st.Crossed, Centre: number(s.Fitted.Centre)}
	if !s.Overlaps {
		out.Stretch, out.Ratio = positive(s.Fitted.Stretch), positive(s.Fitted.Ratio)
		out.Arc = finite(min(s.Fitted.DriverArc, s.Fitted.DrivenArc).Degrees())
	}
	if t.Ratio > 0 {
		out.Running, out.Starting = finite(s.GripRunning), finite(s.GripStarting)
	}
	if s.TightStretch > 0 {
		out.Creep = finite(s.Creep)
	}
	return out
}

func adviceOf(a *built.Advice) *adviceJSON {
	out := &adviceJSON{Symptom: string(a.Symptom), Shows: a.Shows(), Trouble: number(a.Trouble), Causes: []causeJSON{}, Unseen: list(a.Unseen), One: changeOf(a.One), Two: changeOf(a.Two), Staged: changeOf(a.Staged), Enough: list(a.Enough)}
	for _, c := range a.Causes {
		out.Causes = append(out.Causes, causeJSON{c.Name, c.Stage, c.Unusual, clean(c.Says), number(c.Takes)})
	}
	return out
}

func changeOf(c *built.Change) *changeJSON {
	if c == nil {
		return nil
	}
	return &changeJSON{Steps: c.Steps, Trouble: number(c.Now), Broken: c.BrokenNow, Stops: string(c.After.Stops), Speed: speedJSON(c.After)}
}

func inFrameOf(in *built.InFrame) *inFrameJSON {
	if in == nil {
		return nil
	}
	points := func(at []layout.Point) (out [][2]number) {
		for _, p := range at {
			out = append(out, [2]number{number(p.X), number(p.Y)})
		}
		return out
	}
	return &inFrameJSON{Given: in.Given, Holes: points(in.Holes), Depth: number(in.Depth), Otherwise: points(in.Otherwise),
		Room: edgesJSON{number(in.Left.Room), number(in.Right.Room), number(in.Bottom.Room), number(in.Top.Room)}}
}

// RepliesJSON writes answers that need no drive, for other programs. The error is from w.
func RepliesJSON(w io.Writer, t *built.Working, replies []*built.Reply) error {
	f := struct {
		Schema  int          `json:"schema"`
		Kind    string       `json:"kind"` // "answers"
		Name    string       `json:"name"`
		Answers []answerJSON `json:"answers"`
	}{TrySchemaVersion, "answers", clean(t.Build.Name), []answerJSON{}}
	for _, r := range replies {
		f.Answers = append(f.Answers, answerJSON{string(r.Question), r.Short, append(slices.Clone(r.Faults), r.Says...)})
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(f)
}
