package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// testStretch is the stretch at which a band's pull is written down as a hung mass.
const testStretch = 1.5

// Calibration is what was learned as a file in the words of a cupboard, to be pasted
// there or read by parts.Calibrate. Empty if no reading was learned from.
//
// A motor is written as counted only if its speed is known as narrowly as the engine
// takes a count to be (drive.CountedUncertainty), and a band as weighed only if its
// pull is (drive.WeighedBandUncertainty); a motor known less well gets its new speed
// under free_speed, and how well it is known under speed_known_to. The drive itself is written as counted, with
// those that were counted before. What an earlier calibration said of other motors and bands
// is written again, so that nothing that was learned is lost.
func (r *Result) Calibration() []byte {
	var out strings.Builder
	name := strings.Map(func(c rune) rune {
		if c < ' ' {
			return ' '
		}
		return c
	}, r.Build.Name)
	fmt.Fprintf(&out, "# Learned from what was measured on: %s\n# Give this file with --calibration; or paste its motors and bands into the tables of\n# the same names in a cupboard.\n", name)
	empty := true
	if r.Counted {
		key, note := "free_speed", fmt.Sprintf("from %s to %s: not yet as narrowly as a count should be", units.Significant(r.Motor.After.Low(), 3), units.Significant(r.Motor.After.High(), 3))
		if r.Narrow() {
			key, note = "counted_speed", fmt.Sprintf("from %s to %s", units.Significant(r.Motor.After.Low(), 3), units.Significant(r.Motor.After.High(), 3))
		}
		fmt.Fprintf(&out, "\n[motor.%s]\n%s = \"%s rpm\" # %s\n", tomlName(r.Build.Drive.Motor.Name), key, units.Significant(r.Motor.After.Likely, 4), note)
		if known := math.Ceil(1000*r.Motor.After.Share) / 10; !r.Narrow() && known < 100*drive.MotorUncertainty {
			fmt.Fprintf(&out, "speed_known_to = \"%s %%\"\n", units.Decimals(known, 1))
		}
		empty = false
	}
	var bands []string
	for i := range r.Bands {
		b := &r.Bands[i]
		if b.After.Share > drive.WeighedBandUncertainty+rounding {
			continue
		}
		band := r.band(b.Name)
		if band == nil {
			continue
		}
		band.PullFactor = b.After.Likely
		writeBand(&out, b.Name, band)
		bands, empty = append(bands, b.Name), false
	}
	empty = !r.writeEarlier(&out, bands) && empty
	models := r.counted()
	for i := range models {
		writeCounted(&out, i+1, &models[i])
	}
	if empty && len(models) == 0 {
		return nil
	}
	return []byte(out.String())
}

// writeBand writes a band's pull as a mass hung from it.
func writeBand(out *strings.Builder, name string, band *mechanics.Loop) {
	reached := units.Millimetres(math.Round(float64(testStretch*band.Rest/2)*10) / 10)
	mass := 2000 * float64(band.Pull(float64(2*reached/band.Rest))) / units.StandardGravity
	fmt.Fprintf(out, "\n[band.%s]\nhung_mass = \"%s g\" # its pull, as a mass hung from it\nreached = \"%s mm\"\n", tomlName(name), units.Significant(mass, 5), units.Decimals(float64(reached), 1))
}

// writeEarlier writes what an earlier calibration said of motors and bands that nothing was
// learned of now; bands are those that are written already. It reports whether there was
// anything.
func (r *Result) writeEarlier(out *strings.Builder, bands []string) bool {
	cup, any := r.Build.Cupboard, false
	for i := range cup.Motors {
		m := &cup.Motors[i]
		if !slices.Contains(cup.Learned.Motors, m.Name) || r.Counted && m.Name == r.Build.Drive.Motor.Name {
			continue
		}
		key := "free_speed"
		if m.Calibrated {
			key = "counted_speed"
		}
		fmt.Fprintf(out, "\n[motor.%s]\n%s = \"%s rpm\" # learned before\n", tomlName(m.Name), key, units.Significant(float64(m.FreeSpeed), 4))
		if m.SpeedKnown > 0 && !m.Calibrated {
			fmt.Fprintf(out, "speed_known_to = \"%s %%\"\n", units.Decimals(100*m.SpeedKnown, 1))
		}
		any = true
	}
	for i := range cup.Bands {
		b := &cup.Bands[i]
		if !slices.Contains(cup.Learned.Bands, b.Name) || !b.Calibrated || slices.Contains(bands, b.Name) {
			continue
		}
		l := drive.LoopOf(b, drive.Single)
		writeBand(out, b.Name, &l)
		any = true
	}
	return any
}

// counted are the drives that have been counted, this one first.
func (r *Result) counted() []parts.CountedDrive {
	var out []parts.CountedDrive
	own := remembered.Of(r.Build.Drive, r.Build.Brief)
	if r.Counted && !r.ofClass && r.Output.After.Likely > 0 {
		after := r.Output.After
		own.Name = r.Build.Name
		own.Slowest, own.Likely, own.Fastest = units.RPM(after.Low()), units.RPM(after.Likely), units.RPM(after.High())
		out = append(out, own)
	}
	for _, c := range r.Build.Cupboard.Remembered {
		if len(out) == 0 || !remembered.Same(&c, &own) {
			out = append(out, c)
		}
	}
	return out
}

// writeCounted writes one drive that was counted.
func writeCounted(out *strings.Builder, number int, c *parts.CountedDrive) {
	fmt.Fprintf(out, "\n[counted.%d] # this very model, as it was counted; leave it in this file\nname = %s\nmotor = %s\ncells = %s\n", number, tomlText(c.Name), tomlText(c.Motor), tomlText(c.Cells))
	if c.Output != "" {
		fmt.Fprintf(out, "output = %s\n", tomlText(c.Output))
	}
	fmt.Fprintf(out, "mass = \"%s g\"\n", units.Significant(float64(c.Mass), 6))
	for _, s := range []struct {
		key   string
		speed units.RPM
	}{{"slowest", c.Slowest}, {"likely", c.Likely}, {"fastest", c.Fastest}} {
		fmt.Fprintf(out, "%s = \"%s rpm\"\n", s.key, units.Significant(float64(s.speed), 5))
	}
	for i, s := range c.Stages {
		fmt.Fprintf(out, "stage.%d = {driver = %s, driven = %s, band = %s, use = %q, run = %q, centre = \"%s mm\"}\n",
			i+1, tomlText(s.Driver), tomlText(s.Driven), tomlText(s.Band), s.Use, s.Run, units.Decimals(float64(s.Centre), 1))
	}
}

// tomlText is a text in quotes.
func tomlText(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return ' '
		}
		return c
	}, text)) + `"`
}

// rounding forgives a range that is narrow enough but for its last digits.
const rounding = 0.005

// Narrow reports whether the motor's speed is known as narrowly as a counted one's.
func (r *Result) Narrow() bool { return r.Motor.After.Share <= drive.CountedUncertainty+rounding }

// band is a band of the readings as mechanics sees it.
func (r *Result) band(name string) *mechanics.Loop {
	for i := range r.Readings {
		if p := r.Readings[i].Band; p != nil && p.Name == name {
			l := drive.LoopOf(p, drive.Single)
			return &l
		}
	}
	return nil
}

// tomlName is a part's name as a table has it.
func tomlName(name string) string {
	bare := name != "" && strings.Trim(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == ""
	if bare {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
}
