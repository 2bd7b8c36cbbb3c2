package built

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// Every sign has sayings, none is under a heading that is no sign, and each is heard as its
// own sign.
func TestSayings(t *testing.T) {
	by := map[Symptom]int{}
	for _, s := range sayings().list {
		assert.Contains(t, Signs(), Symptom(s.of))
		by[Symptom(s.of)]++
	}
	for _, s := range Signs() {
		assert.GreaterOrEqual(t, by[s], 5, s)
		model := brief.UprightRide
		if on := signOf[s]; len(on) > 0 {
			model = on[0]
		}
		got := Hear(string(s), model)
		assert.Equal(t, s, got[0].Sign)
		assert.True(t, got[0].Exact)
	}
	assert.Equal(t, len(Signs()), len(by))
	wrong, all := 0, 0
	sign := Symptom("")
	for _, line := range strings.Split(sayingsFile, "\n") {
		if strings.HasPrefix(line, "[") {
			sign = Symptom(strings.Trim(line, "[]"))
		} else if line != "" && line[0] != '#' && line != string(sign) {
			model := brief.UprightRide
			if on := signOf[sign]; len(on) > 0 {
				model = on[0]
			}
			all++
			if h := Hear(line, model); len(h) == 0 || !slices.ContainsFunc(h, func(h Hearing) bool { return h.Sign == sign }) {
				wrong++
				t.Logf("%q is heard as %v, not %q", line, h, sign)
			}
		}
	}
	assert.LessOrEqual(t, wrong, all/50, "%d of %d", wrong, all)
}

// What went well on one day and is slow on another has become slower, whatever it is.
func TestSlowerFromDayToDay(t *testing.T) {
	for _, model := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift} {
		for _, words := range []string{
			"ran fine on Monday, on Friday half as fast", "on Monday it was fast, on Friday slow", "on Tuesday good, on Thursday it crawls",
			"fine last week, this week half as fast", "it ran fine yesterday, today it is slow",
		} {
			got := Hear(words, model)
			if assert.Len(t, got, 1, "%s: %q", model, words) {
				assert.Equal(t, Slower, got[0].Sign, "%s: %q", model, words)
			}
		}
	}
	ride := Hear("quick going down, slow going up", brief.LevelRide)
	assert.Equal(t, Uneven, ride[0].Sign)
}

// TestSayingsLeftOut hears each saying by all the others: how well they hold for what is not
// among them.
func TestSayingsLeftOut(t *testing.T) {
	book := sayings()
	right, near := 0, 0
	for i := range book.list {
		s := &book.list[i]
		model := brief.UprightRide
		if on := signOf[Symptom(s.of)]; len(on) > 0 {
			model = on[0]
		}
		scores := book.without(i).likeness(s.terms)
		for _, h := range hearClause(s.words, model) {
			scores[string(h.Sign)] += outright
		}
		order := SignsOn(model)
		slices.SortStableFunc(order, func(a, b Symptom) int { return cmp.Compare(scores[string(b)], scores[string(a)]) })
		if string(order[0]) == s.of {
			right++
		}
		if string(order[0]) == s.of || string(order[1]) == s.of {
			near++
		}
	}
	t.Logf("%d of %d sayings are heard as their own sign, %d as first or second", right, len(book.list), near)
	assert.GreaterOrEqual(t, 100*right, 45*len(book.list))
}

// FuzzHear holds that no words stop the program, and that only signs that can be seen are
// heard.
func FuzzHear(f *testing.F) {
	f.Add("it hums and the band squeeks")
	f.Add("")
	f.Add("wheels spin on the floor, but slow; 9 turns")
	f.Add("ÄÖ \x00 ’’ -- 1234")
	f.Fuzz(func(t *testing.T, words string) {
		for _, h := range Hear(words, brief.Lift) {
			if !slices.Contains(SignsOn(brief.Lift), h.Sign) {
				t.Fatalf("%q was heard as %q", words, h.Sign)
			}
		}
	})
}

// without is the book without one of its sayings: what it knows of that from the others.
func (b *phrasebook) without(i int) *phrasebook {
	out := newBook()
	for k := range b.list {
		if k != i {
			out.list = append(out.list, b.list[k])
			out.add(&b.list[k])
		}
	}
	return out.measure()
}
