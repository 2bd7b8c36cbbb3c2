// Package proof writes down why no drive of a cupboard is better than the ranked
// ones, and checks what was written. It has its own account of the space of
// drives and its own bounds, and shares nothing with the search that found the
// drives: see docs/proof.md.
//
//	space.go    what is chosen, in which order, and what the parts themselves rule out
//	kinds.go    parts that are alike count as one
//	ways.go     the ways to band two pulleys, and how far apart they may then be
//	ends.go     one stage somewhere within a window of centre distances
//	remembered.go what loaded stages do, kept for the next who asks
//	flow.go     bounds on torque and speed from the output back to the motor
//	box.go      windows for the places of the axles
//	exact.go    one placed drive, worked out
//	places.go   one drive as a problem of placement
//	room.go     whether a window has any placement at all
//	answer.go   the ranked drives, read from their certificate
//	judge.go    why a part of the space may be left out
//	record.go   writes a proof
//	format.go   the file
//	read.go     reads it
//	check.go    replays it
package proof
