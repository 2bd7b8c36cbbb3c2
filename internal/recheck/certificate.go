package recheck

import "encoding/json"

// The types of this file are the keys of the certificate that are rechecked;
// the document of the certificate says what each means.

type certificate struct {
	Schema      int      `json:"schema"`
	Kind        string   `json:"kind"`
	Status      string   `json:"status"`
	BoundPoints *float64 `json:"bound_points"`
	Constants   struct {
		Gravity       float64 `json:"gravity_m_per_s2"`
		C1            float64 `json:"rubber_C1_MPa"`
		C2            float64 `json:"rubber_C2_MPa"`
		BandGrip      spread  `json:"friction_band_in_groove"`
		WoodAxle      spread  `json:"friction_wooden_axle"`
		MetalAxle     spread  `json:"friction_metal_axle"`
		MotorBearing  spread  `json:"friction_motor_bearing"`
		Pivot         spread  `json:"friction_pivot"`
		Rolling       spread  `json:"rolling_resistance"`
		BandFitStep   float64 `json:"band_fit_step"`
		MotorLoadStep float64 `json:"motor_load_step_share"`
		RulerStep     float64 `json:"ruler_step_mm"`
		RulerShare    float64 `json:"ruler_rest_share"`
		Edge          float64 `json:"edge_hole_error_mm"`
		MotorShare    float64 `json:"motor_uncertainty_share"`
		CountedShare  float64 `json:"counted_motor_uncertainty_share"`
		BandShare     float64 `json:"band_uncertainty_share"`
		WeighedShare  float64 `json:"weighed_band_uncertainty_share"`
		CellShare     float64 `json:"cell_uncertainty_share"`
		MeasuredShare float64 `json:"measured_cell_uncertainty_share"`
		IdleShare     float64 `json:"free_current_uncertainty_share"`
		LoadShare     float64 `json:"load_uncertainty_share"`

		Density map[string]float64 `json:"density_kg_per_m3"`
	} `json:"constants"`
	Brief     brief      `json:"brief"`
	Proposals []proposal `json:"proposals"`
	Rooms     struct {
		CellVoltage    []int   `json:"cell_open_voltage"`
		CellResistance []int   `json:"cell_resistance"`
		FreeSpeed      []int   `json:"motor_free_speed"`
		StallTorque    []int   `json:"motor_stall_torque"`
		FreeCurrent    []int   `json:"motor_free_current"`
		BandPull       []int   `json:"band_pull"`
		BandFriction   []int   `json:"band_friction"`
		AxleFriction   []int   `json:"axle_friction"`
		Load           []int   `json:"load"`
		Rolling        []int   `json:"rolling_resistance"`
		Spacing        [][]int `json:"spacing"`
		Ratio          []int   `json:"velocity_ratio"`
	} `json:"classrooms"`
	Discs *struct {
		Most   int `json:"most_of_a_group"`
		Sheets []struct {
			Name      string  `json:"name"`
			Kind      string  `json:"kind"`
			Thickness float64 `json:"thickness_mm"`
			Length    float64 `json:"length_mm"`
			Width     float64 `json:"width_mm"`
			Count     float64 `json:"count"`
		} `json:"sheets"`
	} `json:"discs"`
}

type spread struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

type rect struct {
	X0 float64 `json:"x0_mm"`
	Y0 float64 `json:"y0_mm"`
	X1 float64 `json:"x1_mm"`
	Y1 float64 `json:"y1_mm"`
}

type brief struct {
	Model        string   `json:"model"`
	WantedSpeed  *float64 `json:"wanted_speed_rpm"`
	WantedTravel *float64 `json:"wanted_travel_m_per_s"`
	Tolerance    float64  `json:"tolerance_share"`
	Direction    struct {
		Sense      string `json:"sense"`
		SeenFrom   string `json:"seen_from"`
		MotorTurns string `json:"motor_turns"`
	} `json:"direction"`
	Load struct {
		Wheel              string  `json:"wheel"`
		Drum               string  `json:"drum"`
		Mass               float64 `json:"mass_g"`
		PivotRadius        float64 `json:"pivot_radius_mm"`
		OutOfBalance       float64 `json:"out_of_balance_g"`
		OutOfBalanceRadius float64 `json:"out_of_balance_radius_mm"`
		Slope              float64 `json:"slope_deg"`
		DrivenShare        float64 `json:"driven_weight_share"`
		CordDiameter       float64 `json:"cord_diameter_mm"`
		CordLeaves         string  `json:"cord_leaves"`
		Torque             float64 `json:"torque_mNm"`
		TackleParts        float64 `json:"tackle_parts"`
		TackleEfficiency   float64 `json:"tackle_efficiency"`

		Tackles []tackle `json:"tackles_allowed"`
	} `json:"load"`
	Frame struct {
		Length     float64   `json:"length_mm"`
		Height     float64   `json:"height_mm"`
		Depth      float64   `json:"depth_mm"`
		Strip      float64   `json:"strip_mm"`
		Sheet      float64   `json:"sheet_mm"`
		Rails      []float64 `json:"rail_heights_mm"`
		Pitch      float64   `json:"hole_pitch_mm"`
		MotorZone  rect      `json:"motor_zone"`
		OutputZone rect      `json:"output_zone"`
		Overhang   float64   `json:"overhang_mm"`
		Ground     *float64  `json:"ground_mm"`
	} `json:"frame"`
	Making struct {
		DrillFrame bool `json:"drill_frame"`
		DrillOut   bool `json:"drill_out"`
		Glue       bool `json:"glue"`
		Discs      bool `json:"discs"`
	} `json:"making"`
	Sets      int   `json:"sets"`
	MaxStages int   `json:"max_stages"`
	Cells     []int `json:"cells_allowed"`
	Limits    struct {
		FittedMin       float64 `json:"fitted_stretch_min"`
		FittedMax       float64 `json:"fitted_stretch_max"`
		ComfortMin      float64 `json:"comfort_stretch_min"`
		ComfortMax      float64 `json:"comfort_stretch_max"`
		KeptSpeedMin    float64 `json:"kept_speed_min"`
		ContinuousShare float64 `json:"continuous_share"`
		RunningMax      float64 `json:"running_stretch_max"`
		ArcMin          float64 `json:"arc_min_deg"`
		GripMin         float64 `json:"grip_min"`
		GripStart       float64 `json:"grip_start_min"`
		StartMin        float64 `json:"motor_start_min"`
		RunMin          float64 `json:"motor_run_min"`
		Clearance       float64 `json:"clearance_mm"`
		LaneGap         float64 `json:"lane_gap_mm"`
		HoleWall        float64 `json:"hole_wall_mm"`
		RunningFit      float64 `json:"running_fit_mm"`
		SectionRatio    float64 `json:"section_ratio"`
		HoleError       float64 `json:"hole_error_mm"`
	} `json:"limits"`
	Weights struct {
		Classroom       float64 `json:"classroom"`
		MayStand        float64 `json:"may_stand"`
		IdleStage       float64 `json:"idle_stage"`
		OnEdge          float64 `json:"on_edge"`
		SpeedPerPercent float64 `json:"speed_per_percent"`
		SpeedStep       float64 `json:"speed_step_percent"`
		Stage           float64 `json:"stage"`
		BandFit         float64 `json:"band_fit"`
		Sleeve          float64 `json:"sleeve"`
		DrillOut        float64 `json:"drill_out"`
		Glue            float64 `json:"glue"`
		Crossed         float64 `json:"crossed"`
		DoubledBand     float64 `json:"doubled_band"`
		Assumption      float64 `json:"assumption"`
		Unforgiving     float64 `json:"unforgiving"`
		MotorLoad       float64 `json:"motor_load"`
		Cell            float64 `json:"cell"`
		MadePulley      float64 `json:"made_pulley"`
	} `json:"weights"`
}

type proposal struct {
	Rank    int     `json:"rank"`
	Total   float64 `json:"total_points"`
	Penalty []struct {
		Term   string  `json:"term"`
		Points float64 `json:"points"`
	} `json:"penalty"`
	Target      float64 `json:"target_rpm"`
	Speed       spread  `json:"speed_rpm"`
	AtHoles     float64 `json:"speed_at_holes_rpm"`
	Works       int     `json:"works_of_100"`
	Stands      int     `json:"stands_of_100"`
	Travel      *spread `json:"travel_m_per_s"`
	OutputTurns string  `json:"output_turns"`
	Ratio       float64 `json:"ratio"`
	Demand      struct {
		Steady float64 `json:"steady_torque_mNm"`
		Start  float64 `json:"start_torque_mNm"`
		Swing  float64 `json:"swing_torque_mNm"`
		Force  struct {
			X float64 `json:"x"`
			Y float64 `json:"y"`
		} `json:"axle_force_N"`
	} `json:"demand"`
	Design struct {
		Torque      float64 `json:"torque_mNm"`
		StartTorque float64 `json:"start_torque_mNm"`
		Share       float64 `json:"share_of_stall"`
		Kept        float64 `json:"kept_speed_share"`
	} `json:"design"`
	Traction *struct {
		Needed float64 `json:"needed_torque_mNm"`
		Holds  float64 `json:"held_torque_mNm"`
	} `json:"traction"`
	Motor       motor    `json:"motor"`
	Cells       cells    `json:"cells"`
	Stages      []stage  `json:"stages"`
	Axles       []axle   `json:"axles"`
	Wheel       *round   `json:"wheel"`
	Drum        *round   `json:"drum"`
	Tackle      *tackle  `json:"tackle"`
	OutputJoint *joint   `json:"output_joint"`
	Positions   []point  `json:"positions"`
	FreeAxle    freeAxle `json:"free_axle"`
	Lanes       struct {
		Stage      []int     `json:"stage_lanes"`
		Centre     []float64 `json:"stage_centres_mm"`
		BodyLanes  []int     `json:"body_lanes"`
		ShaftLanes []int     `json:"shaft_lanes"`
		BodyFront  float64   `json:"body_front_mm"`
		Depth      float64   `json:"depth_mm"`
	} `json:"lanes"`
	Bears    float64 `json:"bears_mm"`
	Forgives float64 `json:"forgiveness_mm"`
	Fewer    *struct {
		Cells  int     `json:"cells"`
		Speed  float64 `json:"speed_rpm"`
		Starts bool    `json:"starts"`
	} `json:"one_cell_less"`
	Overload *struct {
		Of     string   `json:"of"`
		Brief  float64  `json:"brief"`
		Slips  *float64 `json:"slips_at"`
		Stage  *int     `json:"slips_in_stage"`
		Stalls *float64 `json:"stalls_at"`
	} `json:"overload"`
	Uses    []use    `json:"uses"`
	Assumed []string `json:"assumptions"`
}

type point struct {
	X float64 `json:"x_mm"`
	Y float64 `json:"y_mm"`
}

// freeAxle is the hole of a vehicle's second axle, or null. Files from before it was part of the
// design have no such key.
type freeAxle struct {
	given bool
	at    *point
}

func (a *freeAxle) UnmarshalJSON(data []byte) error {
	a.given = true
	return json.Unmarshal(data, &a.at)
}

type use struct {
	Kind  string   `json:"kind"`
	Name  string   `json:"name"`
	Also  []string `json:"also"`
	Each  int      `json:"each"`
	Sets  int      `json:"sets"`
	Total int      `json:"total"`
	Have  int      `json:"have"`

	Places []struct {
		Length float64 `json:"length_mm"`
		Count  int     `json:"count"`
	} `json:"places"`
}

type motor struct {
	Name         string   `json:"name"`
	Rated        float64  `json:"rated_V"`
	PacketMost   float64  `json:"packet_most_V"`
	PacketLeast  float64  `json:"packet_least_V"`
	FreeSpeed    float64  `json:"free_speed_rpm"`
	FreeCurrent  float64  `json:"free_current_A"`
	SheetStall   float64  `json:"sheet_stall_torque_mNm"`
	StallCurrent float64  `json:"sheet_stall_current_A"`
	Shaft        float64  `json:"shaft_diameter_mm"`
	ShaftLength  float64  `json:"shaft_length_mm"`
	BodyLength   float64  `json:"body_length_mm"`
	BodyWidth    float64  `json:"body_width_mm"`
	BodyHeight   float64  `json:"body_height_mm"`
	Calibrated   bool     `json:"calibrated"`
	SpeedKnown   float64  `json:"speed_known_to_share"` // 0: by Calibrated
	Assumed      []string `json:"assumed"`
	Constant     float64  `json:"constant_V_s_per_rad"`
	Resistance   float64  `json:"resistance_ohm"`
	Turns        string   `json:"turns"`
	Speed        float64  `json:"speed_rpm"`
	Torque       float64  `json:"torque_mNm"`
	StartTorque  float64  `json:"start_torque_mNm"`
	Stall        float64  `json:"stall_torque_mNm"`
	Current      float64  `json:"current_A"`
	Share        float64  `json:"share_of_stall"`
	ShaftLoad    float64  `json:"shaft_load_N"`
	Minutes      *float64 `json:"battery_min"`
}

// tackle is one between drum and load; Pull only for a proposal's own.
type tackle struct {
	Parts      float64 `json:"rope_parts"`
	Efficiency float64 `json:"efficiency"`
	Pull       float64 `json:"drum_pull_N"`
}

// tackleOf is the tackle of a proposal: its own, or else the brief's.
func (c *certificate) tackleOf(p *proposal) tackle {
	if p.Tackle != nil {
		return *p.Tackle
	}
	return tackle{Parts: c.Brief.Load.TackleParts, Efficiency: c.Brief.Load.TackleEfficiency}
}

type cells struct {
	Name       string   `json:"name"`
	Cells      int      `json:"cells"`
	Chemistry  string   `json:"chemistry"`
	Condition  string   `json:"condition"`
	Measured   bool     `json:"measured"`
	Open       float64  `json:"cell_open_V"`
	OpenRange  spread   `json:"cell_open_range_V"`
	Resistance float64  `json:"cell_resistance_ohm"`
	Capacity   float64  `json:"capacity_mAh"`
	Assumed    []string `json:"assumed"`
}

type pulley struct {
	Name        string   `json:"name"`
	Turns       string   `json:"turns"`
	Outside     float64  `json:"outside_diameter_mm"`
	Floor       float64  `json:"groove_floor_diameter_mm"`
	GrooveWidth float64  `json:"groove_width_mm"`
	GrooveAngle float64  `json:"groove_angle_deg"`
	Width       float64  `json:"width_mm"`
	Bore        float64  `json:"bore_mm"`
	Material    string   `json:"material"`
	CanDrill    bool     `json:"can_drill"`
	Assumed     []string `json:"assumed"`
	Pitch       float64  `json:"pitch_diameter_mm"`
	Arc         float64  `json:"arc_deg"`
	Joint       joint    `json:"joint"`
	Made        *made    `json:"made"`
}

// made is how a pulley is made of discs.
type made struct {
	Core   cutRound `json:"core"`
	Layers float64  `json:"core_layers"`
	Flange cutRound `json:"flange"`
	Error  float64  `json:"diameter_error_mm"`
}

type cutRound struct {
	Sheet     string  `json:"sheet"`
	Kind      string  `json:"kind"`
	Thickness float64 `json:"thickness_mm"`
	Diameter  float64 `json:"diameter_mm"`
}

type joint struct {
	Kind   string  `json:"kind"`
	Bore   float64 `json:"bore_mm"`
	Shaft  float64 `json:"shaft_diameter_mm"`
	Sleeve *struct {
		Name  string  `json:"name"`
		Inner float64 `json:"inner_diameter_mm"`
		Outer float64 `json:"outer_diameter_mm"`
	} `json:"sleeve"`
}

type band struct {
	Name         string   `json:"name"`
	FlatLength   float64  `json:"flat_length_mm"`
	Width        float64  `json:"width_mm"`
	Thickness    float64  `json:"thickness_mm"`
	PullFactor   float64  `json:"pull_factor"`
	Calibrated   bool     `json:"calibrated"`
	StretchLimit *float64 `json:"stretch_limit"`
	Assumed      []string `json:"assumed"`
}

type stage struct {
	Driver        pulley  `json:"driver"`
	Driven        pulley  `json:"driven"`
	Band          band    `json:"band"`
	Use           string  `json:"use"`
	Crossed       bool    `json:"crossed"`
	Lane          float64 `json:"lane_position_mm"`
	Centre        float64 `json:"centre_distance_mm"`
	CentreAllowed struct {
		From float64 `json:"from"`
		To   float64 `json:"to"`
	} `json:"centre_allowed_mm"`
	Spacing float64 `json:"spacing_mm"`
	Cell    struct {
		From float64 `json:"from"`
		To   float64 `json:"to"`
	} `json:"cell_mm"`
	AtSpacing struct {
		Stretch      float64  `json:"stretch"`
		TightStretch float64  `json:"tight_stretch"`
		Creep        float64  `json:"creep_share"`
		Grip         *float64 `json:"grip_margin"`
		GripStart    *float64 `json:"grip_start_margin"`
	} `json:"at_spacing"`
	RestLoop float64 `json:"rest_loop_mm"`
	Strands  float64 `json:"strands"`
	Length   float64 `json:"path_length_mm"`
	Span     float64 `json:"span_mm"`
	Stretch  float64 `json:"stretch"`
	Ratio    float64 `json:"ratio"`
	IdlePull float64 `json:"idle_pull_N"`
	Running  atWork  `json:"running"`
	Starting atWork  `json:"starting"`
	Greatest float64 `json:"greatest_pull_N"`
}

type atWork struct {
	Effective    float64  `json:"effective_pull_N"`
	Tight        float64  `json:"tight_pull_N"`
	Slack        float64  `json:"slack_pull_N"`
	TightStretch float64  `json:"tight_stretch"`
	SlackStretch float64  `json:"slack_stretch"`
	Creep        float64  `json:"creep_share"`
	DriverTorque float64  `json:"driver_torque_mNm"`
	DrivenTorque float64  `json:"driven_torque_mNm"`
	Grip         *float64 `json:"grip_margin"`
}

type axle struct {
	Stock     string   `json:"stock"`
	Diameter  float64  `json:"diameter_mm"`
	Material  string   `json:"material"`
	RodLength float64  `json:"rod_length_mm"`
	Length    float64  `json:"length_mm"`
	Hole      *float64 `json:"hole_diameter_mm"`
	Weight    float64  `json:"own_weight_N"`
	Lie       string   `json:"lie"`
	Load      float64  `json:"load_N"`
	Friction  float64  `json:"friction_torque_mNm"`
	Turns     float64  `json:"speed_rpm"`
	Assumed   []string `json:"assumed"`
}

type round struct {
	Name     string   `json:"name"`
	Diameter float64  `json:"diameter_mm"`
	Width    float64  `json:"width_mm"`
	Bore     float64  `json:"bore_mm"`
	Material string   `json:"material"`
	CanDrill bool     `json:"can_drill"`
	Assumed  []string `json:"assumed"`
}
