package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/money"
	"findrive/internal/prices"
	"findrive/internal/supply"
)

// What is proved is proved of the rows that could be read.
func TestProvedOfTheRowsRead(t *testing.T) {
	r := &supply.Result{None: true, Question: &supply.Question{Briefs: []*brief.Brief{{Sets: 4}}, List: &prices.List{Currency: money.Currency{}}}}
	for unread, words := range map[int]string{
		0: "No order from this list lets all 4 groups build. Proved.",
		1: "No order from this list lets all 4 groups build. Proved for the rows that could be read; 1 could not.",
		3: "No order from this list lets all 4 groups build. Proved for the rows that could be read; 3 could not.",
	} {
		r.Question.List.Unread = unread
		assert.Equal(t, words, TellShop(r).Outcome)
	}
}
