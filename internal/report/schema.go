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
	tackleJSON     = certificate.Tackle
	rectJSON       = certificate.Rect
	frameJSON      = certificate.Frame
	makingJSON     = certificate.Making
	limitsJSON     = certificate.Limits
	weightsJSON    = certificate.Weights
	refusalJSON    = certificate.Refusal
	number         = certificate.Number
)
