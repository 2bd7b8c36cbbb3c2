package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/supply"
)

// Briefs of one name, and of none, are told apart by their numbers.
func TestBriefsAreToldApart(t *testing.T) {
	q := &supply.Question{}
	for _, name := range []string{"Ride", "Sign", "Ride", ""} {
		q.Briefs = append(q.Briefs, &brief.Brief{Name: name})
	}
	var said []string
	for i := range q.Briefs {
		said = append(said, briefCalled(q, i))
	}
	assert.Equal(t, []string{"1. Ride", "Sign", "3. Ride", "brief 4"}, said)
}
