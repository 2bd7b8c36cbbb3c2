package goals

// The small cases, for the tests from outside.
var (
	Small = small
	Kinds = []Kind{Heaviest, Turns, Steepest, Slowest, Forgiving, Fastest, ExactTime}
)
