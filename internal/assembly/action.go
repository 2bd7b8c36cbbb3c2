package assembly

// Verb is what is done in one movement of the hands.
type Verb string

// The verbs, each with the one that undoes it where there is one.
const (
	Saw       Verb = "saw everything to length"
	MakeSides Verb = "make the two sides"
	Dry       Verb = "wait until the glue is dry"
	Clamp     Verb = "clamp the sides together"
	Drill     Verb = "drill both sides at once"
	Unclamp   Verb = "take the clamps off"
	Bear      Verb = "fix a bearing on a side"
	Join      Verb = "join the sides"

	CutOut Verb = "cut out a disc"
	Bore   Verb = "make the hole of a disc"
	Stack  Verb = "glue discs on one another for a pulley"
	True   Verb = "true a pulley up by turning it"

	OpenBore  Verb = "open a bore"
	PackOut   Verb = "push a sleeve into a bore"
	GlueJoint Verb = "put a drop of glue where a part sits on its shaft"

	Enter   Verb = "push a rod through the front side"
	Thread  Verb = "thread a part on the rod's free end"
	Hang    Verb = "hang a band over the shaft's free end"
	Through Verb = "push the rod on into the back side"
	// Withdraw, Unthread, Unhang and Retreat undo them.
	Withdraw Verb = "pull the rod out of the front side"
	Unthread Verb = "take a part off the rod's free end"
	Unhang   Verb = "take a band off over the shaft's free end"
	Retreat  Verb = "pull the rod out of the back side"

	Seat   Verb = "lift a band onto both pulleys"
	Unseat Verb = "lift a band off both pulleys"

	Cap   Verb = "push a part on an end outside the frame"
	Uncap Verb = "pull a part off an end outside the frame"

	Attach Verb = "fit a part"
	Detach Verb = "take a part off"
)

// inverse is the verb that undoes another; "" if none does.
func (v Verb) inverse() Verb {
	for _, pair := range [...][2]Verb{{Enter, Withdraw}, {Thread, Unthread}, {Hang, Unhang}, {Through, Retreat}, {Seat, Unseat}, {Cap, Uncap}, {Attach, Detach}, {PackOut, ""}} {
		switch v {
		case pair[0]:
			return pair[1]
		case pair[1]:
			return pair[0]
		}
	}
	return ""
}

// Action is one movement. Which fields count depends on the verb.
type Action struct {
	Verb  Verb
	Shaft int
	Part  int // a loop is named by its part
	// Turns is how often a loop goes round; Crossed says that the shaft is on the other
	// side of the band's crossing than the first one it was hung on; First that it hung
	// on nothing before.
	Turns   int
	Crossed bool
	First   bool
	Back    bool // Cap, Uncap: on the back end
}
