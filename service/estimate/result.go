package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// Estimate is the whole answer.
type Estimate struct {
	Units       measure.System
	Reference   string
	Currency    string
	Revision    int64
	PricedAsOf  catalogue.Date
	Assumptions []Assumption
	Made        Made
	Builds      []BuildWay   // else to come to its thickness; nil: it is of boards as thick as that
	Outline     []plan.Point // of the whole top
	Area        measure.Area
	Mass        measure.Mass
	Runs        []RunResult
	Corners     []CornerResult
	Cutouts     []CutoutResult
	Fixing      FixingResult
	Base        *BaseResult // nil: no base was told
	Carrying    *Carrying   // nil: no way was told
	Lifting     *Lifting    // nil: not asked for
	Lumber      []LumberPlan
	Bill        []BillLine
	Labour      labour.Plan
	Price       price.Price

	Conditioning *Conditioning // nil in answers kept from before it was told
	Warnings     []Warning
	Cautions     []string
	Sources      []source.Source
	Workings     []Working // only when asked for
}

// Made is the top as it will be made: what was asked for, with the defaults taken.
type Made struct {
	Thickness    measure.Length
	Construction Construction
	Layers       int            // glued on each other; 0: it is one
	Layer        measure.Length // thickness of each
	Build        Build          // how the layers lie: all over, or under the edges alone; empty: it is one
	Hand         plan.Hand
	Profile      Profile
	ProfileSize  measure.Length // 0: square
	SquareEnds   bool           // the free ends are left square
	Moulding     measure.Length // thickness of an applied moulding before the edges; 0: the profile is cut into the wood
	Finish       string         // system; "none": bare wood
	FinishName   string         // of the material; empty: bare wood
	Coats        int            // 0: bare wood
	CureDays     float64        // of the finish, from the last coat; 0: bare wood, or not known
	Faces        Faces
}

// SlabThickness is how thick the slabs are where nothing lies under them.
func (m *Made) SlabThickness() measure.Length {
	if m.Build == BuiltUp {
		return m.Layer
	}
	return m.Thickness
}

// Assumption is a default that was taken.
type Assumption struct {
	Pointer string // where the request could have said otherwise
	Value   any    // string, bool, int, float64, measure.Length or measure.Angle
	Why     string
}

// RunResult is one run: its wood through the year, its piece and its blank.
type RunResult struct {
	Name      string
	Species   string  // code
	Wood      string  // name of the species
	PartOf    *PartOf // nil: it is a whole run
	Sawn      catalogue.Sawn
	Depth     measure.Length // finished, across the grain, at the making moisture
	Moisture  Moistures
	Movement  Movement
	Seasonal  *Seasonal // where the order asks for it
	WallJoint WallJoint
	Walls     []Crooked // nil: none was told
	Piece     Piece
	People    int // to carry the piece; 0 in answers that were kept before they were counted
	Blank     Blank
	GlueUp    *GlueUp // nil for a ready-made panel, and in answers that were kept before it was planned
}

// GlueUp is how a slab is glued up, and how its staves are turned.
type GlueUp struct {
	takeoff.GlueUp
	Sections []takeoff.Section
	Rings    Rings
}

// Moistures are the wood's states.
type Moistures struct{ Making, Dry, Humid measure.Moisture }

// Movement is what a width does from making through the year; positive is swelling.
type Movement struct {
	Coefficient float64 // change per percent of moisture; 0 when no part was reckoned by it
	Method      Method
	DryStrain   float64
	HumidStrain float64
	ToDry       measure.Length
	ToHumid     measure.Length
	Range       measure.Length
	AlongGrain  measure.Length // range of the run's length
	FixedLine   hardware.Hold  // where the base holds the run; everything above moves from there
	Swing       measure.Length // of a leg's far end towards its wall, reckoned in WallGap; 0 when it does not swing
	WallGap     measure.Length // to leave at the wall, at least
}

// Methods are all rules that the movement was reckoned by: both, in parts, where a change crosses the border of the
// coefficient's range.
func (m *Movement) Methods() []Method {
	switch {
	case m.Method == ByCoefficient:
		return []Method{ByCoefficient}
	case m.Coefficient != 0:
		return []Method{ByCoefficient, ByShrinkage}
	}
	return []Method{ByShrinkage}
}

// Method is how the strain was computed: by shrinkage as soon as a part of it was; see Methods.
type Method string

// The methods.
const (
	ByCoefficient Method = "coefficient" // Wood Handbook Table 13-5, 6–14 %
	ByShrinkage   Method = "shrinkage"   // Wood Handbook eq. 13-3
)

// Piece is a run's finished slab.
type Piece struct {
	WallEdge   measure.Length
	FrontEdge  measure.Length
	LongEdge   measure.Length // the longest extent along the grain
	ShortEdge  measure.Length
	StartAngle measure.Angle // of the cut with the run's length, at the wall corner, inside the wood
	EndAngle   measure.Angle
	Area       measure.Area // cut-outs not taken off
	Outline    []plan.Point // counter-clockwise
	Mass       measure.Mass // at the making moisture, cut-outs and what is hollow below taken off
	Hollows    []Hollow     // below a slab with a built-up edge, from its start; nil: there is none
	Scribed    []plan.Point // its outline as the walls are; nil: they are straight, or not told
}

// Blank is what a piece is cut from; see takeoff.Blank.
type Blank = takeoff.Blank

// CornerResult is one corner: the candidates and the choice.
type CornerResult struct {
	Angle measure.Angle
	// change of the angle per change of the taped length across, radians per millimetre; 0 when not taped
	Sensitivity float64
	Chosen      plan.Joint
	InLine      *InLineSeam // nil: it is a corner
	Why         string
	Close       Close // the joint that nearly won
	Candidates  []Candidate
	Tolerances  *Tolerances // nil: not asked for
}

// Candidate is one way to make a corner, worked out in full.
type Candidate struct {
	Joint          plan.Joint
	Feasible       bool
	Score          int
	Findings       []joint.Finding
	Geometry       Geometry
	Movement       SeamMovement
	Hardware       hardware.Plan
	Carry          CarryToWood  // how the real corner gets to the wood
	Remedy         Remedy       // the one reckoned with, for a butt with a profile
	Remedies       []RemedyCost // each costed, for a butt with a profile
	Cost           money.Amount // of the whole top with this joint, before margin
	CostDifference money.Amount // against the chosen one
	LabourHours    float64      // of the whole top with this joint
	OtherPull      PullKind     // the other kind of pull parts, where it serves too
	Strain         SplitWarning // what glue would do here; zero for a miter
}

// RemedyCost is a remedy of a butt's inner corner and what the whole top costs with it.
type RemedyCost struct {
	Remedy Remedy
	Cost   money.Amount
	Text   string
}

// SplitWarning compares the stress of a glued moving seam with the wood's strength, as an indication only.
// Both are zero when the species has no published values.
type SplitWarning struct {
	Stress   measure.Pressure
	Strength measure.Pressure
}

// Geometry is a candidate's seam on the plan.
type Geometry struct {
	SeamLength measure.Length
	SeamPath   []plan.Point // from the front end to the wall end
	// from the front end, along the seam: the profile or the mitred part, kept clear of parts
	FrontKeep       measure.Length
	First, Second   Cut
	NominalAngle    measure.Angle  // the square or half-square angle nearest to the corner's
	NominalErrorGap measure.Length // at the far end if it were cut to the nominal angle
	ProfileMismatch measure.Length // miter only
}

// Cut is one run's side of the seam.
type Cut struct {
	CutAngle   measure.Angle
	SawSetting measure.Angle // off square: 90° less the cut angle
	WallEdge   measure.Length
	FrontEdge  measure.Length
}

// SeamMovement is what the seasons do to a seam.
type SeamMovement struct {
	HoldAt          hardware.Hold
	FirstLine       hardware.Hold // fixed line of the first run: where its base holds it with this joint
	SecondLine      hardware.Hold
	Restrained      bool           // the legs cannot swing: what would open, opens
	RestrainedWhy   string         // why its legs can or cannot
	NeededGapFirst  measure.Length // at the first run's wall, if the legs swing
	NeededGapSecond measure.Length
	// from the held point to the seam's far end, where the seasons' slip and opening are taken
	Far   measure.Length
	Dry   joint.Season
	Humid joint.Season
}

// Opening is how far the seam opens in the worse season if its legs cannot swing.
func (m *SeamMovement) Opening() measure.Length {
	return max(magnitude(m.Dry.Gap(m.HoldAt)), magnitude(m.Humid.Gap(m.HoldAt)))
}

// CutoutResult is a hole, placed. Making is nil where the order does not say how it is made.
type CutoutResult struct {
	Run     string
	Kind    string
	Outline []plan.Point
	Area    measure.Area
	OpenAt  []string // sides that are open at an edge of the slab: front, end, wall, start; usually none
	Making  *CutoutMaking
}

// CutoutMaking is how a cut-out is made.
type CutoutMaking struct {
	Shape         plan.Shape
	Length, Depth measure.Length // before it is turned
	CornerRadius  measure.Length // of a rectangle; 0: square corners
	Turned        measure.Angle
	Mount         Mount
	Centre        plan.Point
	Edge          measure.Length // of cut edge, to be sealed
	ShownEdge     measure.Length // of it that shows, is profiled and sanded; 0: none
	Rails         []Rail
}

// Rail is what is left of a slab in front of or behind a cut-out, and what it bears when the piece is lifted flat by its ends.
type Rail struct {
	Side     string // front or wall
	Width    measure.Length
	Length   measure.Length   // of the cut-out beside it, along the run
	Own      measure.Pressure // bending stress of its own weight over its length, of the moment w·L²/8
	Lifted   measure.Pressure // bending stress of the whole piece's weight beside the cut-out
	Strength measure.Pressure // of the wood along the grain, less the safety; 0: not known
}

// Holds reports whether a rail bears its piece when it is lifted flat by its ends; also where no strength is known.
func (r *Rail) Holds() bool { return r.Strength == 0 || max(r.Own, r.Lifted) <= r.Strength }

// FixingResult is how the top is held to its base.
type FixingResult struct {
	Kind  FixingKind
	Item  string
	Count int
	Runs  []RunFixing
	Note  string
}

// RunFixing is one run's fixings: rows at distances from the front edge, each with its slot.
type RunFixing struct {
	Run       string
	FixedLine hardware.Hold
	Along     int // fixings in the row that has most
	Rows      []FixingRow
	Places    []FixingPlace // every fixing
}

// FixingPlace is one fixing: along the run from its start, as cut-outs are placed, and from its front edge.
type FixingPlace struct {
	Along      measure.Length
	FromFront  measure.Length
	SlotAcross measure.Length // length of its slot across the run
	SlotAlong  measure.Length // and along it; 0: none, wood hardly moves along the grain
}

// FixingRow is a row of fixings along the run.
type FixingRow struct {
	FromFront  measure.Length
	SlotLength measure.Length // 0: fixed
}

// LumberPlan is the cutting plan of one stock; see takeoff.WoodPlan.
type LumberPlan = takeoff.WoodPlan

// BoardCount is part of a cutting plan; see takeoff.BoardCount.
type BoardCount = takeoff.BoardCount

// StripCut is part of a cutting plan; see takeoff.StripCut.
type StripCut = takeoff.StripCut

// StripPiece is part of a cutting plan; see takeoff.StripPiece.
type StripPiece = takeoff.StripPiece

// BillLine is one thing to buy in one pack size; see takeoff.BillLine.
type BillLine = takeoff.BillLine

// BillKind is the family of a bill line.
type BillKind = takeoff.BillKind

// Severity is how much a warning matters.
type Severity string

// The severities.
const (
	Info    Severity = "info"
	Caution Severity = "caution"
	Serious Severity = "serious"
)

// Warning is something about this top that the reader should know.
type Warning struct {
	Code     string
	Severity Severity
	Pointer  string // into the request; empty when it is about the whole
	Text     string
}

// Working is one key number with its formula, its inputs and its source.
type Working struct {
	Name    string
	Formula string
	Inputs  []Input
	Value   float64
	Unit    string
	Source  source.ID
}

// Input is one input of a working.
type Input struct {
	Name  string
	Value float64
	Unit  string
}
