package built

import (
	"slices"
	"strings"
	"unicode"

	"findrive/internal/brief"
	"findrive/internal/tomlfile"
)

// Hearing is a sign that was understood from somebody's words.
type Hearing struct {
	Sign Symptom
	// Words are what was said, and Exact whether they are the sign's own. A guess is the
	// nearest meaning where nothing fitted well.
	Words        string
	Exact, Guess bool
	// Read are words that were not known, each with the known one it was taken for.
	Read []string
}

// reading is one way to say a sign: meanings that must all stand in a sentence, in words
// apart, and those that must not.
type reading struct {
	sign Symptom
	all  string
	none string
}

// readings are tried in this order; what a sign makes needless is in covers.
var readings = []reading{
	{Slips, "band slip", "floor drum"},
	{JumpsOff, "band jump", "climb"},
	{JumpsOff, "band comes off", "climb"},
	{Climbs, "band climb up", ""},
	{Slack, "band slack", ""},
	{Snaps, "band break", ""},
	{RubsItself, "band rub cross", ""},
	{Slower, "slower wear", ""},
	{Odd, "slow others", "wear oneway"},
	{Odd, "slower others", "wear oneway"},
	{FloorSpin, "wheel spinout floor", ""},
	{FloorSpin, "wheelsp", ""},
	{FloorSpin, "wheel spinout not", "motor pulley band"},
	{CordSlips, "cord slip", ""},
	{CordSlips, "drum slip", "band"},
	{CordOff, "cord wind end", "slip"},
	{CordOff, "cord comes off", "slip"},
	{CordOff, "cord jump", ""},
	{RunsBack, "back switch", "band motor"},
	{RunsBack, "load back", "wrong up motor"},
	{RunsBack, "cord back", "motor off"},
	{LoadStops, "without not load", "motor"},
	{LoadStops, "without move not", ""},
	{LoadStops, "without but load", ""},
	{Uneven, "fast down slow upward", ""},
	{Uneven, "fast down not upward", ""},
	{Uneven, "slow upward down", ""},
	{MotorMoves, "motor lean", ""},
	{MotorMoves, "motor slack", "band"},
	{MotorMoves, "motor comes off", ""},
	{OneWay, "oneway way other slow", ""},
	{OneWay, "oneway way other", "not"},
	{CutsOut, "not start", "push hum motor load"},
	{CutsOut, "wiggle again move", ""},
	{CutsOut, "wiggle battery", ""},
	{PulleyTurns, "pulley spin axle not", ""},
	{PulleyTurns, "pulley slip axle", ""},
	{PulleyTurns, "pulley slack", "band"},
	{MotorOnly, "motor spin wheel not", ""},
	{MotorOnly, "motor spin pulley not", ""},
	{MotorOnly, "motor spin not", "hum push load"},
	{Curves, "not straight", ""},
	{Curves, "curve", "band axle"},
	{Stiff, "stiff byhand", "band"},
	{Stiff, "stiff axle", "band"},
	{Stiff, "not push axle", "band"},
	{Fades, "start then slow", "wear"},
	{Fades, "start then not", "wear push"},
	{NeedsPush, "push move", "axle byhand2"},
	{NoGo, "hum", "rattle2"},
	{WrongWay, "wrong move", ""},
	{WrongWay, "wrong way", ""},
	{WrongWay, "load down upward", "fast slow"},
	{Jerks, "jerk", "hum"},
	{Wobbles, "wobble", "wire"},
	{Rubs, "rub", "cross"},
	{Rattles, "rattle", "hum"},
	{CellsHot, "battery hot", ""},
	{Hot, "hot", ""},
	{MotorRaces, "motor noise fast", ""},
	{MotorRaces, "motor fast", "wheel pulley not"},
	{Slips, "slip", "wheel cord drum floor axle"},
	{TooFast, "fast", "not"},
	{TooSlow, "slow", ""},
	{TooSlow, "not fast", ""},
	{Nothing, "dead", "motor fast slow"},
	{Nothing, "not move", "motor wheel push hum straight fast slow without oneway"},
	{Stiff, "bend axle band", ""},
}

// covers are the signs that say less than another that was heard as well.
var covers = map[Symptom][]Symptom{
	Slower:      {TooSlow, Odd, Fades},
	Odd:         {TooSlow},
	Fades:       {TooSlow, CutsOut, Nothing},
	FloorSpin:   {MotorOnly, Slips, Nothing, TooFast},
	CordSlips:   {Slips, Nothing, MotorOnly, RunsBack},
	CordOff:     {JumpsOff, Nothing, RunsBack},
	PulleyTurns: {MotorOnly, Nothing, Slips, Slack},
	MotorOnly:   {Nothing, TooFast, CutsOut},
	NoGo:        {Nothing, MotorOnly, CutsOut, Rattles},
	NeedsPush:   {Nothing, CutsOut},
	Climbs:      {JumpsOff, Rubs},
	RubsItself:  {Rubs, Slips},
	Uneven:      {TooFast, TooSlow, Nothing, RunsBack, WrongWay},
	RunsBack:    {Nothing, WrongWay},
	WrongWay:    {RunsBack, Nothing},
	LoadStops:   {Nothing, Fades, CutsOut, MotorOnly},
	CutsOut:     {Nothing, NeedsPush},
	MotorMoves:  {Stiff, MotorOnly, NeedsPush},
	OneWay:      {TooSlow, Odd, WrongWay, Fades},
	Slack:       {Curves},
	CellsHot:    {Hot},
	MotorRaces:  {TooFast},
	JumpsOff:    {Fades},
	Curves:      {Nothing},
}

// Hear understands somebody's words: the signs they tell of, in the order in which they
// are told. What is offered may be written as it is. A word that is not known is taken
// for the nearest known one, and where no sentence fits the nearest meaning is guessed.
// The model rules out what cannot be seen on it. None: nothing was understood.
func Hear(words string, model brief.Model) []Hearing {
	plain := strings.ToLower(strings.Join(strings.Fields(words), " "))
	for _, s := range Signs() {
		if strings.Trim(plain, ".!? ") == string(s) {
			return []Hearing{{Sign: s, Words: words, Exact: true}}
		}
	}
	var out []Hearing
	for _, clause := range clauses(plain) {
		out = append(out, hearClause(clause, model)...)
	}
	if whole := hearClause(tokens(plain), model); len(out) == 0 || len(clauses(plain)) > 1 {
		out = append(out, whole...)
	}
	out = distinct(out)
	if len(out) == 0 {
		out = guess(tokens(plain), model)
	}
	for i := range out {
		out[i].Words = words
	}
	return out
}

// clauses are the parts of a text between stops and "but".
func clauses(text string) [][]string {
	for _, stop := range []string{" but ", ";", ". ", "!", ", and ", ", "} {
		text = strings.ReplaceAll(text, stop, "\x00")
	}
	var out [][]string
	for _, part := range strings.Split(text, "\x00") {
		if t := tokens(part); len(t) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// tokens are the words of a text: letters only, "won't" as "wont".
func tokens(text string) []string {
	text = strings.NewReplacer("'", "", "’", "").Replace(text)
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
}

// lexicon is what each word of a clause may mean; read tells of words taken for others.
func lexicon(words []string) (of [][]string, read []string) {
	for _, w := range words {
		m := meaningsOf(w)
		if len(m) == 0 && len(w) >= 5 && !strings.Contains(small, " "+w+" ") {
			for _, form := range forms(w) {
				if near := tomlfile.NearestWithin(form, knownWords(), 1+len(form)/8); near != "" {
					m, read = meaningsOf(near), append(read, w+" as "+near)
					break
				}
			}
		}
		of = append(of, m)
	}
	return of, read
}

// forms are a word and its stem, without the usual endings.
func forms(w string) []string {
	out := []string{w}
	for _, end := range []string{"ing", "ed", "es", "s", "y"} {
		if stem, cut := strings.CutSuffix(w, end); cut && len(stem) >= 4 {
			out = append(out, stem)
		}
	}
	return out
}

func meaningsOf(w string) []string {
	var out []string
	for name, list := range meanings {
		for _, k := range strings.Fields(list) {
			stem, open := strings.CutSuffix(k, "*")
			if w == stem || open && strings.HasPrefix(w, stem) {
				out = append(out, name)
				break
			}
		}
	}
	slices.Sort(out)
	return out
}

// knownWords are all words of the list, stems without their star.
func knownWords() []string {
	var out []string
	for _, list := range meanings {
		for _, k := range strings.Fields(list) {
			if k = strings.TrimSuffix(k, "*"); len(k) >= 4 {
				out = append(out, k)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func hearClause(words []string, model brief.Model) []Hearing {
	of, read := lexicon(words)
	var out []Hearing
	for _, r := range readings {
		if !seenOn(r.sign, model) || !says(of, strings.Fields(r.all)) {
			continue
		}
		if slices.ContainsFunc(strings.Fields(r.none), func(m string) bool { return says(of, []string{m}) }) {
			continue
		}
		out = append(out, Hearing{Sign: r.sign, Read: read})
	}
	return distinct(out)
}

func seenOn(s Symptom, model brief.Model) bool {
	on := signOf[s]
	return len(on) == 0 || slices.Contains(on, model)
}

// says reports whether a clause has a word for each meaning, each another one.
func says(of [][]string, all []string) bool {
	taken := make([]bool, len(of))
	var match func(k int) bool
	match = func(k int) bool {
		if k == len(all) {
			return true
		}
		for i, m := range of {
			if !taken[i] && slices.Contains(m, all[k]) {
				taken[i] = true
				if match(k + 1) {
					return true
				}
				taken[i] = false
			}
		}
		return false
	}
	return match(0)
}

// distinct leaves out signs that were heard before, and those that say less than another.
func distinct(list []Hearing) []Hearing {
	var out []Hearing
	for _, h := range list {
		covered := slices.ContainsFunc(list, func(o Hearing) bool { return o.Sign != h.Sign && slices.Contains(covers[o.Sign], h.Sign) })
		if !covered && !slices.ContainsFunc(out, func(o Hearing) bool { return o.Sign == h.Sign }) {
			out = append(out, h)
		}
	}
	return out
}

// leastShare is how much of a way to say a sign must be there for a guess.
const leastShare = 0.5

// guess is the sign of which most is said, if one stands out.
func guess(words []string, model brief.Model) []Hearing {
	of, read := lexicon(words)
	best, sign, several := 0.0, Symptom(""), false
	for _, r := range readings {
		if !seenOn(r.sign, model) {
			continue
		}
		all := strings.Fields(r.all)
		n := 0
		for _, m := range all {
			if says(of, []string{m}) {
				n++
			}
		}
		share := float64(n) / float64(len(all))
		if len(all) < 2 || share < leastShare {
			continue
		}
		switch {
		case share > best:
			best, sign, several = share, r.sign, false
		case share == best && r.sign != sign:
			several = true
		}
	}
	if sign == "" || several && best < 0.6 {
		return nil
	}
	return []Hearing{{Sign: sign, Guess: true, Read: read}}
}
