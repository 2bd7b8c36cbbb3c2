// Package report writes the result of a search down: as a page of text for the
// person who builds, as a certificate for a program that checks, and as rows for
// a spreadsheet.
//
//	text.go          the page; outcome.go, none.go, proposal.go, choices.go, alike.go, refusals.go,
//	                 cautions.go and next.go are its parts
//	certificate*.go  the JSON certificate; its keys are in package certificate
//	schema*.go       its JSON schema
//	rows.go          the CSV rows; tables.go those of other answers
//	told*.go         an answer in words, for pages and terminal
//	page.go, facts.go
//	                 lines on a terminal; printable.go what may be printed
//	number.go, rounding.go, fingerprint.go, counted.go, made.go, proof.go, builder.go
//	                 what several of them need
//
// and an answer each, as text and JSON:
//
//	challenge*.go, tradeoff.go, explain.go, fairtest.go, groups.go, hoist*.go, ideas*.go,
//	measure*.go, shop*.go, order.go, stock*.go, swap.go, term.go, try*.go,
//	why*.go
package report

import (
	"encoding/json"
	"io"
	"math"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// JSONOptions steer JSON. The zero value is the certificate as documented.
type JSONOptions struct {
	Compact bool // no line breaks and no indentation
}

// JSON writes the certificate: every claim of the result with all that is
// needed to check it again without this program. The same result gives the same
// bytes. Errors: from w, or a figure that is not finite, which would be a
// contradiction in the result.
func JSON(w io.Writer, r *design.Result, opt JSONOptions) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	if !opt.Compact {
		enc.SetIndent("", "  ")
	}
	return enc.Encode(certificateOf(r))
}

func certificateOf(r *design.Result) theCertificate {
	c := theCertificate{
		Schema: SchemaVersion, Kind: "findrive certificate", Prints: fingerprints{Cupboard: fingerprint(r.Cupboard), Brief: fingerprint(r.Brief)}, Status: string(r.Status),
		Counts: countsJSON{Nodes: r.Stats.Nodes, Bounded: r.Stats.Bounded, Refused: r.Stats.Refused,
			Finished: r.Stats.Finished, Improved: r.Stats.Improved},
		Constants: constantsOf(r.Brief), Brief: briefOf(r),
		Proposals: []proposalJSON{}, Refusals: []refusalJSON{}, Rooms: classrooms(r.Brief.Making.Discs),
	}
	if r.Status == design.StoppedEarly && r.Open < score.Points(math.MaxInt64) {
		c.BoundPoints = finite(r.Open.Float())
	}
	if r.Brief.Making.Discs {
		c.Discs = discsOf(r.Cupboard)
	}
	c.Spacers = spacersOf(r.Cupboard)
	for i := range r.Proposals {
		c.Proposals = append(c.Proposals, proposalOf(&r.Proposals[i], r.Brief))
	}
	for _, no := range r.Refused {
		c.Refusals = append(c.Refusals, refusalJSON{Rule: string(no.Rule), Count: no.Count, Nearest: no.Nearest, Miss: finite(no.Miss)})
	}
	return c
}

func spacersOf(c *parts.Cupboard) []certificate.Spacer {
	if c == nil {
		return nil
	}
	var out []certificate.Spacer
	for i := range c.Spacers {
		s := &c.Spacers[i]
		out = append(out, certificate.Spacer{Name: s.Name, Location: s.Location, Bore: number(s.Bore), Outside: number(s.Outside), Thickness: number(s.Thickness), Count: s.Count})
	}
	return out
}

func constantsOf(b *brief.Brief) constantsJSON {
	rubber := mechanics.DefaultRubber()
	return constantsJSON{
		Gravity: units.StandardGravity, RubberC1: number(rubber.C1), RubberC2: number(rubber.C2),
		BandGrip: rangeOf(mechanics.BandGrip()), WoodAxle: rangeOf(drive.BearingFriction(parts.Wood)),
		MetalAxle: rangeOf(drive.BearingFriction(parts.Steel)), MotorBearing: rangeOf(mechanics.MotorBearing()),
		Pivot:             rangeOf(drive.BearingFriction(parts.Wood)),
		RollingResistance: rangeOf(mechanics.RollingResistance(b.Load.Surface)),
		BandFitStep:       score.BandFitStep,
		MotorLoadStep:     score.MotorLoadStep,
		RulerStep:         number(design.RulerStep), RulerShare: design.RulerShare, Edge: number(score.Edge),
		MotorShare: drive.MotorUncertainty, CountedShare: drive.CountedUncertainty,
		BandShare: drive.BandUncertainty, WeighedShare: drive.WeighedBandUncertainty, CellShare: drive.CellUncertainty,
		MeasuredShare: drive.MeasuredCellUncertainty, FreeCurrentShare: drive.FreeCurrentUncertainty, LoadShare: drive.LoadUncertainty,
		Densities: densities(),
	}
}

func densities() map[string]number {
	out := map[string]number{}
	for _, m := range parts.Materials() {
		out[string(m)] = number(drive.Density(m))
	}
	return out
}

func classrooms(discs bool) certificate.Classrooms {
	r := forecast.RanksOfRooms()
	spacing := make([][]int, len(r.Spacing))
	for k := range r.Spacing {
		spacing[k] = list(r.Spacing[k][:])
	}
	var ratio []int
	if discs {
		ratio = list(r.Cut[:])
	}
	return certificate.Classrooms{
		Ratio:       ratio,
		CellVoltage: list(r.CellVoltage[:]), CellResistance: list(r.CellResistance[:]),
		FreeSpeed: list(r.FreeSpeed[:]), StallTorque: list(r.StallTorque[:]), FreeCurrent: list(r.FreeCurrent[:]),
		BandPull: list(r.BandPull[:]), BandFriction: list(r.BandFriction[:]), AxleFriction: list(r.AxleFriction[:]),
		Load: list(r.Load[:]), Rolling: list(r.Rolling[:]), Spacing: spacing,
	}
}

func rangeOf(r mechanics.Range) rangeJSON {
	return rangeJSON{Low: number(r.Low), Likely: number(r.Likely), High: number(r.High)}
}

func briefOf(r *design.Result) briefJSON {
	b := r.Brief
	l, lim, w := b.Load, b.Limits, b.Weights
	out := briefJSON{
		Name: b.Name, Model: string(b.Model), WantedWords: b.Speed.Words, Tolerance: number(b.Tolerance),
		Direction: directionJSON{Sense: string(b.Direction.Sense), SeenFrom: b.Direction.SeenFrom, MotorTurns: string(b.Direction.MotorTurns)},
		Load: loadJSON{
			Mass: number(l.Mass), PivotRadius: number(l.PivotRadius), LoadRadius: number(l.LoadRadius),
			OutOfBalance: number(l.OutOfBalance), OutOfBalanceRadius: number(l.OutOfBalanceRadius),
			Wheel: l.Wheel, Drum: l.Drum, Surface: l.Surface, Slope: number(l.Slope.Degrees()), DrivenShare: number(l.DrivenShare),
			CordDiameter: number(l.CordDiameter), CordLeaves: string(l.CordLeaves), Torque: number(l.Torque), TackleParts: l.TackleParts, TackleEfficiency: number(l.TackleEfficiency),
			Tackles: []tackleJSON{},
		},
		Frame:  frameOf(&b.Frame),
		Making: makingJSON{DrillFrame: b.Making.DrillFrame, DrillOut: b.Making.DrillOut, Glue: b.Making.Glue, Discs: b.Making.Discs},
		Sets:   b.Sets, MaxStages: b.MaxStages, Cells: list(b.Cells),
		Limits: limitsJSON{
			FittedStretchMin: number(lim.FittedStretchMin), FittedStretchMax: number(lim.FittedStretchMax),
			ComfortStretchMin: number(lim.ComfortStretchMin), ComfortStretchMax: number(lim.ComfortStretchMax),
			IdealStretch: number(lim.IdealStretch), RunningStretchMax: number(lim.RunningStretchMax),
			ArcMin: number(lim.ArcMin.Degrees()), ArcWarn: number(lim.ArcWarn.Degrees()),
			GripMin: number(lim.GripMin), GripStartMin: number(lim.GripStartMin),
			StartMin: number(lim.StartMin), RunMin: number(lim.RunMin), KeptSpeedMin: number(lim.KeptSpeedMin), ContinuousShare: number(lim.ContinuousShare),
			Clearance: number(lim.Clearance), LaneGap: number(lim.LaneGap), HoleWall: number(lim.HoleWall),
			RunningFit: number(lim.RunningFit), SectionRatio: number(lim.SectionRatio), HoleError: number(lim.HoleError),
		},
		Weights: weightsJSON{
			Classroom: number(w.Classroom), MayStand: number(w.MayStand), IdleStage: number(w.IdleStage), OnEdge: number(w.OnEdge), AnotherDrive: number(w.AnotherDrive),
			SpeedPerPercent: number(w.SpeedPerPercent), SpeedStep: number(w.SpeedStep), Stage: number(w.Stage), BandFit: number(w.BandFit),
			Sleeve: number(w.Sleeve), DrillOut: number(w.DrillOut), Glue: number(w.Glue), Crossed: number(w.Crossed),
			DoubledBand: number(w.DoubledBand), Assumption: number(w.Assumption), Unforgiving: number(w.Unforgiving), MotorLoad: number(w.MotorLoad), Cell: number(w.Cell),
		},
	}
	if b.Making.Discs {
		out.Weights.MadePulley = number(w.MadePulley)
	}
	for _, t := range l.Tackles {
		out.Load.Tackles = append(out.Load.Tackles, tackleJSON{Parts: t.Parts, Efficiency: number(t.Efficiency)})
	}
	if r.Cupboard != nil {
		out.Cupboard = r.Cupboard.Name
	}
	if b.Speed.Turning > 0 {
		out.WantedSpeed = finite(float64(b.Speed.Turning))
	}
	if b.Speed.Linear > 0 {
		out.WantedTrav = finite(float64(b.Speed.Linear))
	}
	return out
}

func frameOf(f *brief.Frame) frameJSON {
	out := frameJSON{
		Length: number(f.Length), Height: number(f.Height), Depth: number(f.Depth), Strip: number(f.Strip), Sheet: number(f.Sheet),
		Rails: numbers(f.Rails), Pitch: number(f.Pitch), MotorZone: rectOf(f.MotorZone), OutputZone: rectOf(f.OutputZone), Overhang: number(f.Overhang),
	}
	if f.HasGround {
		out.Ground = finite(float64(f.Ground))
	}
	return out
}

func rectOf(r brief.Rect) rectJSON {
	return rectJSON{X0: number(r.X0), Y0: number(r.Y0), X1: number(r.X1), Y1: number(r.Y1)}
}

func numbers[T ~float64](v []T) []number {
	out := make([]number, len(v))
	for i := range v {
		out[i] = number(v[i])
	}
	return out
}
