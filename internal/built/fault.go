package built

import (
	"slices"

	"findrive/internal/brief"
)

// Fault is something that can be wrong with a model that is built: not with what its file
// says, but between the file and the table.
type Fault string

// The faults.
const (
	CellsTired     Fault = "cells-tired"
	CellReversed   Fault = "cell-reversed"
	CellsMany      Fault = "cells-many"
	CellsFew       Fault = "cells-few"
	CircuitOpen    Fault = "circuit-open"
	ShortCircuit   Fault = "short-circuit"
	LeadsSwapped   Fault = "leads-swapped"
	AxleStiff      Fault = "axle-stiff"
	AxleBent       Fault = "axle-bent"
	AxleLoose      Fault = "axle-loose"
	AxleAskew      Fault = "axle-askew"
	Rubbing        Fault = "rubs"
	PulleyLoose    Fault = "pulley-loose"
	PulleyWobble   Fault = "pulley-wobble"
	PulleysSwapped Fault = "pulleys-swapped"
	PulleyWrong    Fault = "pulley-wrong"
	WheelWrong     Fault = "wheel-wrong"
	WheelLoose     Fault = "wheel-loose"
	DrumWrong      Fault = "drum-wrong"
	MotorOther     Fault = "motor-other"
	MotorLoose     Fault = "motor-loose"
	MotorOneWay    Fault = "motor-one-way"
	BandTight      Fault = "band-tight"
	BandSlack      Fault = "band-slack"
	BandOff        Fault = "band-off"
	BandWrong      Fault = "band-wrong"
	BandWide       Fault = "band-wide"
	BandKnot       Fault = "band-knot"
	BandAged       Fault = "band-aged"
	BandCrossed    Fault = "band-crossed"
	OutOfLine      Fault = "out-of-line"
	GrooveSlippery Fault = "groove-slippery"
	LoadHeavy      Fault = "load-heavy"
	LoadLopsided   Fault = "load-lopsided"
	GripFloor      Fault = "grip-floor"
	CordSlipping   Fault = "cord-slips"
	CordWinding    Fault = "cord-off"
	NoCatch        Fault = "no-catch"
)

// about is what is known of a fault: how common it is, what it is in words, how it is seen
// within a minute, and what cures it.
type about struct {
	fault Fault
	// prior is how common it is among all faults, in parts (judgement, in the order in
	// which the craft names causes; common practice).
	prior float64
	says  string
	look  string // what to do and see within a minute; empty where only parts are compared
	mend  string
	costs bool // the cure takes a part that is new
	on    []brief.Model
}

// faults are all faults, commonest first.
var faults = []about{
	{CellsTired, 12, "the cells are tired", "put in cells that are new, or swap them with a group whose model runs well", "put in fresh cells", true, nil},
	{AxleStiff, 10, "an axle turns stiffly in its holes", "take the bands off and flick each axle: it should coast two turns or more", "free the axle: holes 0.5 to 1 mm larger than the rod, and in line. No glue in them. Wax the rod", false, nil},
	{BandSlack, 7, "a band is too slack to pull", "press the middle of each band: it should give a finger's width and spring back", "move the axles apart a little, or use a shorter band, or two side by side", false, nil},
	{BandTight, 7, "a band is too tight, and all its pull rubs in the bearings", "slip one band off at a time: does the motor run freely then?", "move the axles a little nearer, or put on a longer or thinner band", false, nil},
	{PulleyLoose, 7, "a pulley turns on its axle", "draw a pencil line over each pulley and its axle. Run it. Do the lines still meet?", "wrap the axle with paper or tape, or put a drop of glue on", false, nil},
	{CircuitOpen, 7, "the circuit is open: a switch, a joint or a contact in the holder", "touch the motor's wires straight to the holder for a moment", "make the joint good; bend the contacts of the holder out", false, nil},
	{LoadHeavy, 5, "it has more to move than was meant", "weigh the load; try it with half of it", "take some of the load off", false, nil},
	{OutOfLine, 5, "two pulleys of a stage are not in line", "look along the band: it must run straight into both grooves", "slide one pulley along its axle until the band runs straight", false, nil},
	{Rubbing, 4, "something rubs on the frame", "turn it by hand and look for what touches", "put a washer or a bead between, or cut away what touches", false, nil},
	{CellReversed, 5, "one cell is the wrong way round", "look at the cells: each end with a knob to the mark +", "turn that cell round", false, nil},
	{MotorOther, 5, "it is another motor than the file says", "compare the motor with one of another group", "put in the motor that was meant, or write this one into the file", false, nil},
	{LeadsSwapped, 5, "the motor's two wires are the other way round", "swap the two wires on the holder", "swap the motor's two wires", false, nil},
	{LoadLopsided, 5, "one side of the load is heavier", "let it turn freely without its last band: does the same side always end below?", "move weight to the light side until it stays wherever it is put", false, []brief.Model{brief.UprightRide, brief.LevelRide}},
	{PulleysSwapped, 4, "two pulleys have changed places", "follow it from the motor: each stage must go from its small to its large pulley, as the file says", "put each pulley where the file has it", false, nil},
	{PulleyWrong, 7, "a pulley of another size is on", "measure the pulleys across and compare with the file", "put on the pulley that was meant", false, nil},
	{AxleBent, 4, "an axle is bent, or goes through its hole aslant", "roll the rod on the table: does it hop?", "cut a straight rod", true, nil},
	{CellsMany, 4, "there are more cells in it than the file says", "count the cells", "use the holder that was meant", false, nil},
	{BandWrong, 5, "a band of another size is on", "lay the band flat and measure it", "put on the band that was meant", false, nil},
	{WheelWrong, 6, "the wheels are of another size", "measure a wheel across", "put on the wheels that were meant", false, []brief.Model{brief.Vehicle}},
	{DrumWrong, 6, "the drum is of another size, or cord lies on it in layers", "measure the drum across, with the cord on it", "put on the drum that was meant, or let the cord lie in one layer", false, []brief.Model{brief.Lift}},
	{GripFloor, 4, "the driven wheels have too little weight on them, or are too smooth", "press lightly on the driven axle: does it go then?", "move the cells over the driven axle; put a rubber band round each driven wheel", false, []brief.Model{brief.Vehicle}},
	{MotorLoose, 4, "the motor moves in its mount", "hold the motor still with a finger while it runs", "strap the motor at both ends, on a block that does not give", false, nil},
	{BandOff, 3, "a band has come off", "look at each band", "put it on again, and look why it came off", false, nil},
	{PulleyWobble, 3, "a pulley sits aslant or out of the middle", "turn it slowly and look at its rim from the side", "glue it square, or sleeve its bore so that it sits in the middle", false, nil},
	{BandAged, 3, "a band is old: it has lost its pull, or cracks", "stretch it: cracks, or it does not spring back to its length", "put on a new band, and take bands off after each lesson", true, nil},
	{CellsFew, 3, "there are fewer cells in it than the file says", "count the cells", "use the holder that was meant", false, nil},
	{GrooveSlippery, 3, "a groove is slippery: glue, oil, paint or dust in it", "wipe the groove and the band with a dry cloth, and try again", "clean the groove and roughen it with glass paper", false, nil},
	{WheelLoose, 3, "a wheel turns on its axle", "draw a pencil line over the wheel and its axle. Run it. Do the lines still meet?", "wrap the axle with paper or tape, or put a drop of glue on", false, []brief.Model{brief.Vehicle}},
	{BandKnot, 2, "a band has a knot or a joint in it", "look at the band all the way round", "put on a band without a knot", true, nil},
	{BandCrossed, 2, "a band is crossed that should not be, or open that should be crossed", "follow each band with a finger", "put the band on as the file has it", false, nil},
	{BandWide, 2, "a band is too wide for its groove, or twisted in it", "look whether the band lies in the groove all round", "put on a narrower band, two side by side if need be", true, nil},
	{ShortCircuit, 2, "two bare wires touch: a short circuit", "take the cells out at once, and look for bare ends that touch", "part the wires and cover the bare ends", false, nil},
	{CordSlipping, 2, "the cord is not fast on its drum", "hold the drum and pull the cord", "tape or knot the end of the cord to the drum", false, []brief.Model{brief.Lift}},
	{CordWinding, 2, "the cord runs off the end of the drum, or winds on the wrong way", "watch where the cord meets the drum", "glue a card disc to each end of the drum. Let the cord come from below its middle", false, []brief.Model{brief.Lift}},
	{NoCatch, 2, "nothing holds the load when the motor stands: bands let it run back", "", "put a peg or a catch on the drum", false, []brief.Model{brief.Lift}},
	{AxleAskew, 2, "an axle is not square to the frame", "measure from one axle to the other on both sides", "move one end until both sides measure the same", false, nil},
	{AxleLoose, 2, "an axle has too much play in its holes", "lift the axle with a finger", "put a straw or a tube in the hole", false, nil},
	{MotorOneWay, 2, "the motor is made to run better one way round", "swap the wires and listen to the motor alone", "take another motor, or cross a band and turn the motor the other way", true, nil},
}

// aboutFault is what is known of a fault.
func aboutFault(f Fault) *about {
	i := slices.IndexFunc(faults, func(a about) bool { return a.fault == f })
	if i < 0 {
		return &about{fault: f, says: string(f)}
	}
	return &faults[i]
}

// Says is the fault in words, a sentence without its full stop.
func (f Fault) Says() string { return aboutFault(f).says }
