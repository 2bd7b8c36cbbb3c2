// Package mechanics works out what a rubber-band drive does: the geometry of
// open and crossed bands, the pull of stretched rubber, the tensions, creep and
// grip of a loaded stage, small brushed motors on cells, friction, and the loads
// of school models.
//
// Everything is a pure function of its arguments. Lengths are pitch diameters
// and centre distances in millimetres, forces newtons, torques newton
// millimetres, stresses megapascals (N/mm²), angles radians.
package mechanics
