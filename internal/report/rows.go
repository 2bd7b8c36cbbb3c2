package report

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"findrive/internal/design"
)

// CSVOptions steer CSV.
type CSVOptions struct {
	BOM bool // begin with a byte order mark, for office programs that need it
}

var csvHeader = []string{
	"proposal", "penalty_points", "output_speed_low_rpm", "output_speed_rpm", "output_speed_high_rpm", "stages", "stage",
	"driver", "driver_floor_mm", "driver_pitch_mm", "driver_joint", "driven", "driven_floor_mm", "driven_pitch_mm", "driven_joint",
	"band", "band_use", "band_run", "centre_mm", "centre_from_mm", "centre_to_mm", "stretch_percent", "arc_deg", "ratio", "creep_percent",
	"grip_running", "grip_starting", "lane_mm", "driver_x_mm", "driver_y_mm", "driven_x_mm", "driven_y_mm",
	"axle", "axle_diameter_mm", "axle_length_mm", "hole_mm", "driven_speed_rpm", "motor", "cells", "forgiveness_mm",
}

// CSV writes one row for each stage of each proposal, in UTF-8 with commas, the
// units in the header. Numbers have at most nine significant digits; a grip
// margin with nothing to carry is left empty. Names that a spreadsheet would
// take for a formula get an apostrophe in front. The error is from w.
func CSV(w io.Writer, r *design.Result, opt CSVOptions) error {
	if opt.BOM {
		if _, err := io.WriteString(w, "\ufeff"); err != nil {
			return err
		}
	}
	out := csv.NewWriter(w)
	if err := out.Write(csvHeader); err != nil {
		return err
	}
	for i := range r.Proposals {
		for k := range r.Proposals[i].Stages {
			if err := out.Write(csvRow(&r.Proposals[i], k)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func csvRow(q *design.Proposal, k int) []string {
	d, s, a := q.Drive, &q.Stages[k], &q.Axles[k]
	run := "open"
	if s.Crossed {
		run = "crossed"
	}
	from, to := d.Positions[k], d.Positions[k+1]
	return []string{
		strconv.Itoa(q.Rank), cell(q.Total.Float()), cell(q.Speed.Low), cell(q.Speed.Likely), cell(q.Speed.High),
		strconv.Itoa(len(q.Stages)), strconv.Itoa(k + 1),
		safe(s.Driver), cell(d.Stages[k].Driver.GrooveFloor), cell(s.Fitted.DriverPitch), s.DriverJoint.Kind.String(),
		safe(s.Driven), cell(d.Stages[k].Driven.GrooveFloor), cell(s.Fitted.DrivenPitch), s.DrivenJoint.Kind.String(),
		safe(s.Band.Name), s.Use.String(), run, cell(s.Fitted.Centre), cell(s.CentreAllowed.Lo), cell(s.CentreAllowed.Hi),
		cell(100 * (s.Fitted.Stretch - 1)), cell(min(s.Fitted.DriverArc, s.Fitted.DrivenArc).Degrees()), cell(s.Fitted.Ratio), cell(100 * s.Creep),
		cell(s.GripRunning), cell(s.GripStarting), cell(s.LanePosition), cell(from.X), cell(from.Y), cell(to.X), cell(to.Y),
		safe(a.Stock), cell(a.Diameter), cell(a.Length), cell(a.Hole), cell(a.Turns),
		safe(d.Motor.Name), strconv.Itoa(d.Holder.Cells), cell(q.Forgives),
	}
}

// cell writes a number; nothing for one that is not finite.
func cell[T ~float64](v T) string {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return ""
	}
	return shortNumber(f)
}

// safe keeps a spreadsheet from running a name as a formula: what begins with
// = + - @, a tab or a return gets an apostrophe, which spreadsheets take as "this
// is text" (common practice).
func safe(name string) string {
	start := strings.TrimLeft(name, " ")
	if start == "" || !strings.ContainsRune("=+-@\t\r\n", rune(start[0])) {
		return name
	}
	return "'" + name
}
