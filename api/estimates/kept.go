package estimates

import (
	"encoding/json"

	"seamwright/service/catalogue"
)

// The types of this file are an answer to POST /v1/estimates as it is kept; see ReadEstimate.

type keptEstimate struct {
	Units     string `json:"units"`
	Reference string `json:"reference"`
	Currency  string `json:"currency"`
	Catalogue struct {
		Revision   int64          `json:"revision"`
		PricedAsOf catalogue.Date `json:"priced_as_of"`
	} `json:"catalogue"`
	Top     keptTop      `json:"top"`
	Outline [][2]float64 `json:"outline"`
	Area    float64      `json:"area"`
	Weight  float64      `json:"weight"`
	Runs    []keptRun    `json:"runs"`

	Conditioning *keptConditioning `json:"conditioning"`

	Corners []keptCorner `json:"corners"`
	Cutouts []struct {
		Run     string       `json:"run"`
		Kind    string       `json:"kind"`
		Outline [][2]float64 `json:"outline"`
		Area    float64      `json:"area"`
		OpenAt  []string     `json:"open_at"`
	} `json:"cutouts"`
	Fixing   keptFixing   `json:"fixing"`
	Lumber   []keptLumber `json:"lumber"`
	Bill     []keptLine   `json:"bill_of_materials"`
	Labour   keptLabour   `json:"labour"`
	Price    keptPrice    `json:"price"`
	Warnings []struct {
		Code     string `json:"code"`
		Severity string `json:"severity"`
		Pointer  string `json:"pointer"`
		Text     string `json:"text"`
	} `json:"warnings"`
	Cautions []string `json:"cautions"`
	Sources  []struct {
		ID    string `json:"id"`
		Title string `json:"title"`
	} `json:"sources"`
}

type keptConditioning struct {
	Ready     bool    `json:"ready"`
	Promise   bool    `json:"promise"`
	Target    float64 `json:"target"`
	Off       float64 `json:"off"`
	Thickness float64 `json:"thickness"`
	RestDays  struct {
		Least  int `json:"least"`
		Likely int `json:"likely"`
		Most   int `json:"most"`
	} `json:"rest_days"`
	Humidity float64 `json:"humidity"`
	Text     string  `json:"text"`
}

type keptTop struct {
	Thickness    float64 `json:"thickness"`
	Construction string  `json:"construction"`
	Hand         string  `json:"hand"`
	Edge         struct {
		Profile    string  `json:"profile"`
		Size       float64 `json:"size"`
		SquareEnds bool    `json:"square_ends"`
		Moulding   float64 `json:"moulding"`
	} `json:"edge"`
	Finish struct {
		System string  `json:"system"`
		Name   string  `json:"name"`
		Coats  int     `json:"coats"`
		Cure   float64 `json:"cure_days"`
		Faces  string  `json:"faces"`
	} `json:"finish"`
}

type keptRun struct {
	Name     string  `json:"name"`
	Species  string  `json:"species"`
	Wood     string  `json:"wood"`
	Sawn     string  `json:"sawn"`
	Depth    float64 `json:"depth"`
	Moisture struct {
		Making float64 `json:"making"`
		Dry    float64 `json:"dry"`
		Humid  float64 `json:"humid"`
	} `json:"moisture"`
	Movement struct {
		Coefficient float64 `json:"coefficient"`
		Method      string  `json:"method"`
		DryStrain   float64 `json:"dry_strain"`
		HumidStrain float64 `json:"humid_strain"`
		ToDry       float64 `json:"to_dry"`
		ToHumid     float64 `json:"to_humid"`
		Range       float64 `json:"range"`
		AlongGrain  float64 `json:"along_grain_range"`
		FixedLine   string  `json:"fixed_line"`
		Swing       float64 `json:"swing"`
		WallGap     float64 `json:"wall_gap"`
	} `json:"movement"`
	WallJoint struct {
		Width  float64 `json:"width"`
		Cover  string  `json:"cover"`
		Strip  float64 `json:"strip"`
		Closes float64 `json:"closes"`
		Opens  float64 `json:"opens"`
		Text   string  `json:"text"`
	} `json:"wall_joint"`
	Piece struct {
		LongEdge   float64      `json:"long_edge"`
		ShortEdge  float64      `json:"short_edge"`
		WallEdge   float64      `json:"wall_edge"`
		FrontEdge  float64      `json:"front_edge"`
		StartAngle float64      `json:"start_angle"`
		EndAngle   float64      `json:"end_angle"`
		Area       float64      `json:"area"`
		Outline    [][2]float64 `json:"outline"`
		Weight     float64      `json:"weight"`
	} `json:"piece"`
	People int `json:"people"`
	Blank  struct {
		Length      float64 `json:"length"`
		Width       float64 `json:"width"`
		Thickness   float64 `json:"thickness"`
		Rough       float64 `json:"rough_thickness"`
		Staves      int     `json:"staves"`
		StaveRip    float64 `json:"stave_width"`
		StaveWidth  float64 `json:"stave_finished"`
		StaveLength float64 `json:"stave_length"`
		BoardFeet   float64 `json:"board_feet"`
	} `json:"blank"`
}

type keptCorner struct {
	Angle       float64         `json:"angle"`
	Sensitivity float64         `json:"tape_sensitivity"`
	Chosen      string          `json:"chosen"`
	Through     string          `json:"through"`
	Why         string          `json:"why"`
	Close       *keptClose      `json:"close"`
	Candidates  []keptCandidate `json:"candidates"`
}

type keptClose struct {
	Lead    int    `json:"lead"`
	Other   string `json:"other"`
	Through string `json:"other_through"`
	Text    string `json:"text"`
}

type keptPullKind struct {
	Kind           string    `json:"kind"`
	Score          int       `json:"score"`
	CostDifference keptMoney `json:"cost_difference"`
}

type keptCandidate struct {
	Joint    string `json:"joint"`
	Through  string `json:"through"`
	Feasible bool   `json:"feasible"`
	Score    int    `json:"score"`
	Carry    string `json:"carry"`
	Findings []struct {
		Rule   string `json:"rule"`
		Effect string `json:"effect"`
		Points int    `json:"points"`
		Text   string `json:"text"`
	} `json:"findings"`
	Geometry struct {
		SeamLength      float64      `json:"seam_length"`
		SeamPath        [][2]float64 `json:"seam_path"`
		FrontKeep       float64      `json:"front_keep"`
		First           keptCut      `json:"first"`
		Second          keptCut      `json:"second"`
		NominalAngle    float64      `json:"nominal_angle"`
		NominalErrorGap float64      `json:"nominal_error_gap"`
		ProfileMismatch float64      `json:"profile_mismatch"`
	} `json:"geometry"`
	Movement struct {
		HoldAt     string     `json:"hold_at"`
		FirstLine  string     `json:"first_line"`
		SecondLine string     `json:"second_line"`
		Restrained bool       `json:"restrained"`
		Why        string     `json:"restrained_why"`
		NeededGap  [2]float64 `json:"needed_gap"`
		Far        float64    `json:"far"`
		Dry        keptSeason `json:"dry"`
		Humid      keptSeason `json:"humid"`
	} `json:"movement"`
	Hardware  keptHardware  `json:"hardware"`
	OtherPull *keptPullKind `json:"other_pull"`
	Remedy    string        `json:"remedy"`
	Remedies  []struct {
		Remedy string    `json:"remedy"`
		Cost   keptMoney `json:"cost"`
		Text   string    `json:"text"`
	} `json:"remedies"`
	Cost           keptMoney `json:"cost"`
	CostDifference keptMoney `json:"cost_difference"`
	LabourHours    float64   `json:"labour_hours"`
	Strain         *struct {
		Stress   float64 `json:"stress"`
		Strength float64 `json:"strength"`
	} `json:"glue_strain"`
}

type keptCut struct {
	CutAngle   float64 `json:"cut_angle"`
	SawSetting float64 `json:"saw_setting"`
	WallEdge   float64 `json:"wall_edge"`
	FrontEdge  float64 `json:"front_edge"`
}

type keptSeason struct {
	MaxSlip     float64 `json:"max_slip"`
	MaxOpening  float64 `json:"max_opening"`
	OpensAt     string  `json:"opens_at"`
	Push        float64 `json:"pushes"`
	AngleChange float64 `json:"angle_change"`
	FirstShift  float64 `json:"first_shift"`
	SecondShift float64 `json:"second_shift"`
}

type keptHardware struct {
	Feasible  bool   `json:"feasible"`
	Reason    string `json:"reason"`
	HoldAt    string `json:"hold_at"`
	Alignment *struct {
		Item       string    `json:"item"`
		Part       keptPart  `json:"part"`
		Kind       string    `json:"kind"`
		Count      int       `json:"count"`
		Rows       int       `json:"rows"`
		Positions  []float64 `json:"positions"`
		SlotWidth  float64   `json:"slot_width"`
		SlotWidths []float64 `json:"slot_widths"`
		Note       string    `json:"note"`
	} `json:"alignment"`
	Pull *struct {
		keptPullGroup
		Further *struct {
			keptPullGroup
			Capacity float64 `json:"capacity"`
		} `json:"further"`
		Capacity    float64 `json:"capacity"`
		Ultimate    float64 `json:"ultimate"`
		MomentForce float64 `json:"moment_force"`
		People      int     `json:"people"`
		Legs        []struct {
			Run         string  `json:"run"`
			Weight      float64 `json:"weight"`
			Arm         float64 `json:"arm"`
			MomentForce float64 `json:"moment_force"`
			People      int     `json:"people"`
		} `json:"legs"`
		Note string `json:"note"`
	} `json:"pull"`
	Tries []string `json:"tries"`
}

type keptPullGroup struct {
	Item          string    `json:"item"`
	Part          keptPart  `json:"part"`
	Kind          string    `json:"kind"`
	Count         int       `json:"count"`
	Positions     []float64 `json:"positions"`
	HoleDiameters []float64 `json:"hole_diameters"`
	Channels      []float64 `json:"channel_widths"`
	Travel        float64   `json:"travel"`
	RecessLength  float64   `json:"recess_length"`
	Recesses      []float64 `json:"recess_lengths"`
	Bearing       float64   `json:"bearing"`
	Counts        bool      `json:"counts"`
}

type keptPart struct {
	Name            string  `json:"name"`
	Width           float64 `json:"width"`
	Length          float64 `json:"length"`
	Thickness       float64 `json:"thickness"`
	ThreadDiameter  float64 `json:"thread_diameter"`
	HeadDiameter    float64 `json:"head_diameter"`
	WasherDiameter  float64 `json:"washer_diameter"`
	BoreDiameter    float64 `json:"bore_diameter"`
	Penetration     float64 `json:"penetration"`
	BoltDiameter    float64 `json:"bolt_diameter"`
	RecessDiameter  float64 `json:"recess_diameter"`
	RecessDepth     float64 `json:"recess_depth"`
	RecessDistance  float64 `json:"recess_distance"`
	BearingDiameter float64 `json:"bearing_diameter"`
}

type keptFixing struct {
	Kind  string `json:"kind"`
	Item  string `json:"item"`
	Count int    `json:"count"`
	Runs  []struct {
		Run       string `json:"run"`
		FixedLine string `json:"fixed_line"`
		Along     int    `json:"along"`
		Rows      []struct {
			FromFront  float64 `json:"from_front"`
			SlotLength float64 `json:"slot_length"`
		} `json:"rows"`
		Places []struct {
			Along      float64 `json:"along"`
			FromFront  float64 `json:"from_front"`
			SlotAcross float64 `json:"slot_across"`
			SlotAlong  float64 `json:"slot_along"`
		} `json:"places"`
	} `json:"runs"`
	Note string `json:"note"`
}

type keptLumber struct {
	Material       string  `json:"material"`
	Net            float64 `json:"net_board_feet"`
	Yield          float64 `json:"yield_board_feet"`
	Plan           float64 `json:"plan_board_feet"`
	Buy            float64 `json:"buy_board_feet"`
	StripsPerBoard int     `json:"strips_per_board"`
	Boards         []struct {
		Length  float64 `json:"length"`
		Planned int     `json:"planned"`
		Buy     int     `json:"buy"`
	} `json:"boards"`
	Strips []struct {
		Length float64 `json:"length"`
		Count  int     `json:"count"`
		Pieces []struct {
			Run    string  `json:"run"`
			Length float64 `json:"length"`
		} `json:"pieces"`
		Leftover float64 `json:"leftover"`
	} `json:"strips"`
	Cost       keptMoney `json:"cost"`
	LowerBound keptMoney `json:"lower_bound"`
	Optimal    bool      `json:"optimal"`
	Offcuts    []float64 `json:"offcuts"`
}

type keptLine struct {
	Line        int         `json:"line"`
	Item        string      `json:"item"`
	Kind        string      `json:"kind"`
	Description string      `json:"description"`
	Need        json.Number `json:"need"`
	Buy         json.Number `json:"buy"`
	Unit        string      `json:"unit"`
	Pack        *struct {
		Size  json.Number `json:"size"`
		Count int         `json:"count"`
	} `json:"pack"`
	UnitPrice keptMoney `json:"unit_price"`
	Amount    keptMoney `json:"amount"`
	Price     struct {
		Supplier    string         `json:"supplier"`
		ValidFrom   catalogue.Date `json:"valid_from"`
		ConfirmedOn catalogue.Date `json:"confirmed_on"`
		Stale       bool           `json:"stale"`
	} `json:"price"`
}

type keptLabour struct {
	Steps []struct {
		Number  int    `json:"number"`
		Code    string `json:"code"`
		Name    string `json:"name"`
		When    string `json:"when"`
		Role    string `json:"role"`
		Crew    int    `json:"crew"`
		Minutes struct {
			Low      float64 `json:"low"`
			Likely   float64 `json:"likely"`
			High     float64 `json:"high"`
			Expected float64 `json:"expected"`
		} `json:"minutes"`
		WaitHours float64         `json:"wait_hours"`
		After     []int           `json:"after"`
		Critical  bool            `json:"critical"`
		Day       int             `json:"day"`
		Rate      keptMoney       `json:"rate"`
		Amount    keptMoney       `json:"amount"`
		Gives     json.RawMessage `json:"gives"` // nothing in answers that were kept before steps said it; null: nothing is given
		Note      string          `json:"note"`
	} `json:"steps"`
	Hours             float64   `json:"hours"`
	CriticalPathHours float64   `json:"critical_path_hours"`
	WorkingDays       int       `json:"working_days"` // null where none are promised
	NoPromise         string    `json:"no_promise"`
	CuredDay          int       `json:"cured_day"`
	Cost              keptMoney `json:"cost"`
	CostDeviation     keptMoney `json:"cost_deviation"`
}

type keptPrice struct {
	Materials   keptMoney `json:"materials"`
	Hardware    keptMoney `json:"hardware"`
	Consumables keptMoney `json:"consumables"`
	Labour      keptMoney `json:"labour"`
	Overhead    keptMoney `json:"overhead"`
	Contingency keptMoney `json:"contingency"`
	Cost        keptMoney `json:"cost"`
	Margin      keptMoney `json:"margin"`
	Net         keptMoney `json:"net"`
	Tax         keptMoney `json:"tax"`
	Total       keptMoney `json:"total"`
	Deposit     keptMoney `json:"deposit"`
	Range       struct {
		P50 keptMoney `json:"p50"`
		P80 keptMoney `json:"p80"`
		P90 keptMoney `json:"p90"`
	} `json:"range"`
	Basis   string      `json:"basis"`
	Rate    json.Number `json:"rate"`
	TaxRate json.Number `json:"tax_rate"`
}
