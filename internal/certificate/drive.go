package certificate

// Proposal is one drive.
type Proposal struct {
	Rank        int       `json:"rank"`
	Total       Number    `json:"total_points"`
	Penalty     []Term    `json:"penalty"`
	Target      Number    `json:"target_rpm"`
	Speed       Range     `json:"speed_rpm"`
	AtHoles     Number    `json:"speed_at_holes_rpm"`
	Works       int       `json:"works_of_100"`
	Stands      int       `json:"stands_of_100"`
	Travel      *Range    `json:"travel_m_per_s"`
	OutputTurns string    `json:"output_turns"`
	Ratio       Number    `json:"ratio"`
	Demand      Demand    `json:"demand"`
	Design      Design    `json:"design"`
	Motor       Motor     `json:"motor"`
	Cells       Cells     `json:"cells"`
	Stages      []Stage   `json:"stages"`
	Axles       []Axle    `json:"axles"`
	Wheel       *Round    `json:"wheel"`
	Drum        *Round    `json:"drum"`
	Tackle      *Winch    `json:"tackle"`
	OutputJoint *Joint    `json:"output_joint"`
	Positions   []Hole    `json:"positions"`
	FreeAxle    *Hole     `json:"free_axle"` // nil in files from before it was looked for
	Lanes       Lanes     `json:"lanes"`
	Bears       Number    `json:"bears_mm"`
	Forgives    Number    `json:"forgiveness_mm"`
	Uses        []Use     `json:"uses"`
	Assumed     []string  `json:"assumptions"`
	Notes       []string  `json:"warnings"`
	Traction    *Traction `json:"traction"`
	Fewer       *Fewer    `json:"one_cell_less"`
	Overload    *Overload `json:"overload"`
}

// Design is what the motor does in the drive as it is designed, at the spacings and lies
// that are stated, wherever the holes are.
type Design struct {
	Torque      Number `json:"torque_mNm"`
	StartTorque Number `json:"start_torque_mNm"`
	Share       Number `json:"share_of_stall"`
	Kept        Number `json:"kept_speed_share"`
}

// Winch is the tackle that a lift's drum pulls on.
type Winch struct {
	Parts      int    `json:"rope_parts"`
	Efficiency Number `json:"efficiency"`
	Pull       Number `json:"drum_pull_N"`
}

// Fewer is the drive on one cell less.
type Fewer struct {
	Cells  int    `json:"cells"`
	Speed  Number `json:"speed_rpm"`
	Starts bool   `json:"starts"`
}

// Overload says what gives way first.
type Overload struct {
	Of     string  `json:"of"`
	Brief  Number  `json:"brief"`
	Slips  *Number `json:"slips_at"`
	Stage  *int    `json:"slips_in_stage"`
	Stalls *Number `json:"stalls_at"`
}

// Term is a part of the penalty.
type Term struct {
	Term   string `json:"term"`
	Points Number `json:"points"`
	Why    string `json:"why"`
}

// Demand is what is asked of the output axle.
type Demand struct {
	Steady Number `json:"steady_torque_mNm"`
	Start  Number `json:"start_torque_mNm"`
	Swing  Number `json:"swing_torque_mNm"`
	Weight Force  `json:"axle_force_N"`
}

// Force is a force in the drawing.
type Force struct {
	X Number `json:"x"`
	Y Number `json:"y"`
}

// Traction is what a vehicle needs of the floor.
type Traction struct {
	Needed Number `json:"needed_torque_mNm"`
	Holds  Number `json:"held_torque_mNm"`
}

// Motor is the motor, by its sheet and at work.
type Motor struct {
	Name          string   `json:"name"`
	Rated         Number   `json:"rated_V"`
	VoltsLeast    Number   `json:"packet_least_V"`
	VoltsMost     Number   `json:"packet_most_V"`
	FreeSpeed     Number   `json:"free_speed_rpm"`
	FreeCurrent   Number   `json:"free_current_A"`
	StallTorque   Number   `json:"sheet_stall_torque_mNm"`
	StallCurrent  Number   `json:"sheet_stall_current_A"`
	ShaftDiameter Number   `json:"shaft_diameter_mm"`
	ShaftLength   Number   `json:"shaft_length_mm"`
	BodyLength    Number   `json:"body_length_mm"`
	BodyWidth     Number   `json:"body_width_mm"`
	BodyHeight    Number   `json:"body_height_mm"`
	Mass          Number   `json:"mass_g"`
	Calibrated    bool     `json:"calibrated"`
	SpeedKnown    Number   `json:"speed_known_to_share,omitempty"`
	Assumed       []string `json:"assumed"`
	Constant      Number   `json:"constant_V_s_per_rad"`
	Resistance    Number   `json:"resistance_ohm"`
	Turns         string   `json:"turns"`
	Speed         Number   `json:"speed_rpm"`
	Torque        Number   `json:"torque_mNm"`
	StartTorque   Number   `json:"start_torque_mNm"`
	Stall         Number   `json:"stall_torque_mNm"`
	Current       Number   `json:"current_A"`
	Share         Number   `json:"share_of_stall"`
	ShaftLoad     Number   `json:"shaft_load_N"`
	Minutes       *Number  `json:"battery_min"`
	Contradiction string   `json:"contradiction"`
}

// Cells are the cells in their holder.
type Cells struct {
	Name       string   `json:"name"`
	Cells      int      `json:"cells"`
	Chemistry  string   `json:"chemistry"`
	Condition  string   `json:"condition"`
	Open       Number   `json:"cell_open_V"`
	Measured   bool     `json:"measured"`
	OpenRange  Range    `json:"cell_open_range_V"`
	Resistance Number   `json:"cell_resistance_ohm"`
	Capacity   Number   `json:"capacity_mAh"`
	Assumed    []string `json:"assumed"`
}

// Pulley is one of the two of a stage.
type Pulley struct {
	Name        string   `json:"name"`
	Also        []string `json:"also"`
	Turns       string   `json:"turns"`
	Outside     Number   `json:"outside_diameter_mm"`
	GrooveFloor Number   `json:"groove_floor_diameter_mm"`
	GrooveWidth Number   `json:"groove_width_mm"`
	GrooveAngle Number   `json:"groove_angle_deg"`
	Width       Number   `json:"width_mm"`
	Bore        Number   `json:"bore_mm"`
	Material    string   `json:"material"`
	CanDrill    bool     `json:"can_drill"`
	Assumed     []string `json:"assumed"`
	Pitch       Number   `json:"pitch_diameter_mm"`
	Arc         Number   `json:"arc_deg"`
	Joint       Joint    `json:"joint"`
	Made        *Made    `json:"made,omitempty"` // only of a pulley that is to be made
}

// Joint is how a part sits on its shaft.
type Joint struct {
	Kind   string  `json:"kind"`
	Bore   Number  `json:"bore_mm"`
	Shaft  Number  `json:"shaft_diameter_mm"`
	Sleeve *Sleeve `json:"sleeve"`
}

// Sleeve packs a shaft out.
type Sleeve struct {
	Name   string `json:"name"`
	Inner  Number `json:"inner_diameter_mm"`
	Outer  Number `json:"outer_diameter_mm"`
	Length Number `json:"length_mm"`
}

// Band is the band of a stage.
type Band struct {
	Name         string   `json:"name"`
	Size         string   `json:"size"`
	FlatLength   Number   `json:"flat_length_mm"`
	Width        Number   `json:"width_mm"`
	Thickness    Number   `json:"thickness_mm"`
	PullFactor   Number   `json:"pull_factor"`
	Calibrated   bool     `json:"calibrated"`
	StretchLimit *Number  `json:"stretch_limit"`
	Assumed      []string `json:"assumed"`
}

// Stage is two pulleys and a band.
type Stage struct {
	Driver        Pulley      `json:"driver"`
	Driven        Pulley      `json:"driven"`
	Band          Band        `json:"band"`
	Use           string      `json:"use"`
	Crossed       bool        `json:"crossed"`
	Lane          Number      `json:"lane_position_mm"`
	Centre        Number      `json:"centre_distance_mm"`
	CentreAllowed Span        `json:"centre_allowed_mm"`
	Spacing       Number      `json:"spacing_mm"`
	Cell          Span        `json:"cell_mm"`
	AtSpacing     AtSpacing   `json:"at_spacing"`
	RestLoop      Number      `json:"rest_loop_mm"`
	Strands       int         `json:"strands"`
	Length        Number      `json:"path_length_mm"`
	Span          Number      `json:"span_mm"`
	Stretch       Number      `json:"stretch"`
	Ratio         Number      `json:"ratio"`
	IdlePull      Number      `json:"idle_pull_N"`
	Running       AtWork      `json:"running"`
	Starting      AtWork      `json:"starting"`
	Greatest      Number      `json:"greatest_pull_N"`
	OtherBands    []OtherBand `json:"other_bands"`
	NextBands     []NextBand  `json:"next_bands"`
}

// AtSpacing is the band of a stage in the drive as it is designed.
type AtSpacing struct {
	Stretch      Number  `json:"stretch"`
	TightStretch Number  `json:"tight_stretch"`
	Creep        Number  `json:"creep_share"`
	Grip         *Number `json:"grip_margin"`
	GripStart    *Number `json:"grip_start_margin"`
}

// NextBand is the next longer or shorter one, whether it would do or not.
type NextBand struct {
	Name    string `json:"name"`
	Longer  bool   `json:"longer"`
	Stretch Number `json:"stretch"`
	Speed   Number `json:"speed_rpm"`
	Refusal string `json:"refusal"`
}

// AtWork is a stage carrying a torque.
type AtWork struct {
	Effective    Number  `json:"effective_pull_N"`
	Tight        Number  `json:"tight_pull_N"`
	Slack        Number  `json:"slack_pull_N"`
	TightStretch Number  `json:"tight_stretch"`
	SlackStretch Number  `json:"slack_stretch"`
	Creep        Number  `json:"creep_share"`
	DriverTorque Number  `json:"driver_torque_mNm"`
	DrivenTorque Number  `json:"driven_torque_mNm"`
	Grip         *Number `json:"grip_margin"`
}

// OtherBand would also do.
type OtherBand struct {
	Name    string `json:"name"`
	Use     string `json:"use"`
	Stretch Number `json:"stretch"`
	Speed   Number `json:"speed_rpm"`
}

// Axle is one driven axle.
type Axle struct {
	Stock    string   `json:"stock"`
	Diameter Number   `json:"diameter_mm"`
	Material string   `json:"material"`
	RodSize  Number   `json:"rod_length_mm"`
	Length   Number   `json:"length_mm"`
	Hole     *Number  `json:"hole_diameter_mm"`
	Weight   Number   `json:"own_weight_N"`
	Lie      string   `json:"lie"`
	Load     Number   `json:"load_N"`
	Friction Number   `json:"friction_torque_mNm"`
	Turns    Number   `json:"speed_rpm"`
	Assumed  []string `json:"assumed"`
}

// Round is a wheel or a drum.
type Round struct {
	Name     string   `json:"name"`
	Diameter Number   `json:"diameter_mm"`
	Width    Number   `json:"width_mm"`
	Bore     Number   `json:"bore_mm"`
	Material string   `json:"material"`
	CanDrill bool     `json:"can_drill"`
	Assumed  []string `json:"assumed"`
}

// Hole is the place of a shaft.
type Hole struct {
	Shaft string `json:"shaft"`
	X     Number `json:"x_mm"`
	Y     Number `json:"y_mm"`
}

// Lanes say where along the axles things are.
type Lanes struct {
	Lane       []int    `json:"stage_lanes"`
	Centre     []Number `json:"stage_centres_mm"`
	BodyLanes  []int    `json:"body_lanes"`
	ShaftLanes []int    `json:"shaft_lanes"`
	BodyFront  Number   `json:"body_front_mm"`
	Depth      Number   `json:"depth_mm"`
}

// Use is what is taken of one part.
type Use struct {
	Kind  string   `json:"kind"`
	Name  string   `json:"name"`
	Also  []string `json:"also"`
	Each  int      `json:"each"`
	Sets  int      `json:"sets"`
	Total int      `json:"total"`
	Have  int      `json:"have"`
	// Places is where the parts are kept, the named one first.
	Places []Place `json:"places"`
}

// Place is where parts of one name are kept.
type Place struct {
	Name     string `json:"name"`
	Location string `json:"location"`
	Length   Number `json:"length_mm,omitempty"` // of a rod; 0 of other parts
	Count    int    `json:"count"`
}
