package report

// SchemaVersion is raised when a key of the certificate changes its meaning or
// goes. Keys may be added without raising it.
const SchemaVersion = 1

// The types of this file are the certificate, key by key, in the order in which
// they are written; docs/certificate.md says what each means.

type certificate struct {
	Schema      int            `json:"schema"`
	Kind        string         `json:"kind"`
	Prints      fingerprints   `json:"fingerprints"`
	Status      string         `json:"status"`
	BoundPoints *number        `json:"bound_points"`
	Counts      countsJSON     `json:"counts"`
	Constants   constantsJSON  `json:"constants"`
	Brief       briefJSON      `json:"brief"`
	Proposals   []proposalJSON `json:"proposals"`
	Refusals    []refusalJSON  `json:"refusals"`
}

// fingerprints tell files apart that a certificate was made from.
type fingerprints struct {
	Cupboard string `json:"cupboard"`
	Brief    string `json:"brief"`
}

type countsJSON struct {
	Nodes    int64 `json:"nodes"`
	Bounded  int64 `json:"bounded"`
	Refused  int64 `json:"refused"`
	Finished int64 `json:"finished"`
	Improved int64 `json:"improved"`
}

type constantsJSON struct {
	Gravity           number    `json:"gravity_m_per_s2"`
	RubberC1          number    `json:"rubber_C1_MPa"`
	RubberC2          number    `json:"rubber_C2_MPa"`
	BandGrip          rangeJSON `json:"friction_band_in_groove"`
	WoodAxle          rangeJSON `json:"friction_wooden_axle"`
	MetalAxle         rangeJSON `json:"friction_metal_axle"`
	MotorBearing      rangeJSON `json:"friction_motor_bearing"`
	Pivot             rangeJSON `json:"friction_pivot"`
	RollingResistance rangeJSON `json:"rolling_resistance"`
	BandFitStep       number    `json:"band_fit_step"`
	MotorLoadStep     number    `json:"motor_load_step_share"`
	MotorShare        number    `json:"motor_uncertainty_share"`
	CountedShare      number    `json:"counted_motor_uncertainty_share"`
	BandShare         number    `json:"band_uncertainty_share"`
	WeighedShare      number    `json:"weighed_band_uncertainty_share"`
	CellShare         number    `json:"cell_uncertainty_share"`
}

type rangeJSON struct {
	Low    number `json:"low"`
	Likely number `json:"likely"`
	High   number `json:"high"`
}

type spanJSON struct {
	From number `json:"from"`
	To   number `json:"to"`
}

type briefJSON struct {
	Name        string        `json:"name"`
	Cupboard    string        `json:"cupboard"`
	Model       string        `json:"model"`
	WantedWords string        `json:"wanted_words"`
	WantedSpeed *number       `json:"wanted_speed_rpm"`
	WantedTrav  *number       `json:"wanted_travel_m_per_s"`
	Tolerance   number        `json:"tolerance_share"`
	Direction   directionJSON `json:"direction"`
	Load        loadJSON      `json:"load"`
	Frame       frameJSON     `json:"frame"`
	Making      makingJSON    `json:"making"`
	Sets        int           `json:"sets"`
	MaxStages   int           `json:"max_stages"`
	Cells       []int         `json:"cells_allowed"`
	Limits      limitsJSON    `json:"limits"`
	Weights     weightsJSON   `json:"weights"`
}

type directionJSON struct {
	Sense      string `json:"sense"`
	SeenFrom   string `json:"seen_from"`
	MotorTurns string `json:"motor_turns"`
}

type loadJSON struct {
	Mass               number `json:"mass_g"`
	PivotRadius        number `json:"pivot_radius_mm"`
	LoadRadius         number `json:"load_radius_mm"`
	OutOfBalance       number `json:"out_of_balance_g"`
	OutOfBalanceRadius number `json:"out_of_balance_radius_mm"`
	Wheel              string `json:"wheel"`
	Drum               string `json:"drum"`
	Surface            string `json:"surface"`
	Slope              number `json:"slope_deg"`
	DrivenShare        number `json:"driven_weight_share"`
	CordDiameter       number `json:"cord_diameter_mm"`
	Torque             number `json:"torque_mNm"`
	TackleParts        int    `json:"tackle_parts"`
	TackleEfficiency   number `json:"tackle_efficiency"`
}

type rectJSON struct {
	X0 number `json:"x0_mm"`
	Y0 number `json:"y0_mm"`
	X1 number `json:"x1_mm"`
	Y1 number `json:"y1_mm"`
}

type frameJSON struct {
	Length     number   `json:"length_mm"`
	Height     number   `json:"height_mm"`
	Depth      number   `json:"depth_mm"`
	Strip      number   `json:"strip_mm"`
	Sheet      number   `json:"sheet_mm"`
	Rails      []number `json:"rail_heights_mm"`
	Pitch      number   `json:"hole_pitch_mm"`
	MotorZone  rectJSON `json:"motor_zone"`
	OutputZone rectJSON `json:"output_zone"`
	Overhang   number   `json:"overhang_mm"`
	Ground     *number  `json:"ground_mm"`
}

type makingJSON struct {
	DrillFrame bool `json:"drill_frame"`
	DrillOut   bool `json:"drill_out"`
	Glue       bool `json:"glue"`
}

type limitsJSON struct {
	FittedStretchMin  number `json:"fitted_stretch_min"`
	FittedStretchMax  number `json:"fitted_stretch_max"`
	ComfortStretchMin number `json:"comfort_stretch_min"`
	ComfortStretchMax number `json:"comfort_stretch_max"`
	IdealStretch      number `json:"ideal_stretch"`
	RunningStretchMax number `json:"running_stretch_max"`
	ArcMin            number `json:"arc_min_deg"`
	ArcWarn           number `json:"arc_warn_deg"`
	GripMin           number `json:"grip_min"`
	GripStartMin      number `json:"grip_start_min"`
	StartMin          number `json:"motor_start_min"`
	RunMin            number `json:"motor_run_min"`
	ContinuousShare   number `json:"continuous_share"`
	Clearance         number `json:"clearance_mm"`
	LaneGap           number `json:"lane_gap_mm"`
	HoleWall          number `json:"hole_wall_mm"`
	RunningFit        number `json:"running_fit_mm"`
	SectionRatio      number `json:"section_ratio"`
	HoleError         number `json:"hole_error_mm"`
}

type weightsJSON struct {
	SpeedPerPercent number `json:"speed_per_percent"`
	SpeedStep       number `json:"speed_step_percent"`
	Stage           number `json:"stage"`
	BandFit         number `json:"band_fit"`
	Sleeve          number `json:"sleeve"`
	DrillOut        number `json:"drill_out"`
	Glue            number `json:"glue"`
	Crossed         number `json:"crossed"`
	DoubledBand     number `json:"doubled_band"`
	Assumption      number `json:"assumption"`
	Unforgiving     number `json:"unforgiving"`
	MotorLoad       number `json:"motor_load"`
	Cell            number `json:"cell"`
}

type refusalJSON struct {
	Rule    string  `json:"rule"`
	Count   int64   `json:"count"`
	Nearest string  `json:"nearest"`
	Miss    *number `json:"miss_share"`
}
