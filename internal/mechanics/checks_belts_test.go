package mechanics

import (
	"math"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/units"
)

// questions are what is asked of the program for each published value.
var questions = map[string]func(given) answers{}

func init() {
	for _, some := range []map[string]func(given) answers{beltQuestions, frictionQuestions, rubberQuestions, motorQuestions, rideQuestions} {
		for id, ask := range some {
			questions[id] = ask
		}
	}
}

// path is a belt from the inputs d, D and C, in whatever unit they are given.
func (g given) path(d, big, c string) Belt {
	return Belt{Driver: g.mm(d), Driven: g.mm(big), Centre: g.mm(c)}
}

func crossed(b Belt) Belt {
	b.Crossed = true
	return b
}

func openInMetres(g given) answers {
	b := g.path("d_m", "D_m", "C_m")
	return answers{"L_m": b.Length(), "wrap_small_deg": b.DriverArc().Degrees()}
}

func openInMillimetres(g given) answers {
	b := g.path("d_mm", "D_mm", "C_mm")
	return answers{"L_mm": b.Length(), "wrap_small_deg": b.DriverArc().Degrees(), "span_mm": b.Span()}
}

var beltQuestions = map[string]func(given) answers{
	"belt-open-jindal-20-3":   openInMetres,
	"belt-open-jindal-21-2":   openInMetres,
	"belt-open-hull-8-40-45":  openInMillimetres,
	"belt-open-hull-10-50-60": openInMillimetres,
	"belt-crossed-khurmi-11-6": func(g given) answers {
		b := crossed(g.path("d_mm", "D_mm", "C_mm"))
		return answers{"L_m": b.Length() / 1000, "wrap_rad": float64(b.DriverArc())}
	},
	"belt-wrap-tayal-7-1": func(g given) answers {
		b := g.path("d_cm", "D_cm", "C_cm")
		return answers{"wrap_large_deg": b.DrivenArc().Degrees(), "wrap_small_deg": b.DriverArc().Degrees(), "L_cm": b.Length()}
	},
	"belt-open-vs-crossed-sarkar-3": func(g given) answers {
		b := g.path("d_cm", "D_cm", "C_cm")
		open, cross := b.Length(), crossed(b).Length()
		return answers{"L_crossed_cm": cross, "L_open_cm": open, "difference_cm": cross - open}
	},
	"belt-open-1600-500-12000": func(g given) answers {
		b := Belt{Driver: g.mm("D_mm"), Driven: g.mm("d_mm"), Centre: 1000 * g.mm("C_m")}
		return answers{"L_m": b.Length() / 1000, "L_crossed_m": crossed(b).Length() / 1000}
	},
	"belt-open-khurmi-11-15": func(g given) answers {
		b := Belt{Driver: g.mm("d_mm"), Driven: g.mm("D_mm"), Centre: 1000 * g.mm("C_m")}
		return answers{"L_m": b.Length() / 1000, "wrap_small_deg": b.DriverArc().Degrees()}
	},
	"belt-open-trap-arctan": func(g given) answers {
		b := g.path("d_mm", "D_mm", "C_mm")
		return answers{
			"L_mm": b.Length(), "span_mm": b.Span(), "wrap_small_deg": b.DriverArc().Degrees(),
			"arc_small_mm": float64(b.Driver/2) * float64(b.DriverArc()),
			"arc_large_mm": float64(b.Driven/2) * float64(b.DrivenArc()),
		}
	},
	"belt-crossed-trap-jindal-20-4": func(g given) answers {
		b := crossed(g.path("d_mm", "D_mm", "C_mm"))
		return answers{"L_m": b.Length() / 1000, "wrap_deg": b.DriverArc().Degrees()}
	},
	"belt-crossed-trap-oring-handbook": func(g given) answers {
		return answers{"L_mm": crossed(g.path("d_mm", "D_mm", "C_mm")).Length()}
	},
	"oring-id-from-stretch": func(g given) answers {
		stretch := 1 + g.in("stretch_percent")/100
		rest := g.mm("L_path_mm") / units.Millimetres(stretch)
		// The path is that of 10 and 50 mm pulleys at 60 mm.
		f, err := (Stage{DriverFloor: 10, DrivenFloor: 50, Band: Loop{Rest: rest}}).Fit(60)
		require.NoError(g.t, err)
		assert.InEpsilon(g.t, stretch, f.Stretch, 1e-6)
		return answers{"d1_mm": f.Length / units.Millimetres(f.Stretch*math.Pi)}
	},
	"arc-of-contact-table": func(g given) answers {
		var arcs, spans []float64
		for _, x := range g.Inputs.list(g.t, "D_minus_d_over_C") {
			b := Belt{Driver: 10 + units.Millimetres(100*x), Driven: 10, Centre: 100}
			arcs = append(arcs, b.DrivenArc().Degrees())
			spans = append(spans, float64(b.Span()/b.Centre))
		}
		return answers{"arc_small_deg": arcs, "span_over_C": spans}
	},
	"train-khurmi-11-1": func(g given) answers {
		ratio := VelocityRatio(g.mm("d1_mm"), g.mm("d2_mm")) * VelocityRatio(g.mm("d3_mm"), g.mm("d4_mm"))
		return train(g, ratio)
	},
	"train-dynamo-sarthaks": func(g given) answers {
		ratio := VelocityRatio(g.mm("d1_cm"), g.mm("d2_cm")) * VelocityRatio(g.mm("d3_cm"), g.mm("d4_cm"))
		return train(g, ratio)
	},
	"belt-thickness-sarkar-1": func(g given) answers {
		// The driven floor for which the ratio is n1/n2, and with slip.
		thick := g.mm("thickness_cm")
		ratio := units.Millimetres(g.in("n1_rpm") / g.in("n2_rpm"))
		floor := func(thickness, ratio units.Millimetres) units.Millimetres {
			driver := PitchDiameter(g.mm("d1_cm"), thickness)
			driven := driver*ratio - thickness
			assert.InEpsilon(g.t, float64(ratio), VelocityRatio(driver, PitchDiameter(driven, thickness)), 1e-12)
			return driven
		}
		slip := units.Millimetres(1 - g.in("slip_percent")/100)
		return answers{"d2_thin_cm": floor(0, ratio), "d2_thick_cm": floor(thick, ratio), "d2_thick_slip_cm": floor(thick, ratio*slip)}
	},
	"slip-efficiency-khurmi-11-11": func(g given) answers {
		ideal := g.in("n1_rpm") / VelocityRatio(g.mm("d1_m"), g.mm("d2_m"))
		return answers{"efficiency_percent": 100 * g.in("n2_rpm") / ideal}
	},
}

// train is the speed at the end of a train of two stages.
func train(g given, ratio float64) answers {
	kept := 1 - g.in("slip_percent_each")/100
	n := g.in("n1_rpm") / ratio
	return answers{"n4_noslip_rpm": n, "n4_slip_rpm": n * kept * kept}
}
