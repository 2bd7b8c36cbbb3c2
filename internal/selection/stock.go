package selection

// pulleys counts the pulleys that some stages take, by index among the sizes.
type pulleys struct {
	axle        [2 * mostStages]int16
	n           int
	motorPlaced bool // the first stage is among them
}

// add takes a pair of pulleys, and is false if the stock does not allow it.
func (u *pulleys) add(r *ready, p *pair, onMotor bool) bool {
	if onMotor {
		u.motorPlaced = true
	} else if !u.take(r, p.driver) {
		return false
	}
	return u.take(r, p.driven)
}

func (u *pulleys) take(r *ready, size int16) bool {
	u.axle[u.n] = size
	u.n++
	return u.used(size) <= r.axle[size].have
}

func (u *pulleys) used(size int16) int {
	n := 0
	for _, s := range u.axle[:u.n] {
		if s == size {
			n++
		}
	}
	return n
}

// reach is the least and the greatest logarithm of ratio that so many more stages
// can have together. The pulleys of all these stages count, and not how they are
// paired, so the largest that are left drive and the smallest are driven, or the
// other way round. That one pulley may be counted both ways can only widen it. No stage does
// more than the best that has a band. It is false if the stock has too few, or no two
// pulleys that a band goes round.
func (u *pulleys) reach(r *ready, more int) (least, greatest cost, ok bool) {
	if more == 0 {
		return 0, 0, true
	}
	drivers := more
	if !u.motorPlaced {
		drivers--
		if len(r.motor) == 0 {
			return 0, 0, false
		}
		greatest -= r.motor[0].log
		least -= r.motor[len(r.motor)-1].log
	}
	if (drivers > 0 && r.laterCan.empty()) || (!u.motorPlaced && r.firstCan.empty()) {
		return 0, 0, false
	}
	smallest, manySmall, ok1 := u.sum(r, more, drivers, false)
	largest, manyLarge, ok2 := u.sum(r, more, drivers, true)
	can := span{cost(drivers) * r.laterCan.least, cost(drivers) * r.laterCan.greatest}
	if drivers == 0 {
		can = span{}
	}
	if !u.motorPlaced {
		can = can.plus(r.firstCan)
	}
	return max(can.least, least+smallest-manyLarge), min(can.greatest, greatest+largest-manySmall), ok1 && ok2
}

// sum adds the logarithms of the smallest or largest n sizes left, and of the m
// smallest or largest, m at most n.
func (u *pulleys) sum(r *ready, n, m int, largest bool) (ofN, ofM cost, ok bool) {
	for i := 0; i < len(r.axle) && n > 0; i++ {
		at := i
		if largest {
			at = len(r.axle) - 1 - i
		}
		for left := r.axle[at].have - u.used(int16(at)); left > 0 && n > 0; left-- {
			ofN += r.axle[at].log
			if m > 0 {
				ofM += r.axle[at].log
			}
			n--
			m--
		}
	}
	return ofN, ofM, n == 0
}
