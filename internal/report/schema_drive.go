package report

import "findrive/internal/certificate"

// The keys of one proposal, by short names.
type (
	proposalJSON  = certificate.Proposal
	termJSON      = certificate.Term
	demandJSON    = certificate.Demand
	tractionJSON  = certificate.Traction
	motorJSON     = certificate.Motor
	cellsJSON     = certificate.Cells
	pulleyJSON    = certificate.Pulley
	jointJSON     = certificate.Joint
	sleeveJSON    = certificate.Sleeve
	bandJSON      = certificate.Band
	stageJSON     = certificate.Stage
	atWorkJSON    = certificate.AtWork
	otherBandJSON = certificate.OtherBand
	axleJSON      = certificate.Axle
	roundJSON     = certificate.Round
	holeJSON      = certificate.Hole
	lanesJSON     = certificate.Lanes
	useJSON       = certificate.Use
	fewerJSON     = certificate.Fewer
	overloadJSON  = certificate.Overload
	winchJSON     = certificate.Winch
	nextBandJSON  = certificate.NextBand
	placeJSON     = certificate.Place
)
