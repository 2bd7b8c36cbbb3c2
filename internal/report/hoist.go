package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"findrive/internal/hoist"
	"findrive/internal/units"
)

// HoistOptions steer HoistText.
type HoistOptions struct {
	Width  int  // as TextOptions
	Colour bool // as TextOptions
	Full   int  // how many hoists are shown in full; 0 means 2, less than 0 none
	Why    bool // also what the rules refused, when hoists were found
}

// hoistsInFull is how many hoists are shown in full unless asked otherwise.
const hoistsInFull = 2

// HoistText writes the answer to a hoist brief for the person who is to build and
// teach: the outcome in plain words, what the usual questions are answered with, the
// ranked hoists, the lesson, how blocks are made, cautions. The error is from w.
func HoistText(w io.Writer, r *hoist.Result, opt HoistOptions) error {
	p := newPage(opt.Width, opt.Colour)
	full := opt.Full
	if full == 0 {
		full = hoistsInFull
	}
	p.hoistOutcome(r)
	if len(r.Hoists) > 0 {
		p.hoistAnswers(r)
		p.hoistSummary(r)
	}
	for i := range r.Hoists {
		if i >= full {
			break
		}
		p.hoist(r, i)
	}
	if len(r.Hoists) == 0 || opt.Why {
		p.hoistRefusals(r)
	}
	p.lesson(r)
	p.makings(r)
	p.blank()
	p.heading("Before anyone lifts")
	for _, s := range hoistCautions(r) {
		p.hang(0, 2, "- "+s)
	}
	p.say(0, "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func (p *page) hoistOutcome(r *hoist.Result) {
	task := "to lift " + mass(r.Brief.Mass)
	if r.Brief.Mass == 0 {
		task = "to lift as much as it can"
	}
	task += " by " + metre(r.Brief.Lift)
	switch r.Status {
	case hoist.NonePossible:
		p.heading(fmt.Sprintf("%s: nothing in this cupboard can be rove %s.", r.Brief.Name, task))
		if r.Looked == 0 {
			p.say(0, nothingToReeve(r))
			return
		}
		p.say(0, fmt.Sprintf("All %s were looked at. Below is what stood in the way.", ways(r.Looked)))
	case hoist.StoppedEarly:
		p.heading(fmt.Sprintf("%s: stopped early, %s found so far %s.", r.Brief.Name, count(r.Kept, "arrangement"), task))
	default:
		p.heading(fmt.Sprintf("%s: %s %s, best first.", r.Brief.Name, count(r.Kept, "arrangement"), task))
		p.say(0, fmt.Sprintf("All %s were looked at, each choice of blocks and cord counted; %d can be built and keep the limits.", ways(r.Looked), r.Passed))
	}
}

// nothingToReeve says what is out of stock where no way of threading could be looked at.
func nothingToReeve(r *hoist.Result) string {
	var out []string
	if len(r.Cupboard.Blocks) == 0 {
		out = append(out, "no pulley block")
	}
	switch {
	case len(r.Cupboard.Cords) == 0:
		out = append(out, "no cord")
	case r.Brief.Cord != "":
		out = append(out, "no cord "+r.Brief.Cord)
	}
	if len(out) == 0 {
		return "No way of threading was found to look at."
	}
	return fmt.Sprintf("The cupboard has %s left (count = 0): get what is missing, then ask again.", strings.Join(out, " and "))
}

func ways(n int) string {
	if n == 1 {
		return "1 way of threading"
	}
	return fmt.Sprintf("%d ways of threading", n)
}

// hoistAnswers says what people ask first, in their own words.
func (p *page) hoistAnswers(r *hoist.Result) {
	h := &r.Hoists[0]
	p.blank()
	p.heading("In short")
	p.hang(0, 2, fmt.Sprintf("- Which? %s. It needs a pull of about %s (%s) for %s.",
		units.Capital(h.Title()), newtons(h.Raising.Likely), newtonRange(h.Raising), mass(h.Mass)))
	p.hang(0, 2, "- How heavy a load will it lift? "+howHeavy(r.Brief, h))
	p.hang(0, 2, "- How much string? "+howMuchString(r, h))
	p.hang(0, 2, "- Two blocks or one? "+twoOrOne(r))
}

func howHeavy(b *hoist.Brief, h *hoist.Hoist) string {
	if h.Capped {
		return mass(h.Heaviest) + ", and no more: that is the cap for a classroom."
	}
	s := fmt.Sprintf("With a pull of %s, %s for sure and likely %s", newtons(b.Pull), massDown(h.Heaviest), massDown(h.HeaviestLikely))
	if h.HeaviestLikely == hoist.HeaviestLoad {
		return s + ", which is the cap for a classroom."
	}
	return s + "."
}

func howMuchString(r *hoist.Result, h *hoist.Hoist) string {
	s := fmt.Sprintf("Cut %s of %s for each hoist", metre(h.CordNeeded), h.Cord.Name)
	if r.Brief.Sets > 1 {
		s += fmt.Sprintf(", %s for %d", metre(h.CordNeeded*units.Millimetres(r.Brief.Sets)), r.Brief.Sets)
	}
	return s + fmt.Sprintf(". The hand pulls in %s for a lift of %s: %s the lift.", metre(h.CordPulled), metre(r.Brief.Lift), timesAs(h.Parts()))
}

// twoOrOne compares the fixed pulley with two singles, from the lesson.
func twoOrOne(r *hoist.Result) string {
	one, two := &r.Lesson[0], &r.Lesson[2]
	return fmt.Sprintf("One fixed pulley needs about %s for %s: no gain, but it is pulled down from the floor. Two single blocks need about %s and twice the cord.",
		newtons(one.Raising.Likely), mass(one.Mass), newtons(two.Raising.Likely))
}

func (p *page) hoistSummary(r *hoist.Result) {
	p.blank()
	columns := []column{{head: "No.", right: true, fixed: true}, {head: "Arrangement"}, {head: "Pulled", fixed: true}, {head: "Parts", right: true, fixed: true},
		{head: "Pull", right: true, fixed: true}, {head: "Cord", right: true, fixed: true}, {head: "Room", right: true, fixed: true}, {head: "Lifts", right: true, fixed: true}, {head: "Sets", right: true, fixed: true}}
	var rows [][]string
	for i := range r.Hoists {
		h := &r.Hoists[i]
		rows = append(rows, []string{
			fmt.Sprint(i + 1), h.Name(), string(h.Way()), fmt.Sprint(h.Parts()), newtons(h.Raising.Likely), metre(h.CordNeeded),
			metre(h.LiftAvailable), massDown(h.Heaviest), fmt.Sprint(h.SetsFromStock),
		})
	}
	p.table(0, columns, rows)
	pull := ""
	if r.Brief.Mass == 0 {
		pull = fmt.Sprintf("Pull: what %s needs, the most that hoist 1 lifts for sure. ", mass(r.Load))
	}
	p.say(0, pull+"Parts: rope parts that hold the load. Room: lift until the blocks meet. Lifts: for sure, with the comfortable pull. Sets: hoists from stock.")
	if more := r.Kept - len(r.Hoists); more > 0 {
		p.say(0, fmt.Sprintf("%s more keep the limits; --keep shows them.", count(more, "arrangement")))
	}
}

func (p *page) hoist(r *hoist.Result, i int) {
	h := &r.Hoists[i]
	p.blank()
	p.heading(fmt.Sprintf("%d. %s", i+1, units.Capital(h.Title())))
	p.say(3, h.Gain())
	p.blank()
	p.fact("Pull", fmt.Sprintf("about %s (%s); to get it moving allow for the most", newtons(h.Raising.Likely), newtonRange(h.Raising)))
	if h.Raising.High > r.Brief.Pull*(1+1e-9) {
		p.fact("", fmt.Sprintf("with much friction it is over the %s that is comfortable", newtons(r.Brief.Pull)))
	}
	p.fact("Coming down", fmt.Sprintf("about %s: friction now helps the hand", newtons(h.Sinking.Likely)))
	p.fact("Force meter", meter(h))
	p.fact("Gain", fmt.Sprintf("%d without friction, about %s with it (%s to %s); %s of the work arrives", h.Parts(), significant(h.Advantage.Likely, 2), significant(h.Advantage.Low, 2), significant(h.Advantage.High, 2), percent(h.Efficiency.Likely)))
	p.fact("Old rule", fmt.Sprintf("a tenth of the load for each sheave: %s", newtons(h.OldRule)))
	p.fact("Cord", howMuchString(r, h))
	p.fact("Room", fmt.Sprintf("it can rise %s before the blocks meet", metre(h.LiftAvailable)))
	p.fact("Beam", fmt.Sprintf("must hold %s and a good deal more: load, blocks and pull", newtons(h.BeamCarries)))
	p.fact("Blocks", blocks(h))
	p.fact("Stock", fmt.Sprintf("enough for %s like this one", count(h.SetsFromStock, "hoist")))
	if h.Alike > 0 {
		p.fact("", fmt.Sprintf("%s of blocks and cord thread the same way and would do", count(h.Alike, "other choice")))
	}
	for k, fact := range h.Assumed {
		head := ""
		if k == 0 {
			head = "Assumed"
		}
		p.fact(head, fact)
	}
	p.blank()
	p.say(3, "To thread it:")
	for k, step := range h.Steps() {
		p.hang(3, 6, fmt.Sprintf("%d. %s", k+1, step))
	}
}

func meter(h *hoist.Hoist) string {
	if h.Meter == 0 {
		return "none of the usual ones is large enough"
	}
	return fmt.Sprintf("take one up to %s", newtons(h.Meter))
}

// blocks lists the blocks by their roles.
func blocks(h *hoist.Hoist) string {
	var out []string
	for _, role := range hoistRoles(h) {
		if role.block != nil {
			used := role.used
			text := fmt.Sprintf("%s %s", role.name, role.block.Name)
			if idle := role.block.Sheaves - used; idle > 0 {
				text += fmt.Sprintf(" (%s empty)", count(idle, "sheave"))
			}
			out = append(out, text)
		}
	}
	return strings.Join(out, ", ")
}

func (p *page) hoistRefusals(r *hoist.Result) {
	if r.Looked == 0 {
		return
	}
	p.blank()
	p.heading("What stood in the way")
	for _, no := range r.Refusals {
		alone := ""
		if no.Alone > 0 {
			alone = fmt.Sprintf(", %s as the only one", times(int64(no.Alone)))
		}
		p.hang(0, 2, fmt.Sprintf("- %s: refused %s%s. Nearest: %s.", no.Rule, times(int64(no.Count)), alone, no.Nearest))
	}
	if r.Status == hoist.NonePossible {
		p.blank()
		p.say(0, "What to change: "+hoistAdvice(r)+".")
	}
}

// hoistAdvice says what would help: against rules that stand alone in the way of some hoist,
// or else what was tried and does, of several things at once where it must be.
func hoistAdvice(r *hoist.Result) string {
	advice := map[hoist.Rule]string{
		hoist.WayRule:    "let the puller stand elsewhere (way = \"any\")",
		hoist.FitRule:    "thinner cord",
		hoist.StockRule:  "fewer hoists at once, or more blocks",
		hoist.RiseRule:   "a higher beam, a smaller lift, or smaller blocks",
		hoist.PullRule:   "a lighter load, a greater pull, or blocks with more sheaves",
		hoist.StrongRule: "stronger cord",
		hoist.LengthRule: "more cord, a lower beam, or fewer hoists at once",
	}
	if r.Brief.Mass == 0 {
		advice[hoist.PullRule] = "a greater pull, or lighter blocks"
	}
	var alone, tried, always []string
	for _, no := range r.Refusals {
		if no.Alone > 0 {
			alone = append(alone, advice[no.Rule])
		}
		if no.Count == r.Looked {
			always = append(always, advice[no.Rule])
		}
	}
	for _, e := range r.Eases {
		tried = append(tried, eased(r.Brief, e))
	}
	switch {
	case len(alone) > 0:
		return strings.Join(alone, "; or ")
	case len(tried) > 0:
		return strings.Join(tried, "; or ") + ". That was tried, and something can be rove then"
	case len(always) > 0:
		return "no one thing is enough; begin with what stands in the way of all: " + strings.Join(always, "; and ")
	}
	return "no one thing is enough; begin with " + advice[r.Refusals[0].Rule]
}

// eased is a change of a brief in words.
func eased(b *hoist.Brief, e hoist.Ease) string {
	var out []string
	if e.Sets > 0 {
		out = append(out, fmt.Sprintf("%s at once, not %d (blocks and cord are enough for no more)", count(e.Sets, "hoist"), b.Sets))
	}
	if e.Way != "" {
		out = append(out, "let the puller stand elsewhere (way = \"any\")")
	}
	if e.Load > 0 {
		out = append(out, "a load of "+mass(e.Load)+" at most")
	}
	if e.Pull > 0 {
		out = append(out, "a pull of "+newtons(e.Pull))
	}
	return strings.Join(out, ", and ")
}

// hoistCautions are the reminders for lifting; common practice in schools and no
// risk assessment.
func hoistCautions(r *hoist.Result) []string {
	out := []string{
		"Lifted loads fall: put a sand tray or cushion below, and keep feet and hands out from under.",
		fmt.Sprintf("Never more than %s in a classroom, and nothing over people.", mass(hoist.HeaviestLoad)),
		"A tackle runs back when it is let go: belay the cord on a peg or cleat, and lower by hand, never by dropping.",
		"Try the beam, hooks and knots first with a hand's pull at twice the load, from the side.",
		"Fingers stay out of the blocks; cord never goes round a hand, a wrist or a neck.",
	}
	for i := range r.Cupboard.Blocks {
		if r.Cupboard.Blocks[i].HomeMade {
			return append(out, "Cutting and drilling the cheeks of blocks is an adult's job or closely supervised.")
		}
	}
	return out
}

// mass shows a mass in grams, or in kilograms from 1 kg up.
func mass(g units.Grams) string {
	if g >= 1000 {
		return trimmed(float64(g)/1000, 2) + " kg"
	}
	return trimmed(float64(g), 0) + " g"
}

// massDown shows a mass that is surely lifted: two digits, rounded down.
func massDown(g units.Grams) string { return mass(hoist.WholeGrams(g)) }

// newtons shows a force as a force meter can tell it: two digits.
func newtons(f units.Newtons) string { return significant(float64(f), 2) + " N" }

func newtonRange(q hoist.Pull) string {
	return significant(float64(q.Low), 2) + " to " + significant(float64(q.High), 2) + " N"
}

// metre shows a length of cord or a height: in millimetres below a metre.
func metre(l units.Millimetres) string {
	if l < 1000 {
		return trimmed(math.Floor(float64(l)+1e-6), 0) + " mm"
	}
	return trimmed(float64(l)/1000, 2) + " m"
}

// whole is a sentence: begun with a capital and ended, if it does not ask or call.
func whole(s string) string {
	s = units.Capital(s)
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// timesAs says how many times as much, once as people say it.
func timesAs(n int) string {
	if n == 1 {
		return "as much as"
	}
	return fmt.Sprintf("%d times", n)
}
