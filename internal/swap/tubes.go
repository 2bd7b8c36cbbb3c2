package swap

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/drive"
)

// tubes are what to cut anew along the axles, where a new pulley is wider or narrower than the
// one before or sits elsewhere: the tubes beside it then do not fit. Nothing if either build is
// not known.
func tubes(was, now *assembly.Build) []Step {
	if was == nil || now == nil || len(was.Shafts) != len(now.Shafts) {
		return nil
	}
	var out []Step
	for i := range now.Shafts {
		before, washersBefore := spacers(was, i)
		after, washersAfter := spacers(now, i)
		old, cut := without(before, after), without(after, before)
		var words []string
		switch {
		case len(cut) > 0 && len(old) > 0:
			words = append(words, fmt.Sprintf("cut anew %s in place of %s", tubeWords(cut), tubeWords(old)))
		case len(cut) > 0:
			words = append(words, "cut "+tubeWords(cut))
		case len(old) > 0:
			words = append(words, "leave out "+tubeWords(old))
		}
		if washersAfter != washersBefore {
			words = append(words, fmt.Sprintf("put on %s where there were %d", plural(washersAfter, "washer"), washersBefore))
		}
		if len(words) > 0 {
			out = append(out, Step{Words: fmt.Sprintf("%s: %s", now.Shafts[i].Name, strings.Join(words, ", and ")), Parts: max(1, len(cut))})
		}
	}
	return out
}

// spacers are the lengths of the tubes on a shaft, from the front, and how many washers.
func spacers(b *assembly.Build, shaft int) (long []mm, washers int) {
	s := &b.Shafts[shaft]
	for _, k := range slices.Concat(s.Front, s.Along, s.Back) {
		switch p := &b.Parts[k]; p.Kind {
		case assembly.Tube:
			long = append(long, p.Length)
		case assembly.Washer:
			washers++
		}
	}
	return long, washers
}

// without are those of a list that another has not.
func without(list, other []mm) []mm {
	other = slices.Clone(other)
	var out []mm
	for _, v := range list {
		if at := slices.Index(other, v); at >= 0 {
			other = slices.Delete(other, at, at+1)
		} else {
			out = append(out, v)
		}
	}
	return out
}

func tubeWords(list []mm) string {
	var words []string
	for _, v := range list {
		words = append(words, length(v))
	}
	if len(words) == 1 {
		return "a tube of " + words[0] + " mm"
	}
	return "tubes of " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1] + " mm"
}

// widths say what a new pulley of another width asks of what is beside it, where no tubes are
// known.
func widths(was, now *drive.Drive) []Step {
	var out []Step
	for i := range now.Stages {
		for k, pair := range [][2]mm{{was.Stages[i].Driver.Width, now.Stages[i].Driver.Width}, {was.Stages[i].Driven.Width, now.Stages[i].Driven.Width}} {
			if i+k == 0 { // on the motor's shaft there are none
				continue
			}
			how, by := "shorter", pair[1]-pair[0]
			if by < 0 {
				how, by = "longer", -by
			}
			if by >= 0.05 {
				out = append(out, Step{Words: fmt.Sprintf("axle %d: tubes or washers beside the new pulley must be %s mm %s together", i+k, length(by), how), Parts: 1})
			}
		}
	}
	return out
}
