package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What only the table shows, and no number can, is asked for on every build sheet.
func TestWhatTheTableShows(t *testing.T) {
	for _, name := range golden {
		for _, p := range pages(t, set(t, name)) {
			if p.Name != "build" {
				continue
			}
			words := plainText(&p)
			for _, check := range []string{"Does a pulley wobble", "an axle slide endways", "A band climbs out", "dust or wax in a groove", "Fit them on the day"} {
				assert.Contains(t, words, check, name)
			}
		}
	}
}
