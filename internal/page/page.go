// Package page is the page that opens by double click: one HTML file with the same
// engine in it. What the user does reaches a Session as an Event; the Session changes
// its state and renders the whole page, which a small script lays in. Everything that is
// said and drawn is made here; the script knows nothing of it.
//
//	page.go      acts: an Event in, a Reply out
//	acts.go      which acts there are; acts_files.go those that change the files
//	idle.go      what is done while nothing is asked
//	state.go     the user's files and what was done to them, undo and redo
//	keep.go      the state as a text, for the browser's storage; keep_plan.go how the
//	             cupboard was shared out
//	edit.go      what is put into a field, as a change of a file
//	document.go  the HTML file: first screen, style, scripts, engine; base85.go the engine
//	             as letters
//	layout.go    the page: doors, steps, the foot
//	cupboard.go  step 1, fields.go its columns; list.go and tubs.go two doors to it,
//	             left.go rows of a list to be mended, rename.go other names for parts,
//	             tubs_drawing.go the parts drawn, measuring.go a sheet to lay them on
//	question.go  step 2, speed.go what was understood of a speed, meant.go what is taken for
//	             what it does not say, pictures.go the models
//	answer.go    step 3: search.go finds it, card.go a choice, turning.go its drawing
//	none.go      why there is no drive, and the changes that are buttons
//	paper.go     step 4: what is printed; class.go what is for the whole class
//	built.go     step 5: what may be wrong with the model on the table;
//	             learned.go what counting it teaches, class_counts.go what all groups counted
//	buy.go       step 6: the least to buy
//	files.go     what is opened and saved
//	mistakes.go  what is wrong in the files, at the fields
//	glue.js, base85.js, page.js, page.css, idiomorph.js   the script, and how it looks
package page

import (
	"context"
	"errors"
	"strings"
	"time"
)

// Why a search may end before it is done, as causes of a context.
var (
	ErrStopped   = errors.New("stopped by the user")
	ErrOvertaken = errors.New("another act came")
)

// Event is one act of the user.
type Event struct {
	Act   string            `json:"act"`
	On    string            `json:"on"`    // what it is about: a field, a part, a page
	Value string            `json:"value"` // what was put in
	Form  map[string]string `json:"form"`  // the fields of a form
	Files []File            `json:"files"` // chosen or dropped
}

// File is a file that comes in or goes out.
type File struct {
	Name string `json:"name"`
	Type string `json:"type"` // as in "application/pdf"
	Data []byte `json:"data"`
}

// Reply is what comes of an act.
type Reply struct {
	HTML  string `json:"html,omitempty"`  // the page; empty: it stays as it is
	Title string `json:"title,omitempty"` // of the window
	Focus string `json:"focus,omitempty"` // the id to go to; empty: focus stays
	Say   string `json:"say,omitempty"`   // read out to who cannot see what changed
	SoFar string `json:"soFar,omitempty"` // how far a search is
	Keep  string `json:"keep,omitempty"`  // the state, to be kept and handed to "restore"
	Next  string `json:"next,omitempty"`  // an act to send when nothing else is waiting
	Print bool   `json:"print,omitempty"` // open the print dialog
	Files []File `json:"files,omitempty"` // to be saved
}

// Limits bound searches; each makes a context of one that ends in time. Nil bounds none.
type Limits struct {
	Find              func(context.Context) (context.Context, context.CancelFunc)
	Long              func(context.Context) (context.Context, context.CancelFunc) // once more, to the end
	Half              func(context.Context) (context.Context, context.CancelFunc) // for any drive at all
	First, Alone, One func(context.Context) (context.Context, context.CancelFunc) // as package why has them
}

// longer is how many times as long a search may take that is asked for again.
const longer = 20

// WithLimits are the limits of the command line for a search of so long.
func WithLimits(limit time.Duration) Limits {
	share := func(of time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
		return func(ctx context.Context) (context.Context, context.CancelFunc) {
			return context.WithTimeout(ctx, limit/of)
		}
	}
	return Limits{Find: share(1), Long: func(ctx context.Context) (context.Context, context.CancelFunc) {
		return context.WithTimeout(ctx, longer*limit)
	}, Half: share(2), First: share(2), Alone: share(8), One: share(30)}
}

// Session is one user's page. It is used by one goroutine at a time.
type Session struct {
	limits Limits
	state
	answer    *answer           // of the files as they are, or nil
	before    *answer           // the last one, shown grey until the next is there
	early     *answer           // the first drive of the list that is being looked for, or nil
	known     []*answer         // the last few, for undo and redo
	long      bool              // whether the next search may take long
	laid      bool              // whether anything was laid in over the first screen, which has the example's answer
	shown     string            // the page that is looked at on the step Paper
	letter    bool              // whether the paper is Letter, not A4
	said      string            // a word about the last act, over the steps
	list      reading           // the list being read
	tubs      map[string]string // what was counted
	tubsWrong map[string]string
	opened    map[string]bool // rows of the cupboard that show all their fields
	adding    adding          // a part that was not added
	naming    naming          // a name that was not changed
	asked     bool            // whether mistakes are summed up over the question
	apart     string          // why nothing is kept: another tab, or no leave
	shared    shared          // the cupboard shared out among all groups
	buy       buying          // the least to buy
	trouble   trouble         // what was told of the built model
	taught    taught          // what the last counts say
	classTold classCounts     // what the counts of all groups say
	notice    bool            // whether the licences are shown
	rehearsed int             // how often searches have been
}

// New is a session that shows the example.
func New(limits Limits) *Session {
	s := &Session{limits: limits}
	s.state = example()
	return s
}

// Do does one act. meanwhile, which may be nil, is told how far a search is, and given the
// page once the first drive of a list is settled.
// ctx stops it; its cause says why: ErrOvertaken leaves no answer, anything else what
// was found so far.
func (s *Session) Do(ctx context.Context, e Event, meanwhile func(*Reply)) *Reply {
	r := &Reply{}
	if meanwhile == nil {
		meanwhile = func(*Reply) {}
	}
	act, known := acts[e.Act]
	if !known {
		r.Say = "The page does not know " + e.Act + "."
		return r
	}
	if e.Act != "answer" && e.Act != "buy" && e.Act != "share out" { // which nobody asked for: what was said last still holds
		s.said = ""
	}
	act(s, doing{ctx: ctx, Event: e, meanwhile: meanwhile, reply: r})
	s.recall()
	if r.HTML == stay {
		r.HTML = ""
	} else {
		r.HTML, s.laid = s.html(), true
	}
	r.Title = s.title()
	r.Keep = s.kept()
	if s.said != "" && r.Say == "" {
		r.Say = s.said
	}
	if r.Next == "" && s.wantsAnswer() {
		r.Next = "answer"
	}
	return r
}

// stay, as the HTML of a reply, leaves the page as it is.
const stay = "-"

func (s *Session) html() string {
	var b strings.Builder
	_ = s.page().Render(&b) // a strings.Builder takes everything
	return b.String()
}

func (s *Session) title() string {
	if s.Example {
		return "findrive: drives for moving models"
	}
	return s.name() + " - findrive"
}
