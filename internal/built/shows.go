package built

// background is how likely a sign is with a fault that has nothing to do with it: there
// may always be two faults at once (judgement).
const background = 0.03

// shows is how likely each sign is seen, heard or felt with a fault (judgement, from the
// causes that the craft names for each; common practice). What the drive's own numbers
// say of speed and standing still comes on top; see seen in diagnose.go.
var shows = map[Symptom]map[Fault]float64{
	TooFast: {CellsMany: 1, MotorOther: 1, PulleysSwapped: 1, PulleyWrong: 1, WheelWrong: 1, DrumWrong: 1},
	TooSlow: {CellsTired: 1, AxleStiff: 1, BandSlack: 0.7, BandTight: 0.7, PulleyLoose: 0.5, CellReversed: 1, MotorOther: 1, PulleysSwapped: 1, PulleyWrong: 1, Rubbing: 0.7,
		LoadHeavy: 0.7, WheelWrong: 1, DrumWrong: 1, BandWrong: 0.6, AxleBent: 0.5, CellsFew: 1, BandAged: 0.5, GrooveSlippery: 0.4, LoadLopsided: 0.3, MotorOneWay: 0.6, CircuitOpen: 0.1},
	WrongWay:   {LeadsSwapped: 1, BandCrossed: 1, CellReversed: 0.15, CordWinding: 0.5},
	Nothing:    {CircuitOpen: 1, CellReversed: 0.8, CellsTired: 0.4, ShortCircuit: 0.4, AxleStiff: 0.15, BandTight: 0.15, LoadHeavy: 0.15, BandOff: 0.1},
	NoGo:       {AxleStiff: 1, BandTight: 1, LoadHeavy: 0.9, CellsTired: 0.6, Rubbing: 0.5, LoadLopsided: 0.1, CellReversed: 0.3, BandWrong: 0.5, AxleBent: 0.3, CellsFew: 0.5, PulleysSwapped: 0.3, MotorOther: 0.3},
	NeedsPush:  {AxleStiff: 1, BandTight: 0.8, CellsTired: 0.7, LoadHeavy: 0.6, LoadLopsided: 0.2, Rubbing: 0.5, AxleBent: 0.4, CircuitOpen: 0.15, CellsFew: 0.4},
	MotorOnly:  {PulleyLoose: 1, BandSlack: 0.9, BandOff: 1, WheelLoose: 1, BandWrong: 0.4, GrooveSlippery: 0.4, AxleStiff: 0.2, LoadHeavy: 0.3, CordSlipping: 0.3},
	Jerks:      {AxleBent: 1, BandKnot: 1, PulleyWobble: 1, LoadLopsided: 0.5, Rubbing: 0.4, BandWide: 0.2, AxleAskew: 0.2, PulleyLoose: 0.15},
	Uneven:     {LoadLopsided: 1, AxleBent: 0.2},
	Rubs:       {Rubbing: 1, AxleBent: 0.3, AxleStiff: 0.4, AxleAskew: 0.2, PulleyWobble: 0.2, AxleLoose: 0.2},
	Rattles:    {AxleLoose: 1, PulleyWobble: 0.7, AxleBent: 0.6, MotorLoose: 0.5, Rubbing: 0.4, PulleyLoose: 0.3},
	Wobbles:    {AxleBent: 1, PulleyWobble: 1, AxleLoose: 0.6, LoadLopsided: 0.6, AxleAskew: 0.3},
	Hot:        {ShortCircuit: 1, BandTight: 0.35, LoadHeavy: 0.35, AxleStiff: 0.3, CellsMany: 0.3, Rubbing: 0.15},
	CellsHot:   {ShortCircuit: 1, LoadHeavy: 0.1, AxleStiff: 0.1, BandTight: 0.1},
	MotorRaces: {PulleyLoose: 1, BandSlack: 1, BandOff: 0.5, WheelLoose: 0.8, GrooveSlippery: 0.8, BandWrong: 0.4, PulleyWrong: 0.3, DrumWrong: 0.3, WheelWrong: 0.3, CellsMany: 0.5, MotorOther: 0.4, BandAged: 0.5},
	Strains: {AxleStiff: 1, LoadHeavy: 1, BandTight: 1, Rubbing: 0.7, BandWrong: 0.5, AxleBent: 0.5, PulleysSwapped: 0.5, LoadLopsided: 0.4, CellsTired: 0.4, CellsFew: 0.4, CellReversed: 0.3,
		PulleyWrong: 0.3, WheelWrong: 0.3, DrumWrong: 0.3, MotorOther: 0.2},
	Slips:      {BandSlack: 1, GrooveSlippery: 1, LoadHeavy: 0.6, AxleStiff: 0.5, BandAged: 0.5, PulleyLoose: 0.3, BandWrong: 0.5, LoadLopsided: 0.3, PulleysSwapped: 0.8, PulleyWrong: 0.4},
	JumpsOff:   {OutOfLine: 1, BandSlack: 0.5, BandWide: 0.8, PulleyWobble: 0.7, MotorLoose: 0.6, BandKnot: 0.5, AxleBent: 0.4, BandWrong: 0.3},
	Climbs:     {OutOfLine: 1, BandWide: 1, PulleyWobble: 0.5, BandTight: 0.1},
	Slack:      {BandSlack: 1, BandAged: 0.8, BandWrong: 0.8, MotorLoose: 0.4},
	Overtight:  {BandTight: 1, BandWrong: 0.6, AxleBent: 0.1},
	Snaps:      {BandAged: 1, BandTight: 1, BandWrong: 0.4, Rubbing: 0.2},
	RubsItself: {BandCrossed: 1},
	Slower:     {CellsTired: 1, BandAged: 0.8, AxleStiff: 0.15, PulleyLoose: 0.15, GrooveSlippery: 0.15},
	Fades:      {CellsTired: 1, AxleStiff: 0.5, BandSlack: 0.4, BandTight: 0.2, PulleyLoose: 0.4, GrooveSlippery: 0.3, LoadHeavy: 0.3},
	Odd: {AxleStiff: 1, CellsTired: 0.9, BandTight: 0.7, MotorOther: 0.4, Rubbing: 0.6, BandSlack: 0.5, PulleyLoose: 0.4, CellReversed: 0.4, BandWrong: 0.4, PulleyWrong: 0.4,
		PulleysSwapped: 0.3, LoadHeavy: 0.3, WheelWrong: 0.4, DrumWrong: 0.4, AxleBent: 0.3},
	FloorSpin:   {GripFloor: 1, WheelWrong: 0.1},
	Curves:      {AxleAskew: 1, WheelWrong: 0.25, Rubbing: 0.2, WheelLoose: 0.3},
	CordSlips:   {CordSlipping: 1, PulleyLoose: 0.3, LoadHeavy: 0.3},
	CordOff:     {CordWinding: 1},
	RunsBack:    {NoCatch: 1},
	LoadStops:   {LoadHeavy: 1, LoadLopsided: 0.9, BandSlack: 0.4, CellsTired: 0.4, AxleStiff: 0.2, GrooveSlippery: 0.2, PulleyLoose: 0.2},
	MotorMoves:  {MotorLoose: 1, BandTight: 0.2},
	OneWay:      {MotorOneWay: 1, MotorLoose: 0.1, PulleyLoose: 0.1},
	CutsOut:     {CircuitOpen: 1, CellsTired: 0.2, PulleyLoose: 0.2},
	PulleyTurns: {PulleyLoose: 1, WheelLoose: 0.4},
	Stiff:       {AxleStiff: 1, BandTight: 0.9, AxleBent: 0.4, Rubbing: 0.4, BandWrong: 0.2},
}
