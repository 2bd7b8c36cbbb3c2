package page

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"findrive/internal/demo"
)

// user is a session that is used as the script uses it: what is to be sent next is sent.
type user struct {
	t *testing.T
	*Session
}

// answered is the example's answer, searched for once.
var answered = sync.OnceValue(func() *answer {
	s := New(Limits{})
	s.Do(context.Background(), Event{Act: "answer"}, nil)
	return s.answer
})

func newUser(t *testing.T) *user {
	u := &user{t: t, Session: New(Limits{})}
	u.answer = answered()
	u.do(Event{Act: "restore"})
	return u
}

// do does an act and what follows from it, and returns the reply to the act.
func (u *user) do(e Event) *Reply {
	u.t.Helper()
	reply := u.Do(context.Background(), e, nil)
	for next := reply.Next; next != ""; {
		next = u.Do(context.Background(), Event{Act: next}, nil).Next
	}
	return reply
}

func (u *user) put(file, v string, path ...string) *Reply {
	u.t.Helper()
	return u.do(Event{Act: "set", On: file + pathOf(path...), Value: v})
}

// nodes are all elements of the page as it is.
func (u *user) nodes() []*html.Node {
	u.t.Helper()
	root, err := html.Parse(strings.NewReader(u.html()))
	require.NoError(u.t, err)
	var all []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			all = append(all, n)
		}
	}
	return all
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func (u *user) byID(id string) *html.Node {
	u.t.Helper()
	for _, n := range u.nodes() {
		if attr(n, "id") == id {
			return n
		}
	}
	return nil
}

// says is what an element says; empty if it is not there.
func (u *user) says(id string) string {
	u.t.Helper()
	n := u.byID(id)
	if n == nil {
		return ""
	}
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// steps are the states of the page that tests go through.
func steps(t *testing.T, visit func(name string, u *user)) {
	for _, step := range []string{stepHow, stepList, stepTubs, stepCupboard, stepQuestion, stepAnswer, stepPaper, stepBuilt, stepBuy} {
		u := newUser(t)
		u.do(Event{Act: "door", On: step})
		visit(step, u)
		u.Do(context.Background(), Event{Act: "set", On: cupboardName + pathOf("pulley", "axle-10", "bore"), Value: "wide"}, nil)
		u.do(Event{Act: "more", On: pathOf("motor", "slow")})
		visit(step+" with a mistake", u)
		u.do(Event{Act: "undo"})
		u.do(Event{Act: "look", On: "kit"})
		visit(step+" looked at", u)
	}
}

// Of our scripts comments and indents are left out line by line, which no text may run over.
func TestScriptsHaveNoTextOverSeveralLines(t *testing.T) {
	t.Parallel()
	for _, own := range []string{script, glue, unwrap} {
		require.NotContains(t, own, "`")
	}
	require.True(t, overLines("a = `b\n\tc`;\n"))
	require.False(t, overLines("a = `${b}=${c}`;\n"))
	require.Equal(t, "f(\"//\");\n}\n", bare("  // why\n    f(\"//\");\n\t\t}\n"))
}

func TestTheFirstScreenIsAnExampleAnswered(t *testing.T) {
	u := newUser(t)
	assert.True(t, u.fresh())
	assert.Contains(t, u.says("outcome"), "Best of all for Carousel for eight groups")
	for _, id := range []string{"door-how", "door-list", "door-tubs", "cautions", "choose-5"} {
		assert.NotNil(t, u.byID(id), id)
	}
}

// Every control has an id of its own, or focus would be lost, and a name that is read out;
// every button does something.
func TestEveryControlHasAnIDANameAndAnAct(t *testing.T) {
	steps(t, func(name string, u *user) {
		nodes := u.nodes()
		seen, labels := map[string]bool{}, map[string]bool{}
		for _, n := range nodes {
			if id := attr(n, "id"); id != "" {
				assert.False(t, seen[id], "%s: two of id %s", name, id)
				seen[id] = true
			}
			if n.Data == "label" {
				labels[attr(n, "for")] = true
			}
		}
		for _, n := range nodes {
			id := attr(n, "id")
			switch n.Data {
			case "button", "summary", "a":
				assert.NotEmpty(t, id, name)
				assert.NotEmpty(t, strings.TrimSpace(u.says(id)), "%s: %s", name, id)
				if n.Data == "button" && attr(n, "type") != "submit" {
					act := attr(n, "data-act")
					_, known := acts[act]
					assert.True(t, known || slices.Contains([]string{"pick", "stop", "still"}, act), "%s: %s does %q", name, id, act)
				}
			case "input", "select", "textarea":
				assert.NotEmpty(t, id, name)
				assert.True(t, labels[id] || attr(n, "aria-label") != "", "%s: %s has no label", name, id)
			case "form":
				assert.Contains(t, acts, attr(n, "data-act"), name)
			}
			if by := attr(n, "aria-describedby"); by != "" {
				assert.True(t, seen[by], "%s: %s is described by %s, which is not there", name, id, by)
			}
		}
	})
}

func TestAMistakeStandsAtItsCellAndIsSummedUpOnGoingOn(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepCupboard})
	r := u.put(cupboardName, "wide", "pulley", "axle-10", "bore")
	assert.Contains(t, r.Say, `"wide"`)
	fid := id(cupboardName, "pulley", "axle-10", "bore")
	assert.Equal(t, "wide", attr(u.byID(fid), "value"))
	assert.Equal(t, "true", attr(u.byID(fid), "aria-invalid"))
	assert.Contains(t, u.says(attr(u.byID(fid), "aria-describedby")), `"wide" does not begin with a number`)
	assert.Nil(t, u.byID("mistakes"), "not before the user asks to go on")
	r = u.do(Event{Act: "onward", On: stepQuestion})
	assert.Equal(t, "mistakes", r.Focus)
	assert.Equal(t, stepCupboard, u.Step)
	assert.Equal(t, fid, attr(u.byID("mistake-1"), "data-on"))
	u.put(cupboardName, "4,9", "pulley", "axle-10", "bore")
	assert.Equal(t, "4.9 mm", attr(u.byID(fid), "value"))
	u.do(Event{Act: "onward", On: stepQuestion})
	assert.Equal(t, stepQuestion, u.Step)
}

// What is changed leaves the rest of the file alone, byte for byte.
func TestAChangeLeavesTheRestOfTheFileAlone(t *testing.T) {
	u := newUser(t)
	u.put(cupboardName, "21", "pulley", "axle-10", "count")
	assert.Equal(t, strings.Replace(string(demo.Cupboard()), "bore = \"4.9 mm\"\nmaterial = \"plastic\"\ncount = 20", "bore = \"4.9 mm\"\nmaterial = \"plastic\"\ncount = 21", 1), u.Cupboard)
	u.put(briefName, "6", "sets")
	assert.Equal(t, strings.Replace(string(demo.Brief()), "sets = 8", "sets = 6", 1), u.Brief)
}

func TestUndoAndRedoGoThroughEverythingAndAReload(t *testing.T) {
	u := newUser(t)
	act := func(e Event) { u.Do(context.Background(), e, nil) } // without searches
	var were []files
	for _, e := range []Event{
		{Act: "choose", On: "2"},
		{Act: "set", On: briefName + pathOf("speed"), Value: "1 turn in 4 s"},
		{Act: "set", On: cupboardName + pathOf("motor", "slow", "count"), Value: "3"},
		{Act: "remove", On: pathOf("pulley", "disc-80")},
		{Act: "text", On: briefName, Form: map[string]string{"text": "näme = \"µ\"\n"}},
	} {
		were = append(were, u.files)
		act(e)
	}
	were = append(were, u.files)
	reloaded := func() {
		kept := u.kept()
		u = &user{t: t, Session: New(Limits{})}
		act(Event{Act: "restore", Value: kept})
	}
	for i := len(were) - 1; i >= 0; i-- {
		reloaded()
		assert.Equal(t, were[i], u.files, i)
		act(Event{Act: "undo"})
	}
	for i := range were {
		reloaded()
		assert.Equal(t, were[i], u.files, i)
		act(Event{Act: "redo"})
	}
}

func TestWhatWasKeptByAnotherVersionIsNotOpened(t *testing.T) {
	for _, text := range []string{"", "{}", "[]", `{"Version":99}`, `{"Version":1,"Now":{"Cupboard":{"A":99999999}}}`, `{"Version":1,"Now":{"Cupboard":{"A":-1}}}`} {
		_, _, ok := restored(text)
		assert.False(t, ok, text)
	}
	u := newUser(t)
	u.do(Event{Act: "restore", Value: "{}"})
	assert.Contains(t, u.says("last"), "another version")
	assert.Contains(t, u.says("outcome"), "Best of all")
}

func TestWhatWasGuessedIsWrittenDownWhenItIsRight(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "open", Files: []File{{Name: "cupboard.toml", Data: []byte("schema = 1\n# ours\n[pulley.red]\noutside = \"30 mm\"\nbore = \"5 mm\"\ncount = 3\nassumed = [\"bore taken as 5 mm\"]\n")}}})
	u.do(Event{Act: "door", On: stepCupboard})
	row := id(cupboardName, "pulley", "red")
	assert.Contains(t, u.says(row), "guessed")
	assert.Contains(t, u.says(row), "groove floor taken as 26 mm")
	u.do(Event{Act: "right", On: pathOf("pulley", "red")})
	assert.Contains(t, u.says(row), "ready")
	assert.Contains(t, u.Cupboard, `groove_floor = "26 mm"`)
	assert.Contains(t, u.Cupboard, "# ours")
	assert.NotContains(t, u.Cupboard, "assumed")
}

func TestAFileThatCannotBeMadeOutIsMendedAsAText(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "text", On: briefName, Form: map[string]string{"text": "model = \"vehicle\n[[["}})
	assert.Contains(t, u.says("line-"+stepQuestion), "to be put right")
	u.do(Event{Act: "door", On: stepQuestion})
	assert.NotNil(t, u.byID("text-b"))
	u.do(Event{Act: "undo"})
	assert.Contains(t, u.says("outcome"), "Best of all")
}

func TestASpeedInOwnWordsIsUnderstood(t *testing.T) {
	for said, want := range map[string]string{
		"1 turn in 3 s": "1 turn in 3 s", "once every 4 seconds": "1 turn in 4 seconds", "20": "20 rpm", "one turn every three seconds": "1 turn in 3 seconds",
		"20 times a minute": "20 turns a minute", "twenty turns per minute": "20 turns per minute", "fast": "fast", "15-20 rpm": "15-20 rpm",
		"about 20 turns a minute": "20 turns a minute", "half a turn a second": "0.5 turns a second", "a turn takes 3 seconds": "1 turn in 3 seconds", "twice a minute": "2 turns a minute",
		"once every three secs": "1 turn in 3 sec", "20 times round in a minute": "20 turns in 1 minute", "0,5 turns per second": "0.5 turns per second", "1 rev / 3 s": "1 turn in 3 s",
		"a quarter turn per second": "0.25 turns per second", "6 goes in a minute": "6 turns in 1 minute", "20 r.p.m.": "20 rpm", "20 revolutions per minute": "20 turns per minute",
	} {
		u := newUser(t)
		u.put(briefName, said, "speed")
		u.do(Event{Act: "door", On: stepQuestion})
		assert.Equal(t, want, attr(u.byID("brief-speed"), "value"), said)
	}
}

// Another model takes its own keys along, so that there is nothing to mend.
func TestEachModelCanBeChosen(t *testing.T) {
	for _, m := range models {
		u := newUser(t)
		for _, first := range models {
			u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("model"), Value: string(first.Is)}, nil)
			u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("model"), Value: string(m.Is)}, nil)
			r := u.read()
			assert.Empty(t, r.problems, "%s after %s", m.Is, first.Is)
		}
	}
}

// Hostile names stay words, wherever they are put in.
func TestHostileNamesStayWords(t *testing.T) {
	const evil = `"><img src=x onerror=alert(1)><script>alert(2)</script>' onfocus='alert(3)`
	u := newUser(t)
	u.put(briefName, evil, "name")
	u.do(Event{Act: "add", Form: map[string]string{"kind": "pulley", "name": evil[:50]}})
	u.put(cupboardName, evil, "pulley", "axle-10", "material")
	u.put(briefName, evil, "speed")
	u.do(Event{Act: "list files", Files: []File{{Name: evil, Data: []byte("Item,Size,Qty\n" + strings.ReplaceAll(evil, `"`, "") + ",40 mm,3\n")}}})
	for _, step := range []string{stepCupboard, stepQuestion, stepAnswer, stepList, stepTubs} {
		u.do(Event{Act: "door", On: step})
		for _, n := range u.nodes() {
			assert.NotEqual(t, "script", n.Data, step)
			assert.False(t, n.Data == "img" && attr(n, "src") == "x", step)
			for _, a := range n.Attr {
				assert.False(t, strings.HasPrefix(a.Key, "on"), "%s: %s", step, a.Key)
			}
		}
	}
}

// Wherever an act leads, the page has the place, so that nobody who uses the keyboard is
// sent back to its top.
func TestFocusGoesToAPlaceThatIsThere(t *testing.T) {
	u := newUser(t)
	goTo := func(e Event) {
		t.Helper()
		r := u.Do(context.Background(), e, nil)
		if assert.NotEmpty(t, r.Focus, e.Act) {
			assert.NotNil(t, u.byID(r.Focus), "%s: %s", e.Act, r.Focus)
		}
	}
	goTo(Event{Act: "choose", On: "2"})
	goTo(Event{Act: "choose", On: "6"})
	for _, step := range []string{stepHow, stepList, stepTubs, stepCupboard, stepQuestion, stepPaper, stepBuilt, stepBuy, stepAnswer} {
		goTo(Event{Act: "door", On: step})
	}
	u.do(Event{Act: "door", On: stepPaper})
	goTo(Event{Act: "look", On: "kit"})
	goTo(Event{Act: "look"})
	goTo(Event{Act: "search on"})
	u.do(Event{Act: "door", On: stepCupboard})
	goTo(Event{Act: "more", On: pathOf("motor", "slow")})
	goTo(Event{Act: "remove", On: pathOf("motor", "slow")})
	goTo(Event{Act: "remove", On: pathOf("drum", "spool-16")})
	goTo(Event{Act: "add", Form: map[string]string{"kind": "drum"}})
	goTo(Event{Act: "again"})
	u.do(Event{Act: "door", On: stepList})
	goTo(Event{Act: "read list", Form: map[string]string{"text": ""}})
	goTo(Event{Act: "read list", Form: map[string]string{"text": "Item,Size,Qty\nPulley,40 mm,3\nthing,,2\nrubber bands,,9\n", "usual": "yes"}})
	require.Len(t, u.Left, 2)
	goTo(Event{Act: "mend row", On: "1", Form: map[string]string{"name": "thing"}})
	goTo(Event{Act: "leave row", On: "1"})
	goTo(Event{Act: "mend row", On: "2", Form: map[string]string{"kind": "band", "name": "bands", "size": "no. 16", "count": "9"}})
	assert.Empty(t, u.Left)
}

// While the rest of the list is looked for, the first drive is shown as it will stand in the
// whole answer.
func TestTheFirstDriveIsShownWhileOthersAreLookedFor(t *testing.T) {
	s := New(Limits{})
	s.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("speed"), Value: "1 turn in 8 s"}, nil)
	var shown []string
	reply := s.Do(context.Background(), Event{Act: "answer"}, func(r *Reply) {
		if r.HTML != "" {
			shown = append(shown, r.HTML)
		}
	})
	require.Len(t, shown, 1)
	require.Contains(t, shown[0], "The next best are still looked for.")
	require.NotContains(t, reply.HTML, "The next best are still looked for.")
	card := regexp.MustCompile(`(?s) id="choice-1">.*?(<figure>.*?)(<p class="go">|</li>)`)
	early, whole := card.FindStringSubmatch(shown[0])[1], card.FindStringSubmatch(reply.HTML)[1]
	require.Equal(t, whole, early, "it stands as it will in the whole answer")
	require.NotContains(t, shown[0], `data-act="choose"`, "there is nothing to choose from yet")
}
