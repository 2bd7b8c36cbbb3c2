package layout

// LanePlan says where along the axles each stage lies, from the front inside
// face of the frame.
type LanePlan struct {
	Lane      []int // of each stage
	Centre    []mm  // of each stage's groove plane
	BodyLanes []int // lanes beside the motor's body; none in the plans made here
	BodyFront mm    // where the body begins
	Depth     mm    // used in all
}

// LanePlans lists the ways to lay stages side by side in the depth, those with
// most lanes first. widths is what each stage needs, the larger of its two
// pulleys; body the length of the motor's body.
//
// The family: the motor's body stands against the front side with stage 1 behind
// it, and the other lanes behind that. Neighbouring stages have a pulley each on
// the same axle and so never share a lane; others may.
func LanePlans(stages int, widths []mm, body, gap, depth mm) []LanePlan {
	var out []LanePlan
	for lanes := stages; lanes >= min(stages, 2); lanes-- {
		assign(make([]int, 0, stages), stages, lanes, func(lane []int) {
			if plan := layOut(lane, lanes, widths, body, gap); plan.Depth <= depth+noise {
				out = append(out, plan)
			}
		})
	}
	return out
}

// assign lists the ways to give stages to exactly so many lanes, lanes numbered
// in the order in which stages first use them.
func assign(lane []int, stages, lanes int, each func([]int)) {
	used := 0
	for _, l := range lane {
		used = max(used, l+1)
	}
	if len(lane) == stages {
		if used == lanes {
			each(lane)
		}
		return
	}
	for l := 0; l <= min(used, lanes-1); l++ {
		if len(lane) > 0 && lane[len(lane)-1] == l {
			continue
		}
		assign(append(lane[:len(lane):len(lane)], l), stages, lanes, each)
	}
}

func layOut(lane []int, lanes int, widths []mm, body, gap mm) LanePlan {
	width := make([]mm, lanes)
	for stage, l := range lane {
		width[l] = max(width[l], widths[stage])
	}
	plan := LanePlan{Lane: lane, Centre: make([]mm, len(lane))}
	at := body
	for l := range lanes {
		if l > 0 {
			at += gap
		}
		for stage := range lane {
			if lane[stage] == l {
				plan.Centre[stage] = at + width[l]/2
			}
		}
		at += width[l]
	}
	plan.Depth = at
	return plan
}
