package built

import "strings"

// betweenSayings are what people put between two things that they tell.
var betweenSayings = []string{", and ", ", but ", " and ", " but ", ", ", "; ", ";", ". ", "! "}

// aboutNoise are words that may stand beside a squeak without telling of anything else.
const aboutNoise = " also too sometimes always again now there just still loudly noise noises sound sounds bit lot little all time band bands rubber makes making "

// squeaking is a text without the places that tell of a squeak and of nothing else, and whether
// there is one. What squeaks is a band that slips, whatever else is told: a pulley that turns on
// its axle does not make it needless, as it does the words "it slips on the axle". A text of
// nothing but squeaks stays as it is.
func squeaking(text string) (rest string, squeaks bool) {
	var b strings.Builder
	between := ""
	for more := text; more != ""; {
		piece, sign := more, ""
		for _, s := range betweenSayings {
			if i := strings.Index(more, s); i >= 0 && i < len(piece) {
				piece, sign = more[:i], s
			}
		}
		more = more[len(piece)+len(sign):]
		switch {
		case onlySqueaks(piece):
			squeaks = true
		case b.Len() == 0:
			b.WriteString(piece)
		default:
			b.WriteString(between + piece)
		}
		between = sign
	}
	if !squeaks || len(tokens(b.String())) == 0 {
		return text, false
	}
	return b.String(), true
}

// onlySqueaks reports whether a piece of a text tells of a squeak and of nothing else.
func onlySqueaks(piece string) bool {
	is := false
	for _, w := range tokens(piece) {
		squeak := strings.HasPrefix(w, "squeak") || strings.HasPrefix(w, "squeal") || strings.HasPrefix(w, "screech")
		if !squeak && !strings.Contains(small+aboutNoise, " "+w+" ") {
			return false
		}
		is = is || squeak
	}
	return is
}
