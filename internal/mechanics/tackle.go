package mechanics

// observedTackles are the efficiencies of full-size tackles of 2 to 6 rope parts,
// pulled down and so with as many sheaves, and of a single fixed pulley (Workshop
// Receipts, fifth series, Spon: table of observed work with white rope falls).
func observedTackles() [7]float64 {
	return [...]float64{1: 0.90, 2: 0.81, 3: 0.75, 4: 0.68, 5: 0.615, 6: 0.59}
}

// ObservedSheave is the share of the tension that gets past one sheave of a tackle
// with so many sheaves in all, such that the tackle as a whole has the observed
// efficiency. With e per sheave and n parts to n sheaves the tackle's efficiency
// is (e + e² + ... + eⁿ)/n. Beyond six sheaves the value for six is taken.
func ObservedSheave(sheaves int) float64 {
	observed := observedTackles()
	n := min(max(sheaves, 1), len(observed)-1)
	lo, hi := 0.0, 1.0
	for range 60 {
		e := (lo + hi) / 2
		if TackleEfficiency(n, e) < observed[n] {
			lo = e
		} else {
			hi = e
		}
	}
	return (lo + hi) / 2
}

// TackleEfficiency is that of a tackle with as many sheaves as rope parts, each
// letting a share of the tension past it: (e + e² + ... + eⁿ)/n.
func TackleEfficiency(parts int, sheave float64) float64 {
	sum, power := 0.0, 1.0
	for range parts {
		power *= sheave
		sum += power
	}
	return sum / float64(parts)
}

// ObservedTackle is the efficiency of a tackle of so many rope parts whose sheaves
// nobody measured; beyond six parts, carried on with the sheave of six.
func ObservedTackle(parts int) float64 { return TackleEfficiency(parts, ObservedSheave(parts)) }
