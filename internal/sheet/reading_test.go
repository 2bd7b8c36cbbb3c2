package sheet

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/reading"
)

// sentences of a page, one to a heading, a line or a full stop.
func sentences(p *Page) []string {
	var out []string
	say := func(words string) { out = append(out, reading.Sentences(words)...) }
	say(p.Title)
	for _, b := range flat(p.Blocks) {
		switch b := b.(type) {
		case Heading:
			say(string(b))
		case Text:
			// Letters to be ringed are no words.
			words, _, _ := strings.Cut(b.Words, "    ")
			say(words)
		case Steps:
			for _, s := range b.Items {
				say(s.Do)
				say(s.Check)
			}
		case Boxes:
			for _, l := range b.Labels {
				say(l)
			}
		}
	}
	return out
}

// What stands under the pictures is as short.
func TestPicturesCanBeRead(t *testing.T) {
	check := func(s *Set, name string) {
		var all []string
		for i := range s.plan.Steps {
			if step := &s.plan.Steps[i]; step.Hands() {
				do, check := s.youngWords(step)
				all = append(all, append(reading.Sentences(do), reading.Sentences(check)...)...)
			}
		}
		for _, w := range all {
			assert.Less(t, len(reading.Words(w)), 12, "%s: %q", name, w)
		}
		assert.Less(t, reading.Grade(all), 2.5, name)
	}
	for _, name := range every {
		check(set(t, name), name)
	}
	for seed := range uint64(200) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		check(s, fmt.Sprint(seed))
	}
}

// Sentences of fewer than twelve words, and words of few beats.
func TestPupilsCanReadIt(t *testing.T) {
	for _, name := range every {
		p := set(t, name).Pupils()
		all, words := sentences(&p), 0
		for _, s := range all {
			n := len(reading.Words(s))
			assert.Less(t, n, 12, "%s: %q", name, s)
			words += n
		}
		assert.Less(t, reading.Grade(all), 2.5, name)
		assert.Greater(t, words, 100, name)
	}
}
