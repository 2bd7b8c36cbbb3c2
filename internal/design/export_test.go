package design

// The random cases that full enumeration is held to, for the tests from outside.
var (
	SmallCase   = smallCase
	SmallerCase = smallerCase
)
