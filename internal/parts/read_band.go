package parts

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"findrive/internal/mechanics"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// tradeSize is what a band's number stands for.
type tradeSize struct{ flat, width units.Millimetres }

// tradeSizes are the numbers of rubber bands. From memory of the US trade table
// (as in Federal specification A-A-131); the lengths of 8 and 19, the widths of
// 8 to 19 and 30 to 34, and the whole of 64 agree with an encyclopaedia's
// article. Makers differ by about 5 % and some sellers round up, so a size
// taken from here is always noted as assumed.
var tradeSizes = map[string]tradeSize{
	"8": {22.2, 1.6}, "10": {31.8, 1.6}, "12": {44.5, 1.6}, "14": {50.8, 1.6}, "16": {63.5, 1.6}, "18": {76.2, 1.6}, "19": {88.9, 1.6},
	"24": {152.4, 1.6},
	"30": {50.8, 3.2}, "31": {63.5, 3.2}, "32": {76.2, 3.2}, "33": {88.9, 3.2},
	"61": {50.8, 6.4}, "62": {63.5, 6.4}, "63": {76.2, 6.4}, "64": {88.9, 6.4},
}

// TradeSize is how long, laid flat, and how wide the bands of a trade number are; false for a number that is not
// known here.
func TradeSize(number string) (flat, width units.Millimetres, known bool) {
	size, known := tradeSizes[number]
	return size.flat, size.width, known
}

// usualThickness of a stationery band (common practice: 0.8 to 1 mm).
const usualThickness units.Millimetres = 0.9

// A band that pulls more or less than so many times as hard as the default
// rubber has been measured wrongly: real bands differ by a third or so.
const leastPull, mostPull = 0.25, 4.0

// readBand reads a [band.NAME] table.
//
//	size           trade number, such as 16; gives what follows unless measured
//	flat_length    of the band laid flat, half its loop; needed without a size
//	width          needed without a size
//	thickness      otherwise 0.9 mm
//	stretch_limit  largest running stretch of this band, such as 1.8
//	hung_mass      a mass hung from the band, and
//	reached        how long the hanging loop then is inside, from the top of the
//	               peg it hangs on to the bottom of the hook in it: half the path
//	               round the loop
func readBand(it Item, t *tomlfile.Table) Band {
	b := Band{Size: readSize(t), PullFactor: 1}
	lengths, widths := sizes{Least: 5, Most: 1000}, sizes{Least: 0.3, Most: 50}
	size, known := tradeSizes[b.Size]
	switch {
	case b.Size == "" && t.Good("size"):
		t.Need("flat_length", `"63 mm"`)
		t.Need("width", `"1.5 mm"`)
	case !known && t.Good("size") && (!t.Has("flat_length") || !t.Has("width")):
		names := slices.SortedFunc(maps.Keys(tradeSizes), func(a, b string) int {
			na, _ := strconv.Atoi(a)
			nb, _ := strconv.Atoi(b)
			return na - nb
		})
		t.Fail("size", "trade size %s is not known here (known are %s): give flat_length and width as well", units.Quoted(b.Size), listed(names))
	}
	const measure = "makers differ: measure one"
	if known {
		reason := fmt.Sprintf("trade size %s; %s", b.Size, measure)
		b.FlatLength = assumed(t, &it, "flat_length", "flat length", lengths, size.flat, reason)
		b.Width = assumed(t, &it, "width", "band width", widths, size.width, reason)
	} else {
		b.FlatLength = tomlfile.Quantity(t, "flat_length", &units.Lengths, 63, lengths)
		b.Width = tomlfile.Quantity(t, "width", &units.Lengths, 1.5, widths)
	}
	b.Thickness = assumed(t, &it, "thickness", "band thickness", sizes{Least: 0.2, Most: 10}, usualThickness, "")
	b.StretchLimit = t.Number("stretch_limit", 0, 1.05, 2)
	readCalibration(t, &b)
	b.Item = it
	return b
}

// readSize is a trade number, which may be written with quotes or without.
func readSize(t *tomlfile.Table) string {
	if t.IsWhole("size") {
		return strconv.Itoa(t.Whole("size", 0, 1, 999))
	}
	return t.Text("size", "")
}

// readCalibration sets the pull factor from one hung mass, if there is one.
func readCalibration(t *tomlfile.Table, b *Band) {
	mass := tomlfile.Quantity(t, "hung_mass", &units.Masses, 100, tomlfile.Range[units.Grams]{Least: 1, Most: 5000})
	reached := tomlfile.Quantity(t, "reached", &units.Lengths, 100, anySize)
	if !t.Has("hung_mass") && !t.Has("reached") {
		return
	}
	t.Need("hung_mass", `"100 g"`)
	t.Need("reached", `"85 mm"`)
	if !t.Good("hung_mass", "reached", "size", "flat_length", "width", "thickness") {
		return
	}
	loop := mechanics.Loop{Rest: 2 * b.FlatLength, Width: b.Width, Thickness: b.Thickness, Strands: 1, PullFactor: 1, Rubber: mechanics.DefaultRubber()}
	factor, err := mechanics.PullFactorFromHungMass(loop, mass, reached)
	switch {
	case err != nil:
		t.Fail("reached", "%v (flat length %s, reached %s)", err, units.Lengths.Format(b.FlatLength), units.Lengths.Format(reached))
	case !(factor >= leastPull && factor <= mostPull):
		t.Fail("reached", "this band would pull %.2g times as hard as rubber does: measure the mass, the length, the width and the thickness again", factor)
	default:
		b.PullFactor, b.Calibrated = factor, true
	}
}
