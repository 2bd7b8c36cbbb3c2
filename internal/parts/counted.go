package parts

import (
	"strconv"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// CountedDrive is one drive that was built and counted: what it was made of, by the names
// of its parts, and the range in which its output's speed then lay. It is that one model;
// another of the same parts has another motor and other bands.
type CountedDrive struct {
	Name                     string
	Motor, Cells             string
	Output                   string      // wheel or drum; empty without
	Mass                     units.Grams // of the load
	Stages                   []CountedStage
	Slowest, Likely, Fastest units.RPM // of the output, the range about 19 times in 20
}

// CountedStage is one of its stages, the motor's first. Use and Run are as in the file of
// a drive.
type CountedStage struct {
	Driver, Driven, Band, Use, Run string
	Centre                         units.Millimetres
}

// mostStages is how many stages a drive may have.
const mostStages = 4

// readCounted reads [counted.NAME], which a calibration file has for each drive.
func readCounted(root *tomlfile.Table) []CountedDrive {
	speeds := tomlfile.Range[units.RPM]{Least: 0.01, Most: 50_000}
	names, tables := root.Named("counted")
	var out []CountedDrive
	for i, t := range tables {
		c := CountedDrive{Name: t.Text("name", names[i]), Output: t.Text("output", "")}
		c.Motor, c.Cells = neededName(t, "motor"), neededName(t, "cells")
		c.Mass = tomlfile.Quantity(t, "mass", &units.Masses, 0, tomlfile.Range[units.Grams]{Least: 0, Most: 100_000})
		for _, s := range []struct {
			key string
			to  *units.RPM
		}{{"slowest", &c.Slowest}, {"likely", &c.Likely}, {"fastest", &c.Fastest}} {
			t.Need(s.key, `"20 rpm"`)
			*s.to = tomlfile.Quantity(t, s.key, &units.Turnings, 1, speeds)
		}
		if t.Good("slowest", "likely", "fastest") && !(c.Slowest <= c.Likely && c.Likely <= c.Fastest) {
			t.Fail("likely", "it must lie between slowest and fastest")
		}
		stages, each := t.Named("stage")
		for k, s := range each {
			if stages[k] != strconv.Itoa(k+1) || k >= mostStages {
				s.Fail("", "the stages are stage.1, from the motor, to at most stage.%d, none left out", mostStages)
			}
			c.Stages = append(c.Stages, CountedStage{
				Driver: neededName(s, "driver"), Driven: neededName(s, "driven"), Band: neededName(s, "band"),
				Use: s.Choice("use", "single", "single", "looped twice", "two side by side"),
				Run: s.Choice("run", "open", "open", "crossed"), Centre: needed(s, "centre", anySize),
			})
			s.Close()
		}
		if len(stages) == 0 {
			t.Fail("", "there are no stages: write stage.1 = {driver = ..., driven = ..., band = ..., centre = ...}")
		}
		t.Close()
		out = append(out, c)
	}
	return out
}

// neededName is the name of a part that the table must give. Whether there is one of that
// name is not asked: a drive may outlast its parts.
func neededName(t *tomlfile.Table, key string) string {
	t.Need(key, `"a name from the cupboard"`)
	return t.Text(key, "")
}
