package report

type proposalJSON struct {
	Rank        int           `json:"rank"`
	Total       number        `json:"total_points"`
	Penalty     []termJSON    `json:"penalty"`
	Target      number        `json:"target_rpm"`
	Speed       rangeJSON     `json:"speed_rpm"`
	Travel      *rangeJSON    `json:"travel_m_per_s"`
	OutputTurns string        `json:"output_turns"`
	Ratio       number        `json:"ratio"`
	Demand      demandJSON    `json:"demand"`
	Motor       motorJSON     `json:"motor"`
	Cells       cellsJSON     `json:"cells"`
	Stages      []stageJSON   `json:"stages"`
	Axles       []axleJSON    `json:"axles"`
	Wheel       *roundJSON    `json:"wheel"`
	Drum        *roundJSON    `json:"drum"`
	OutputJoint *jointJSON    `json:"output_joint"`
	Positions   []holeJSON    `json:"positions"`
	Lanes       lanesJSON     `json:"lanes"`
	Forgives    number        `json:"forgiveness_mm"`
	Uses        []useJSON     `json:"uses"`
	Assumed     []string      `json:"assumptions"`
	Notes       []string      `json:"warnings"`
	Traction    *tractionJSON `json:"traction"`
	Fewer       *fewerJSON    `json:"one_cell_less"`
	Overload    *overloadJSON `json:"overload"`
}

type fewerJSON struct {
	Cells  int    `json:"cells"`
	Speed  number `json:"speed_rpm"`
	Starts bool   `json:"starts"`
}

type overloadJSON struct {
	Of     string  `json:"of"`
	Brief  number  `json:"brief"`
	Slips  *number `json:"slips_at"`
	Stage  *int    `json:"slips_in_stage"`
	Stalls *number `json:"stalls_at"`
}

type termJSON struct {
	Term   string `json:"term"`
	Points number `json:"points"`
	Why    string `json:"why"`
}

type demandJSON struct {
	Steady number `json:"steady_torque_mNm"`
	Start  number `json:"start_torque_mNm"`
	Radial number `json:"radial_pull_N"`
}

type tractionJSON struct {
	Needed number `json:"needed_torque_mNm"`
	Holds  number `json:"held_torque_mNm"`
}

type motorJSON struct {
	Name          string   `json:"name"`
	Rated         number   `json:"rated_V"`
	FreeSpeed     number   `json:"free_speed_rpm"`
	FreeCurrent   number   `json:"free_current_A"`
	StallTorque   number   `json:"sheet_stall_torque_mNm"`
	StallCurrent  number   `json:"sheet_stall_current_A"`
	ShaftDiameter number   `json:"shaft_diameter_mm"`
	ShaftLength   number   `json:"shaft_length_mm"`
	BodyLength    number   `json:"body_length_mm"`
	BodyWidth     number   `json:"body_width_mm"`
	BodyHeight    number   `json:"body_height_mm"`
	Mass          number   `json:"mass_g"`
	Calibrated    bool     `json:"calibrated"`
	Assumed       []string `json:"assumed"`
	Constant      number   `json:"constant_V_s_per_rad"`
	Resistance    number   `json:"resistance_ohm"`
	Turns         string   `json:"turns"`
	Speed         number   `json:"speed_rpm"`
	Torque        number   `json:"torque_mNm"`
	StartTorque   number   `json:"start_torque_mNm"`
	Stall         number   `json:"stall_torque_mNm"`
	Current       number   `json:"current_A"`
	Share         number   `json:"share_of_stall"`
	ShaftLoad     number   `json:"shaft_load_N"`
	Minutes       *number  `json:"battery_min"`
	Contradiction string   `json:"contradiction"`
}

type cellsJSON struct {
	Name       string   `json:"name"`
	Cells      int      `json:"cells"`
	Chemistry  string   `json:"chemistry"`
	Open       number   `json:"cell_open_V"`
	Resistance number   `json:"cell_resistance_ohm"`
	Capacity   number   `json:"capacity_mAh"`
	Assumed    []string `json:"assumed"`
}

type pulleyJSON struct {
	Name        string    `json:"name"`
	Also        []string  `json:"also"`
	Turns       string    `json:"turns"`
	Outside     number    `json:"outside_diameter_mm"`
	GrooveFloor number    `json:"groove_floor_diameter_mm"`
	GrooveWidth number    `json:"groove_width_mm"`
	GrooveAngle number    `json:"groove_angle_deg"`
	Width       number    `json:"width_mm"`
	Bore        number    `json:"bore_mm"`
	Material    string    `json:"material"`
	CanDrill    bool      `json:"can_drill"`
	Assumed     []string  `json:"assumed"`
	Pitch       number    `json:"pitch_diameter_mm"`
	Arc         number    `json:"arc_deg"`
	Joint       jointJSON `json:"joint"`
}

type jointJSON struct {
	Kind   string      `json:"kind"`
	Bore   number      `json:"bore_mm"`
	Shaft  number      `json:"shaft_diameter_mm"`
	Sleeve *sleeveJSON `json:"sleeve"`
}

type sleeveJSON struct {
	Name   string `json:"name"`
	Inner  number `json:"inner_diameter_mm"`
	Outer  number `json:"outer_diameter_mm"`
	Length number `json:"length_mm"`
}

type bandJSON struct {
	Name         string   `json:"name"`
	Size         string   `json:"size"`
	FlatLength   number   `json:"flat_length_mm"`
	Width        number   `json:"width_mm"`
	Thickness    number   `json:"thickness_mm"`
	PullFactor   number   `json:"pull_factor"`
	Calibrated   bool     `json:"calibrated"`
	StretchLimit *number  `json:"stretch_limit"`
	Assumed      []string `json:"assumed"`
}

type stageJSON struct {
	Driver        pulleyJSON      `json:"driver"`
	Driven        pulleyJSON      `json:"driven"`
	Band          bandJSON        `json:"band"`
	Use           string          `json:"use"`
	Crossed       bool            `json:"crossed"`
	Lane          number          `json:"lane_position_mm"`
	Centre        number          `json:"centre_distance_mm"`
	CentreAllowed spanJSON        `json:"centre_allowed_mm"`
	RestLoop      number          `json:"rest_loop_mm"`
	Strands       int             `json:"strands"`
	Length        number          `json:"path_length_mm"`
	Span          number          `json:"span_mm"`
	Stretch       number          `json:"stretch"`
	Ratio         number          `json:"ratio"`
	IdlePull      number          `json:"idle_pull_N"`
	Running       atWorkJSON      `json:"running"`
	Starting      atWorkJSON      `json:"starting"`
	Greatest      number          `json:"greatest_pull_N"`
	OtherBands    []otherBandJSON `json:"other_bands"`
	NextBands     []nextBandJSON  `json:"next_bands"`
}

type nextBandJSON struct {
	Name    string `json:"name"`
	Longer  bool   `json:"longer"`
	Stretch number `json:"stretch"`
	Speed   number `json:"speed_rpm"`
	Refusal string `json:"refusal"`
}

type atWorkJSON struct {
	Effective    number  `json:"effective_pull_N"`
	Tight        number  `json:"tight_pull_N"`
	Slack        number  `json:"slack_pull_N"`
	TightStretch number  `json:"tight_stretch"`
	SlackStretch number  `json:"slack_stretch"`
	Creep        number  `json:"creep_share"`
	DriverTorque number  `json:"driver_torque_mNm"`
	DrivenTorque number  `json:"driven_torque_mNm"`
	Grip         *number `json:"grip_margin"`
}

type otherBandJSON struct {
	Name    string `json:"name"`
	Use     string `json:"use"`
	Stretch number `json:"stretch"`
	Speed   number `json:"speed_rpm"`
}

type axleJSON struct {
	Stock    string   `json:"stock"`
	Diameter number   `json:"diameter_mm"`
	Material string   `json:"material"`
	RodSize  number   `json:"rod_length_mm"`
	Length   number   `json:"length_mm"`
	Hole     *number  `json:"hole_diameter_mm"`
	Load     number   `json:"load_N"`
	Friction number   `json:"friction_torque_mNm"`
	Turns    number   `json:"speed_rpm"`
	Assumed  []string `json:"assumed"`
}

type roundJSON struct {
	Name     string   `json:"name"`
	Diameter number   `json:"diameter_mm"`
	Width    number   `json:"width_mm"`
	Bore     number   `json:"bore_mm"`
	Material string   `json:"material"`
	CanDrill bool     `json:"can_drill"`
	Assumed  []string `json:"assumed"`
}

type holeJSON struct {
	Shaft string `json:"shaft"`
	X     number `json:"x_mm"`
	Y     number `json:"y_mm"`
}

type lanesJSON struct {
	Lane      []int    `json:"stage_lanes"`
	Centre    []number `json:"stage_centres_mm"`
	BodyLanes []int    `json:"body_lanes"`
	BodyFront number   `json:"body_front_mm"`
	Depth     number   `json:"depth_mm"`
}

type useJSON struct {
	Kind  string   `json:"kind"`
	Name  string   `json:"name"`
	Also  []string `json:"also"`
	Each  int      `json:"each"`
	Sets  int      `json:"sets"`
	Total int      `json:"total"`
	Have  int      `json:"have"`
	// Places is where the parts are kept, the named one first.
	Places []placeJSON `json:"places"`
}

type placeJSON struct {
	Name     string `json:"name"`
	Location string `json:"location"`
	Count    int    `json:"count"`
}
