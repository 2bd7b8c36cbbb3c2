package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/parts"
)

var (
	discSaid  = regexp.MustCompile(`^(?:Cut out by|Prick the middle of each disc\.|Push the discs on a piece of rod(?: that fills their hole)?, glue between them:|Turn each on a rod(?: that fills their hole)? against a pencil)`)
	cutSaid   = regexp.MustCompile(`^Cut out by .*, on the lines of the discs page: (.*)\.$`)
	boreSaid  = regexp.MustCompile(`^Prick the middle of each disc\. Drill it .* mm, clamped on scrap wood: (.*)\.$`)
	stackSaid = regexp.MustCompile(`^Push the discs on a piece of rod(?: that fills their hole)?, glue between them: (.*)\. Press them flat under books\.`)
	trueSaid  = regexp.MustCompile(`^Turn each on a rod(?: that fills their hole)? against a pencil held still: (.*)\. Sand off what the pencil marks\.$`)
	someSaid  = regexp.MustCompile(`^(\d+) of (\S+) mm$`)
)

// discs does what is said of discs, with those that are on the table.
func (r *reader) discs(said string) {
	each := func(letters string, f func(made assembly.Made)) {
		for _, letter := range regexp.MustCompile(`, | and `).Split(letters, -1) {
			k := r.letter(said, letter)
			for _, m := range r.b.Made {
				if m.Pulley == k {
					f(m)
				}
			}
		}
	}
	switch {
	case cutSaid.MatchString(said):
		for _, pulley := range strings.Split(cutSaid.FindStringSubmatch(said)[1], "; ") {
			letter, list, ok := strings.Cut(pulley, " ")
			require.True(r.t, ok, said)
			for _, some := range strings.Split(list, ", ") {
				m := someSaid.FindStringSubmatch(some)
				require.NotNil(r.t, m, "%q in %q", some, said)
				n := 0
				_, err := fmt.Sscan(m[1], &n)
				require.NoError(r.t, err)
				done := 0
				for _, k := range r.state.Loose() {
					p := &r.b.Parts[k]
					if done < n && p.Kind == assembly.Disc && p.Letter == letter && mm(p.Length) == m[2] && !r.cut[k] {
						r.do(said, assembly.Action{Verb: assembly.CutOut, Part: k})
						r.cut[k] = true
						done++
					}
				}
				require.Equal(r.t, n, done, "%q", said)
			}
		}
	case boreSaid.MatchString(said):
		each(boreSaid.FindStringSubmatch(said)[1], func(m assembly.Made) {
			for _, d := range m.Discs {
				r.do(said, assembly.Action{Verb: assembly.Bore, Part: d})
			}
		})
	case stackSaid.MatchString(said):
		for _, pulley := range strings.Split(stackSaid.FindStringSubmatch(said)[1], "; ") {
			var letter string
			var n int
			_, err := fmt.Sscanf(strings.ReplaceAll(pulley, ",", " ,"), "%s large , %d small , large", &letter, &n)
			require.NoError(r.t, err, pulley)
			each(letter, func(m assembly.Made) {
				require.Len(r.t, m.Discs, n+2)
				r.do(said, assembly.Action{Verb: assembly.Stack, Part: m.Pulley})
			})
		}
	default:
		m := trueSaid.FindStringSubmatch(said)
		require.NotNil(r.t, m, "%q", said)
		each(m[1], func(m assembly.Made) { r.do(said, assembly.Action{Verb: assembly.True, Part: m.Pulley}) })
	}
}

// What the build sheet says, read word by word, makes the discs and builds the model.
func TestWordsAboutDiscsCanBeCarriedOut(t *testing.T) {
	made := 0
	for seed := range uint64(800) {
		b, p := assemblytest.DriveWithDiscs(seed)
		for i := range p.Stages {
			if p.Stages[i].Driver.Made != nil || p.Stages[i].Driven.Made != nil {
				made++
			}
		}
		printedCanBeBuilt(t, b, p)
	}
	assert.Greater(t, made, 500)
}

// Discs of a pulley that sits on a sleeve do not fit its rod, and are not said to.
func TestHolesOfDiscsOnSleeves(t *testing.T) {
	all, some, none := 0, 0, 0
	for seed := range uint64(300) {
		s := discSet(t, seed, 50)
		made := s.made()
		for i := range made {
			if int(seed)%3 > i {
				made[i].Joint = certificate.Joint{Kind: "sleeve", Sleeve: &certificate.Sleeve{Name: "straw", Length: 10}}
			}
		}
		on := s.inSleeve()
		var check, stacked string
		for _, step := range s.steps() {
			if strings.HasPrefix(step.Do, "Prick ") {
				check = step.Check
			}
			if strings.HasPrefix(step.Do, "Push the discs") {
				stacked = step.Do
			}
		}
		switch {
		case len(made) == 0:
			assert.Empty(t, check)
		case len(on) == 0:
			none++
			assert.Equal(t, "Each goes on its rod with a firm push.", check)
			assert.NotContains(t, stacked, "fills")
		case len(on) == len(made):
			all++
			assert.Equal(t, "Each takes its sleeve with a firm push.", check)
			assert.Contains(t, stacked, "rod that fills their hole")
		default:
			some++
			assert.Contains(t, check, "firm push, but "+on[0])
		}
	}
	assert.Positive(t, all*none*some, "%d all, %d some, %d none", all, some, none)
}

// discSet is a drawn drive with discs, and sheet enough for them.
func discSet(t testing.TB, seed uint64, sheets int) *Set {
	t.Helper()
	b, p := assemblytest.DriveWithDiscs(seed)
	c := &certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}, Discs: &certificate.Discs{Most: 20,
		Sheets: []certificate.Sheet{{Name: "card", Location: "shelf C", Kind: "card", Thickness: 2, Length: 297, Width: 210, Count: sheets}}}}
	s, err := New(c, 1, DefaultOptions())
	require.NoError(t, err)
	return s
}

func TestDiscsOnTheKitList(t *testing.T) {
	tried := 0
	for seed := range uint64(60) {
		s := discSet(t, seed, 200)
		if len(s.made()) == 0 {
			assert.NotContains(t, s.Pages(), DiscsPage)
			d, err := s.Paper(DiscsPage, drawing.A4)
			require.NoError(t, err)
			assert.Nil(t, d)
			continue
		}
		tried++
		assert.Contains(t, s.Pages(), DiscsPage)
		lines, err := s.kit()
		require.NoError(t, err)
		total := 0
		for _, k := range lines {
			total += k.each
			made := slices.ContainsFunc(s.made(), func(p fitted) bool { return p.Name == k.item })
			assert.Equal(t, made, k.there() == "-", "none of %s lies in the cupboard", k.item)
		}
		for _, o := range s.others() {
			n := 0
			if _, err := fmt.Sscan(o[1], &n); err == nil && !besides(o[0]) {
				total += n
			}
		}
		assert.Equal(t, len(s.plan.Build.Parts), total, "seed %d", seed)
		cut := 0
		table := s.discBlocks()[0].(Table)
		for _, row := range table.Rows {
			n := 0
			_, err := fmt.Sscan(row[5], &n)
			require.NoError(t, err)
			cut += n
		}
		assert.Contains(t, table.Note, "shelf C")
		discs := 0
		for _, m := range s.plan.Build.Made {
			discs += len(m.Discs)
		}
		assert.Equal(t, discs, cut)
		pieces, err := nestedOf([]discShare{{s, "", s.sets}})
		require.NoError(t, err)
		laid := 0
		for i := range pieces {
			laid += len(pieces[i].Rounds)
		}
		assert.Equal(t, discs*s.sets, laid)
	}
	assert.Greater(t, tried, 40)
}

func TestSheetsThatDoNotReach(t *testing.T) {
	for seed := range uint64(40) {
		s := discSet(t, seed, 1)
		if _, err := nestedOf([]discShare{{s, "", s.sets}}); err == nil || len(s.made()) == 0 {
			continue
		}
		last := s.discBlocks()[1].(Text)
		assert.Contains(t, last.Words, "SHORT: sheet card is short")
		d, err := s.Paper(DiscsPage, drawing.Letter)
		require.NoError(t, err)
		assert.Contains(t, d.Pages[len(d.Pages)-1].Description, "short")
		return
	}
	t.Fatal("no case is short of sheets")
}

// Knives, saws and drills are marked as an adult's wherever discs are named.
func TestAdultsCutAndDrill(t *testing.T) {
	seen := map[bool]int{}
	for seed := range uint64(100) {
		s := discSet(t, seed, 200)
		for i := range s.plan.Steps {
			step := &s.plan.Steps[i]
			if step.Kind != assembly.CutDiscsStep {
				continue
			}
			for _, way := range s.waysOf(step) {
				seen[step.Adult]++
				assert.Equal(t, step.Adult, way != string(parts.Scissors))
			}
		}
		if len(s.made()) > 0 {
			words := fmt.Sprint(s.discBlocks()[0].(Table).Rows)
			assert.Equal(t, strings.Contains(words, "knife") || strings.Contains(words, "saw"), strings.Contains(words, "ADULT"))
			p, err := s.Build()
			require.NoError(t, err)
			p.Sides = 2
			var html bytes.Buffer
			require.NoError(t, p.HTML(&html))
			assert.LessOrEqual(t, len(p.Paper(drawing.A4).Pages), 2, "seed %d", seed)
			young, _, err := s.Page(PupilsPage)
			require.NoError(t, err)
			if len(s.drive.Stages) < 4 { // else it takes more without discs too
				assert.LessOrEqual(t, len(young.Paper(drawing.Letter).Pages), 2, "seed %d", seed)
			}
		}
	}
	assert.Positive(t, seen[true])
	assert.Positive(t, seen[false])
}

// The discs of two drives are cut from the same sheets, each marked with drive and pulley:
// all that both take are laid, listed and drawn, and the sheets are taken out once for both.
func TestDiscsOfAClass(t *testing.T) {
	tried := 0
	for seed := uint64(0); seed < 40 && tried < 6; seed++ {
		a, b := discSet(t, seed, 200), discSet(t, seed+1, 200)
		if len(a.made()) == 0 || len(b.made()) == 0 {
			continue
		}
		tried++
		class := &Class{Name: "two drives", Shares: []ClassShare{{Set: a, Letter: "A", First: 1, Groups: 3}, {Set: b, Letter: "B", First: 4, Groups: 2}}}
		want := 0
		for i, s := range []*Set{a, b} {
			for _, m := range s.plan.Build.Made {
				want += len(m.Discs) * class.Shares[i].Groups
			}
		}
		pieces, err := nestedOf(class.discShares())
		require.NoError(t, err)
		laid := 0
		for i := range pieces {
			laid += len(pieces[i].Rounds)
		}
		assert.Equal(t, want, laid)
		table, listed := discBlocks(class.discShares(), "5 trays")[0].(Table), 0
		for _, row := range table.Rows {
			n, err := strconv.Atoi(row[6])
			require.NoError(t, err)
			listed += n
			assert.Regexp(t, "^Drive [AB]: (large|small) disc of ", row[0])
		}
		assert.Equal(t, want, listed)
		lines, err := class.lines()
		require.NoError(t, err)
		sheets := 0
		for i := range lines {
			if lines[i].unit == "sheet" {
				sheets += lines[i].total
				assert.Zero(t, lines[i].spare)
			}
		}
		assert.Equal(t, len(pieces), sheets)
		assert.Contains(t, table.Note, fmt.Sprintf("Take %d of 200", sheets))
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			require.NotNil(t, class.Discs(paper))
		}
	}
	assert.Equal(t, 6, tried)
	plain := discSet(t, seedWithout(t), 200)
	assert.Nil(t, (&Class{Name: "none", Shares: []ClassShare{{Set: plain, Letter: "A", First: 1, Groups: 3}}}).Discs(drawing.A4))
}

// seedWithout is a drawn drive without made pulleys.
func seedWithout(t *testing.T) uint64 {
	for seed := range uint64(60) {
		if len(discSet(t, seed, 1).made()) == 0 {
			return seed
		}
	}
	t.Fatal("every drive has made pulleys")
	return 0
}
