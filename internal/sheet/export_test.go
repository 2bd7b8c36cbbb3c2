package sheet

// For tests that search: the package of results imports this one.
var (
	PrintedCanBeBuilt = printedCanBeBuilt
	OnPaper           = onPaper
	StraightIn        = straightIn
)
