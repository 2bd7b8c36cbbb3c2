package units_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/units"
)

func TestCapital(t *testing.T) {
	for words, want := range map[string]string{"": "", "a": "A", "£7.00 is the least": "£7.00 is the least", "écrou": "Écrou", "Ω": "Ω", "9 turns": "9 turns", "two bands": "Two bands"} {
		assert.Equal(t, want, units.Capital(words))
	}
}
