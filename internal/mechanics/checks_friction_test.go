package mechanics

import (
	"math"

	"github.com/stretchr/testify/assert"

	"findrive/internal/units"
)

// exponent is what the program says m theta is on a flat or grooved pulley with
// next to no band thickness.
func (g given) exponent(wrap, groove units.Radians) float64 {
	s := Stage{DriverFloor: 100, DrivenFloor: 100, DriverGroove: groove, DrivenGroove: groove, Friction: g.in("mu")}
	driver, _ := s.FrictionExponents(Fitted{DriverPitch: 100, DrivenPitch: 100, DriverArc: wrap, DrivenArc: wrap})
	return driver
}

func turns(n float64) units.Radians { return units.Radians(n * 2 * math.Pi) }

func (g given) tight() units.Newtons { return units.Newtons(g.in("T1_N")) }

func kilowatts(tight, slack units.Newtons, speed units.MetresPerSecond) float64 {
	return float64(tight-slack) * float64(speed) / 1000
}

// stiffGrip is the greatest effective pull of a band so stiff, and so long
// against its pulleys, that T1 + T2 = 2 T0.
func stiffGrip(idle units.Newtons, mu float64, wrap units.Radians) units.Newtons {
	const span, stretch = 1e9, 1 + 1e-7
	path := units.Millimetres(2*span + 2*50*float64(wrap))
	band := Loop{Rest: path / stretch, Width: 1, Thickness: 1, Strands: 1, PullFactor: 1, Rubber: DefaultRubber()}
	band.PullFactor = float64(idle / band.Pull(stretch))
	s := Stage{DriverFloor: 100, DrivenFloor: 100, Friction: mu, Band: band}
	te, _ := s.Grip(Fitted{DriverPitch: 100, DrivenPitch: 100, Span: span, Length: path, Stretch: stretch, DriverArc: wrap, DrivenArc: wrap, Pull: idle})
	return te
}

var frictionQuestions = map[string]func(given) answers{
	"capstan-khurmi-11-4": func(g given) answers {
		slack := SlackAtSlip(g.tight(), 0, g.exponent(units.Degrees(g.in("wrap_deg")), 0))
		v := units.RPM(g.in("n_rpm")).RimSpeed(g.mm("d_mm") / 2)
		return answers{"T2_N": slack, "P_kW": kilowatts(g.tight(), slack, v)}
	},
	"capstan-khurmi-11-5": func(g given) answers {
		slack := SlackAtSlip(g.tight(), 0, g.exponent(turns(g.in("turns")), 0))
		v := units.RPM(g.in("n_rpm")).RimSpeed(g.mm("drum_d_mm") / 2)
		return answers{"T2_N": slack, "P_kW": kilowatts(g.tight(), slack, v)}
	},
	"capstan-khurmi-11-6-power": func(g given) answers {
		b := crossed(g.path("d_mm", "D_mm", "C_mm"))
		slack := SlackAtSlip(g.tight(), 0, g.exponent(b.DriverArc(), 0))
		// "Large" is read as in the book: the larger pulley turns at 200 rpm.
		v := units.RPM(g.in("n_large_rpm")).RimSpeed(b.Driven / 2)
		return answers{"T2_N": slack, "P_kW": kilowatts(g.tight(), slack, v)}
	},
	"pretension-khurmi-11-12": func(g given) answers {
		idle := units.Newtons(g.in("T0_N"))
		te := stiffGrip(idle, g.in("mu"), units.Degrees(g.in("wrap_deg")))
		v := units.RPM(g.in("n_rpm")).RimSpeed(g.mm("r_mm"))
		return answers{"T1_N": idle + te/2, "T2_N": idle - te/2, "P_kW": kilowatts(te, 0, v)}
	},
	"pretension-khurmi-11-16": func(g given) answers {
		wrap := (Belt{Driver: g.mm("d_mm"), Driven: g.mm("D_mm"), Centre: 1000 * g.mm("C_m")}).DriverArc()
		slack := SlackAtSlip(g.tight(), 0, g.exponent(wrap, 0))
		idle, mu := (g.tight()+slack)/2, g.in("mu")
		te := stiffGrip(idle, mu, wrap)
		gain := func(more units.Newtons) float64 { return 100 * (float64(more/te) - 1) }
		return answers{
			"P_kW":                   kilowatts(te, 0, units.MetresPerSecond(g.in("v_m_per_s"))),
			"gain_T0_plus10_percent": gain(stiffGrip(1.1*idle, mu, wrap)),
			"gain_mu_plus10_percent": gain(stiffGrip(idle, 1.1*mu, wrap)),
		}
	},
	"capstan-tayal-7-6": func(g given) answers {
		return answers{"T2_N": SlackAtSlip(g.tight(), 0, g.exponent(turns(g.in("turns")), 0))}
	},
	"capstan-tayal-7-4": func(g given) answers {
		return answers{"T2_N": SlackAtSlip(g.tight(), 0, g.exponent(units.Degrees(g.in("wrap_deg")), 0))}
	},
	"capstan-table-factor": func(g given) answers {
		return answers{"factor": 1 / float64(SlackAtSlip(1, 0, g.exponent(turns(g.in("turns")), 0)))}
	},
	"vgroove-khurmi-11-17": func(g given) answers {
		v := units.RPM(g.in("n_rpm")).RimSpeed(g.mm("d_mm") / 2)
		whirl := CentrifugalPull(g.in("density_kg_per_m3"), g.in("area_mm2"), 1, v)
		most := units.Newtons(g.in("stress_MPa") * g.in("area_mm2"))
		exponent := g.exponent(units.Degrees(g.in("wrap_deg")), units.Degrees(g.in("groove_deg")))
		// The book counts the pulls less the centrifugal share.
		slack := SlackAtSlip(most, whirl, exponent)
		// Most power where the centrifugal share is a third of the pull.
		third := units.MetresPerSecond(math.Sqrt(float64(most) / 3 / float64(CentrifugalPull(g.in("density_kg_per_m3"), g.in("area_mm2"), 1, 1))))
		return answers{
			"T1_N": most - whirl, "T2_N": slack - whirl,
			"P_kW":            g.in("belts") * kilowatts(most, slack, v),
			"n_max_power_rpm": units.RPMForRim(third, g.mm("d_mm")/2),
		}
	},
	"vgroove-sarthaks": func(g given) answers {
		slack := SlackAtSlip(g.tight(), 0, g.exponent(units.Degrees(g.in("wrap_deg")), units.Degrees(g.in("groove_deg"))))
		return answers{"T2_N": slack, "P_W": 1000 * kilowatts(g.tight(), slack, units.MetresPerSecond(g.in("v_m_per_s")))}
	},
	"creep-consistent-formula": creep,
	"creep-trap-sqrt":          creep,
	"creep-leather-limit":      creepsMore("creep_leather_max_percent"),
	"creep-industrial-range":   creepsMore("creep_max_percent"),

	"mu-wood-wood": func(g given) answers {
		within(g, DowelInWood(), g.wants("sliding_min"), g.wants("sliding_max"))
		return nil
	},
	"mu-wood-steel": func(g given) answers {
		// Not used for steel in plastic, whose range ends where this one begins.
		assert.LessOrEqual(g.t, SteelInPlastic().Likely, g.wants("sliding_min"))
		return nil
	},
	"mu-steel-plastic": func(g given) answers {
		within(g, SteelInPlastic(), g.wants("sliding_min"), g.wants("sliding_max"))
		assert.Equal(g.t, g.wants("sliding_max"), SteelInPlastic().High)
		return nil
	},
	"mu-rubber-concrete": func(g given) answers {
		// Rough concrete grips at least as well as a smooth groove likely does.
		assert.Less(g.t, BandGrip().Likely, g.wants("kinetic"))
		return nil
	},
	"mu-rubber-belt-design": func(g given) answers {
		// Belting is a floor for a bare band.
		assert.Greater(g.t, BandGrip().Low, g.wants("rubber_flat"))
		return nil
	},
	"mu-rubber-wood": func(g given) answers {
		within(g, BandGrip(), g.wants("static_min"), g.wants("static_max"))
		assert.Less(g.t, BandGrip().High, g.wants("static_max"))
		return nil
	},
	"rolling-lever-arm": func(g given) answers {
		// Loaded industrial wheels: an upper bound for a 25 mm toy wheel.
		assert.Less(g.t, RollingResistance("table").High, g.wants("plastic_on_steel_f_mm")/25)
		return nil
	},
	"rolling-wood-wood": func(g given) answers {
		assert.Less(g.t, RollingResistance("table").High, g.wants("wood_on_wood_f_in")*units.MillimetresPerInch/25)
		return nil
	},
	"rolling-small-models": func(g given) answers {
		table, carpet := RollingResistance("table"), RollingResistance("carpet")
		assert.Equal(g.t, []float64{g.wants("Crr_table_min"), g.wants("Crr_table_max")}, []float64{table.Low, table.High})
		assert.Equal(g.t, []float64{g.wants("Crr_carpet_min"), g.wants("Crr_carpet_max")}, []float64{carpet.Low, carpet.High})
		return nil
	},
}

// within asserts that the likely value of a range lies between two published
// ones.
func within(g given, r Range, low, high float64) {
	assert.LessOrEqual(g.t, low, r.Likely)
	assert.LessOrEqual(g.t, r.Likely, high)
}

func creep(g given) answers {
	// Small strains of a stiff belt: stretch is 1 + stress/modulus.
	modulus := g.in("E_MPa")
	factor := CreepFactor(1+g.in("s1_MPa")/modulus, 1+g.in("s2_MPa")/modulus)
	ideal := g.in("n1_rpm") / VelocityRatio(g.mm("d1_m"), g.mm("d2_m"))
	return answers{"speed_ratio_factor": factor, "n2_rpm": ideal * factor, "speed_lost_rpm": ideal * (1 - factor)}
}

// creepsMore asserts that a rubber band at half its grip creeps many times as
// much as belting.
func creepsMore(name string) func(given) answers {
	return func(g given) answers {
		s := classroomStage()
		f, _ := s.Fit(50)
		most, _ := s.Grip(f)
		l, ok := s.Load(f, most/2)
		assert.True(g.t, ok)
		assert.Greater(g.t, 100*(1-l.SpeedFactor), 5*g.wants(name))
		return nil
	}
}

// SlackAtSlip is the pull of the slack run at the moment of slip, for a pull of
// the tight run, an exponent m theta and the centrifugal share of both pulls
// (0 at rest): whirl + (tight - whirl) exp(-exponent), the capstan equation.
func SlackAtSlip(tight, whirl units.Newtons, exponent float64) units.Newtons {
	return whirl + (tight-whirl)*units.Newtons(math.Exp(-exponent))
}
