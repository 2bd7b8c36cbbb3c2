package sheet

// For tests that look at the package from outside, as what makes drives imports it.
var (
	Every             = every
	Saved             = saved
	Renamed           = renamed
	OnPaper           = onPaper
	WordsOn           = wordsOn
	PrintedCanBeBuilt = printedCanBeBuilt
	StraightIn        = straightIn
)
