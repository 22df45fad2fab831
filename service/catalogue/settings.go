package catalogue

import (
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Settings is what a shop can change about how it works and reckons. Lengths are in base units; a new setting is added
// here and in the list of its kind (settings_deal.go and its like; settings_list.go puts them together), nowhere else.
type Settings struct {
	// Price
	Currency        string
	Basis           string // margin or markup
	Rate            money.Rate
	Tax             money.Rate
	Overhead        money.Rate   // on direct cost
	Contingency     money.Rate   // on direct cost
	Deposit         money.Rate   // of the total
	RoundTo         money.Amount // step of the net price
	HardwareSeries  SeriesWish   // sizes that hardware is chosen in
	Charge          string       // pack: whole packs are charged; use: what is used
	LumberYield     float64      // what boards really give of their grade's least yield, percent
	YieldSpread     float64      // standard deviation of the wood's cost, percent
	PanelSpread     float64      // the same of ready-made panels
	CommonShare     float64      // of the steps' spread, that they have in common, 0–1
	HardnessShare   float64      // of what a wood is harder or softer by that goes into minutes, percent
	FirstTimeFactor float64      // minutes of a first-timer over those of a practised maker
	SeasonedFactor  float64      // minutes of a seasoned maker over those of a practised one
	HoursPerDay     float64      // working hours
	StaleDays       int          // days; a price last confirmed before is marked stale
	PersonLimit     measure.Mass // what one person should carry
	DefaultProfile  string       // climate profile when a request names no service climate

	// Wood that is not ready
	ReadyWithin         measure.Moisture // points from the target within which the wood is ready
	ReadyPromised       measure.Moisture // points beyond which no working days are promised
	ReadyRefused        measure.Moisture // moisture above which a top is refused
	WoodDiffusion       float64          // how many times faster moisture moves across the grain than density and air tell
	WoodDiffusionSpread float64          // how many times faster or slower than that it may be
	PlanerWidth         measure.Length   // widest slab that planer and sander take
	GlueOpenMinutes     float64          // from the first spread to the closed joint
	GlueClosedMinutes   float64          // from the closed joint to full pressure
	GlueSpreadRate      float64          // m² of joint a minute
	ClampForce          float64          // of a clamp, kN
	ClampMinutes        float64          // to set one

	TimeZone string // IANA name of the shop's zone: its calendar decides which day is today

	// Quotes
	QuoteValidDays  int        // how long an offer holds when nobody says
	QuoteDriftLimit money.Rate // an open offer whose cost moved more counts as drifted

	// Price lists
	PriceMoveLimit    money.Rate // a listed price that moves more is held
	PriceMissingLimit money.Rate // share of the last list's prices that a list may lack before it is held whole
	PriceHeldLimit    money.Rate // share of a list's rows that may be held or rejected before it is held whole
	PriceHistoryDays  int        // prices are kept at hand so far back; an older day cannot be priced

	// Seam
	HairlineGap   measure.Length // an opening from here on is seen as a hairline
	VisibleGap    measure.Length // from here on it is plainly seen
	EasedLimit    measure.Length // profiles up to this size count as eased
	MismatchLimit measure.Length // profile mismatch that excludes a plain miter
	MasonsMargin  measure.Length // mason's miter: wood behind the profile
	CutoutClear   measure.Length // cut-out to seam and its hardware
	CutoutCorner  measure.Length // radius of a cut-out's inner corners, at least
	EdgeStrip     measure.Length // less wood than this beside a cut-out cannot stay: it is open at that edge
	RailLeast     measure.Length // less wood than this beside a cut-out is warned of
	WallAllowance measure.Length // added to the humid change at the wall

	// Hardware
	AlignmentEnd     measure.Length // first and last alignment part, at most from the end
	AlignmentSpacing measure.Length // at most
	SlotAllowance    measure.Length // slot longer than the part
	PocketEnd        measure.Length // first and last pocket, at least from the end
	PocketSpacing    measure.Length // at most
	HoleAllowance    measure.Length // exit hole over thread and slip
	HoleLeast        measure.Length // exit hole over thread, at least
	BearingLeast     measure.Length // head on wood around the hole, at least
	BoltEnd          measure.Length // draw bolts from the ends, at least
	BoltSpacing      measure.Length // at most
	BoltThreeFrom    measure.Length // seam length from which three bolts are needed
	WoodAboveRecess  measure.Length // at least
	PartClear        measure.Length // between any two parts
	WoodAround       measure.Length // around every bore, recess, channel, pocket and slot, at least
	BiscuitCutter    measure.Length // diameter of the cutter of biscuit slots
	FixingSpacing    measure.Length // fixings to the base
	FixingEdge       measure.Length // fixings from ends, front and back, cut-outs and seams
	FixingThirdRow   measure.Length // depth from which a run has a third row of fixings
	FixingSlotMost   measure.Length // longest slot of a fixing
	WallGapLimit     measure.Length // widest wall joint that a covering hides
	CoverOverlap     measure.Length // of a cover strip over the widest gap
	SealantClass     float64        // movement class of the wall joint's sealant, percent
	TwoRowsFrom      measure.Length // top thickness from which alignment parts stand in two rows

	// Take-off
	EndTrim            measure.Length // blank longer than the piece, at each end
	WidthAllowance     measure.Length // blank wider than the piece
	ThicknessAllowance measure.Length // surfaced stock over finished thickness, at least
	StaveWidth         measure.Length // finished width of a stave, at most
	StaveRip           measure.Length // stave before ripping and jointing
	StaveTrim          measure.Length // stave longer than the blank
	BuiltUpWidth       measure.Length // of the strips under a built-up edge, and of what is solid at its ends and supports, at least
	Kerf               measure.Length
	FingerLength       measure.Length // of the fingers that join staves end to end
	OffcutKeep         measure.Length // offcuts from this length on are kept
	QuarterPrice       money.Rate     // quarter-sawn boards and panels dearer than flat-sawn
	RiftPrice          money.Rate
	QuarterWidth       float64 // working width of quarter-sawn boards, percent of the flat-sawn
	RiftWidth          float64
	MouldingThickness  measure.Length // applied moulding: what the slab is shallower by

	// Points for and against a joint
	PointsBase         int
	PointsEdgeMitred   int // profile of 1/4 in meets at the corner
	PointsEdgeNotch    int // profile of 1/4 in leaves a notch, remedy needed
	PointsEdgeIdle     int // mason's miter without a profile
	PointsMovementSlip int // butt family: at the hole's limit
	PointsMovementOpen int // miter held rigid: opening at the visible limit
	PointsSwing        int // free to swing: the needed gap is the widest that can be covered
	PointsEndGrain     int // screws in end grain
	PointsSideGrain    int // screws in side grain that hold twice what carrying a leg asks
	PointsBolts        int // draw bolts that do
	PointsUnequal      int // depths that differ by a fifth, without a profile
	PointsCutAngle     int // two full-width cuts 45° off square
	PointsCutMasons    int // two-stage cut
	PointsCutSquare    int // square cut
	PointsCutLong      int // per metre of seam
	PointsFeather      int // a tip at the front that lacks 45°
	PointsToolHelp     int // guided saw or router
	PointsToolStop     int // a tool that cannot stop inside the wood, for a mason's miter
	PointsFirstTime    int // the maker's first, a miter and a half at a right angle
	PointsApart        int // comes apart on site
	PointsLook         int // the customer's wish is met
	PointsCost         int // per ten percent of cost over the cheapest

	FormSettings      // the online order form
	SupportSettings   // what carries a top
	ToleranceSettings // how far off what is measured and cut is
	ShopSettings      // the shop's own name and looks
}
