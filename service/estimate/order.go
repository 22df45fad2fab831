// Package estimate puts the calculations together: one order and one catalogue snapshot in, one full estimate
// out. It is pure: the same order and snapshot give the same estimate.
package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
)

// Order is what a caller asks for. Its fields mirror the request, so that a fault's pointer leads back to it.
// Empty fields take defaults, and each default taken is listed in the estimate's assumptions.
type Order struct {
	Units     measure.System // how sentences and assumptions are written; never how things are computed
	Reference string
	Top       Top
	Moisture  MoistureOrder
	Finish    FinishOrder
	Shop      ShopOrder
	Site      SiteOrder
	Base      []BaseOrder // what stands under the runs; none: not looked at
	Loads     *LoadsOrder // nil: those of a worktop
	Support   SupportOrder
	Pricing   PricingOrder
	Explain   bool // also list the workings
}

// Top is the thing to be made.
type Top struct {
	Species      string
	Thickness    measure.Length
	Construction Construction   // default EdgeGlued
	Staves       Staves         // default: full length where boards are long enough, else finger-jointed
	Build        Build          // default: solid where boards or panels give the thickness, else the cheaper of laminated and built up
	Sawn         catalogue.Sawn // default flat
	Hand         plan.Hand      // default right
	Runs         []Run
	Corners      []Corner // one fewer than runs
	Edge         Edge
	Cutouts      []Cutout
	Fixing       Fixing

	HardwareSeries catalogue.SeriesWish // default: the shop's setting
	StraightJoints StraightJoints       // default allow
}

// Construction is how a slab is made.
type Construction string

// The constructions.
const (
	EdgeGlued Construction = "edge_glued" // from staves, in the shop
	Panel     Construction = "panel"      // from ready-made panels
)

// Staves is how staves come to their length.
type Staves string

// The ways.
const (
	FullLength    Staves = "full_length"
	FingerJointed Staves = "finger_jointed" // those longer than the boards, end to end
)

// StraightJoints says whether runs that are too long, for the wood on sale or for the way to their place, may be made of
// pieces that meet end to end.
type StraightJoints string

// The wishes.
const (
	StraightAllow  StraightJoints = "allow"
	StraightForbid StraightJoints = "forbid"
)

// StraightSeam is where two pieces of a run meet end to end.
type StraightSeam struct {
	At        measure.Length // along the wall edge, from the run's start
	Pull      catalogue.FastenerKind
	Alignment catalogue.FastenerKind
}

// Build is how a slab comes to its thickness.
type Build string

// The builds.
const (
	Solid          Build = "solid"
	Laminated      Build = "laminated"       // layers glued on each other, their grain the same way
	BuiltUp        Build = "built_up"        // one slab, with strips and blocks below at edges, ends, seams and supports
	CrossLaminated Build = "cross_laminated" // their grain crossing; refused
)

// Run is one slab. An empty species or sawn takes the top's.
type Run struct {
	Name    string // default A, B, C …
	Length  measure.Length
	Depth   measure.Length
	Species string
	Sawn    catalogue.Sawn

	StraightSeams []StraightSeam // none: where they are needed, the service places them

	partOf *PartOf // nil: it is whole
}

// Corner is the meeting of two runs: either Angle or Measured is given (neither: 90°).
type Corner struct {
	Angle      measure.Angle
	Measured   *Measured
	Joint      plan.JointKind // default AutoJoint
	Through    ThroughWish    // default ThroughAuto
	HoldAt     hardware.Hold  // default auto (empty)
	Pull       catalogue.FastenerKind
	Alignment  catalogue.FastenerKind
	Glue       bool        // refused
	Restrained *bool       // the legs cannot swing (fixed between walls or to a rigid base); nil: the service decides
	Look       Look        // the customer's wish
	Carry      CarryToWood // default a site template

	inLine *InLineSeam // nil: it is a corner
}

// Measured is a corner taped with three lengths from the wall corner.
type Measured struct {
	AlongFirst  measure.Length
	AlongSecond measure.Length
	Across      measure.Length
	Reflex      bool // the corner bends the other way: over 180°
}

// AutoJoint asks for the best joint.
const AutoJoint plan.JointKind = "auto"

// ThroughWish says which run goes through in a butt or mason's miter.
type ThroughWish string

// The wishes for the through run.
const (
	ThroughAuto   ThroughWish = "auto"
	ThroughFirst  ThroughWish = "first"
	ThroughSecond ThroughWish = "second"
)

// Look is what the customer wants to see at a corner.
type Look string

// The looks.
const (
	NoLook       Look = ""
	LookMitred   Look = "mitred"   // lines and grain turn the corner on the diagonal
	LookStraight Look = "straight" // one slab runs through, the seam is square to its front
)

// CarryToWood is how the real corner gets to the wood.
type CarryToWood string

// The ways.
const (
	CarryDefault  CarryToWood = ""
	CarryTemplate CarryToWood = "site_template"
	CarryScribe   CarryToWood = "scribe"
	CarryNone     CarryToWood = "none" // cut to the angle as measured or assumed
)

// Edge is the profile along the front edges and, unless Ends is false, the free ends.
type Edge struct {
	Profile Profile // default eased, 1/16 in
	Size    measure.Length
	// for a butt; default the cheaper of radius and carved. Coped: applied moulding, whatever the joint
	InsideCorner Remedy
	SquareEnds   bool // leave the free ends square
}

// Profile is the shape of an edge.
type Profile string

// The profiles.
const (
	Square    Profile = "square"
	Eased     Profile = "eased"
	Chamfer   Profile = "chamfer"
	Roundover Profile = "roundover"
	Bullnose  Profile = "bullnose"
	Cove      Profile = "cove"
	Ogee      Profile = "ogee"
)

// Remedy is what becomes of the inner corner when a profiled edge meets a plain butt.
type Remedy string

// The remedies.
const (
	NoRemedy     Remedy = ""
	RemedyRadius Remedy = "radius" // rout after joining, accept the bit's radius
	RemedyCarved Remedy = "carved" // the same, corner carved by hand
	RemedyCoped  Remedy = "coped"  // square edges, applied moulding coped at the corner
)

// Cutout is a hole in a run. Exactly one of FromStart and FromEnd is given: the distance along the wall edge
// from the run's start or end (in the order of the chain) to the near side of the hole.
type Cutout struct {
	Run       string
	Kind      string
	Length    measure.Length
	Depth     measure.Length
	FromStart *measure.Length
	FromEnd   *measure.Length
	FromFront measure.Length

	// How it is made. With none of these it is a plain rectangle, of which nothing more is told.
	Shape        plan.Shape
	CornerRadius *measure.Length // of a rectangle; nil: the usual one
	Turned       measure.Angle   // about its middle, from the run's direction towards the wall
	Mount        Mount
}

// Mount is how what stands in a cut-out is held there.
type Mount string

// The mounts.
const (
	MountTop   Mount = "top"   // its rim lies on the top and covers the cut edge
	MountUnder Mount = "under" // it hangs below; the cut edge shows
	MountApron Mount = "apron" // its front stands before the top's: the front edge is interrupted
)

// Fixing is how the top is held to its base.
type Fixing struct {
	Kind      FixingKind // default slotted clips
	FixedLine hardware.Hold
}

// FixingKind is a way of fixing to the base.
type FixingKind string

// The ways of fixing.
const (
	FixClips   FixingKind = "slotted_clips"
	FixScrews  FixingKind = "slotted_screws"
	FixEights  FixingKind = "figure_eights"
	FixButtons FixingKind = "buttons"
	FixInserts FixingKind = "threaded_inserts"
	FixRigid   FixingKind = "rigid" // refused
	FixNone    FixingKind = "none"
)

// Slotted reports whether the base needs slots that are made for the fixings; others bring their play with them.
func (k FixingKind) Slotted() bool { return k == FixScrews || k == FixInserts }

// MoistureOrder says how wet the wood is when made and through the year.
type MoistureOrder struct {
	Making   *catalogue.Climate // nil: the middle of the service year
	Profile  string             // a named climate profile; empty with Dry and Humid nil: the shop's default
	Dry      *catalogue.Climate
	Humid    *catalogue.Climate
	Seasonal *SeasonalOrder // nil: wood counts as following the air at once
	Stock    *StockOrder    // nil: the stock is as wet as Making says, and rests in air that suits it
}

// Faces says which faces are finished.
type Faces string

// The faces.
const (
	BothFaces Faces = "both"
	TopFace   Faces = "top"
)

// FinishOrder is the finish. System "none" leaves the wood bare.
type FinishOrder struct {
	System string // default hardwax_oil
	Coats  int    // default the system's usual number
	Faces  Faces  // default both
}

// ShopOrder is who works with what.
type ShopOrder struct {
	SeamCut    SeamCut    // default track_saw
	Experience Experience // default practised
}

// SeamCut is the tool that cuts the seam.
type SeamCut string

// The tools.
const (
	TrackSaw    SeamCut = "track_saw"
	CircularSaw SeamCut = "circular_saw" // freehand saw against a straightedge
	Router      SeamCut = "router"       // router against a straightedge
	PanelSaw    SeamCut = "panel_saw"
	HandSaw     SeamCut = "hand_saw"
)

// Experience is the maker's.
type Experience string

// The grades of experience.
const (
	FirstTime Experience = "first_time"
	Practised Experience = "practised"
	Seasoned  Experience = "seasoned"
)

// SiteOrder is what the site asks for.
type SiteOrder struct {
	MustComeApart bool   // door or stairs: the corner is joined on site
	AssembledBy   string // shop (default) or customer

	Way       []passage.Step // from the street to the place; none: not looked at
	Walls     []WallOrder    // that are not straight
	Clearance measure.Length // what the way's clear sizes are lessened by

	Lift       *LiftingOrder // nil: not asked for
	Tolerances bool          // say how far seams will gape, by how each corner comes to the wood
}

// byCustomer says that the customer joins and fits the top.
const byCustomer = "customer"

// PricingOrder overrides the shop's terms. Nil takes the shop's.
type PricingOrder struct {
	AsOf     catalogue.Date // prices of this day; required (the caller's clock, not ours)
	Currency string         // must be the catalogue's when given
	Basis    string         // margin or markup
	Rate     *money.Rate
	Tax      *money.Rate
	Region   string // where it is taxed, instead of Tax: a code of the shop's table
	Deposit  *money.Rate
	TotalTo  money.Amount // step of the total; zero: none

	Discounts []price.Discount // off the net price of the top
	Lines     []price.Line     // sold with it
}
