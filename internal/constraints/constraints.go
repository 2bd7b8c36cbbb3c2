// Package constraints holds the rules a drive must obey, one file a rule: the
// limit with its source, the test, and the sentence that says why a particular
// part was refused.
package constraints

// Rule names a rule. The names are part of the machine output.
type Rule string

// The rules, in the order in which the reports list them.
const (
	Stock          Rule = "stock"
	Fit            Rule = "fit"
	Groove         Rule = "groove"
	SmallGroove    Rule = "smallest groove"
	Stretch        Rule = "stretch"
	Arc            Rule = "arc of contact"
	CrossedSpacing Rule = "crossed spacing"
	RunningStretch Rule = "running stretch"
	Grip           Rule = "grip"
	GripStart      Rule = "grip at starting"
	TooManyVolts   Rule = "volts"
	MotorStarts    Rule = "motor starts"
	MotorRuns      Rule = "motor runs"
	HeldBack       Rule = "held back"
	Traction       Rule = "traction"
	Direction      Rule = "direction"
	Depth          Rule = "lanes in the depth"
	HoleWall       Rule = "wall round holes"
	Floor          Rule = "clear of the floor"
	Room           Rule = "room in the frame"
	Speed          Rule = "speed"
	Contest        Rule = "contest" // what a contest asks besides
)

// Rules lists every rule.
func Rules() []Rule {
	return []Rule{Stock, Fit, Groove, SmallGroove, Stretch, Arc, CrossedSpacing, RunningStretch,
		Grip, GripStart, TooManyVolts, MotorStarts, MotorRuns, HeldBack, Traction, Direction, Depth, HoleWall, Floor, Room, Speed, Contest}
}

// Refusal is a rule saying no.
type Refusal struct {
	Rule Rule
	// Miss is how far short it fell, as a share of the limit: 0.1 means a tenth.
	// It serves to pick out the nearest miss.
	Miss float64
	// Say gives the sentence. It is made only where it is asked for: most refusals are only
	// counted. Those that are as near a miss as the nearest so far are asked for it too, as
	// the first by alphabet is shown.
	Say func() string
}

// refuse makes a refusal.
func refuse(rule Rule, miss float64, say func() string) *Refusal {
	return &Refusal{Rule: rule, Miss: miss, Say: say}
}
