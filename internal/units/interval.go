package units

import "golang.org/x/exp/constraints"

// Interval is a closed range of one quantity. If Lo > Hi it is empty.
type Interval[T constraints.Float] struct{ Lo, Hi T }

// Empty reports whether no value lies in the interval.
func (iv Interval[T]) Empty() bool { return iv.Lo > iv.Hi }

// Contains reports whether v lies in the interval; never for an empty one.
func (iv Interval[T]) Contains(v T) bool { return iv.Lo <= v && v <= iv.Hi }

// Meet is the common part of two intervals, empty if they do not touch. It and Join do without the
// builtin max and min, which mind what is no number by a call of a function in a browser.
func (iv Interval[T]) Meet(other Interval[T]) Interval[T] {
	if other.Lo > iv.Lo {
		iv.Lo = other.Lo
	}
	if other.Hi < iv.Hi {
		iv.Hi = other.Hi
	}
	return iv
}

// Join is the least interval that holds both.
func (iv Interval[T]) Join(other Interval[T]) Interval[T] {
	if other.Lo < iv.Lo {
		iv.Lo = other.Lo
	}
	if other.Hi > iv.Hi {
		iv.Hi = other.Hi
	}
	return iv
}

// Grow moves both ends outwards by d, or inwards if d is negative.
func (iv Interval[T]) Grow(d T) Interval[T] { return Interval[T]{Lo: iv.Lo - d, Hi: iv.Hi + d} }

// Length is Hi - Lo, or 0 for an empty interval.
func (iv Interval[T]) Length() T { return max(0, iv.Hi-iv.Lo) }

// Mid is the middle of the interval; meaningless for an empty one.
func (iv Interval[T]) Mid() T { return iv.Lo + (iv.Hi-iv.Lo)/2 }

// Clamp is the value of the interval nearest to v; v itself for an empty one.
func (iv Interval[T]) Clamp(v T) T {
	switch {
	case iv.Empty():
		return v
	case v < iv.Lo:
		return iv.Lo
	case v > iv.Hi:
		return iv.Hi
	}
	return v
}
