package built

import (
	"slices"
	"strings"

	"findrive/internal/brief"
)

// People name what is wrong as a thing and its state: a loose wire, the axle is bent, a band
// that is too long. things and states are the words for both, with * as in meanings.
var things = map[string]string{
	"battery": "batter* battr* cell cells accumulator* aa aas",
	"wire":    "wire wires lead leads contact* connect* connection* terminal* crocodile clip clips solder* joint spring",
	"switch":  "switch switches",
	"motor":   "motor* engine*",
	"axle":    "axle* axel* rod rods stick sticks dowel* shaft* skewer* spindle* pole poles bar bars mast needle needles spoke spokes",
	"hole":    "hole holes bearing* bush*",
	"pulley":  "pulley* pully* pullies disc* disk* sheave* hub",
	"wheel":   "wheel* tyre* tire tires castor*",
	"drum":    "drum* reel* spool* bobbin* winch*",
	"band":    "band bands elastic* rubber belt* rubber-band",
	"cord":    "cord* string* thread* rope* twine line yarn wool*",
	"groove":  "groove* slot*",
	"load":    "load* weight* mass bucket passenger* people rider* figure* seat* gondola* plasticine clay",
	"floor":   "floor* carpet lino table tiles vinyl",
}

var states = map[string]string{
	"loose":    "loose* slack* sag* floppy limp droop* dangl* undone wobbly unstuck flap* adrift",
	"tight":    "tight* stiff* jam* bind* stuck seiz* taut gritty",
	"fixed":    "fixed tied glued attached fastened secured fast stuck",
	"straight": "straight true flat",
	"squared":  "level parallel square",
	"lined":    "line lined align* inline opposite",
	"bent":     "bent bend* bow bowed warp* crook* buckl*",
	"sways":    "wobbl* sway* tilt* wonky eccentric off-centre offcentre waggl* rock rocks rocked rocking throb*",
	"aslant":   "askew slant* aslant skew* angle diagonal* squint crooked",
	"other":    "size* bigger smaller larger thinner narrower shorter longer wrong different another instead substitut* replac* borrow* toy* kit",
	"wider":    "thicker fatter wider broader",
	"large":    "big large long huge",
	"wide":     "thick fat wide broad",
	"small":    "small short thin tiny narrow little",
	"swapped":  "swap* swop* mixed exchang* transposed belong* muddled",
	"turned":   "upside backwards reversed back-to-front other opposite",
	"off":      "off",
	"gone":     "fallen missing gone lying lies",
	"more":     "extra more additional too-many",
	"fewer":    "fewer only",
	"old":      "old flat weak tired dying empty low dim perish* crack* brittle worn aged fray* rotten dried since sticky",
	"oily":     "oil oiled oily oils grease* greasy polish* wax* paint* wet glue dusty talc* slippery soap* butter* cream smooth shiny pva",
	"knotted":  "knot* join joined splice* staple*",
	"crossed":  "cross* eight figure",
	"heavy":    "heavy heavier heaviest overload*",
	"rubs":     "rub rubs rubbing scrap* scratch* catches touches brush* graz*",
	"hot":      "hot smok* burn* spark* melt*",
	"bad":      "broken broke rust* rusty corrod* dodgy snapped disconnect* faulty bad intermittent wiggl* jiggl*",
	"bare":     "bare short shorted",
	"slides":   "slid* slop* sideways endways",
	"inside":   "inside",
	"much":     "much many",
}

// denied are the states that say something where they are denied: the state that is meant.
var denied = map[string]string{"fixed": "loose", "straight": "crooked", "squared": "unsquared", "lined": "unlined", "tight": "loose", "large": "small", "small": "large"}

// sizes say something of a thing only where they are too much.
var sizes = map[string]bool{"large": true, "wide": true, "small": true}

// state of a thing is a fault.
var ofThings = map[string]map[string][]Fault{
	"battery": {"old": {CellsTired}, "turned": {CellReversed}, "more": {CellsMany}, "fewer": {CellsFew}, "gone": {CellsFew}, "loose": {CircuitOpen}, "bad": {CircuitOpen}, "hot": {ShortCircuit}, "swapped": {CellReversed}, "other": {CellsMany, CellsFew}},
	"switch":  {"bad": {CircuitOpen}, "loose": {CircuitOpen}},
	"wire":    {"loose": {CircuitOpen}, "off": {CircuitOpen}, "gone": {CircuitOpen}, "bad": {CircuitOpen}, "bare": {ShortCircuit}, "hot": {ShortCircuit}, "swapped": {LeadsSwapped}, "turned": {LeadsSwapped}},
	"motor":   {"turned": {LeadsSwapped}, "unsquared": {MotorLoose}, "loose": {MotorLoose}, "aslant": {MotorLoose}, "other": {MotorOther}, "sways": {MotorLoose}},
	"axle":    {"slides": {AxleLoose}, "tight": {AxleStiff}, "bent": {AxleBent}, "crooked": {AxleBent}, "sways": {AxleBent}, "loose": {AxleLoose}, "aslant": {AxleAskew}, "unsquared": {AxleAskew}, "rubs": {Rubbing}},
	"hole":    {"tight": {AxleStiff}, "small": {AxleStiff}, "wide": {AxleLoose}, "large": {AxleLoose}, "loose": {AxleLoose}, "oily": {AxleStiff}, "other": {AxleLoose}},
	"pulley":  {"loose": {PulleyLoose}, "sways": {PulleyWobble}, "crooked": {PulleyWobble}, "aslant": {PulleyWobble}, "bent": {PulleyWobble}, "other": {PulleyWrong}, "wider": {PulleyWrong}, "large": {PulleyWrong}, "wide": {PulleyWrong}, "small": {PulleyWrong}, "swapped": {PulleysSwapped}, "turned": {PulleysSwapped}, "unlined": {OutOfLine}, "unsquared": {OutOfLine}, "oily": {GrooveSlippery}, "rubs": {Rubbing}, "inside": {PulleyLoose}},
	"wheel":   {"swapped": {WheelWrong}, "inside": {WheelLoose}, "loose": {WheelLoose}, "other": {WheelWrong}, "large": {WheelWrong}, "small": {WheelWrong}, "rubs": {Rubbing}, "aslant": {AxleAskew}, "unsquared": {AxleAskew}},
	"drum":    {"swapped": {DrumWrong}, "other": {DrumWrong}, "wider": {DrumWrong}, "large": {DrumWrong}, "wide": {DrumWrong}, "small": {DrumWrong}},
	"band":    {"swapped": {BandWrong}, "inside": {BandSlack}, "tight": {BandTight}, "loose": {BandSlack}, "gone": {BandOff}, "other": {BandWrong}, "wider": {BandWide, BandWrong}, "wide": {BandWide}, "large": {BandSlack, BandWrong}, "small": {BandTight, BandWrong}, "knotted": {BandKnot}, "old": {BandAged}, "crossed": {BandCrossed}, "unlined": {OutOfLine}, "crooked": {OutOfLine}, "oily": {GrooveSlippery}},
	"cord":    {"loose": {CordSlipping}, "off": {CordWinding}},
	"groove":  {"oily": {GrooveSlippery}, "unlined": {OutOfLine}, "small": {BandWide}},
	"load":    {"heavy": {LoadHeavy}, "more": {LoadHeavy}, "large": {LoadHeavy}},
	"floor":   {"oily": {GripFloor}},
}

const (
	// ways are what a way is that is not the right one.
	ways     = " wrong other opposite "
	notWords = " not isnt arent wasnt never no didnt doesnt hasnt nothing "
	// How many words a state may stand after its thing, and before it (judgement).
	stateAfter, stateBefore = 10, 4
)

// statesNamed are the faults that a clause names as a thing and its state.
func statesNamed(words []string, model brief.Model) []Fault {
	words, _ = spelt(words)
	at := make([]string, len(words))
	for i, w := range words {
		if k := thingWords().of(w); len(k) > 0 {
			at[i] = k[0]
		}
		// A wheel of what has no wheels is a pulley; that of a big wheel is the ride itself.
		if at[i] == "wheel" && model != brief.Vehicle {
			at[i] = ""
			if model != brief.LevelRide {
				at[i] = "pulley"
			}
		}
		if at[i] == "drum" && model != brief.Lift {
			at[i] = ""
		}
	}
	var out []Fault
	for i, w := range words {
		for _, s := range stateWords().of(w) {
			if s = stated(words, i, s); s == "" {
				continue
			}
			for _, f := range ofThings[thingOf(at, i, s)][s] {
				switch {
				case f == LoadHeavy && slices.ContainsFunc(words, oneSided):
					f = LoadLopsided
				case (f == PulleyWrong || f == WheelWrong) && sizes[s] && slices.Contains(at, "hole"):
					f = map[Fault]Fault{PulleyWrong: PulleyLoose, WheelWrong: WheelLoose}[f]
				}
				if a := aboutFault(f); (len(a.on) == 0 || seenOnModels(a.on, model)) && !slices.Contains(out, f) {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// stated is the state that is meant by a word for one, by whether it is denied and whether it
// is too much; empty if none.
func stated(words []string, i int, state string) string {
	before := words[max(0, i-3):i]
	not := slices.ContainsFunc(before, func(w string) bool { return strings.Contains(notWords, " "+w+" ") })
	next := ""
	if i+1 < len(words) {
		next = words[i+1]
	}
	switch {
	case words[i] == "off" && strings.HasPrefix(next, "cent"):
		return "sways"
	case strings.Contains(ways, " "+words[i]+" "):
		switch {
		case !strings.Contains(" way about round place places ", " "+next+" "):
			if words[i] != "wrong" {
				return ""
			}
		case slices.ContainsFunc(before, func(w string) bool { return slices.Contains(meaningWords().of(w), "move") }):
			return "" // it is the turning that is the other way
		default:
			return "turned"
		}
	case state == "much":
		if slices.Contains(before, "too") {
			return "more"
		}
		return ""
	case not && sizes[state] && slices.Contains(before, "the"):
		return "" // it does not turn the big one
	case not:
		return denied[state]
	case sizes[state] && !slices.Contains(before, "too"):
		return ""
	case state == "fixed" || state == "straight" || state == "squared" || state == "lined":
		return ""
	}
	return state
}

// oneSided reports whether a word tells of one side of a load.
func oneSided(word string) bool { return strings.Contains(" one side same ", " "+word+" ") }

// thingOf is the thing, of those that can be in a state, that is in the one that stands at i: the
// one right after it, else the nearest before, else the nearest after. A knot is a band's where
// there is no cord. Empty if none is near.
func thingOf(at []string, i int, state string) string {
	can := func(k int) bool { return k >= 0 && k < len(at) && len(ofThings[at[k]][state]) > 0 }
	if can(i + 1) {
		return at[i+1]
	}
	if state != "inside" {
		for k := i - 1; k >= i-stateAfter; k-- {
			if can(k) {
				return at[k]
			}
		}
	}
	for k := i + 1; k <= i+stateBefore; k++ {
		if can(k) {
			return at[k]
		}
	}
	if state == "knotted" && !slices.Contains(at, "cord") {
		return "band"
	}
	return ""
}
