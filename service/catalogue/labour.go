package catalogue

import "seamwright/service/money"

// LabourRole is who does a step, and what an hour of it costs.
type LabourRole struct {
	Code    string
	Version int64 // counts the changes of the row; 0 when it is from no database
	Name    string
	Rate    money.UnitPrice // per hour of one person
}

// Driver is what the minutes of a step (or the use of a sundry) grow with. One driver unit is the unit named.
type Driver string

// The drivers.
const (
	PerTop           Driver = "top"                // once
	PerPiece         Driver = "piece"              // finished pieces
	PerCorner        Driver = "corner"             // corners to which the step applies
	PerSeamMetre     Driver = "seam_metre"         // metres of seam
	PerStave         Driver = "stave"              // staves
	PerStaveMetre    Driver = "stave_metre"        // metres of stave
	PerGlueMetre     Driver = "glue_line_metre"    // metres of stave joint
	PerSquareMetre   Driver = "square_metre"       // square metres of top, one face
	PerEdgeMetre     Driver = "edge_metre"         // metres of profiled edge
	PerAlignment     Driver = "alignment_part"     // alignment parts
	PerPull          Driver = "pull_part"          // pull parts
	PerFixing        Driver = "fixing"             // fixings to the base
	PerCutout        Driver = "cutout"             // cut-outs
	PerCoat          Driver = "coat"               // coats
	PerCoatSquare    Driver = "coat_square_metre"  // square metres finished, faces and edges, times coats
	PerHundredweight Driver = "hundred_kilograms"  // mass of the top
	PerMouldingMetre Driver = "moulding_metre"     // metres of applied moulding
	PerClip          Driver = "clip"               // bought clips among the fixings to the base
	PerSealantLitre  Driver = "wall_sealant_litre" // litres of sealant in the wall joints that are sealed
	PerCoverMetre    Driver = "cover_strip_metre"  // metres of wall joint under a cover strip

	PerEndJoint        Driver = "end_joint"               // finger joints of staves, end to end
	PerLaminatedSquare Driver = "laminated_square_metre"  // square metres on which layers are glued on each other
	PerBuildUpPiece    Driver = "build_up_piece"          // strips and blocks under slabs with built-up edges
	PerShapedCutout    Driver = "shaped_cutout"           // cut-outs that the order says how to make
	PerCutEdgeMetre    Driver = "cutout_edge_metre"       // metres of their cut edges
	PerShownEdgeMetre  Driver = "shown_cutout_edge_metre" // metres of cut edge that show, over what hangs below
	PerScribedMetre    Driver = "scribed_wall_metre"      // metres of edge that are scribed to walls that are not straight

	PerBracket     Driver = "support_bracket"   // brackets that come with the top
	PerLeg         Driver = "support_leg"       // legs that do
	PerTimberMetre Driver = "base_timber_metre" // metres of blocking under seams, and of battens that come with the top
)

// Condition says which tops need a step.
type Condition string

// The conditions. A condition about a corner counts only the corners whose chosen joint it fits. Every kind of joint,
// and of what stands in seams, is a condition as well, by its own word: Condition(kind).
const (
	Always          Condition = "always"
	IfEdgeGlued     Condition = "edge_glued"     // slabs glued up in the shop
	IfPanel         Condition = "panel"          // ready-made panels
	IfCorner        Condition = "corner"         // any corner
	IfTemplate      Condition = "site_template"  // the corner is carried to the wood by a template
	IfScribe        Condition = "scribe"         // the slabs are laid in place and scribed
	IfProfile       Condition = "profile"        // any profile larger than eased
	IfProfileBefore Condition = "profile_before" // profiled edges cut before the seam is joined
	IfProfileAfter  Condition = "profile_after"  // profiled edges cut after the seam is joined
	IfCarvedCorner  Condition = "carved_corner"  // butt remedy
	IfCopedCorner   Condition = "coped_corner"   // applied moulding instead of a profile in the wood
	IfCutout        Condition = "cutout"
	IfEndJointed    Condition = "end_jointed"       // staves that are finger-jointed end to end
	IfLaminated     Condition = "laminated"         // slabs of layers that are glued on each other
	IfBuiltUp       Condition = "built_up"          // slabs with built-up edges
	IfShapedCutout  Condition = "shaped_cutout"     // a cut-out that the order says how to make
	IfShownEdge     Condition = "shown_cutout_edge" // a cut edge shows
	IfScribedWall   Condition = "scribed_wall"      // an edge is scribed to a wall that is not straight
	IfBracket       Condition = "support_bracket"   // brackets come with the top
	IfLeg           Condition = "support_leg"       // legs do
	IfTimber        Condition = "base_timber"       // seams are blocked, or battens come with the top
	IfFinish        Condition = "finish"
	IfSlottedHoles  Condition = "slotted_holes"    // base fixings that need slotted holes made; a bought clip brings its slot
	IfLetIn         Condition = "let_in_fixings"   // base fixings that the rails are cut for
	IfInserts       Condition = "threaded_inserts" // base fixings with threads that are set into the top
)

// Service is what a customer gets besides the top by a step of the work.
type Service string

// The services. What of them is in the price follows from the steps of the work, and from nothing else.
const (
	NoService  Service = ""
	Measuring  Service = "measuring" // on the site, before anything is cut
	Delivering Service = "delivery"
	Joining    Service = "joining" // bringing the seams together on the site
	Fitting    Service = "fitting" // to the base and at the wall
)

// Services are all of them, in the order in which they are done.
var Services = [...]Service{Measuring, Delivering, Joining, Fitting}

// Spread is a low, a likely and a high number of minutes.
type Spread struct{ Low, Likely, High float64 }

// LabourStandard is how long one kind of step takes in this shop.
type LabourStandard struct {
	Code    string
	Version int64 // counts the changes of the row; 0 when it is from no database
	Name    string
	Order   int // place in the usual order of work; steps are numbered by it
	Role    string
	Crew    int
	When    Condition
	Driver  Driver
	Setup   Spread // minutes, once
	Each    Spread // minutes per driver unit

	WaitHours float64 // clock hours to wait afterwards (glue, finish)
	// codes of the steps it follows; a code whose step this top does not need passes on to what that one follows
	After []string

	// Factors on the minutes per driver unit; the setup takes as long whatever the wood.
	ByHardness   bool // grows with the wood's hardness
	ByThickness  bool // grows with the top's thickness
	ByTool       bool // depends on the tool that cuts the seam
	ByExperience bool // depends on the maker's experience

	Lifts bool    // slabs are lifted or turned: the crew is at least as many as the heaviest piece needs
	Gives Service // what the customer gets by it

	Note string // stands on the step
}
