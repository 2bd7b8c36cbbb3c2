package built

import (
	"slices"
	"strings"
	"sync"

	"findrive/internal/brief"
	"findrive/internal/pattern"
)

// People tell what is not wrong as well: "nothing slips", "no wobble". And what a band does
// when it is wrong is what a model does as its job: a vehicle climbs, a cord goes tight.

// wrongs are words that tell of something wrong, and of nothing where they are denied, with * as
// in meanings. A pulley that is not stuck or not tight is loose: such words are not among them.
var wrongs = map[string]string{
	"wrong": `slip* skid* slid* squeak* squeal* screech* creak* jump* hop hops hopped hopping ping* fall* fell drop drops dropped dropping jerk* judder* jolt* lurch*
	stutter* rub rubs rubbed rubbing scrap* graz* drag drags dragging rattl* clatter* vibrat* wobbl* sway* shak* waggl* hot warm* smell* smok* burn* heat* knot* broken breaks snap* loose* slack*
	sag* floppy stiff* bent warp* crooked askew old worn perish* crack* heavy weak* bind* binds jam* curv* veer* strain* slow slowly sluggish grease* oily`,
}

const (
	// What may stand between a denial and what it denies, and behind that; and what helps a denial.
	bridges   = " any a an the at all ever really even actually longer sign signs of more been being be is are was were get gets getting got very too so one single have has had feel feels look looks seem seems to anything "
	trailing  = " off out over back down up any more anymore anywhere "
	helpers   = " does do did is are was were has have had will would can could there theres it its "
	ofNothing = " no none nothing neither "
	choices   = " or nor "
	// Each begins to tell of something else.
	joins = " but and then when while until till "
)

var wordOrStop = pattern.Must(`[\pL'’-]+|[.;,!?]`)

// ofWrong is a text without what it denies, and without what the model does as its job: what is
// left tells of what is wrong.
func ofWrong(text string, model brief.Model) string {
	at := wordOrStop.FindAllStringIndex(text, -1)
	words := make([]string, len(at)) // in small letters, without apostrophes; empty for a stop
	for i, span := range at {
		words[i] = strings.Join(tokens(text[span[0]:span[1]]), "")
	}
	told := slices.Clone(words)
	for from := 0; from < len(words); {
		to := from
		for to < len(words) && words[to] != "" && !strings.Contains(joins, " "+words[to]+" ") {
			to++
		}
		part := told[from:to]
		dropDenied(part)
		if !slices.Equal(part, words[from:to]) && !slices.ContainsFunc(part, func(w string) bool { return saysMore(w) || isOther(w) }) {
			clear(part)
		}
		if neutral(part, model) && !slices.ContainsFunc(part, saysMore) {
			clear(part) // whatever it climbs, it climbs
		}
		from = to + 1
	}
	var out strings.Builder
	last := 0
	for i, span := range at {
		if told[i] != words[i] {
			out.WriteString(text[last:span[0]] + told[i])
			last = span[1]
		}
	}
	return out.String() + text[last:]
}

// ofLittle is what words mean that tell of nothing wrong by themselves: things, and that something
// goes.
const ofLittle = " move up upward comes floor load cord band pulley axle wheel motor battery drum wire hole side end straight fine without with start then way take again "

// saysMore reports whether a word may tell of something wrong by what it means.
func saysMore(w string) bool {
	is := func(m string) bool { return strings.Contains(ofLittle, " "+m+" ") }
	meant := meaningWords().of(w)
	return len(meant) > 0 && !slices.ContainsFunc(meant, is) || len(meant) == 0 && len(stateWords().of(w)) > 0
}

// isOther reports whether a word is one that people tell with, and has no meaning.
func isOther(w string) bool {
	return len(w) > 1 && len(meaningWords().of(w)) == 0 && len(thingWords().of(w)) == 0 && !plainWords()[w] && isWord(w)
}

// dropDenied empties the words of a clause that tell what is not wrong.
func dropDenied(words []string) {
	if slices.Contains(words, "because") {
		return // it is slow, of another cause
	}
	said := slices.Clone(words)
	for i, w := range said {
		if !strings.Contains(denies, " "+w+" ") {
			continue
		}
		k := deniedAt(said, i+1, strings.Contains(ofNothing, " "+w+" "))
		if k < 0 {
			continue
		}
		from := i
		for from > 0 && strings.Contains(helpers, " "+said[from-1]+" ") {
			from--
		}
		for k+1 < len(said) && strings.Contains(choices, " "+said[k+1]+" ") {
			next := deniedAt(said, k+2, false)
			if next < 0 {
				break
			}
			k = next
		}
		for k+1 < len(said) && strings.Contains(trailing, " "+said[k+1]+" ") {
			k++
		}
		clear(words[from : k+1])
	}
}

// deniedAt is where the word stands that a denial before i denies, if it tells of something wrong;
// else below 0. Of nothing, of no thing: "none of the bands slips". What is not so enough is
// wrong.
func deniedAt(words []string, i int, ofThing bool) int {
	for ; i < len(words); i++ {
		switch w := words[i]; {
		case len(wrongWords().of(w)) > 0:
			if i+1 < len(words) && words[i+1] == "enough" {
				return -1
			}
			return i
		case strings.HasPrefix(w, "com") && i+1 < len(words) && words[i+1] == "off":
			return i + 1
		case strings.Contains(bridges, " "+w+" "):
		case ofThing && slices.ContainsFunc(thingWords().of(w), func(t string) bool { return t != "load" }):
		default:
			return -1
		}
	}
	return -1
}

// duty is what a model does as its job: verbs, what must stand in the clause and what must not,
// as words with * as in meanings, and the plain word that is heard instead.
type duty struct {
	on         []brief.Model
	does       string
	with, none string
	heard      string
}

const ofBands = "band* elastic* belt* pulley* pully* disc* disk* groove* rim edge side flange lip "

var duties = []duty{
	{[]brief.Model{brief.Vehicle}, "climb* rides ride riding rode", "", ofBands + "rubber", "goes"},
	{[]brief.Model{brief.Vehicle}, "jump* hop hops hopped hopping leap*", "car buggy truck lorry vehicle van racer", ofBands + "rubber axle* motor* wheel*", "jerks"},
	{[]brief.Model{brief.Vehicle}, "drag drags dragged dragging pull pulls pulled pulling tow tows towed towing heavy", "along behind tow tows towing a an", ofBands + "rubber floor frame left right way too straight", ""},
	{[]brief.Model{brief.Lift}, "climb* rides ride riding rode", "", ofBands + "rubber", "rises"},
	{[]brief.Model{brief.Lift}, "taut tight tightens stretch* strain", "cord* string* thread* rope* twine line yarn", ofBands + "rubber too axle* hole*", ""},
	{[]brief.Model{brief.Lift}, "slack loose limp", "floor table ground bottom lands landed landing", ofBands + "rubber", ""},
	{[]brief.Model{brief.Lift, brief.LevelRide, brief.UprightRide}, "swing*", "load* weight* hook seat* chair* gondola* cabin* basket* bucket*", ofBands + "rubber axle* motor*", ""},
	{[]brief.Model{brief.Lift, brief.Vehicle}, "rubber rubbers", "lift* rais* hoist* carr* pick* hook", "band* loop* tyre* stretch* pulley* slip* round", "thing"},
}

var (
	wrongWords = sync.OnceValue(func() *vocabulary { return newVocabulary(wrongs) })
	// dutyWords are the words of the duties, in their order.
	dutyWords = sync.OnceValue(func() []*vocabulary {
		var out []*vocabulary
		for _, d := range duties {
			out = append(out, newVocabulary(map[string]string{"does": d.does, "with": d.with, "none": d.none}))
		}
		return out
	})
)

// neutral puts a plain word for each that tells of a model's job, and reports whether any does.
func neutral(words []string, model brief.Model) (any bool) {
	for i, d := range duties {
		has := func(kind string) bool {
			return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(dutyWords()[i].of(w), kind) })
		}
		if !slices.Contains(d.on, model) || !has("does") || d.with != "" && !has("with") || has("none") {
			continue
		}
		for k, w := range words {
			is := slices.Contains(dutyWords()[i].of(w), "does")
			if is && !slices.ContainsFunc(words[max(0, k-2):k], func(w string) bool { return strings.Contains(denies, " "+w+" ") }) {
				words[k], any = d.heard, true
			}
		}
	}
	return any
}

// whose are signs that differ by what they are of alone, by the meaning of their verb.
var whose = []struct {
	verb       string
	band, cord Symptom
}{{"slip", Slips, CordSlips}, {"jump", JumpsOff, CordOff}}

// ofSubjects leaves out what was heard of a cord where the verb is the band's, and the other way
// round: the one that stands nearest before the verb.
func ofSubjects(heard []Hearing, of [][]string) []Hearing {
	for _, w := range whose {
		verb := slices.IndexFunc(of, func(m []string) bool { return slices.Contains(m, w.verb) })
		not := Symptom("")
		for i := verb - 1; i >= 0 && not == ""; i-- {
			switch {
			case slices.Contains(of[i], "band"):
				not = w.cord
			case slices.Contains(of[i], "cord"):
				not = w.band
			}
		}
		heard = slices.DeleteFunc(heard, func(h Hearing) bool { return h.Sign == not })
	}
	return heard
}
