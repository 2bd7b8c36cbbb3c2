package page

import (
	"context"
	"strconv"
)

// doing is an act being done.
type doing struct {
	ctx context.Context
	Event
	meanwhile func(*Reply)
	reply     *Reply
}

// acts are what the user and the script can do, by name.
var acts map[string]func(*Session, doing)

func init() { // it would refer to itself otherwise
	acts = map[string]func(*Session, doing){
		"restore":         (*Session).actRestore,
		"other tab":       func(s *Session, _ doing) { s.apart = "tab" },
		"not kept":        func(s *Session, _ doing) { s.apart = "full" },
		"save here":       func(s *Session, d doing) { s.apart, d.reply.Focus = "", "skip" },
		"answer":          (*Session).actAnswer,
		"search on":       func(s *Session, d doing) { s.answer, s.long, d.reply.Focus = nil, true, "step-"+stepAnswer },
		"door":            (*Session).actDoor,
		"onward":          (*Session).actOnward,
		"undo":            func(s *Session, _ doing) { s.undo() },
		"redo":            func(s *Session, _ doing) { s.redo() },
		"again":           (*Session).actAgain,
		"make change":     (*Session).actMakeChange,
		"choose":          (*Session).actChoose,
		"set":             (*Session).actSet,
		"right":           (*Session).actRight,
		"more":            (*Session).actMore,
		"remove":          (*Session).actRemove,
		"add":             (*Session).actAdd,
		"rename":          (*Session).actRename,
		"text":            (*Session).actText,
		"go":              func(_ *Session, d doing) { d.reply.Focus = d.On },
		"cells":           (*Session).actCells,
		"read list":       (*Session).actList,
		"headings":        (*Session).actHeadings,
		"list files":      (*Session).actListFiles,
		"mend row":        (*Session).actMendRow,
		"leave row":       (*Session).actLeaveRow,
		"to rows":         func(s *Session, d doing) { s.Step, d.reply.Focus = stepCupboard, "left-head" },
		"open":            (*Session).actOpen,
		"unread":          (*Session).actUnread,
		"save":            (*Session).actSave,
		"pdf":             (*Session).actPDF,
		"csv":             (*Session).actCSV,
		"look":            (*Session).actLook,
		"print":           func(_ *Session, d doing) { d.reply.Print = true },
		"paper size":      func(s *Session, d doing) { s.letter = d.Value == "letter" },
		"trouble":         (*Session).actTrouble,
		"learn":           (*Session).actLearn,
		"class counts":    (*Session).actClassCounts,
		"learn class":     (*Session).actLearnClass,
		"plot":            (*Session).actPlot,
		"forget":          (*Session).actForget,
		"put away":        (*Session).actPutAway,
		"on table":        (*Session).actOnTable,
		"share":           (*Session).actShare,
		"share out":       (*Session).actShareOut,
		"class papers":    (*Session).actClassPapers,
		"prices":          (*Session).actPrices,
		"prices file":     (*Session).actPricesFile,
		"buy":             (*Session).actBuy,
		"tubs":            (*Session).actTubs,
		"measuring sheet": (*Session).actMeasuring,
		"licences":        func(s *Session, _ doing) { s.notice = !s.notice },
	}
}

// actRestore takes up the state that was kept, if there is one.
func (s *Session) actRestore(d doing) {
	crash := d.On == "crash"
	if d.Value == "" {
		if !crash {
			d.reply.HTML = stay // the first screen is there already
		}
		return
	}
	st, sh, ok := restored(d.Value)
	if !ok {
		s.said = "What was kept here is of another version of this page and could not be opened."
		return
	}
	s.state, s.shared = st, sh
	if crash {
		s.said = "The engine had to be started anew. Nothing of yours is lost; what you did last was not done."
	}
}

// actAnswer searches, unless there is an answer.
func (s *Session) actAnswer(d doing) {
	first := !s.laid
	s.find(d.ctx, d.meanwhile)
	switch {
	case !s.fresh():
		d.reply.HTML = stay
	case first && !s.answer.stopped:
		d.reply.HTML = stay // it stands there since the page was built
	case s.answer.told != nil:
		d.reply.Say = s.answer.told.Outcome
		if s.answer.stopped { // the button that had the focus is gone
			d.reply.Focus = "outcome"
		}
	}
}

func (s *Session) actDoor(d doing) {
	s.Step = d.On
	d.reply.Focus = "step-" + d.On
	switch d.On {
	case stepHow:
		d.reply.Focus = "how-head"
	case stepList, stepTubs:
		d.reply.Focus = "step-" + stepCupboard
	}
	if d.Value != "" { // a field there
		d.reply.Focus = d.Value
	}
}

// actOnward goes to the next step, unless something in this one is to be put right first.
func (s *Session) actOnward(d doing) {
	r := s.read()
	if (s.Step == stepCupboard && len(r.problems[cupboardName]) > 0) || (s.Step == stepQuestion && !r.sound()) {
		s.asked = true
		d.reply.Focus = "mistakes"
		return
	}
	s.asked = false
	s.actDoor(d)
}

func (s *Session) actAgain(d doing) {
	s.alter("starting again", func(f *files) { *f = example().files })
	s.Example, s.Step = true, stepAnswer
	s.list, s.tubs, s.tubsWrong, s.opened, s.shown, s.trouble, s.taught, s.classTold, s.buy = reading{}, nil, nil, nil, "", trouble{}, taught{}, classCounts{}, buying{}
	s.adding, s.naming = adding{}, naming{}
	d.reply.Focus = "doors-head"
}

// actChoose takes a drive of the list.
func (s *Session) actChoose(d doing) {
	n, err := strconv.Atoi(d.On)
	if err != nil || !s.fresh() || s.answer.told == nil || n < 1 || n > len(s.answer.told.Drives) {
		return
	}
	s.alter("the choice of drive", func(f *files) { f.Rank = n })
	s.said = "Number " + d.On + " is taken: paper is made for it."
	d.reply.Focus = "choice-" + d.On + "-head"
}
