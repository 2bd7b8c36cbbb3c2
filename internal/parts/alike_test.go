package parts

import (
	"cmp"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every dimension tells parts apart: of two that differ in one field only, whichever it is,
// one may not be taken for the other, but for what is set aside.
func TestPartsThatDifferAreNotAlike(t *testing.T) {
	assert.Empty(t, setAside(PulleyKinds))
	assert.Equal(t, []string{"Size"}, setAside(BandKinds), "a trade number is a name")
	assert.Equal(t, []string{"Mass"}, setAside(MotorKinds), "no rule weighs a motor")
	assert.Empty(t, setAside(HolderKinds))
	assert.Equal(t, []string{"Length"}, setAside(AxleKinds), "axles are cut from rods of any length")
	assert.Equal(t, []string{"Length"}, setAside(SleeveKinds), "each use takes a piece")
	assert.Empty(t, setAside(WheelKinds))
	assert.Empty(t, setAside(DrumKinds))

	forgetful := func(list []Pulley) []Kind[Pulley] {
		return kindsOf(list, func(p *Pulley) *Item { return &p.Item }, func(a, b *Pulley) int { return cmp.Compare(a.Outside, b.Outside) })
	}
	assert.Contains(t, setAside(forgetful), "Bore", "what is forgotten is found")
}

// setAside lists the fields, but for those of Item, in which parts may differ and be alike.
func setAside[P any](kinds func([]P) []Kind[P]) []string {
	var out []string
	for i, of := 0, reflect.TypeFor[P](); i < of.NumField(); i++ {
		if field := of.Field(i); field.Name != "Item" {
			two := make([]P, 2)
			change(reflect.ValueOf(&two[1]).Elem().Field(i))
			if len(kinds(two)) == 1 {
				out = append(out, field.Name)
			}
		}
	}
	return out
}

func change(v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(7)
	case reflect.Int:
		v.SetInt(7)
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
	}
}

// How much of a part is assumed is charged, but for a sleeve's, and so tells parts apart.
func TestWhatIsAssumedTellsPartsApart(t *testing.T) {
	known, taken := Item{Name: "a"}, Item{Name: "b", Assumed: []string{"bore taken as 5 mm"}}
	assert.Len(t, PulleyKinds([]Pulley{{Item: known}, {Item: taken}}), 2)
	assert.Len(t, AxleKinds([]AxleStock{{Item: known}, {Item: taken}}), 2)
	assert.Len(t, SleeveKinds([]Sleeve{{Item: known}, {Item: taken}}), 1)
}

func TestKindsAreInTheOrderOfEquals(t *testing.T) {
	kinds := PulleyKinds([]Pulley{
		{Item: Item{Name: "wide", Count: 1}, Outside: 30, Width: 8}, {Item: Item{Name: "z", Count: 2}, Outside: 20},
		{Item: Item{Name: "narrow", Count: 3}, Outside: 30, Width: 6}, {Item: Item{Name: "a", Count: 5}, Outside: 20},
	})
	assert.Len(t, kinds, 3)
	assert.Equal(t, Kind[Pulley]{Part: Pulley{Item: Item{Name: "a", Count: 5}, Outside: 20}, Names: []string{"a", "z"}, Count: 7}, kinds[0])
	assert.Equal(t, []string{"narrow"}, kinds[1].Names)
	assert.Equal(t, 0, Find(kinds, "z"))
	assert.Equal(t, -1, Find(kinds, "none"))
	assert.Equal(t, []int{2}, Asked(kinds, "wide"))
	assert.Equal(t, []int{0, 1, 2}, Asked(kinds, ""))
}
