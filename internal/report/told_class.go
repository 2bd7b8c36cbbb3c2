package report

import (
	"fmt"
	"strings"

	"findrive/internal/measure"
)

// ToldClass is what the counts of a class teach, in the words of ClassText, piece by piece.
type ToldClass struct {
	Head    string
	Due     string   // where the dots were due, under the plot
	Groups  []string // what each counted, in the order given
	Teaches []string // what the class as a whole says
	Apart   []ToldApart
	Note    string // how sure all that is
}

// ToldApart is a group whose model stands apart from the others.
type ToldApart struct {
	Head     string
	Against  string   // its count and that of the others
	Look     []string // what to look at first
	Suspects []ToldSuspect
}

// TellClass puts it into words.
func TellClass(c *measure.Class) *ToldClass {
	unit, per := c.Scale()
	t := &ToldClass{
		Head:    fmt.Sprintf("The class's counts on %s: %s", clean(c.Build.Name), count(len(c.Groups), "group")),
		Due:     "Worked out, this drive should stand still.",
		Teaches: classTeaches(c, unit, per),
		Note:    "Ranges hold about 19 times in 20. A group stands apart if chance would put it there about once in a hundred; that is a reason to look, and no fault of the group.",
	}
	if c.Due.Likely > 0 {
		t.Due = fmt.Sprintf("is where they were due: %s to %s.", significant(c.Due.Low()*per, 2), significant(c.Due.High()*per, 2))
	}
	for i := range c.Groups {
		g := &c.Groups[i]
		t.Groups = append(t.Groups, groupWords(g, unit, per))
		if g.Found != nil {
			t.Apart = append(t.Apart, tellApart(c, g, unit, per))
		}
	}
	return t
}

// lookFirst comes before the looks at a model that stands apart.
const lookFirst = " Look first, in one minute:"

// tellApart says what the numbers of a model that stands apart point to.
func tellApart(c *measure.Class, g *measure.Group, unit string, per float64) ToldApart {
	word, against := "slower", "the middle"
	if g.Apart > 0 {
		word = "faster"
	}
	if !c.Enough {
		against = "the forecast"
	}
	t := ToldApart{
		Head:     fmt.Sprintf("%s: %s than the rest", clean(g.Name), word),
		Against:  fmt.Sprintf("%s %s, where %s is %s."+lookFirst, significant(float64(g.Turns)*per, 3), unit, against, significant(float64(c.Middle)*per, 3)),
		Suspects: curesStand(tellSuspects(c.Build, g.Found, g.Found.Leading(mostSuspects))),
	}
	if g.Found.Beyond {
		t.Against = strings.TrimSuffix(t.Against, lookFirst) + " " + tooFarWords
	}
	for _, s := range g.Found.Looks() {
		t.Look = append(t.Look, whole(s))
	}
	return t
}
