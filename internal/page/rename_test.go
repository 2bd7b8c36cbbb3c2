package page

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
)

// quiet does an act without the search that follows from it.
func (u *user) quiet(e Event) *Reply { return u.Do(context.Background(), e, nil) }

func (u *user) rename(kind, was, now string) *Reply {
	return u.quiet(Event{Act: "rename", On: pathOf(kind, was), Form: map[string]string{"name": now}})
}

// A part has another name wherever it is named: in the cupboard with its remarks, in the
// question, in what was learned, in the model on the table and in the prices. All of it is one
// step back.
func TestAPartIsNamedAnewWhereverItIsNamed(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	u.do(Event{Act: "learn", Form: map[string]string{"counted": "11 turns in 30 s; no-16: 100 g to 107 mm"}})
	prices := "schema = 1\ncurrency = \"GBP\"\n[supplier.hill]\n[offer.a]\npart = \"motor.slow\" # as quoted\nsupplier = \"hill\"\npack = 1\nprice = \"1.40\"\n"
	u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": strings.Replace(u.Cupboard, "[motor.slow]", "[motor.slow] # from the blue box", 1)}})
	u.alter("the prices", func(f *files) { f.Prices = prices })
	require.Contains(t, u.Learned, "[motor.slow]")
	require.Contains(t, u.Model, `motor = "slow"`)
	was := u.files
	u.quiet(Event{Act: "door", On: stepCupboard})
	u.quiet(Event{Act: "more", On: pathOf("motor", "slow")})
	require.Equal(t, "slow", attr(u.byID(id("name", "motor", "slow")), "value"))

	r := u.rename("motor", "slow", " Grey  motor ")
	assert.Equal(t, id("name", "motor", "Grey motor"), r.Focus)
	assert.Equal(t, "Grey motor", attr(u.byID(r.Focus), "value"))
	for name, text := range map[string]string{"cupboard": u.Cupboard, "learned": u.Learned, "model": u.Model} {
		assert.Contains(t, text, `[motor."Grey motor"]`, name)
		assert.NotContains(t, text, "[motor.slow]", name)
	}
	assert.Equal(t, strings.Replace(was.Cupboard, "[motor.slow]", `[motor."Grey motor"]`, 1), u.Cupboard)
	assert.NotContains(t, u.Learned+u.Model, `motor = "slow"`)
	assert.Equal(t, strings.Replace(prices, "motor.slow", "motor.Grey motor", 1), u.Prices)
	rd := u.read()
	assert.True(t, rd.sound(), "%v", rd.problems)
	for kind, names := range map[string][2]string{"band": {"no-24", "long thin"}, "pulley": {"motor-6", "on the motor"}, "cells": {"two", "pair"}, "axle": {"dowel-5", "stick"}} {
		u.rename(kind, names[0], names[1])
		assert.NotContains(t, u.Model+u.Learned, `"`+names[0]+`"`, kind)
	}
	_, err := u.model(u.read())
	require.NoError(t, err)
	for range 5 {
		u.quiet(Event{Act: "undo"})
	}
	assert.True(t, u.files.same(was))
}

// A name says nothing of a part: with another one it is the same part, of each kind, in a
// cupboard that says much and in one that says little.
func TestAPartIsTheSameByAnyName(t *testing.T) {
	for _, text := range [][]byte{demo.Cupboard(), demo.StarterCupboard()} {
		f := files{Cupboard: string(text), Brief: string(demo.StarterBrief())}
		before, err := parts.Read("", text)
		require.NoError(t, err)
		for _, k := range kinds {
			for _, name := range before.Names(k.Key) {
				after, why := f.renamed(k.Key, name, "no-33 x 99 mm")
				require.Empty(t, why, name)
				cup, err := parts.Read("", []byte(after.Cupboard))
				require.NoError(t, err, name)
				said := func(c *parts.Cupboard) (out []string) {
					for _, e := range c.Facts() {
						if e.Key[1] == name {
							e.Key = []string{e.Key[0], "no-33 x 99 mm", e.Key[2]}
						}
						out = append(out, e.String())
					}
					slices.Sort(out)
					return out
				}
				assert.Equal(t, said(before), said(cup))
				assert.Equal(t, before.Item(k.Key, name).Assumed, cup.Item(k.Key, "no-33 x 99 mm").Assumed)
			}
		}
	}
}

// The wheel and the drum of a question have their new names there.
func TestTheQuestionFollowsTheNameOfAPart(t *testing.T) {
	for _, c := range []struct{ model, kind, part string }{{"vehicle", "wheel", "wheel-50"}, {"lift", "drum", "spool-16"}} {
		u := newUser(t)
		u.quiet(Event{Act: "set", On: briefName + pathOf("model"), Value: c.model})
		u.alter("it", func(f *files) { f.Brief = set(f.Brief, literal(field{Sort: words}, c.part), "load", c.kind) })
		before := u.read()
		require.True(t, before.sound(), "%v", before.problems)
		u.rename(c.kind, c.part, "ours")
		assert.Contains(t, u.Brief, c.kind+` = "ours"`)
		after := u.read()
		assert.True(t, after.sound(), "%v", after.problems)
	}
}

// In a table of prices the cells that are just the name have the new one. Where the name is
// only meant by words that are like it, the change is refused with a plain sentence.
func TestPricesInATableFollowTheNameOrRefuseIt(t *testing.T) {
	head := "Supplier,Kind,Part,Pack,Price\n"
	u := newUser(t)
	u.alter("the prices", func(f *files) { f.Prices = head + "Hill,pulley,disc-80,5,3.00\nHill,band,no-16,100,2.40\n" })
	u.rename("pulley", "disc-80", "big red")
	assert.Equal(t, head+"Hill,pulley,big red,5,3.00\nHill,band,no-16,100,2.40\n", u.Prices)
	u.alter("the prices", func(f *files) { f.Prices = head + "Hill,pulley,disc 60,5,3.00\n" })
	was := u.files
	_, _, err := u.shop()
	require.NoError(t, err)
	r := u.rename("pulley", "disc-60", "big blue")
	assert.Contains(t, r.Say, "Your prices mean this part by its name")
	assert.True(t, u.files.same(was))
}

// A name that cannot be is refused at its field, and stays there as it was typed.
func TestANameThatCannotBeStaysInItsField(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepCupboard})
	u.quiet(Event{Act: "more", On: pathOf("pulley", "disc-80")})
	was := u.files
	for typed, why := range map[string]string{"": "needs a name", "disc-60": "of that name already", strings.Repeat("a", 61): "at most 60", "a\u200bb\u0007": "can be seen"} {
		r := u.rename("pulley", "disc-80", typed)
		fid := id("name", "pulley", "disc-80")
		assert.Equal(t, fid, r.Focus)
		assert.Equal(t, typed, attr(u.byID(fid), "value"))
		assert.Equal(t, "true", attr(u.byID(fid), "aria-invalid"))
		assert.Contains(t, u.says(fid+"-wrong"), why)
		assert.True(t, u.files.same(was))
	}
	u.rename("pulley", "disc-80", "round")
	assert.Nil(t, u.byID(id("name", "pulley", "round")+"-wrong"))
	u.rename("pulley", "none", "round")
	u.quiet(Event{Act: "rename", On: "nonsense"})
}

// What was typed for a part that cannot be added stays in its form.
func TestAPartThatIsNotAddedStaysInItsForm(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepCupboard})
	r := u.quiet(Event{Act: "add", Form: map[string]string{"kind": "wheel", "name": "wheel-50"}})
	assert.Equal(t, "add-name", r.Focus)
	assert.Equal(t, "wheel-50", attr(u.byID("add-name"), "value"))
	assert.Contains(t, u.says("add-name-wrong"), "There is a wheel of that name already.")
	for _, n := range u.nodes() {
		if n.Data == "option" && attr(n, "value") == "wheel" {
			has := false
			for _, a := range n.Attr {
				has = has || a.Key == "selected"
			}
			assert.True(t, has, "the kind stays too")
		}
	}
	u.quiet(Event{Act: "add", Form: map[string]string{"kind": "wheel", "name": "wheel-51"}})
	assert.Empty(t, attr(u.byID("add-name"), "value"))
	assert.Nil(t, u.byID("add-name-wrong"))
	u.quiet(Event{Act: "add", Form: map[string]string{"kind": "drum", "name": ""}})
	u.quiet(Event{Act: "add", Form: map[string]string{"kind": "drum", "name": ""}})
	assert.Empty(t, u.says("add-name-wrong"), "a name of our own is one that is free")
}
