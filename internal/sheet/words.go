package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/units"
)

// mm is a length in millimetres without its unit, to a tenth.
func mm[T ~float64](v T) string {
	return strconv.FormatFloat(math.Round(float64(v)*10)/10, 'f', -1, 64)
}

// about is a number as one says it: two figures, whole from 10 up.
func about[T ~float64](v T) string {
	if f := float64(v); f < 1 {
		return strconv.FormatFloat(math.Round(f*10)/10, 'f', -1, 64)
	}
	return units.Turns(float64(v))
}

// percent is a share in hundredths.
func percent[T ~float64](share T) string { return fmt.Sprintf("%.0f %%", 100*float64(share)) }

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// and joins words as in a sentence.
func and(list []string) string {
	if n := len(list); n > 1 {
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
	return strings.Join(list, "")
}

// oneTurn says how long one turn takes; nothing for less than a second.
func oneTurn(rpm certificate.Number) string {
	if s := 60 / float64(rpm); s >= 0.95 {
		return "one turn in " + about(s) + " s"
	}
	return about(rpm/60) + " turns in a second"
}

// turning is a speed range in turns a minute.
func turning(r certificate.Range) string {
	return fmt.Sprintf("about %s turns a minute (%s to %s), %s", about(r.Likely), about(r.Low), about(r.High), oneTurn(r.Likely))
}

// travel is a range of speeds of travel in words a stop-watch can check.
func travel(v certificate.Range) string {
	say, unit := func(n certificate.Number) string {
		return strconv.FormatFloat(math.Round(float64(n)*100)/100, 'f', -1, 64)
	}, "m"
	if v.Likely < 0.1 {
		say, unit = func(n certificate.Number) string { return about(n * 1000) }, "mm"
	}
	return fmt.Sprintf("about %s %s in a second (%s to %s)", say(v.Likely), unit, say(v.Low), say(v.High))
}
