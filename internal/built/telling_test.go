package built

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
)

// Every fault has tellings enough to be learned by, and none is of what is no fault.
func TestTellings(t *testing.T) {
	by := map[Fault]int{}
	for _, l := range allTellings() {
		assert.GreaterOrEqual(t, faultAt(Fault(l.of)), 0, l.of)
		by[Fault(l.of)]++
	}
	for _, l := range linesOf(cluesFile) {
		for _, f := range strings.Fields(l.of) {
			assert.GreaterOrEqual(t, faultAt(Fault(f)), 0, f)
		}
	}
	for i := range faults {
		assert.GreaterOrEqual(t, by[faults[i].fault], 20, faults[i].fault)
	}
}

// TestTellingsLeftOut hears every fifth telling by what was learned from the others: how well
// that holds for what is not among them.
func TestTellingsLeftOut(t *testing.T) {
	terms := newTermTable()
	var learnBy []lesson
	var left []line
	for i, l := range allTellings() {
		of := make([]float64, len(faults))
		of[faultAt(Fault(l.of))] = 1
		if i%5 == 2 {
			left = append(left, l)
		} else {
			learnBy = append(learnBy, lesson{terms.of(l.text), of, 1})
		}
	}
	terms.closed = true
	m, near := learn(learnBy, len(faults)), 0
	for _, l := range left {
		shares, _ := m.shares(terms.of(l.text))
		better := 0
		for k := range shares {
			if shares[k] > shares[faultAt(Fault(l.of))] {
				better++
			}
		}
		if better < 2 {
			near++
		}
	}
	t.Logf("%d of %d are heard as their own fault first or second", near, len(left))
	assert.GreaterOrEqual(t, 100*near, 65*len(left))
}

// TestTellsOf has what people tell with no word of what is wrong.
func TestTellsOf(t *testing.T) {
	for words, want := range map[string]Fault{
		"the batteries came out of an old camera and were in there for years": CellsTired,
		"it clicks whenever the lump in the elastic gets to the top":          BandKnot,
		"somebody squirted furniture polish everywhere":                       GrooveSlippery,
		"you could hang the washing on that elastic":                          BandSlack,
	} {
		got := tellsOf(words, brief.UprightRide, nil)
		best := slices.MaxFunc(got, func(a, b Naming) int { return int(1e6 * (a.Worth - b.Worth)) })
		assert.Equal(t, want, best.Fault, words)
	}
	assert.Empty(t, tellsOf("zzz qqq", brief.UprightRide, nil))
	assert.Empty(t, tellsOf("much too slow", brief.UprightRide, nil))
	for _, n := range tellsOf("the string slips on the drum", brief.UprightRide, nil) {
		assert.NotEqual(t, CordSlipping, n.Fault, "a ride has no cord")
	}
}

// TestLearn has what is learned tell its lessons apart, and be the same every time.
func TestLearn(t *testing.T) {
	const a, b, c, d, e = 0, 1, 2, 3, 4
	list := []lesson{
		{[]term{{a, 1}, {b, 1}}, []float64{1, 0}, 1},
		{[]term{{a, 1}, {c, 1}}, []float64{0, 1}, 1},
		{[]term{{d, 1}}, []float64{0.5, 0.5}, 1},
	}
	first, _ := learn(list, 2).shares([]term{{b, 1}})
	again, _ := learn(list, 2).shares([]term{{b, 1}})
	assert.Equal(t, first, again)
	assert.Greater(t, first[0], 0.9)
	even, heard := learn(list, 2).shares([]term{{d, 1}})
	assert.True(t, heard)
	assert.InDelta(t, 0.5, even[0], 0.1)
	_, heard = learn(list, 2).shares([]term{{e, 1}})
	assert.False(t, heard)
}
