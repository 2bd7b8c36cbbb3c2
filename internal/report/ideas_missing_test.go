package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/ideas"
)

// What serves most models is what covers the wants of most, the fewest parts first.
func TestWhatServesMostModels(t *testing.T) {
	wheels, cells := design.Use{Kind: "wheel", Name: "oak", Each: 4, Have: 24}, design.Use{Kind: "cells", Name: "one", Each: 1, Have: 6}
	pulleys, enough := design.Use{Kind: "pulley", Name: "red", Each: 2, Have: 9}, design.Use{Kind: "axle", Name: "dowel", Each: 1, Have: 20}
	r := &ideas.Result{}
	for _, uses := range [][]design.Use{{wheels, enough}, {wheels, cells}, {cells, pulleys}, {pulleys}, {wheels, enough}} {
		r.Answers = append(r.Answers, ideas.Answer{Idea: ideas.Idea{Brief: &brief.Brief{Sets: 8}}, Kind: ideas.FewerSets, Best: &design.Proposal{Uses: uses}})
	}
	var got []purchase
	for _, p := range missingMost(r) {
		got = append(got, purchase{words: p.words, serves: p.serves})
	}
	assert.Equal(t, []purchase{
		{words: "8 more of wheel oak; 2 more of cells one", serves: 3}, {words: "8 more of wheel oak", serves: 2},
		{words: "7 more of pulley red; 2 more of cells one", serves: 2}, {words: "7 more of pulley red", serves: 1},
	}, got)
}
