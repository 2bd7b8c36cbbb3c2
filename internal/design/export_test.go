package design

// The random cases that full enumeration is held to, and the enumeration, for the
// tests from outside.
var (
	BruteCosts  = bruteCosts
	SmallCase   = smallCase
	SmallerCase = smallerCase
)
