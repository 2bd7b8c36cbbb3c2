package page

import (
	"cmp"
	"encoding/json"
	"strings"
)

// keptState is the state as it is kept. The texts of the past differ from one another in
// a line or two, so that each is kept as what differs from the one before.
type keptState struct {
	Version int
	Step    string
	Now     keptFiles
	Past    []keptChange
	Future  []keptChange
	Plan    *keptPlan `json:",omitempty"`
}

type keptFiles struct {
	Cupboard, Brief, Prices part
	Learned, Model          part     `json:",omitzero"`
	Counts                  []string `json:",omitempty"`
	Class                   part     `json:",omitzero"`
	Rank                    int      `json:",omitempty"`
	Left                    []left   `json:",omitempty"`
	Example                 bool     `json:",omitempty"`
}

type keptChange struct {
	What, Step string
	Was        keptFiles
}

// part is a text by what differs from another: so many bytes of its beginning and of its
// end, and what is between.
type part struct {
	A, Z int    `json:",omitempty"`
	M    string `json:",omitempty"`
}

func partOf(text, of string) part {
	a := 0
	for a < len(text) && a < len(of) && text[a] == of[a] {
		a++
	}
	for a > 0 && a < len(text) && text[a]&0xc0 == 0x80 { // not within a letter
		a--
	}
	z := 0
	for z < len(text)-a && z < len(of)-a && text[len(text)-1-z] == of[len(of)-1-z] {
		z++
	}
	for z > 0 && text[len(text)-z]&0xc0 == 0x80 {
		z--
	}
	return part{a, z, text[a : len(text)-z]}
}

func (p part) text(of string) (string, bool) {
	if p.A < 0 || p.Z < 0 || p.A+p.Z > len(of) {
		return "", false
	}
	return of[:p.A] + p.M + of[len(of)-p.Z:], true
}

// keptVersion is raised when what is kept changes its meaning; others are not read.
const keptVersion = 1

// chain packs or unpacks texts, each against the one before it.
type chain struct{ cupboard, brief, prices, learned, model, class string }

func chainFrom(f files) chain {
	return chain{f.Cupboard, f.Brief, f.Prices, f.Learned, f.Model, f.Class}
}

func (c *chain) pack(f files) keptFiles {
	k := keptFiles{partOf(f.Cupboard, c.cupboard), partOf(f.Brief, c.brief), partOf(f.Prices, c.prices), partOf(f.Learned, c.learned), partOf(f.Model, c.model), f.Counts, partOf(f.Class, c.class), f.Rank, f.Left, f.Example}
	*c = chainFrom(f)
	return k
}

func (c *chain) unpack(k keptFiles) (files, bool) {
	cup, ok1 := k.Cupboard.text(c.cupboard)
	b, ok2 := k.Brief.text(c.brief)
	p, ok3 := k.Prices.text(c.prices)
	l, ok4 := k.Learned.text(c.learned)
	m, ok5 := k.Model.text(c.model)
	cc, ok6 := k.Class.text(c.class)
	f := files{cup, b, p, l, k.Counts, cc, m, k.Rank, k.Left, k.Example}
	for i := range f.Left {
		f.Left[i].No = cmp.Or(f.Left[i].No, i+1) // it had none before
	}
	*c = chainFrom(f)
	return f, ok1 && ok2 && ok3 && ok4 && ok5 && ok6
}

// kept is the state as a text.
func (s *Session) kept() string {
	first := example()
	c := chainFrom(first.files)
	k := keptState{Version: keptVersion, Step: s.Step, Now: c.pack(s.files)}
	for i := len(s.past) - 1; i >= 0; i-- { // latest first, nearest to what is now
		k.Past = append(k.Past, keptChange{s.past[i].What, s.past[i].Step, c.pack(s.past[i].Was)})
	}
	c = chainFrom(s.files)
	for i := len(s.future) - 1; i >= 0; i-- {
		k.Future = append(k.Future, keptChange{s.future[i].What, s.future[i].Step, c.pack(s.future[i].Was)})
	}
	if s.sharedOut() {
		k.Plan = &keptPlan{*s.shared.told, s.shared.packed}
	}
	data, err := json.Marshal(k)
	if err != nil {
		return ""
	}
	return string(data)
}

// restored is a state that was kept, and how the cupboard was shared out; false if the text is
// none.
func restored(text string) (state, shared, bool) {
	var k keptState
	d := json.NewDecoder(strings.NewReader(text))
	if err := d.Decode(&k); err != nil || k.Version != keptVersion || len(k.Past) > mostPast || len(k.Future) > mostPast {
		return state{}, shared{}, false
	}
	first := example()
	c := chainFrom(first.files)
	now, ok := c.unpack(k.Now)
	st := state{files: now, Step: k.Step}
	for _, ch := range k.Past {
		was, good := c.unpack(ch.Was)
		st.past = append([]change{{ch.What, ch.Step, was}}, st.past...)
		ok = ok && good
	}
	c = chainFrom(now)
	for _, ch := range k.Future {
		was, good := c.unpack(ch.Was)
		st.future = append([]change{{ch.What, ch.Step, was}}, st.future...)
		ok = ok && good
	}
	var sh shared
	if ok && k.Plan != nil {
		sh = k.Plan.sharedBy(now.question())
	}
	return st, sh, ok
}
