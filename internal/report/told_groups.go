package report

import (
	"fmt"
	"strings"

	"findrive/internal/groups"
	"findrive/internal/making"
	"findrive/internal/units"
)

// ToldGroups is how a class is served, in the words of GroupsText.
type ToldGroups struct {
	Outcome string   // how many groups can build at the same time
	Proof   string   // what is proved of that; empty if none can
	Drives  []string // which, one for each share
	Make    string   // which pulleys are made of discs before that; may be empty
	Gone    string   // what is used up, or too little for another group; may be empty
}

// TellGroups puts it into words.
func TellGroups(r *groups.Result) *ToldGroups {
	t := &ToldGroups{Outcome: units.Capital(groupsOutcome(r))}
	if r.Served == 0 {
		return t
	}
	t.Proof = groupsProof(r)
	for _, s := range r.Shares {
		t.Drives = append(t.Drives, strings.ReplaceAll(fmt.Sprintf("%s: %s", ideaSpeed(s.Drive), driveLine(s.Drive)), " -> ", " > "))
	}
	if made := madeByGroups(r); len(made) > 0 {
		t.Make = "Before that, " + making.WordsOf(made) + "."
	}
	t.Gone = goneWords(r)
	return t
}
