package mechanics

import (
	"math"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/units"
)

func torque(newtonMetres float64) units.NewtonMillimetres {
	return units.NewtonMillimetres(1000 * newtonMetres)
}

var motorQuestions = map[string]func(given) answers{
	"motor-mit-a": func(g given) answers {
		// Any voltage: the line is all that is asked about.
		m, err := NewMotor(12, units.RPM(g.in("n_noload_rpm")), 0, torque(g.in("T_stall_Nm")), 0)
		require.NoError(g.t, err)
		s := Fixed(12)
		half := m.StallTorque(s) / 2
		for _, other := range []units.NewtonMillimetres{0.8 * half, 1.2 * half} {
			assert.Less(g.t, m.PowerAtWatts(s, other), m.PeakPowerWatts(s))
		}
		return answers{"n_maxpower_rpm": m.SpeedAt(s, half), "T_maxpower_Nm": float64(half) / 1000, "P_max_W": m.PeakPowerWatts(s)}
	},
	"motor-burman-4-1": func(g given) answers {
		m := Motor{KVoltSecondsPerRadian: g.in("k_Nm_per_A"), Resistance: 1}
		return answers{"n_noload_rpm": m.FreeSpeed(Fixed(units.Volts(g.in("V_V"))))}
	},
	"motor-burman-4-2": func(g given) answers {
		v, current := units.Volts(g.in("V_V")), units.Amps(g.in("I_stall_A"))
		k := g.in("T_stall_Nm") / float64(current)
		m := Motor{KVoltSecondsPerRadian: k, Resistance: units.Ohms(float64(v) / float64(current))}
		free := m.FreeSpeed(Fixed(v))
		// The sheet agrees with itself and gives the same motor back.
		again, err := NewMotor(v, free, 0, torque(g.in("T_stall_Nm")), current)
		require.NoError(g.t, err)
		assert.InEpsilon(g.t, k, again.KVoltSecondsPerRadian, 1e-12)
		assert.InDelta(g.t, 0, again.Conflict.Relative(), 1e-12)
		return answers{"n_noload_rpm": free}
	},
	"motor-fitzgerald-11-5-40V": func(g given) answers {
		m := Motor{KVoltSecondsPerRadian: g.in("k_V_s_per_rad"), Resistance: units.Ohms(g.in("R_ohm"))}
		s := Fixed(units.Volts(g.in("V_V")))
		// The smaller torque at which the shaft gives that power.
		low, high := units.NewtonMillimetres(0), m.StallTorque(s)/2
		for range 60 {
			mid := (low + high) / 2
			if m.PowerAtWatts(s, mid) < g.in("P_load_W") {
				low = mid
			} else {
				high = mid
			}
		}
		return answers{"omega_rad_per_s": m.SpeedAt(s, low).RadiansPerSecond()}
	},
	"motor-emf-torque-constant": func(g given) answers {
		m := Motor{KVoltSecondsPerRadian: g.in("emf_V") / units.RPM(g.in("n_rpm")).RadiansPerSecond(), Resistance: 0.1}
		return answers{"I_A": m.CurrentAt(Fixed(2), torque(g.in("T_Nm")))}
	},
	"motor-130-size-6V-linear": func(g given) answers {
		v, free := units.Volts(g.in("V_V")), units.RPM(g.in("n_noload_rpm"))
		stall := units.NewtonMillimetres(g.in("T_stall_gf_cm") * units.NewtonMillimetresPerGramCentimetre)
		m, err := NewMotor(v, free, units.Amps(g.in("I_noload_A")), stall, units.Amps(g.in("I_stall_A")))
		require.NoError(g.t, err)
		s := Fixed(v)
		load := units.NewtonMillimetres(g.in("T_load_gf_cm") * units.NewtonMillimetresPerGramCentimetre)
		n := m.SpeedAt(s, load)
		// The sheet's stall torque and stall current differ by 12 %, so the
		// current of the one line is not that between the sheet's two currents;
		// it is nearer to the sheet's own current at that load.
		current := m.CurrentAt(s, load)
		assert.InEpsilon(g.t, g.wants("I_load_A"), float64(current), 0.03)
		assert.InDelta(g.t, -0.12, m.Conflict.Relative(), 0.005)
		assert.False(g.t, m.Conflict.Serious())
		between := m.FreeCurrent + (m.Conflict.Given-m.FreeCurrent)*units.Amps(load/stall)
		return answers{"n_load_rpm": n, "I_load_A": between, "P_max_W": m.PeakPowerWatts(s)}
	},
	"motor-peak-efficiency": func(g given) answers {
		m, err := NewMotor(6, 9100, units.Amps(g.in("I_noload_A")), 0, units.Amps(g.in("I_stall_A")))
		require.NoError(g.t, err)
		s := Fixed(6)
		share, at := m.PeakEfficiency(s)
		best := units.NewtonMillimetres(1000 * m.KVoltSecondsPerRadian * float64(at-m.FreeCurrent))
		assert.InEpsilon(g.t, share, m.PowerAtWatts(s, best)/(6*float64(at)), 1e-12)
		return answers{"eta_max": share, "I_at_peak_A": at}
	},
}

var rideQuestions = map[string]func(given) answers{
	"wheel-weightless-22m":      weightless,
	"wheel-weightless-trap-26m": weightless,
	"carousel-acceleration": func(g given) answers {
		n := units.RPM(60 / g.in("T_s"))
		a := CentripetalAcceleration(n, 1000*g.mm("r_m"))
		// The least friction at which nobody slides, with the source's g.
		mu := a / units.StandardGravity
		assert.InEpsilon(g.t, float64(n), float64(CarouselSlideSpeed(mu, 1000*g.mm("r_m"))), 1e-12)
		return answers{"a_m_per_s2": a, "mu_min": mu * units.StandardGravity / 9.8}
	},
	"carousel-real-4-3rpm": func(g given) answers {
		const foot = 12 * units.MillimetresPerInch
		n := units.RPM(g.in("n_rpm"))
		rim := func(name string) float64 { return float64(n.RimSpeed(foot*g.mm(name))) * 1000 / foot }
		return answers{"v_outer_ft_per_s": rim("r_outer_ft"), "v_inner_ft_per_s": rim("r_inner_ft")}
	},
	"wheel-real-observation": func(g given) answers {
		r := 500 * g.mm("D_m")
		n := units.RPMForRim(units.MetresPerSecond(g.in("v_rim_m_per_s")), r)
		slow := units.RPM(1 / g.wants("T_min"))
		return answers{"T_min": float64(n.SecondsPerTurn()) / 60, "v_for_30min_m_per_s": float64(slow.RimSpeed(r))}
	},
	"wheel-real-1893": func(g given) answers {
		// Real wheels turn far below the speed at which seats are left.
		const foot = 12 * units.MillimetresPerInch
		assert.Less(g.t, 10/g.wants("T_min"), float64(SeatLeavingSpeed(units.Millimetres(foot*g.wants("D_ft")/2))))
		assert.Less(g.t, g.wants("texas_star_rpm_max"), float64(SeatLeavingSpeed(units.Millimetres(foot*g.wants("texas_star_D_ft")/2))))
		return nil
	},
	"froude-time-1-16": func(g given) answers {
		return answers{"time_ratio": ModelSpeed(1, g.in("scale")), "rpm_1_40_of_4_3": ModelSpeed(4.3, 40)}
	},
	"g-standard": func(g given) answers {
		assert.Equal(g.t, g.wants("g_m_per_s2"), units.StandardGravity)
		assert.InEpsilon(g.t, g.wants("inch_m"), units.MillimetresPerInch/1000, 1e-12)
		assert.InEpsilon(g.t, g.wants("lbf_N"), float64(units.Grams(1000*g.wants("lbm_kg")).Weight()), 1e-6)
		return nil
	},
	"rpm-rad": func(g given) answers {
		w := units.RPM(g.in("n_rpm")).RadiansPerSecond()
		return answers{"omega_rad_per_s": w, "omega_rpm_per_rad_s": 1 / w}
	},
	"gf-cm": func(g given) answers {
		assert.InEpsilon(g.t, units.NewtonMillimetresPerGramCentimetre, float64(OutOfBalanceTorque(1, 10)), 1e-12)
		return answers{"T_mNm": g.in("T_gf_cm") * units.NewtonMillimetresPerGramCentimetre}
	},
}

func weightless(g given) answers {
	n := SeatLeavingSpeed(500 * g.mm("D_m"))
	// The sources take 9.8 and 9.81 for standard gravity.
	return answers{"n_rpm": n * units.RPM(math.Sqrt(g.in("g_m_per_s2")/units.StandardGravity))}
}
