package units

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/exp/constraints"
)

// Notation is how one kind of quantity is written in a file and shown in a
// message: a number with one of a few units behind it.
type Notation[Q constraints.Float] struct {
	kind    string             // "a length", for messages
	unit    string             // the unit messages use
	example string             // what to write, for messages
	scale   map[string]float64 // of each way to write a unit, in the unit of Q
	// phrase reads what is more than a number and a unit; may be nil.
	phrase func(text string) (value float64, understood bool, err error)
}

// Kind is the name of the quantity with its article, such as "a length".
func (n *Notation[Q]) Kind() string { return n.kind }

// Example is a text that Parse reads.
func (n *Notation[Q]) Example() string { return n.example }

// Parse reads a quantity. The result is a finite number, 0 or above. The error
// is a plain sentence that says what to write: a bare number, a unit of
// something else, a number below zero and a number too large are refused.
func (n *Notation[Q]) Parse(text string) (Q, error) {
	if n.phrase != nil {
		if v, understood, err := n.phrase(text); understood {
			if err != nil {
				return 0, err
			}
			return n.measurable(text, v)
		}
	}
	v, unit, err := splitNumber(text)
	if err != nil {
		return 0, fmt.Errorf("%w: %s is written like %q", err, n.kind, n.example)
	}
	if unit == "" {
		return 0, fmt.Errorf("%s has no unit: write %s", bare(text), Quoted(strings.TrimSpace(text)+" "+n.unit))
	}
	scale, ok := n.scale[unit]
	if !ok {
		scale, ok = n.foldedScale(unit)
	}
	if !ok {
		return 0, fmt.Errorf("%s is not %s: write for example %q", Quoted(strings.TrimSpace(text)), n.kind, n.example)
	}
	return n.measurable(text, v*scale)
}

func (n *Notation[Q]) measurable(text string, v float64) (Q, error) {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%s is not a number that can be measured: %s is written like %q", Quoted(text), n.kind, n.example)
	}
	return Q(v), nil
}

// foldedScale finds a unit that is right but for its capitals, such as "MM",
// unless two of different size are spelled alike.
func (n *Notation[Q]) foldedScale(unit string) (float64, bool) {
	var found []float64
	for _, name := range slices.Sorted(maps.Keys(n.scale)) {
		if strings.EqualFold(name, unit) {
			found = append(found, n.scale[name])
		}
	}
	if len(found) == 0 || slices.Min(found) != slices.Max(found) {
		return 0, false
	}
	return found[0], true
}

// Format shows a quantity to six figures in the unit messages use.
func (n *Notation[Q]) Format(q Q) string {
	v := float64(q) / n.scale[n.unit]
	if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64); err == nil {
		v = r
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " " + n.unit
}

// Exact is a text that Parse reads as just this quantity: as Format writes it if that
// will do, else with all its figures. Of a quantity that no text stands for, because it
// lies between two that can be written, it is the nearest.
func (n *Notation[Q]) Exact(q Q) string {
	text := n.Format(q)
	if is, err := n.Parse(text); err == nil && is == q {
		return text
	}
	return strconv.FormatFloat(float64(q)/n.scale[n.unit], 'f', -1, 64) + " " + n.unit
}

// Rounded is the quantity that Format shows, as Parse reads it. What is larger is never
// rounded to less than what is smaller.
func (n *Notation[Q]) Rounded(q Q) Q {
	if is, err := n.Parse(n.Format(q)); err == nil {
		return is
	}
	return q
}

// bare shows a number that came without a unit, as the user wrote it.
func bare(text string) string {
	if text = strings.TrimSpace(text); len(text) <= longestQuote {
		return text
	}
	return Quoted(text)
}
