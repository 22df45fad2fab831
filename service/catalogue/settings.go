package catalogue

import (
	"slices"
	"sort"

	"seamwright/service/document/words"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Settings is what a shop can change about how it works and reckons. Lengths are in base units; a new setting is added
// here and in settingList (of the order form: settings_form.go, of the shop's name and looks: settings_shop.go, of
// support: settings_support.go), nowhere else.
type Settings struct {
	// Price
	Currency       string
	Basis          string // margin or markup
	Rate           money.Rate
	Tax            money.Rate
	Overhead       money.Rate   // on direct cost
	Contingency    money.Rate   // on direct cost
	Deposit        money.Rate   // of the total
	RoundTo        money.Amount // step of the net price
	HardwareSeries SeriesWish   // sizes that hardware is chosen in
	Charge         string       // pack: whole packs are charged; use: what is used
	LumberYield    float64      // what boards really give of their grade's least yield, percent
	YieldSpread    float64      // standard deviation of the wood's cost, percent
	PanelSpread    float64      // the same of ready-made panels
	CommonShare    float64      // of the steps' spread, that they have in common, 0–1
	HoursPerDay    float64      // working hours
	StaleDays      int          // days; a price last confirmed before is marked stale
	PersonLimit    measure.Mass // what one person should carry
	DefaultProfile string       // climate profile when a request names no service climate

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

// SettingKind says how a setting's text is read.
type SettingKind string

// The kinds of setting.
const (
	SettingText   SettingKind = "text"
	SettingNumber SettingKind = "number"
	SettingCount  SettingKind = "count"
	SettingLength SettingKind = "length_mm"
	SettingMass   SettingKind = "mass_kg"
	SettingRate   SettingKind = "percent"
	SettingMoney  SettingKind = "money"

	// Lists, separated by spaces; see Words and Lengths.
	SettingWords   SettingKind = "words"
	SettingLengths SettingKind = "lengths_mm"
)

// Setting describes one setting: its key, how its text is read, what it is when nobody changes it, and
// its bounds.
type Setting struct {
	Key     string
	Kind    SettingKind
	Default string
	Low     float64
	High    float64
	Choices []string
	About   string
	Source  string // "common-practice" or "demo"
	put     func(*Settings, parsed)

	Value func(*Settings) string // of a setting that has no field of its own name; nil elsewhere
	check func(string) error     // of a text, beside the rest; nil: none
}

func length(key, mm string, high float64, about string, field func(*Settings) *measure.Length) Setting {
	return Setting{Key: key, Kind: SettingLength, Default: mm, High: high, About: about, Source: "common-practice",
		put: func(s *Settings, p parsed) { *field(s) = measure.Length(p.number) }}
}

func rate(key, percent string, high float64, about string, field func(*Settings) *money.Rate) Setting {
	return Setting{Key: key, Kind: SettingRate, Default: percent, High: high, About: about, Source: "demo",
		put: func(s *Settings, p parsed) { *field(s) = p.rate }}
}

func points(key, n, about string, field func(*Settings) *int) Setting {
	return Setting{Key: key, Kind: SettingCount, Default: n, Low: -100, High: 100, About: about, Source: "common-practice",
		put: func(s *Settings, p parsed) { *field(s) = int(p.number) }}
}

// settingList is every setting. Lengths are the inch figures of the trade, exactly, so that a top sent in
// inches and the same top sent in millimetres get the same answer.
var settingList = append([]Setting{
	{Key: "currency", Kind: SettingText, Default: "USD", About: "currency of all prices and rates (ISO 4217)",
		Source: "demo",
		put:    func(s *Settings, p parsed) { s.Currency = p.text }},
	{Key: "basis", Kind: SettingText, Default: "margin", Choices: []string{"margin", "markup"},
		About: "how the net price is made from cost", Source: "demo",
		put: func(s *Settings, p parsed) { s.Basis = p.text }},
	rate("rate", "35", 500, "margin on price (under 100) or mark-up on cost",
		func(s *Settings) *money.Rate { return &s.Rate }),
	rate("tax", "0", 50, "sales tax or VAT on the net price", func(s *Settings) *money.Rate { return &s.Tax }),
	rate("overhead", "18", 300, "overhead on direct cost", func(s *Settings) *money.Rate { return &s.Overhead }),
	rate("contingency", "5", 100, "contingency on direct cost", func(s *Settings) *money.Rate { return &s.Contingency }),
	rate("deposit", "50", 100, "deposit, of the total", func(s *Settings) *money.Rate { return &s.Deposit }),
	{Key: "round_to", Kind: SettingMoney, Default: "0.01", Low: 0.01, High: 1000,
		About: "step to which the net price is rounded", Source: "demo",
		put: func(s *Settings, p parsed) { s.RoundTo = p.amount }},
	{Key: "charge", Kind: SettingText, Default: "pack", Choices: []string{"pack", "use"},
		About: "charge whole packs, or what is used of them", Source: "demo",
		put: func(s *Settings, p parsed) { s.Charge = p.text }},
	{Key: "hardware_series", Kind: SettingText, Default: string(SeriesUsual),
		Choices: []string{string(SeriesUsual), string(SeriesByUnits), string(SeriesMetric), string(SeriesImperial)},
		About:   "sizes that hardware is chosen in: metric, imperial, by the units of the order, or usual (slot cutters and bolts in millimetres, screws by their number)", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.HardwareSeries = SeriesWish(p.text) }},
	{Key: "lumber_yield", Kind: SettingNumber, Default: "100", Low: 30, High: 130,
		About: "what boards really give of the least yield that their grade promises, percent", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.LumberYield = p.number }},
	{Key: "yield_spread", Kind: SettingNumber, Default: "8", High: 50,
		About: "standard deviation of the wood's cost, percent", Source: "demo",
		put: func(s *Settings, p parsed) { s.YieldSpread = p.number }},
	{Key: "panel_spread", Kind: SettingNumber, Default: "3", High: 50,
		About: "standard deviation of the cost of ready-made panels, percent", Source: "demo",
		put: func(s *Settings, p parsed) { s.PanelSpread = p.number }},
	{Key: "common_share", Kind: SettingNumber, Default: "0.4", High: 1,
		About: "share of the steps' spread that one job's steps have in common (the same wood, hands and site), for the price range", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.CommonShare = p.number }},
	rate("quarter_price", "40", 500, "quarter-sawn boards and panels dearer than flat-sawn of the same grade",
		func(s *Settings) *money.Rate { return &s.QuarterPrice }),
	rate("rift_price", "55", 500, "rift-sawn boards and panels dearer than flat-sawn of the same grade",
		func(s *Settings) *money.Rate { return &s.RiftPrice }),
	{Key: "quarter_width", Kind: SettingNumber, Default: "60", Low: 10, High: 100,
		About: "working width of quarter-sawn boards, percent of the flat-sawn", Source: "demo",
		put: func(s *Settings, p parsed) { s.QuarterWidth = p.number }},
	{Key: "rift_width", Kind: SettingNumber, Default: "60", Low: 10, High: 100,
		About: "working width of rift-sawn boards, percent of the flat-sawn", Source: "demo",
		put: func(s *Settings, p parsed) { s.RiftWidth = p.number }},
	{Key: "hours_per_day", Kind: SettingNumber, Default: "8", Low: 1, High: 24, About: "working hours in a day",
		Source: "demo",
		put:    func(s *Settings, p parsed) { s.HoursPerDay = p.number }},
	{Key: "stale_days", Kind: SettingCount, Default: "180", Low: 1, High: 3650,
		About: "a price that no list has confirmed for more than this many days is marked stale", Source: "demo",
		put: func(s *Settings, p parsed) { s.StaleDays = int(p.number) }},
	{Key: "person_limit", Kind: SettingMass, Default: "23", Low: 5, High: 60,
		About: "mass one person should carry; 23 kg is the load constant of the revised NIOSH lifting equation, before its multipliers", Source: "NIOSH-1994",
		put: func(s *Settings, p parsed) { s.PersonLimit = measure.Mass(p.number) }},
	{Key: "default_climate", Kind: SettingText, Default: "heated_house",
		About: "climate profile when a request names no service climate", Source: "demo",
		put: func(s *Settings, p parsed) { s.DefaultProfile = p.text }},
	{Key: "ready_within", Kind: SettingNumber, Default: "1", Low: 0.1, High: 10,
		About:  "wood within so many points of moisture of the middle of its service range is ready; further off it must rest",
		Source: "common-practice",
		put:    func(s *Settings, p parsed) { s.ReadyWithin = measure.Moisture(p.number) }},
	{Key: "ready_promised", Kind: SettingNumber, Default: "3", Low: 0.1, High: 30,
		About: "beyond so many points from there no working days are promised", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ReadyPromised = measure.Moisture(p.number) }},
	{Key: "ready_refused", Kind: SettingNumber, Default: "20", Low: 8, High: 60,
		About: "wood that holds more than this percent of moisture is refused", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ReadyRefused = measure.Moisture(p.number) }},
	{Key: "wood_diffusion", Kind: SettingNumber, Default: "1", Low: 0.01, High: 100,
		About: "how many times faster moisture moves through the shop's wood than density, moisture and temperature tell: 2 about halves the days of rest; readings of resting stock show it", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.WoodDiffusion = p.number }},
	{Key: "wood_diffusion_spread", Kind: SettingNumber, Default: "2", Low: 1, High: 10,
		About:  "how many times faster or slower than reckoned wood may be: the range of the days of rest",
		Source: "common-practice",
		put:    func(s *Settings, p parsed) { s.WoodDiffusionSpread = p.number }},
	{Key: "time_zone", Kind: SettingText, Default: "UTC",
		About: "time zone of the shop (IANA name, such as Europe/Vienna): its calendar decides which day is today and when a price list takes effect", Source: "demo",
		put: func(s *Settings, p parsed) { s.TimeZone = p.text }},

	{Key: "quote_valid_days", Kind: SettingCount, Default: "30", Low: 1, High: 3650,
		About: "days for which an offer holds, when the quote does not say", Source: "demo",
		put: func(s *Settings, p parsed) { s.QuoteValidDays = int(p.number) }},
	{Key: "quote_terms", Kind: SettingText, Default: words.Text("en", "terms_default"),
		About: "terms of an offer in English, when the quote does not say", Source: "demo",
		put: func(s *Settings, p parsed) { s.QuoteTerms = p.text }},
	rate("quote_drift_limit", "5", 1000, "an open offer whose cost moved by more than this, up or down, counts as drifted",
		func(s *Settings) *money.Rate { return &s.QuoteDriftLimit }),
	rate("price_move_limit", "25", 10000, "a listed price that moves more than this is held until somebody approves it",
		func(s *Settings) *money.Rate { return &s.PriceMoveLimit }),
	rate("price_missing_limit", "20", 100,
		"share of the prices of a supplier's last list that the next one may lack; beyond it the whole list is held",
		func(s *Settings) *money.Rate { return &s.PriceMissingLimit }),
	rate("price_held_limit", "10", 100,
		"share of a list's rows that may be held or rejected; beyond it the whole list is held",
		func(s *Settings) *money.Rate { return &s.PriceHeldLimit }),
	{Key: "price_history_days", Kind: SettingCount, Default: "730", Low: 1, High: 36500,
		About: "estimates can be priced as of a day at most so long ago; older prices stay in the database", Source: "demo",
		put: func(s *Settings, p parsed) { s.PriceHistoryDays = int(p.number) }},

	length("hairline_gap", "0.396875", 5, "opening seen as a hairline (1/64 in)",
		func(s *Settings) *measure.Length { return &s.HairlineGap }),
	length("visible_gap", "0.79375", 10, "opening plainly seen (1/32 in)",
		func(s *Settings) *measure.Length { return &s.VisibleGap }),
	length("eased_limit", "1.5875", 10, "profiles up to this size count as eased (1/16 in)",
		func(s *Settings) *measure.Length { return &s.EasedLimit }),
	length("mismatch_limit", "0.5", 10, "profile mismatch at a miter that excludes it",
		func(s *Settings) *measure.Length { return &s.MismatchLimit }),
	length("masons_margin", "6.35", 50, "mason's miter: wood behind the profile (1/4 in)",
		func(s *Settings) *measure.Length { return &s.MasonsMargin }),
	length("cutout_clear", "76.2", 500, "cut-outs from a seam and its hardware, at least (3 in)",
		func(s *Settings) *measure.Length { return &s.CutoutClear }),
	length("cutout_corner", "12", 100,
		"radius of the inner corners of a cut-out that says how it is made, at least (12 mm); 1/2 in where none is named",
		func(s *Settings) *measure.Length { return &s.CutoutCorner }),
	length("edge_strip", "6.35", 100,
		"a cut-out with less wood than this between it and an edge is open at that edge (1/4 in)",
		func(s *Settings) *measure.Length { return &s.EdgeStrip }),
	length("rail_least", "50.8", 500, "less wood than this between a cut-out and an edge is warned of (2 in)",
		func(s *Settings) *measure.Length { return &s.RailLeast }),
	length("wall_allowance", "1.5875", 50, "added to the humid change at the wall (1/16 in)",
		func(s *Settings) *measure.Length { return &s.WallAllowance }),

	length("alignment_end", "76.2", 500, "first and last alignment part from the ends, at most (3 in)",
		func(s *Settings) *measure.Length { return &s.AlignmentEnd }),
	length("alignment_spacing", "203.2", 1000, "spacing of alignment parts, at most (8 in)",
		func(s *Settings) *measure.Length { return &s.AlignmentSpacing }),
	length("slot_allowance", "1.5875", 20, "slot longer than part and slip (1/16 in)",
		func(s *Settings) *measure.Length { return &s.SlotAllowance }),
	length("pocket_end", "76.2", 500, "first and last pocket from the ends, at least (3 in)",
		func(s *Settings) *measure.Length { return &s.PocketEnd }),
	length("pocket_spacing", "203.2", 1000, "spacing of pockets, at most (8 in)",
		func(s *Settings) *measure.Length { return &s.PocketSpacing }),
	length("hole_allowance", "0.5", 10, "exit hole over thread and slip",
		func(s *Settings) *measure.Length { return &s.HoleAllowance }),
	length("hole_least", "1.5", 10, "exit hole over thread, at least",
		func(s *Settings) *measure.Length { return &s.HoleLeast }),
	length("bearing_least", "1.5", 10, "head or washer on wood all round the hole, at least",
		func(s *Settings) *measure.Length { return &s.BearingLeast }),
	length("bolt_end", "76.2", 500, "draw bolts from the ends, at least (3 in)",
		func(s *Settings) *measure.Length { return &s.BoltEnd }),
	length("bolt_spacing", "304.8", 1000, "spacing of draw bolts, at most (12 in)",
		func(s *Settings) *measure.Length { return &s.BoltSpacing }),
	length("bolt_three_from", "609.6", 5000, "seam length from which three draw bolts are needed (24 in)",
		func(s *Settings) *measure.Length { return &s.BoltThreeFrom }),
	length("wood_above_recess", "6.35", 50, "wood left above a recess, at least (1/4 in)",
		func(s *Settings) *measure.Length { return &s.WoodAboveRecess }),
	length("part_clear", "6.35", 100, "between any two parts in a seam, at least (1/4 in)",
		func(s *Settings) *measure.Length { return &s.PartClear }),
	length("wood_around", "12.7", 100,
		"wood left around every bore, recess, channel, pocket and slot, to the edges of its piece, at least (1/2 in)",
		func(s *Settings) *measure.Length { return &s.WoodAround }),
	length("biscuit_cutter", "100", 300,
		"diameter of the cutter of biscuit slots: a slot is as long as its circle leaves it",
		func(s *Settings) *measure.Length { return &s.BiscuitCutter }),
	length("wall_gap_limit", "9.525", 100,
		"wall joint that a covering hides, at most (3/8 in); a miter's leg that needs more to swing counts as held rigid",
		func(s *Settings) *measure.Length { return &s.WallGapLimit }),
	length("fixing_edge", "50.8", 500, "fixings from ends, front and back, cut-outs and seams, at least (2 in)",
		func(s *Settings) *measure.Length { return &s.FixingEdge }),
	length("fixing_third_row", "914.4", 5000, "runs deeper than this have a third row of fixings in the middle (36 in)",
		func(s *Settings) *measure.Length { return &s.FixingThirdRow }),
	length("fixing_slot_most", "25.4", 200,
		"slot of a fixing, at most (1 in): a leg that needs longer ones to swing counts as held rigid",
		func(s *Settings) *measure.Length { return &s.FixingSlotMost }),
	length("cover_overlap", "12.7", 200,
		"a cover strip over the wall joint's widest gap, for the wall's crookedness (1/2 in)",
		func(s *Settings) *measure.Length { return &s.CoverOverlap }),
	{Key: "sealant_class", Kind: SettingNumber, Default: "25", Low: 1, High: 100,
		About:  "movement class of the wall joint's sealant: it follows this much of its width either way, percent",
		Source: "common-practice",
		put:    func(s *Settings, p parsed) { s.SealantClass = p.number }},
	length("fixing_spacing", "304.8", 2000, "spacing of fixings to the base (12 in)",
		func(s *Settings) *measure.Length { return &s.FixingSpacing }),
	length("two_rows_from", "50.8", 500, "top thickness from which alignment parts stand in two rows (2 in)",
		func(s *Settings) *measure.Length { return &s.TwoRowsFrom }),

	length("end_trim", "25.4", 200, "blank longer than the piece, at each end (1 in)",
		func(s *Settings) *measure.Length { return &s.EndTrim }),
	length("width_allowance", "12.7", 200, "blank wider than the piece (1/2 in)",
		func(s *Settings) *measure.Length { return &s.WidthAllowance }),
	length("thickness_allowance", "1.5875", 20, "surfaced stock over finished thickness, at least (1/16 in)",
		func(s *Settings) *measure.Length { return &s.ThicknessAllowance }),
	length("stave_width", "101.6", 400, "finished width of a stave, at most (4 in)",
		func(s *Settings) *measure.Length { return &s.StaveWidth }),
	length("stave_rip", "9.525", 50, "stave wider before ripping and jointing (3/8 in)",
		func(s *Settings) *measure.Length { return &s.StaveRip }),
	length("stave_trim", "50.8", 500, "stave longer than the blank (2 in)",
		func(s *Settings) *measure.Length { return &s.StaveTrim }),
	length("built_up_width", "76.2", 500, "width of the strips under a built-up edge, and of what is solid at its ends and supports, at least (3 in)",
		func(s *Settings) *measure.Length { return &s.BuiltUpWidth }),
	length("planer_width", "508", 2000, "widest slab that planer and sander take; wider ones are glued up in sections (20 in)",
		func(s *Settings) *measure.Length { return &s.PlanerWidth }),
	{Key: "glue_open_minutes", Kind: SettingNumber, Default: "8", Low: 1, High: 120,
		About: "open time of the glue: from the first spread to the closed joint", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueOpenMinutes = p.number }},
	{Key: "glue_closed_minutes", Kind: SettingNumber, Default: "10", Low: 1, High: 120,
		About: "closed time of the glue: from the closed joint to full pressure", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueClosedMinutes = p.number }},
	{Key: "glue_spread_rate", Kind: SettingNumber, Default: "0.12", Low: 0.01, High: 10,
		About: "glue spread on stave joints, m² a minute", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueSpreadRate = p.number }},
	{Key: "clamp_force", Kind: SettingNumber, Default: "6.7", Low: 0.5, High: 100,
		About: "force of a clamp, kN; 6.7 kN (1,500 lbf) is a heavy bar clamp", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ClampForce = p.number }},
	{Key: "clamp_minutes", Kind: SettingNumber, Default: "0.3", Low: 0.05, High: 10,
		About: "minutes to set and tighten a clamp", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ClampMinutes = p.number }},
	length("kerf", "3.175", 10, "saw kerf (1/8 in)", func(s *Settings) *measure.Length { return &s.Kerf }),
	length("finger_length", "10", 60, "fingers that join staves end to end where no board is long enough",
		func(s *Settings) *measure.Length { return &s.FingerLength }),
	length("offcut_keep", "609.6", 5000, "offcuts from this length on are kept (24 in)",
		func(s *Settings) *measure.Length { return &s.OffcutKeep }),

	length("moulding_thickness", "9.525", 50, "applied moulding: thickness, by which the slab is shallower (3/8 in)",
		func(s *Settings) *measure.Length { return &s.MouldingThickness }),

	points("points_base", "50", "score of a joint before findings", func(s *Settings) *int { return &s.PointsBase }),
	points("points_edge_mitred", "14", "moulded edges of 1/4 in meet at the corner",
		func(s *Settings) *int { return &s.PointsEdgeMitred }),
	points("points_edge_notch", "-14", "moulded edge of 1/4 in leaves a notch; remedy needed",
		func(s *Settings) *int { return &s.PointsEdgeNotch }),
	points("points_edge_idle", "-12", "mason's miter without a profile to miter",
		func(s *Settings) *int { return &s.PointsEdgeIdle }),
	points("points_movement_slip", "-8", "butt or mason's miter: slip of 1/4 in",
		func(s *Settings) *int { return &s.PointsMovementSlip }),
	points("points_movement_open", "-30",
		"a seam that cannot swing opens so far that it is plainly seen; twice as far counts twice",
		func(s *Settings) *int { return &s.PointsMovementOpen }),
	points("points_swing", "-20", "legs free to swing: their walls need the widest gap that can be covered",
		func(s *Settings) *int { return &s.PointsSwing }),
	points("points_end_grain", "-15", "pull screws bite end grain", func(s *Settings) *int { return &s.PointsEndGrain }),
	points("points_side_grain", "4",
		"pull screws in side grain hold twice what one leg, carried by itself, asks; half of it counts as much against",
		func(s *Settings) *int { return &s.PointsSideGrain }),
	points("points_bolts", "4", "draw bolts hold twice what one leg, carried by itself, asks; half of it counts as much against", func(s *Settings) *int { return &s.PointsBolts }),
	points("points_unequal", "-4", "miter of depths that differ by a fifth, square edges",
		func(s *Settings) *int { return &s.PointsUnequal }),
	points("points_cut_angle", "-6", "two full-width cuts 45° off square; one counts half",
		func(s *Settings) *int { return &s.PointsCutAngle }),
	points("points_cut_masons", "-10", "two-stage cut", func(s *Settings) *int { return &s.PointsCutMasons }),
	points("points_cut_square", "4", "square cut", func(s *Settings) *int { return &s.PointsCutSquare }),
	points("points_cut_long", "-4", "each metre of seam", func(s *Settings) *int { return &s.PointsCutLong }),
	points("points_feather", "-12", "a butt's tip at the front that lacks 45° of a right angle",
		func(s *Settings) *int { return &s.PointsFeather }),
	points("points_tool_stop", "-24", "mason's miter with a tool that cannot stop inside the wood",
		func(s *Settings) *int { return &s.PointsToolStop }),
	points("points_first_time", "-9",
		"a maker's first cut as hard as two faces at 45° would be with nothing to meet; a mason's miter counts twice",
		func(s *Settings) *int { return &s.PointsFirstTime }),
	points("points_tool_help", "3", "guided saw or router for the seam cut",
		func(s *Settings) *int { return &s.PointsToolHelp }),
	points("points_apart", "12", "draw bolts, where the corner comes apart and together on site; wood screws count as much against", func(s *Settings) *int { return &s.PointsApart }),
	points("points_look", "20", "the customer's wish for the look is met",
		func(s *Settings) *int { return &s.PointsLook }),
	points("points_cost", "-5", "each ten percent of cost over the cheapest feasible joint",
		func(s *Settings) *int { return &s.PointsCost }),
}, slices.Concat(formSettings, formTexts(), shopSettings, supportSettings, toleranceSettings, termsSettings())...)

// SettingList returns the description of every setting, sorted by key.
func SettingList() []Setting {
	out := append([]Setting(nil), settingList...)
	sort.Slice(out, func(i, j int) bool { return out[i].Key < out[j].Key })
	return out
}
