package leeway

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
)

// A pulley for the motor is thought of only where none there sits on it, be it with a
// sleeve.
func TestMotorPulley(t *testing.T) {
	cup := &parts.Cupboard{
		Pulleys: []parts.Pulley{{Item: parts.Item{Name: "twenty", Count: 9}, Outside: 20, GrooveFloor: 16, Bore: 5}},
		Motors:  []parts.Motor{{Item: parts.Item{Name: "m", Count: 2}, ShaftDiameter: 2}},
	}
	p := motorPulley(cup, brief.Making{})
	require.NotNil(t, p)
	assert.Equal(t, "of a pulley 10 mm across with a 2 mm bore", pulleyWords(p))
	assert.Less(t, p.GrooveFloor, p.Outside)
	assert.Greater(t, p.GrooveFloor, p.Bore)
	cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "s", Count: 2}, Inner: 2, Outer: 5, Length: 8}}
	assert.Nil(t, motorPulley(cup, brief.Making{}))
	cup.Sleeves, cup.Pulleys[0].Bore = nil, 2
	assert.Nil(t, motorPulley(cup, brief.Making{}))
}

// Of several new pulleys as many are got as all groups take, and none that the drive does
// not take.
func TestSeveralAreCounted(t *testing.T) {
	of := []parts.Pulley{{Item: parts.Item{Name: "a", Count: plenty}, Outside: 10, Bore: 2}, {Item: parts.Item{Name: "b", Count: plenty}, Outside: 60, Bore: 5}, {Item: parts.Item{Name: "c", Count: plenty}, Outside: 80, Bore: 5}}
	c := Case{Cupboard: &parts.Cupboard{Pulleys: []parts.Pulley{{Item: parts.Item{Name: "old", Count: 3}}}}, Brief: &brief.Brief{Sets: 3}}
	q := &design.Proposal{Uses: []design.Use{{Kind: "pulley", Name: "a", Each: 1}, {Kind: "pulley", Name: "c", Each: 2}, {Kind: "pulley", Name: "old", Each: 2}}}
	w := severalMore(c, of)
	assert.Equal(t, "get 3 more of pulley old and 3 of a pulley 10 mm across with a 2 mm bore and 6 of a pulley 80 mm across with a 5 mm bore", w.Words(c, q))
	w.Make(c, 1, q)
	count := map[string]int{}
	for _, p := range c.Cupboard.Pulleys {
		count[p.Name] = p.Count
	}
	assert.Equal(t, map[string]int{"old": 6, "a": 3, "c": 6}, count)
}

// Of pulleys that lie in two tubs no more are got than both together are short of.
func TestTubsOfTheLikeAreOne(t *testing.T) {
	c := Case{Cupboard: &parts.Cupboard{Pulleys: []parts.Pulley{{Item: parts.Item{Name: "old", Count: 3}}, {Item: parts.Item{Name: "new", Count: 2}}, {Item: parts.Item{Name: "other", Count: 1}}}}, Brief: &brief.Brief{Sets: 3}}
	q := &design.Proposal{Uses: []design.Use{{Kind: "pulley", Name: "new", Also: []string{"old"}, Each: 2}, {Kind: "pulley", Name: "other", Each: 1}}}
	w := severalMore(c, nil)
	assert.Equal(t, "get 1 more of pulley new and 2 more of pulley other", w.Words(c, q))
	w.Make(c, 1, q)
	assert.Equal(t, []int{3, 3, 3}, []int{c.Cupboard.Pulleys[0].Count, c.Cupboard.Pulleys[1].Count, c.Cupboard.Pulleys[2].Count})
}

// Sleeves of several sizes are got only where those of none by themselves are enough: to get some
// of one size, and to get these and others, are no two ways.
func TestSleevesOfSeveralSizes(t *testing.T) {
	item := parts.Item{Name: "p", Count: 1}
	c := Case{Cupboard: &parts.Cupboard{
		Pulleys: []parts.Pulley{{Item: item, Outside: 30, GrooveFloor: 26, Bore: 6.4}},
		Motors:  []parts.Motor{{Item: item, ShaftDiameter: 2}},
		Axles:   []parts.AxleStock{{Item: item, Diameter: 5}},
	}, Brief: &brief.Brief{Sets: 1}}
	several := 0
	for _, w := range rods(c)[0].Ways {
		with := c.Copy()
		w.Apply(with, w.Most)
		if len(with.Cupboard.Sleeves) > 1 {
			several++
			assert.True(t, w.Last)
		}
	}
	assert.Equal(t, 1, several)
}

// No tube has a wall of 0.2 mm: where a bore is that little too wide, paper is wound round, and
// the cupboard says so of it.
func TestThinSleevesAreWoundOfPaper(t *testing.T) {
	item := parts.Item{Name: "p", Count: 1}
	c := Case{Cupboard: &parts.Cupboard{
		Pulleys: []parts.Pulley{{Item: item, Outside: 30, GrooveFloor: 26, Bore: 6.4}},
		Motors:  []parts.Motor{{Item: item, ShaftDiameter: 2}},
		Axles:   []parts.AxleStock{{Item: item, Diameter: 6}},
	}, Brief: &brief.Brief{Sets: 2}}
	fresh := newSleeves(c.Cupboard)
	require.Len(t, fresh, 2)
	thick, thin := fresh[0].Name, fresh[1].Name
	taking := func(uses ...design.Use) *design.Proposal { return &design.Proposal{Uses: uses} }
	for _, w := range rods(c)[0].Ways {
		with := c.Copy()
		q := taking(design.Use{Kind: "sleeve", Name: thick, Each: 1}, design.Use{Kind: "sleeve", Name: thin, Each: 3})
		if w.Most != 1 || strings.Contains(w.Words(with, q), "more of") {
			continue
		}
		w.Make(with, 1, q)
		edits, _ := Edits(c, with, q)
		text, err := tomledit.Apply("cupboard.toml", nil, edits...)
		require.NoError(t, err)
		read, err := parts.Read("cupboard.toml", text)
		require.NoError(t, err)
		bought, wound := read.Item("sleeve", thick), read.Item("sleeve", thin)
		switch words := w.Words(with, q); {
		case bought != nil && wound != nil:
			assert.Equal(t, "get 2 of a sleeve 2 mm inside and 6.4 mm outside and wind strips of paper round, for 6 sleeves 6 mm inside and 6.4 mm outside (no tube is so thin)", words)
		case bought != nil:
			assert.Equal(t, "get 2 of a sleeve 2 mm inside and 6.4 mm outside", words)
			assert.Contains(t, bought.Assumed, toGet)
		default:
			assert.Equal(t, "wind strips of paper round, for 6 sleeves 6 mm inside and 6.4 mm outside (no tube is so thin)", words)
			assert.Equal(t, 6, wound.Count)
			assert.Contains(t, wound.Assumed, toWind)
			assert.NotContains(t, string(text), "to be got")
		}
	}
}
