package parts

import (
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Block is a pulley block: sheaves side by side on one axle between two cheeks,
// hung by one end.
type Block struct {
	Item
	Sheaves     int               // 1 to MaxSheaves
	Outside     units.Millimetres // of a sheave, over the rims
	GrooveFloor units.Millimetres // diameter the cord lies on
	GrooveWidth units.Millimetres // room for the cord
	Width       units.Millimetres // of a sheave along the axle
	// Bore and Axle are the hole of a sheave and the axle through it. Both are 0
	// for a bought block that was not taken apart; its friction is then the
	// observed one.
	Bore, Axle   units.Millimetres
	AxleMaterial Material
	HomeMade     bool
	Sheet        units.Millimetres // thickness of a cheek, home-made only
	SheetKind    Sheet             // home-made only
	Spacer       units.Millimetres // thickness of a spacer beside a sheave, home-made only
	Mass         units.Grams
	// Drop is from the axle to where the block hangs, Nose from the axle to the
	// end towards the other block. Both are 0 for a home-made block, whose
	// cheeks are worked out when it is designed.
	Drop, Nose units.Millimetres
}

// Sheet is what the cheeks of a home-made block are cut from.
type Sheet string

// The sheets the program knows.
const (
	FlutedPlastic Sheet = "corrugated plastic"
	FlutedCard    Sheet = "corrugated card"
	PlainCard     Sheet = "card"
	Plywood       Sheet = "plywood"
	Fibreboard    Sheet = "MDF" // for discs only
)

// Fluted reports whether the sheet has flutes, and so a strong and a weak way.
func (s Sheet) Fluted() bool { return s == FlutedPlastic || s == FlutedCard }

// MaxSheaves is the most sheaves one block may have.
const MaxSheaves = 4

// Cord is string for lifting, in pieces or on reels of one length.
type Cord struct {
	Item
	Diameter units.Millimetres
	Length   units.Millimetres // of one piece
	Strength units.Newtons     // the pull that breaks it; 0 if not given
}

// What is taken of blocks that were not measured or weighed (judgement, from
// small plastic sheaves on dowel).
const (
	usualSheaveWidth units.Millimetres = 7
	usualSpacer      units.Millimetres = 1.5
	grooveDepth      units.Millimetres = 2
	usualGroove      units.Millimetres = 3
	bareBlock        units.Grams       = 10 // cheeks, axle and hook
	eachSheave       units.Grams       = 8
)

// readBlock reads a [block.NAME] table:
//
//	sheaves         how many side by side, 1 to 4; needed
//	sheave          outside diameter of a sheave; needed
//	groove_floor    diameter the cord lies on, otherwise 4 mm less
//	groove_width    otherwise 3 mm
//	sheave_width    along the axle, otherwise 7 mm
//	bore, axle      of the sheave and of what it turns on; without them the
//	                friction is taken as observed on others
//	axle_material   otherwise wood
//	made            "bought" (otherwise) or "home"
//	mass            otherwise 10 g and 8 g for each sheave
//
// A bought block may have drop, from the axle to the top of its hook, and nose,
// from the axle to its other end. A home-made one needs bore, axle and sheet,
// the thickness of its cheeks; and may have sheet_kind, otherwise corrugated
// plastic, and spacer, the thickness of one, otherwise 1.5 mm.
func readBlock(it Item, t *tomlfile.Table) Block {
	t.Need("sheaves", "2")
	b := Block{Sheaves: t.Whole("sheaves", 1, 1, MaxSheaves), Outside: needed(t, "sheave", sizes{Least: 5, Most: 200})}
	b.GrooveFloor = assumed(t, &it, "groove_floor", "groove floor", discSize, max(discSize.Least, b.Outside-2*grooveDepth), "outside less 4 mm")
	if t.Good("sheave", "groove_floor") && b.GrooveFloor > b.Outside {
		t.Fail("groove_floor", "the groove floor, %s, cannot be larger than the sheave, %s: measure both again", units.Lengths.Format(b.GrooveFloor), units.Lengths.Format(b.Outside))
	}
	b.GrooveWidth = assumed(t, &it, "groove_width", "groove width", anySize, usualGroove, "")
	b.Width = assumed(t, &it, "sheave_width", "sheave width", sizes{Least: 1, Most: 100}, usualSheaveWidth, "")
	b.HomeMade = t.Choice("made", "bought", "bought", "home") == "home"
	readSheaveAxle(t, &b)
	if b.HomeMade {
		readCheeks(t, &b, &it)
	} else {
		t.Refuse("sheet", "this belongs to a home-made block: write made = \"home\" as well")
		t.Refuse("sheet_kind", "this belongs to a home-made block: write made = \"home\" as well")
		t.Refuse("spacer", "this belongs to a home-made block: write made = \"home\" as well")
		reach := sizes{Least: b.Outside / 2, Most: 400}
		b.Drop = assumed(t, &it, "drop", "axle to hook", reach, b.Outside/2+20, "")
		b.Nose = assumed(t, &it, "nose", "axle to nose", reach, b.Outside/2+5, "")
	}
	b.Mass = tomlfile.Quantity(t, "mass", &units.Masses, bareBlock+units.Grams(b.Sheaves)*eachSheave, tomlfile.Range[units.Grams]{Least: 1, Most: 500})
	if !t.Has("mass") {
		it.Assumed = append(it.Assumed, "mass taken as "+units.Masses.Format(b.Mass))
	}
	b.Item = it
	return b
}

// readSheaveAxle reads what a sheave turns on. Bore and axle come together: one
// of them says nothing about friction.
func readSheaveAxle(t *tomlfile.Table, b *Block) {
	both := t.Has("bore") || t.Has("axle") || b.HomeMade
	if both {
		t.Need("bore", `"5.5 mm"`)
		t.Need("axle", `"5 mm"`)
	}
	b.Bore = tomlfile.Quantity(t, "bore", &units.Lengths, 0, boreSize)
	b.Axle = tomlfile.Quantity(t, "axle", &units.Lengths, 0, shaftSize)
	b.AxleMaterial = readMaterial(t, "axle_material", Wood)
	if !both {
		return
	}
	if t.Good("groove_floor", "sheave") {
		boreFits(t, b.Bore, "sheave", "a groove floor", b.GrooveFloor)
	}
	if t.Good("bore", "axle") && b.Axle > b.Bore+pushRoom {
		t.Fail("axle", "an axle of %s does not go into a bore of %s: measure both again", units.Lengths.Format(b.Axle), units.Lengths.Format(b.Bore))
	}
}

// pushRoom is how much over its bore a dowel may be and still be pushed in
// (common practice).
const pushRoom units.Millimetres = 0.2

func readCheeks(t *tomlfile.Table, b *Block, it *Item) {
	t.Refuse("drop", "this belongs to a bought block; a home-made one has its cheeks worked out")
	t.Refuse("nose", "this belongs to a bought block; a home-made one has its cheeks worked out")
	t.Need("sheet", `"4 mm"`)
	b.Sheet = tomlfile.Quantity(t, "sheet", &units.Lengths, 4, sizes{Least: 0.5, Most: 12})
	kinds := []string{string(FlutedPlastic), string(FlutedCard), string(PlainCard), string(Plywood)}
	b.SheetKind = Sheet(t.Choice("sheet_kind", string(FlutedPlastic), kinds...))
	b.Spacer = assumed(t, it, "spacer", "spacer thickness", sizes{Least: 0.3, Most: 20}, usualSpacer, "")
}

// readCord reads a [cord.NAME] table: diameter and length of one piece or reel,
// both needed; strength, the pull that breaks it, may be left out.
func readCord(it Item, t *tomlfile.Table) Cord {
	return Cord{
		Item: it, Diameter: needed(t, "diameter", sizes{Least: 0.2, Most: 8}), Length: needed(t, "length", sizes{Least: 100, Most: 1_000_000}),
		Strength: tomlfile.Quantity(t, "strength", &units.Forces, 0, tomlfile.Range[units.Newtons]{Least: 1, Most: 20_000}),
	}
}
