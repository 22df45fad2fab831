// Package estimate puts the calculations together: one order and one catalogue snapshot in, one full estimate
// out. It is pure: the same order and snapshot give the same estimate.
package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
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
	Pricing   PricingOrder
	Explain   bool // also list the workings
}

// Top is the thing to be made.
type Top struct {
	Species      string
	Thickness    measure.Length
	Construction Construction   // default EdgeGlued
	Sawn         catalogue.Sawn // default flat
	Hand         plan.Hand      // default right
	Runs         []Run
	Corners      []Corner // one fewer than runs
	Edge         Edge
	Cutouts      []Cutout
	Fixing       Fixing
}

// Construction is how a slab is made.
type Construction string

// The constructions.
const (
	EdgeGlued Construction = "edge_glued" // from staves, in the shop
	Panel     Construction = "panel"      // from ready-made panels
)

// Run is one slab. An empty species or sawn takes the top's.
type Run struct {
	Name    string // default A, B, C …
	Length  measure.Length
	Depth   measure.Length
	Species string
	Sawn    catalogue.Sawn
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
	Profile      Profile // default eased, 1/16 in
	Size         measure.Length
	InsideCorner Remedy // for a butt; default the cheaper of radius and carved. Coped: applied moulding, whatever the joint
	SquareEnds   bool   // leave the free ends square
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
}

// Fixing is how the top is held to its base.
type Fixing struct {
	Kind      FixingKind // default slotted clips
	FixedLine hardware.Hold
}

// FixingKind is a way of fixing to the base.
type FixingKind string

// The ways of fixing.
const (
	FixClips  FixingKind = "slotted_clips"
	FixScrews FixingKind = "slotted_screws"
	FixRigid  FixingKind = "rigid" // refused
	FixNone   FixingKind = "none"
)

// MoistureOrder says how wet the wood is when made and through the year.
type MoistureOrder struct {
	Making  *catalogue.Climate // nil: the middle of the service year
	Profile string             // a named climate profile; empty with Dry and Humid nil: the shop's default
	Dry     *catalogue.Climate
	Humid   *catalogue.Climate
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
	Deposit  *money.Rate
}
