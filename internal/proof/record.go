package proof

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

var (
	// ErrMissed says that the list is wrong: while its proof was being written a drive
	// turned up that should have been listed. The proof written up to there ends with
	// it.
	ErrMissed = errors.New("the list of drives is wrong")
	// ErrOpen says that a proof has parts in it that are not settled, which makes it none.
	ErrOpen = errors.New("not settled")
)

// Record writes the proof that the listed drives are the best keep drives of a cupboard
// for a brief. It walks through the whole space on its own, and writes down what
// everything that is not listed costs at least. With ErrMissed and ErrOpen there is a
// proof too, which does not hold. Other errors: that ctx ended; that a listed drive is
// not what it is said to be.
func Record(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, keep int, list []Listed) ([]byte, error) {
	if keep < 1 || keep > maxKeep {
		return nil, fmt.Errorf("a proof is of 1 to %d drives", maxKeep)
	}
	h, err := headerOf(cup, b, keep)
	if err != nil {
		return nil, err
	}
	all := spaces(cup, b)
	ranking, err := rank(ctx, all, keep, list)
	if err != nil {
		return nil, err
	}
	w := &writer{}
	said := newWalk(ctx, ranking, w).spaces(all)
	var missed *missedError
	switch {
	case errors.As(said, &missed):
		w.line(better)
		said = fmt.Errorf("%w: %w", ErrMissed, missed)
	case said != nil:
		return nil, said
	case w.open > 0:
		said = fmt.Errorf("%w: %d of %d parts of the space are open", ErrOpen, w.open, w.lines)
	}
	out, err := file(h, list, legend(all), w.lines, &w.tree)
	if err != nil {
		return nil, err
	}
	return out, said
}

// writer writes down what it is told.
type writer struct {
	tree        bytes.Buffer
	at          string
	lines, open int
}

// whole keeps what is settled at a glance in one line.
func (w *writer) whole(_ string, easy bool) bool { return easy }

func (w *writer) before(at string) (bool, error) {
	w.at = at
	return false, nil
}

func (w *writer) after(_ string, f found) error {
	if f.open {
		w.open++
	}
	w.line(f.word())
	return nil
}

func (w *writer) line(word string) {
	w.tree.WriteString(w.at + " " + word + "\n")
	w.lines++
}
