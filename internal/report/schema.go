package report

import "findrive/internal/certificate"

// SchemaVersion is the version of the certificate that is written.
const SchemaVersion = certificate.SchemaVersion

// The keys of the certificate, by short names.
type (
	theCertificate = certificate.Certificate
	fingerprints   = certificate.Fingerprints
	countsJSON     = certificate.Counts
	constantsJSON  = certificate.Constants
	rangeJSON      = certificate.Range
	spanJSON       = certificate.Span
	briefJSON      = certificate.Brief
	directionJSON  = certificate.Direction
	loadJSON       = certificate.Load
	rectJSON       = certificate.Rect
	frameJSON      = certificate.Frame
	makingJSON     = certificate.Making
	limitsJSON     = certificate.Limits
	weightsJSON    = certificate.Weights
	refusalJSON    = certificate.Refusal
	proposalJSON   = certificate.Proposal
	termJSON       = certificate.Term
	demandJSON     = certificate.Demand
	tractionJSON   = certificate.Traction
	motorJSON      = certificate.Motor
	cellsJSON      = certificate.Cells
	pulleyJSON     = certificate.Pulley
	jointJSON      = certificate.Joint
	sleeveJSON     = certificate.Sleeve
	bandJSON       = certificate.Band
	stageJSON      = certificate.Stage
	atWorkJSON     = certificate.AtWork
	otherBandJSON  = certificate.OtherBand
	axleJSON       = certificate.Axle
	roundJSON      = certificate.Round
	holeJSON       = certificate.Hole
	lanesJSON      = certificate.Lanes
	useJSON        = certificate.Use
	fewerJSON      = certificate.Fewer
	overloadJSON   = certificate.Overload
	nextBandJSON   = certificate.NextBand
	placeJSON      = certificate.Place
	number         = certificate.Number
)
