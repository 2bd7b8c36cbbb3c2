// Package certificate is the machine-readable result of a search, key by key, in
// the order in which they are written. docs/certificate.md says what each means.
package certificate

// SchemaVersion is raised when a key of the certificate changes its meaning or
// goes. Keys may be added without raising it.
const SchemaVersion = 2

// Certificate is the result of a search with all that is needed to check it.
type Certificate struct {
	Schema      int          `json:"schema"`
	Kind        string       `json:"kind"`
	Prints      Fingerprints `json:"fingerprints"`
	Status      string       `json:"status"`
	BoundPoints *Number      `json:"bound_points"`
	Counts      Counts       `json:"counts"`
	Constants   Constants    `json:"constants"`
	Brief       Brief        `json:"brief"`
	Proposals   []Proposal   `json:"proposals"`
	Refusals    []Refusal    `json:"refusals"`
	Rooms       Classrooms   `json:"classrooms"`
	Discs       *Discs       `json:"discs,omitempty"` // only if pulleys may be made of discs
	Spacers     []Spacer     `json:"spacers,omitempty"`
}

// Spacer is a washer or bead of the cupboard, of which no drive takes any until it is built.
type Spacer struct {
	Name      string `json:"name"`
	Location  string `json:"location"`
	Bore      Number `json:"bore_mm"`
	Outside   Number `json:"outside_mm"`
	Thickness Number `json:"thickness_mm"`
	Count     int    `json:"count"`
}

// Classrooms are what the hundred classrooms differ in: of each thing its rank in every
// room, 0 the lowest and 99 the highest.
type Classrooms struct {
	CellVoltage    []int `json:"cell_open_voltage"`
	CellResistance []int `json:"cell_resistance"`
	FreeSpeed      []int `json:"motor_free_speed"`
	StallTorque    []int `json:"motor_stall_torque"`
	FreeCurrent    []int `json:"motor_free_current"`
	BandPull       []int `json:"band_pull"`
	BandFriction   []int `json:"band_friction"`
	AxleFriction   []int `json:"axle_friction"`
	Load           []int `json:"load"`
	Rolling        []int `json:"rolling_resistance"`
	// Spacing is of each stage, the motor's first.
	Spacing [][]int `json:"spacing"`
	Ratio   []int   `json:"velocity_ratio,omitempty"` // only if pulleys may be made of discs
}

// Fingerprints tell files apart that a certificate was made from.
type Fingerprints struct {
	Cupboard string `json:"cupboard"`
	Brief    string `json:"brief"`
}

// Counts say how much was looked at.
type Counts struct {
	Nodes    int64 `json:"nodes"`
	Bounded  int64 `json:"bounded"`
	Refused  int64 `json:"refused"`
	Finished int64 `json:"finished"`
	Improved int64 `json:"improved"`
}

// Constants are those of nature and of materials.
type Constants struct {
	Gravity           Number `json:"gravity_m_per_s2"`
	RubberC1          Number `json:"rubber_C1_MPa"`
	RubberC2          Number `json:"rubber_C2_MPa"`
	BandGrip          Range  `json:"friction_band_in_groove"`
	WoodAxle          Range  `json:"friction_wooden_axle"`
	MetalAxle         Range  `json:"friction_metal_axle"`
	MotorBearing      Range  `json:"friction_motor_bearing"`
	Pivot             Range  `json:"friction_pivot"`
	RollingResistance Range  `json:"rolling_resistance"`
	BandFitStep       Number `json:"band_fit_step"`
	MotorLoadStep     Number `json:"motor_load_step_share"`
	RulerStep         Number `json:"ruler_step_mm"`
	RulerShare        Number `json:"ruler_rest_share"`
	Edge              Number `json:"edge_hole_error_mm"`
	MotorShare        Number `json:"motor_uncertainty_share"`
	CountedShare      Number `json:"counted_motor_uncertainty_share"`
	BandShare         Number `json:"band_uncertainty_share"`
	WeighedShare      Number `json:"weighed_band_uncertainty_share"`
	CellShare         Number `json:"cell_uncertainty_share"`
	MeasuredShare     Number `json:"measured_cell_uncertainty_share"`
	FreeCurrentShare  Number `json:"free_current_uncertainty_share"`
	LoadShare         Number `json:"load_uncertainty_share"`
	// Densities are by material.
	Densities map[string]Number `json:"density_kg_per_m3"`
}

// Range is a figure with what it may be at least and at most.
type Range struct {
	Low    Number `json:"low"`
	Likely Number `json:"likely"`
	High   Number `json:"high"`
}

// Span is a closed range.
type Span struct {
	From Number `json:"from"`
	To   Number `json:"to"`
}

// Brief is what was asked.
type Brief struct {
	Name        string    `json:"name"`
	Cupboard    string    `json:"cupboard"`
	Model       string    `json:"model"`
	WantedWords string    `json:"wanted_words"`
	WantedSpeed *Number   `json:"wanted_speed_rpm"`
	WantedTrav  *Number   `json:"wanted_travel_m_per_s"`
	Tolerance   Number    `json:"tolerance_share"`
	Direction   Direction `json:"direction"`
	Load        Load      `json:"load"`
	Frame       Frame     `json:"frame"`
	Making      Making    `json:"making"`
	Sets        int       `json:"sets"`
	MaxStages   int       `json:"max_stages"`
	Cells       []int     `json:"cells_allowed"`
	Limits      Limits    `json:"limits"`
	Weights     Weights   `json:"weights"`
}

// Direction is the wanted way of turning.
type Direction struct {
	Sense      string `json:"sense"`
	SeenFrom   string `json:"seen_from"`
	MotorTurns string `json:"motor_turns"`
}

// Load is what the output carries.
type Load struct {
	Mass               Number `json:"mass_g"`
	PivotRadius        Number `json:"pivot_radius_mm"`
	LoadRadius         Number `json:"load_radius_mm"`
	OutOfBalance       Number `json:"out_of_balance_g"`
	OutOfBalanceRadius Number `json:"out_of_balance_radius_mm"`
	Wheel              string `json:"wheel"`
	Drum               string `json:"drum"`
	Surface            string `json:"surface"`
	Slope              Number `json:"slope_deg"`
	DrivenShare        Number `json:"driven_weight_share"`
	CordDiameter       Number `json:"cord_diameter_mm"`
	CordLeaves         string `json:"cord_leaves"`
	Torque             Number `json:"torque_mNm"`
	TackleParts        int    `json:"tackle_parts"`
	TackleEfficiency   Number `json:"tackle_efficiency"`

	Tackles []Tackle `json:"tackles_allowed"`
}

// Tackle is a tackle between the drum and the load of a lift.
type Tackle struct {
	Parts      int    `json:"rope_parts"`
	Efficiency Number `json:"efficiency"`
}

// Rect is a rectangle in the plane of the pulleys.
type Rect struct {
	X0 Number `json:"x0_mm"`
	Y0 Number `json:"y0_mm"`
	X1 Number `json:"x1_mm"`
	Y1 Number `json:"y1_mm"`
}

// Frame is the space to build in.
type Frame struct {
	Length     Number   `json:"length_mm"`
	Height     Number   `json:"height_mm"`
	Depth      Number   `json:"depth_mm"`
	Strip      Number   `json:"strip_mm"`
	Sheet      Number   `json:"sheet_mm"`
	Rails      []Number `json:"rail_heights_mm"`
	Pitch      Number   `json:"hole_pitch_mm"`
	MotorZone  Rect     `json:"motor_zone"`
	OutputZone Rect     `json:"output_zone"`
	Overhang   Number   `json:"overhang_mm"`
	Ground     *Number  `json:"ground_mm"`
}

// Making says what may be done to the parts.
type Making struct {
	DrillFrame bool `json:"drill_frame"`
	DrillOut   bool `json:"drill_out"`
	Glue       bool `json:"glue"`
	Discs      bool `json:"discs,omitempty"`
}

// Limits are the thresholds of the rules.
type Limits struct {
	FittedStretchMin  Number `json:"fitted_stretch_min"`
	FittedStretchMax  Number `json:"fitted_stretch_max"`
	ComfortStretchMin Number `json:"comfort_stretch_min"`
	ComfortStretchMax Number `json:"comfort_stretch_max"`
	IdealStretch      Number `json:"ideal_stretch"`
	RunningStretchMax Number `json:"running_stretch_max"`
	ArcMin            Number `json:"arc_min_deg"`
	ArcWarn           Number `json:"arc_warn_deg"`
	GripMin           Number `json:"grip_min"`
	GripStartMin      Number `json:"grip_start_min"`
	StartMin          Number `json:"motor_start_min"`
	RunMin            Number `json:"motor_run_min"`
	KeptSpeedMin      Number `json:"kept_speed_min"`
	ContinuousShare   Number `json:"continuous_share"`
	Clearance         Number `json:"clearance_mm"`
	LaneGap           Number `json:"lane_gap_mm"`
	HoleWall          Number `json:"hole_wall_mm"`
	RunningFit        Number `json:"running_fit_mm"`
	SectionRatio      Number `json:"section_ratio"`
	HoleError         Number `json:"hole_error_mm"`
}

// Weights are in points.
type Weights struct {
	Classroom       Number `json:"classroom"`
	MayStand        Number `json:"may_stand"`
	SpeedPerPercent Number `json:"speed_per_percent"`
	SpeedStep       Number `json:"speed_step_percent"`
	Stage           Number `json:"stage"`
	BandFit         Number `json:"band_fit"`
	Sleeve          Number `json:"sleeve"`
	DrillOut        Number `json:"drill_out"`
	Glue            Number `json:"glue"`
	Crossed         Number `json:"crossed"`
	DoubledBand     Number `json:"doubled_band"`
	Assumption      Number `json:"assumption"`
	IdleStage       Number `json:"idle_stage"`
	Unforgiving     Number `json:"unforgiving"`
	OnEdge          Number `json:"on_edge"`
	MotorLoad       Number `json:"motor_load"`
	Cell            Number `json:"cell"`
	AnotherDrive    Number `json:"another_drive"`
	MadePulley      Number `json:"made_pulley,omitempty"` // only if pulleys may be made of discs
}

// Refusal is one rule and what it refused.
type Refusal struct {
	Rule    string  `json:"rule"`
	Count   int64   `json:"count"`
	Nearest string  `json:"nearest"`
	Miss    *Number `json:"miss_share"`
}
