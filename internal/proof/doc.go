// Package proof writes down why no drive of a cupboard is better than the listed ones,
// and checks what was written. The drives are those that docs/model.md defines; the
// walk through the space of them and the bounds are the package's own, and nothing is
// taken from the search that found the drives. What a single design does, which parts are
// alike and which pulleys can be made is asked of the same packages: docs/proof.md lists
// them.
//
//	space.go   motors, cells and outputs; which pulleys may come next
//	made.go    pulleys to be made of discs: what they add to a row's cost and take of the sheets
//	rods.go    the rods and joints of the axles
//	states.go  a pair of pulleys with every band, use and mark of the ruler
//	bunch.go   several of those as one
//	flow.go    bounds on what stages do, from the output back
//	motor.go   what a motor must do, and what that costs at least in the classrooms
//	walk.go    the one walk through the space, for writer and checker
//	boxes.go   one row of pulleys: bands, marks and lies, halved down to single designs
//	design.go  one design worked out by the definition
//	holes.go   whether there are holes for it
//	list.go    the listed drives, and what another may cost to matter
//	record.go  writes a proof
//	check.go   checks one
//	file.go    the file; read.go reads it
package proof
