package plan_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/prices"
	"findrive/internal/supply"
)

// rodsShort is a cupboard whose thinner rods yield one axle with wheels each, and are short.
const rodsShort = `
[pulley]
tiny = {outside = "7 mm", groove_floor = "4.5 mm", bore = "2 mm", count = 9}
oak-30 = {outside = "30 mm", groove_floor = "25 mm", bore = "4 mm", width = "10 mm", material = "wood", count = 7}
oak-52 = {outside = "52 mm", groove_floor = "46 mm", bore = "4 mm", width = "10 mm", material = "wood", count = 11}
[band]
a = {flat_length = "70 mm", width = "1.5 mm", thickness = "1 mm", count = 11}
b = {flat_length = "95 mm", width = "1.5 mm", thickness = "1 mm", count = 13}
[motor]
kit = {rated = "3 V", free_speed = "7000 rpm", stall_torque = "20 g.cm", count = 10}
[cells]
single = {cells = 1, count = 3}
pair = {cells = 2, chemistry = "alkaline", condition = "used", count = 9}
[axle]
d5 = {diameter = "5 mm", length = "400 mm", count = 9}
d4 = {diameter = "4 mm", length = "250 mm", count = 8}
[sleeve]
s24 = {inner = "2 mm", outer = "4 mm", count = 20}
[wheel]
tyre = {diameter = "60 mm", bore = "4 mm", width = "10 mm", count = 24}
`

// A plan whose drives, each worked out anew, would have better axles of rods that are not there for
// all is written with the axles that it was made of.
func TestRodsOfAPlan(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", []byte(rodsShort))
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", []byte(`
model = "vehicle"
speed = "1 m in 4 s"
tolerance = "30 %"
sets = 6
load = {mass = "350 g"}
frame = {length = "300 mm", height = "70 mm", depth = "90 mm", sheet = "4 mm"}
`), cup)
	require.NoError(t, err)
	list, err := prices.Read("prices.toml", []byte(`
currency = "GBP"
supplier.fen = {carriage = "2.95"}
pulley.twenty = {outside = "20 mm", bore = "5 mm"}
[offer]
twenty = {part = "pulley.twenty", pack = 10, price = "2.00"}
oak = {part = "pulley.oak-52", pack = 4, price = "2.80"}
b = {part = "band.b", pack = 25, price = "0.95"}
tiny = {part = "pulley.tiny", pack = 3, price = "1.20"}
oak-30 = {part = "pulley.oak-30", pack = 5, price = "3.10"}
kit = {part = "motor.kit", pack = 1, price = "1.99"}
single = {part = "cells.single", pack = 1, price = "0.55"}
`), cup)
	require.NoError(t, err)
	r, err := supply.Find(context.Background(), &supply.Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{b}, Mix: true}, supply.Options{})
	require.NoError(t, err)
	require.NotNil(t, r.Plan)
	p, err := plan.OfPurchase(context.Background(), "findrive shop", r, 2)
	require.NoError(t, err)
	p, _, _ = written(t, p)
	assert.Equal(t, 6, p.Briefs[0].Served)
}
