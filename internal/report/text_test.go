package report

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

var update = flag.Bool("update", false, "write the expected pages anew")

// golden holds a page to the one kept in testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got))
}

func page80(t testing.TB, r *design.Result, opt TextOptions) string {
	var out bytes.Buffer
	require.NoError(t, Text(&out, r, opt))
	return out.String()
}

// soundResult is a found result whose drives bear holes out of place.
func soundResult(t testing.TB, model brief.Model) *design.Result {
	r := testResult(t, model)
	for i := range r.Proposals {
		r.Proposals[i].Bears, r.Proposals[i].Forgives, r.Proposals[i].Notes = 2, 2.6, nil
	}
	return r
}

func TestPages(t *testing.T) {
	early := soundResult(t, brief.LevelRide)
	early.Status, early.Open = design.StoppedEarly, early.Proposals[0].Total-2500
	for _, c := range []struct {
		file string
		r    *design.Result
		opt  TextOptions
	}{
		{"shaft.txt", soundResult(t, brief.PlainShaft), TextOptions{Asked: 10, Next: ranked("findrive sheet --rank %d")}},
		{"shaft_full.txt", soundResult(t, brief.PlainShaft), TextOptions{Asked: 10, Full: 3}},
		{"lift.txt", soundResult(t, brief.Lift), TextOptions{Asked: 2, Next: ranked("findrive sheet -c 'a cupboard with a long name.toml' -b lift.toml --calibration counted.toml --rank %d")}},
		{"lift_why.txt", testResult(t, brief.Lift), TextOptions{Why: true, Stats: true, Full: 1}},
		{"vehicle_60.txt", testResult(t, brief.Vehicle), TextOptions{Width: 60, Full: 2}},
		{"early_colour.txt", early, TextOptions{Colour: true, Stats: true, Full: 1}},
		{"none.txt", noneResult(), TextOptions{}},
	} {
		t.Run(c.file, func(t *testing.T) {
			got := page80(t, c.r, c.opt)
			golden(t, c.file, []byte(got))
			require.Equal(t, got, page80(t, c.r, c.opt), "the same result, the same page")
		})
	}
}

// ranked is a command that ends with the rank of a drive.
func ranked(command string) func(int) string {
	return func(rank int) string { return fmt.Sprintf(command, rank) }
}

// TestNoLineTooWide tries every width with names a page can choke on.
func TestNoLineTooWide(t *testing.T) {
	r := testResult(t, brief.Lift)
	q := &r.Proposals[0]
	q.Stages[0].Driver = "大きな滑車と小さな滑車と長い名前の滑車"
	q.Stages[1].Driven = strings.Repeat("unbroken", 20)
	q.Stages[0].Band.Name = "\x1b[31mred\x07 band\n\u202e"
	q.Uses[0].Also = []string{"👩‍🔧 motor", "ａｂｃ"}
	for width := narrowestPage; width <= widestPage+20; width++ {
		for _, r := range []*design.Result{r, noneResult()} {
			text := page80(t, r, TextOptions{Width: width, Full: 3, Why: true, Stats: true, Next: ranked("findrive sheet -c 'my cupboard.toml' -b brief.toml --rank %d")})
			for _, line := range strings.Split(text, "\n") {
				require.LessOrEqual(t, cellWidth.StringWidth(line), min(width, widestPage), "%q", line)
				require.Equal(t, -1, strings.IndexFunc(line, unicode.IsControl), "%q", line)
			}
		}
	}
}

func TestWrapKeepsEveryWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := clean(rapid.String().Draw(t, "text"))
		width := rapid.IntRange(2, 30).Draw(t, "width")
		lines := wrap(s, width)
		for _, l := range lines {
			require.LessOrEqual(t, cellWidth.StringWidth(l), width)
		}
		if !strings.Contains(strings.Join(lines, ""), "?") {
			require.Equal(t, strings.ReplaceAll(s, " ", ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
		}
	})
}

// A name is broken at a hyphen, if it must be broken, and not at all while another cell can give.
func TestNamesAreBrokenAtHyphens(t *testing.T) {
	require.Equal(t, []string{"medium-wooden-", "pulley"}, wrap("medium-wooden-pulley", 19))
	require.Equal(t, []string{"mediumwoodenpulle", "y"}, wrap("mediumwoodenpulley", 17))
	p := newPage(40, false)
	p.table(0, []column{{head: "What"}, {head: "Of it"}}, [][]string{{"medium-wooden-pulley", "many short words are in this cell"}})
	require.Contains(t, p.text.String(), "medium-wooden-pulley")
}

func TestColourOnlyWhenAsked(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	withColour := page80(t, r, TextOptions{Colour: true})
	require.NotContains(t, page80(t, r, TextOptions{}), "\x1b")
	require.Contains(t, withColour, accent)
	without := strings.NewReplacer(bold, "", accent, "", plain, "").Replace(withColour)
	require.Equal(t, page80(t, r, TextOptions{}), without, "colour adds nothing but colour")
}

func TestOutcomeWords(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*design.Result)
		says   string
	}{
		{"proved", func(*design.Result) {}, "Best of all for the summer fair carousel: 2 stages, works in"},
		{"as many as asked", func(*design.Result) {}, "Proved: these are the best 2. For more add -k 4."},
		{"proved one", func(r *design.Result) { r.Proposals = r.Proposals[:1] }, "Proved best. For others add -k 10."},
		{"all there are", func(*design.Result) {}, "Proved: any other would cost over 10 points more than the first, not worth building."},
		{"all there is", func(r *design.Result) { r.Proposals = r.Proposals[:1] }, "Proved: any other drive would cost over 10 points more"},
		{"early", func(r *design.Result) { r.Status, r.Open = design.StoppedEarly, r.Proposals[0].Total-1500 }, "which is 1.5 fewer"},
		{"early, not proved", func(r *design.Result) { r.Status, r.Open = design.StoppedEarly, r.Proposals[0].Total-1500 }, "Stopped early: best so far, not proved, for the summer fair carousel:"},
		{"early but as good", func(r *design.Result) { r.Status, r.Open = design.StoppedEarly, r.Proposals[0].Total }, "No drive still unseen can have fewer points"},
		{"early but best", func(r *design.Result) { r.Status, r.Open = design.StoppedEarly, r.Proposals[0].Total+1 }, "Stopped early, but this is proved the best of all for"},
		{"early with nothing", func(r *design.Result) { r.Status, r.Proposals = design.StoppedEarly, nil }, "That does not prove there is none"},
		{"none", func(r *design.Result) { r.Status, r.Proposals = design.NonePossible, nil }, "Proved: no drive"},
		{"may stand", func(r *design.Result) { r.Proposals[0].Stands = 6 }, "This may not start: in 6 classrooms of 100 it stands still. Best of all"},
		{"works in few", func(r *design.Result) { r.Proposals[0].Works = 9 }, "works in fewer than 1 of 10 classrooms"},
		{"first on the edge", func(r *design.Result) { r.Proposals[0].Bears = 0 }, "Best that is not on the edge for"},
		{"all on the edge", func(r *design.Result) { r.Proposals[0].Bears, r.Proposals[1].Bears = 0, 0.5 }, "Best of all, but on the edge, for"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := testResult(t, brief.PlainShaft)
			for i := range r.Proposals {
				r.Proposals[i].Bears, r.Proposals[i].Stands = 2, 0
			}
			c.change(r)
			opt := TextOptions{Asked: 2}
			if strings.HasPrefix(c.name, "all") {
				opt.Asked = 10
			}
			if c.name == "proved one" {
				opt.Asked = 1
			}
			require.Contains(t, strings.Join(strings.Fields(page80(t, r, opt)), " "), c.says)
		})
	}
}

// TestFull counts the proposals shown in full and holds them to a length that
// is read to its end.
func TestFull(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	for len(r.Proposals) < 7 {
		more := r.Proposals[1]
		more.Rank = len(r.Proposals) + 1
		r.Proposals = append(r.Proposals, more)
	}
	for full, want := range map[int]int{0: 0, 1: 1, 5: 5, 9: 7} {
		text := page80(t, r, TextOptions{Full: full})
		require.Equal(t, want, strings.Count(text, "Why number"), "full %d", full)
		require.Equal(t, 1, strings.Count(text, "Before anyone builds"))
	}
	long := strings.Count(page80(t, r, TextOptions{Full: 2}), "\n") - strings.Count(page80(t, r, TextOptions{Full: 1}), "\n")
	require.LessOrEqual(t, long, 32)
}

// How often the motor turns is what the bands leave of it, and its pull what friction leaves.
// A load that swings in a turn changes nothing about the first.
func TestTurnsAndPullAtWork(t *testing.T) {
	swings := testResult(t, brief.LevelRide).Proposals[0]
	counted := swings.Ratio
	for i := range swings.Stages {
		counted /= 1 - swings.Stages[i].Creep
	}
	require.InDelta(t, counted, atWork(&swings), 1e-6*counted)
	require.Greater(t, float64(swings.Motor.Speed/swings.AtHoles), 1.001*counted, "the motor's speed at the mean torque is another")
	q := testResult(t, brief.PlainShaft).Proposals[0]
	n := q.Ratio
	for i := range q.Stages {
		n /= 1 - q.Stages[i].Creep
	}
	require.InDelta(t, n, atWork(&q), 1e-6*n)
	require.Contains(t, ratioWords(&q), "about "+significant(n, 2)+" motor turns for one of the output, "+significant(q.Ratio, 3)+" by the pulleys.")
	require.Equal(t, "the motor turns 27.4 times for one turn of the output", timesWords(27.4, 27.9))
	require.Equal(t, "the motor turns 11 times for one turn of the output", timesWords(11.02, 11.4))
	demand := q.Drive.DemandAt(testBrief(brief.PlainShaft), drive.Likely)
	gain := float64(demand.Steady / q.Motor.Torque)
	require.InDelta(t, gain, gainOf(&q), 1e-6*gain)
	require.Less(t, gain, q.Ratio)
	require.Contains(t, pullWords(&q), "It turns about "+significant(n, 2)+" times slower than the motor, and pulls "+significant(gain, 2)+" times as hard, friction taken off.")
}

func TestEffortWords(t *testing.T) {
	d := twoStages(testCupboard(), testBrief(brief.PlainShaft), false)
	require.Equal(t, "Making it fit: push fits only.", effortWords(d))
	d.Stages[0].DriverJoint.Kind, d.Stages[0].DrivenJoint.Kind, d.Stages[1].DriverJoint.Kind = drive.Glued, drive.Sleeved, drive.DrilledOut
	require.Equal(t, "Making it fit: 1 drop of glue, 1 sleeve, drill out 1 bore (an adult's job).", effortWords(d))
	// A vehicle's four wheels are work each.
	d.Wheel, d.OutputJoint = &parts.Wheel{}, drive.Joint{Kind: drive.Sleeved}
	require.Equal(t, "Making it fit: 1 drop of glue, 5 sleeves, drill out 1 bore (an adult's job).", effortWords(d))
	d.Wheel = nil
	d.Stages[1].DrivenJoint.Kind = drive.DrilledOut
	require.Contains(t, effortWords(d), "drill out 2 bores (an adult's job)")
}

func TestByPart(t *testing.T) {
	require.Equal(t, []string{"motor: width 20 mm, height 15 mm", "reel: floor 14 mm", "motor: mass 5 g", "told twice"},
		byPart([]string{"motor: width 20 mm", "motor: height 15 mm", "reel: floor 14 mm", "motor: mass 5 g", "told twice"}))
	require.Empty(t, byPart(nil))
}

// TestCellsBreakWhereTheyMay: a cell is one line where there is room, else it
// breaks where it says, and only then anywhere.
func TestCellsBreakWhereTheyMay(t *testing.T) {
	columns := []column{{head: "Way"}, {head: "Note"}, {head: "Size\nmm", right: true, fixed: true}}
	for _, c := range []struct {
		width, indent int
		want          string
	}{
		{48, 0, "Way                    Note              Size mm\nfrom here -> to there  none to speak of        5\n"},
		{47, 0, "Way                    Note              Size\n                                           mm\nfrom here -> to there  none to speak of     5\n"},
		{44, 0, "Way                    Note         Size\n                                      mm\nfrom here -> to there  none            5\n                       to speak of\n"},
		{40, 1, " Way           Note         Size\n                              mm\n from here ->  none            5\n to there      to speak of\n"},
	} {
		p := newPage(c.width, false)
		p.table(c.indent, columns, [][]string{{"from here ->\nto there", "none\nto speak of", "5"}})
		require.Equal(t, c.want, p.text.String())
	}
}

// TestSeenFrom turns the sense round for a reader behind the frame.
func TestSeenFrom(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	require.Contains(t, turnsWords(&r.Proposals[0], r.Brief), "turns clockwise seen from the front")
	r.Brief.Direction.SeenFrom = "back"
	require.Contains(t, turnsWords(&r.Proposals[0], r.Brief), "turns anticlockwise seen from the back")
}

func TestEmptyCupboard(t *testing.T) {
	r := noneResult()
	r.Cupboard, r.Refused = &parts.Cupboard{}, nil
	text := page80(t, r, TextOptions{})
	require.Contains(t, text, "The cupboard has no motor.")
	require.Contains(t, text, "The cupboard has no rubber band.")
	require.NotContains(t, text, "no drum")
	r.Brief.Model = brief.Lift
	require.Contains(t, page80(t, r, TextOptions{}), "The cupboard has no drum.")
	r.Brief.Model = brief.Vehicle
	require.Contains(t, page80(t, r, TextOptions{}), "The cupboard has no wheel.")
}

func TestAdviceForEveryRule(t *testing.T) {
	for _, rule := range constraints.Rules() {
		require.NotContains(t, advice(rule), "Relax the rule", "%s", rule)
	}
}

func TestRounding(t *testing.T) {
	require.Equal(t, "45.5", mm(45.3))
	require.Equal(t, "45", mm(45.2))
	require.Equal(t, "45.5", mmUp(45.1))
	require.Equal(t, "45", mmDown(45.4))
	require.Equal(t, "0", mm(-0.1))
	for v, want := range map[units.RPM]string{20.4: "20", 343: "340", 5.24: "5.2", 12345: "12000", 0.0123: "0.012", 0: "0", 99.6: "100", 9.96: "10"} {
		require.Equal(t, want, rpm(v))
	}
	require.Equal(t, "18 %", percent(0.1849))
	require.Equal(t, "6.125", points(6125))
}

// The distance between shafts is that of the very holes to a tenth, as on the sheets.
func TestCentresAreThoseOfTheHoles(t *testing.T) {
	q := testResult(t, brief.PlainShaft).Proposals[0]
	p := newPage(80, false)
	p.stages(&q, false)
	for i := range q.Stages {
		a, b := q.Drive.Positions[i], q.Drive.Positions[i+1]
		require.Contains(t, p.text.String(), "  "+trimmed(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)), 1)+"  ")
	}
}
