package stocktake

import (
	"slices"
	"strings"

	"findrive/internal/pattern"
)

// kindWords are words for a kind of part.
type kindWords struct {
	kind  string
	words []string
	// loose words are used for much else; they need words before them that are known.
	loose bool
}

// kinds are the kinds of part of a cupboard file and the words for them. A word
// stands for itself and with an s.
var kinds = []kindWords{
	{"cells", []string{"battery holder", "cell holder", "cells holder", "battery box", "cell box", "battery case", "battery pack", "aa holder", "aaa holder", "c holder", "d holder", "aa box", "aaa box"}, false},
	{"band", []string{"rubber band", "elastic band", "drive band", "drive belt", "o ring", "oring"}, false},
	{"band", []string{"band", "elastic", "belt"}, true},
	{"drum", []string{"winding drum", "cotton reel", "winch drum"}, false},
	{"drum", []string{"drum", "reel", "bobbin", "spool"}, true},
	{"block", []string{"pulley block", "sheave block", "single block", "double block", "treble block", "triple block"}, false},
	{"pulley", []string{"pulley", "pully", "pulley wheel", "pully wheel", "pulleys wheel", "grooved wheel"}, false},
	{"motor", []string{"motor"}, false},
	{"sleeve", []string{"sleeve", "tubing", "tube", "bush", "adaptor", "adapter"}, true},
	{"spacer", []string{"spacer", "washer"}, false},
	{"spacer", []string{"bead"}, true},
	{"wheel", []string{"wheel"}, true},
	{"axle", []string{"axle", "axel", "dowel", "dowel rod", "dowelling", "skewer"}, false},
	{"axle", []string{"rod", "shaft"}, true},
	{"cord", []string{"cord", "string", "twine"}, true},
	{"sheet", []string{"card sheet", "plywood sheet", "ply sheet", "mdf sheet", "plastic sheet", "cardboard sheet", "sheet card", "sheet plywood", "sheet of card", "sheet of plywood"}, false},
}

// otherKinds are things that a cupboard file has no place for; those of two words are
// no parts of the kind that the second word names.
var otherKinds = []string{
	"switch", "wire", "clip", "strip", "triangle", "cell", "battery", "batteries", "bulb", "buzzer", "screw", "glue", "card", "straw", "gear", "crocodile", "lead", "scissors", "saw", "nail", "tape", "plywood", "sheet", "strip wood", "propeller", "magnet", "peg", "lolly", "paper",
	"nut", "bolt", "bracket", "mount", "hub", "collet", "cutter", "sander", "cap", "cover", "stand", "guard", "pin", "flange", "key", "puller", "trim", "arch", "support", "plate", "stick", "kit", "holder", "box", "case", "block", "gearbox", "sprocket", "cog", "rack", "spring", "hook", "cam", "lever", "hinge", "solder", "punch", "drill", "file", "knife", "ruler", "pliers", "clamp", "vice", "cutters", "sharpener", "catch", "tie", "connector", "socket", "plug", "bag", "tub", "tray", "barrow", "tyre", "tire",
	"gear wheel", "cog wheel", "worm wheel", "trundle wheel", "measuring wheel", "steering wheel", "hand wheel", "colour wheel", "color wheel", "spinning wheel", "water wheel", "potters wheel", "cam wheel", "cam wheels", "ratchet wheel", "wheel gear", "castor wheel", "caster wheel",
	"servo motor", "stepper motor", "test tube", "card tube", "cardboard tube", "paper tube", "inner tube", "glue rod", "glass rod", "stirring rod", "measuring rod", "fishing rod", "curtain rod", "cam shaft", "head band", "hair band", "wrist band", "sweat band", "arm band", "seat belt", "sanding belt", "conveyor belt", "cable reel", "hose reel", "tape reel", "snare drum", "brake drum", "power adaptor", "power adapter", "mains adaptor", "mains adapter", "plug adaptor", "extension cord", "power cord", "cell adaptor", "paint brush", "glow stick",
}

// tells are words that say which of a thing is meant and make no other thing of it:
// before a word for a kind or behind it.
var tells = strings.Fields(`a an the our of and or with no nr number size sizes type x by mm cm m in inch inches dia diameter
	small smaller smallest large larger largest big bigger little medium tiny giant huge standard long short thick thin thinner wide narrow fat fine flat round deep bore hole od outside across wide rpm
	red blue green yellow white black grey gray orange pink purple brown clear silver gold natural coloured colored
	plastic wood wooden plywood ply mdf rubber elastic metal steel brass aluminium aluminum nylon acrylic card foam latex silicone pvc cotton hemp jute pine ramin beech birch bamboo hardwood softwood
	new old spare spares used good best assorted mixed various loose plain single double treble triple odd other
	aa aaa alkaline motor axle pulley drive driven driver driving belt band road car buggy vehicle cart model crane winch ride front rear back winding grooved v flanged
	pack packs bag box set pair pieces pcs piece lengths stock list stocks tray drawer shelf cupboard tub volt volts`)

// keptIn hold the thing that is named behind of.
var keptIn = strings.Fields("bag bags pack packs packet packets box boxes tub tubs tin tins jar jars tube tubes reel reels roll rolls ball balls bundle bundles length lengths piece pieces sheet sheets set sets pair pairs tray trays hank spool bobbin bits lots stock list")

// naming is what a text says about a kind.
type naming struct {
	kind string
	// other says that it names something that a cupboard file has no place for.
	other bool
	// loosely says that it has words that may make another thing of it.
	loosely bool
	// several says that it names parts of several kinds.
	several bool
	// away says that what is under it is not in the cupboard.
	away  bool
	words string // the text
}

func (n *naming) none() bool { return n == nil || n.kind == "" && !n.other }

// kindIn is the kind that a text names: the kind whose words end last in it, since
// the last word is the thing and those before it say which ("motor pulley"); of two
// that end there, the longer.
//
// What follows a comma, a bracket or "for" tells what it goes with, and is not
// looked at; "reel of solder" is solder. The words cells, holder and block by themselves
// are the kinds of these names; in other words cells are loose ones, and a holder is for
// anything.
func kindIn(text string) naming {
	n := naming{words: text}
	bare := strings.TrimSuffix(plainWords(text), "s")
	for _, k := range kinds {
		if strings.EqualFold(text, k.kind) || bare == k.kind {
			n.kind = k.kind
			return n
		}
	}
	if bare == "holder" {
		n.kind = "cells"
		return n
	}
	if i := strings.IndexAny(text, ",;:("); i > 0 {
		text = text[:i]
	}
	words := strings.Fields(plainWords(strings.ReplaceAll(text, "'", "")))
	words, slip := spelt(words)
	words, unnamed := contained(words)
	n.see(words)
	n.loosely = n.loosely || slip && n.kind != ""
	if n.other && holderOf.MatchString(n.words) {
		n.kind, n.other = "cells", false
	}
	if n.kind == "wheel" && withGroove.MatchString(n.words) {
		n.kind = "pulley"
	}
	n.several = n.kind != "" && severalKinds(text)
	if unnamed && n.kind != "" { // a reel of something that is no part
		n.kind, n.other = "", true
	}
	return n
}

// holderOf is a holder that says what it holds behind its name.
var holderOf = pattern.Must(`(?i)^\W*holders?\b.*\b(?:aaa?|cells?|batter(?:y|ies))\b`)

// withGroove are words that make of a wheel a pulley.
var withGroove = pattern.Must(`(?i)\b(?:with|w/?|w\.)\s*(?:an? )?(?:[uv]-?\s?)?grooves?\b`)

// contained cuts off what a thing goes with, and what it is kept in. unnamed says that
// it is kept in something and is no part itself.
func contained(words []string) (thing []string, unnamed bool) {
	for i, w := range words {
		switch w {
		case "for", "fits", "to", "with", "takes", "on", "from":
			if i > 0 {
				return contained(words[:i])
			}
		case "of":
			behind := words[i+1:]
			if i == 0 || len(behind) == 0 {
				continue
			}
			if strings.TrimSuffix(words[i-1], "s") == "sheet" && sheetKind(strings.Join(behind, " ")) != "" {
				return append(slices.Clone(behind), "sheet"), false
			}
			if !slices.Contains(keptIn, words[i-1]) || isFigure(behind[0]) {
				return words[:i], false
			}
			var n naming
			if n.see(behind); n.none() {
				return words[:i], true
			}
			return behind, false
		}
	}
	return words, false
}

// severalKinds reports whether words name parts of different kinds, joined by a word or with
// figures between them: pulleys & wheels, wheel 5 mm axle 50 mm. The first of motor pulley
// only says which pulley.
func severalKinds(text string) bool {
	if m := goesWith.FindStringIndex(text); m != nil {
		text = text[:m[0]]
	}
	kind := ""
	for _, part := range joined.Split(strings.ToLower(text), -1) {
		var n naming
		if n.see(strings.Fields(plainWords(part))); n.kind == "" {
			continue
		}
		if kind != "" && n.kind != kind {
			return true
		}
		kind = n.kind
	}
	return false
}

var joined = pattern.Must(`[&+/]|\b(?:and|or)\b|\d[\d.,]*\s*(?:mm|cm|m|")?\s`)

func isFigure(word string) bool { return word != "" && word[0] >= '0' && word[0] <= '9' }

// see finds the kind that words name.
func (n *naming) see(words []string) {
	padded := " " + strings.Join(words, " ") + " "
	end, begin, loose := -1, 0, false
	look := func(word, kind string, isLoose bool) {
		for _, form := range []string{word, word + "s", word + "es", strings.TrimSuffix(word, "y") + "ies"} {
			if i := strings.LastIndex(padded, " "+form+" "); i >= 0 {
				if e := i + 1 + len(form); e > end || e == end && i < begin {
					end, begin, loose = e, i, isLoose
					n.kind, n.other = kind, kind == ""
				}
			}
		}
	}
	for _, k := range kinds {
		for _, w := range k.words {
			look(w, k.kind, k.loose)
		}
	}
	for _, w := range otherKinds {
		look(w, "", false)
	}
	if n.kind == "" {
		return
	}
	n.loosely = unclear(padded[end:]) || loose && unclear(padded[:begin])
	if n.kind == "motor" && turnedRound.MatchString(padded) {
		n.kind, n.loosely = "pulley", true
	}
}

// turnedRound is a motor pulley as a list that is sorted by things has it. A motor says its
// volts or its turns.
var turnedRound = pattern.Must(`^ (?:pulleys?|pully) motor (?:(?:\d+|\d*[mc]m|bore|hole|dia|diameter) )*$`)

// unclear reports whether words hold one that may make another thing of what they stand
// with.
func unclear(words string) bool {
	return slices.ContainsFunc(strings.Fields(words), func(w string) bool {
		return !slices.Contains(tells, w) && len([]rune(w)) > 1 && !strings.ContainsAny(w, "0123456789")
	})
}

// kindOver is the kind that a title over rows, or the name of a sheet, gives them: the
// only one it names.
func kindOver(title string) naming {
	all := naming{words: title, away: isAway(title)}
	parts := strings.FieldsFunc(strings.NewReplacer(" and ", "&", " und ", "&", " or ", "&", " with ", "&").Replace(strings.ToLower(title)), func(r rune) bool { return strings.ContainsRune("&+/,;", r) })
	for _, p := range parts {
		n := kindIn(strings.TrimSpace(p))
		if n.none() {
			all.loosely = all.loosely || unclear(plainWords(p))
			continue
		}
		if !all.none() && (n.kind != all.kind || n.other != all.other) {
			return naming{words: title, away: all.away}
		}
		all.kind, all.other, all.loosely = n.kind, n.other, all.loosely || n.loosely
	}
	return all
}
