// Package labour turns what a top needs into steps with minutes, waits, a critical path and working days.
//
// The labour standards of the catalogue say which steps there are. Each says by its condition which tops need
// it (pick.go), by its driver what its minutes grow with (units.go), and how many minutes that takes
// (effort.go). Steps follow one another as the standards say (network.go); the longest chain of work and waits
// is the critical path (path.go), and one bench team working in the shop's hours gives the working days (days.go).
package labour

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// Job is what a top needs of the people who make it.
type Job struct {
	EdgeGlued  bool // slabs glued up from staves; false: ready-made panels
	Pieces     int
	Staves     int
	StaveRun   measure.Length // all staves end to end
	GlueRun    measure.Length // all stave joints end to end
	Area       measure.Area   // one face
	EndJoints  int            // finger joints of staves, end to end
	Laminated  measure.Area   // of faces on which layers are glued on each other
	BuildUps   int            // strips and blocks under slabs with built-up edges
	EdgeRun    measure.Length // profiled edge
	Profiled   bool           // larger than eased
	Mass       measure.Mass
	Thickness  measure.Length
	Hardness   measure.Force // side hardness of the hardest species; 0: unknown
	Heaviest   int           // people whom the heaviest piece needs
	Fixings    int
	Clips      int            // screws of the fixings that are bought clips; most have one
	LetIn      int            // of the fixings, those that the rails are cut for
	Inserts    int            // of the fixings, those that are set into the top
	Moulding   measure.Length // applied moulding; 0: the profile, if any, is cut into the wood
	Assembled  bool           // the customer joins and fits the top
	Sealant    measure.Volume // in the wall joints that are sealed
	CoverStrip measure.Length // of wall joint under a cover strip
	Cutouts    int
	Shaped     int            // of the cut-outs, those that the order says how to make
	CutEdge    measure.Length // of theirs, to be sealed
	ShownEdge  measure.Length // of that, what shows
	Scribed    measure.Length // of edge that is scribed to walls that are not straight
	Brackets   int            // that come with the top
	Legs       int
	Timber     measure.Length // of blocking and battens
	Coats      int
	CoatArea   measure.Area // faces and edges finished, one coat
	DryHours   float64      // of the finish, between coats
	ClampHours float64      // of the glue
	RestHours  float64      // until the wood's moisture is near enough
	Tool       string       // track_saw, circular_saw, router, panel_saw, hand_saw
	Experience string       // first_time, practised, seasoned
	Corners    []Corner
}

// Corner is one corner's share of the job.
type Corner struct {
	Joint          plan.JointKind
	Seam           measure.Length
	Carry          string // site_template, scribe, none
	Remedy         string // radius, carved; empty: none, or applied moulding
	Alignment      catalogue.FastenerKind
	AlignmentCount int
	Pulls          [2]PullParts // one kind, or two that stand in one seam
}

// PullParts are so many pull parts of one kind.
type PullParts struct {
	Kind  catalogue.FastenerKind
	Count int
}

// Minutes are how long a step takes its crew on the clock. Expected is the mean of the other three by Expected,
// rounded to a hundredth of a minute: the figure that hours and amount are reckoned from.
type Minutes struct{ Low, Likely, High, Expected float64 }

// Step is one piece of work.
type Step struct {
	Number    int
	Code      string
	Name      string
	When      catalogue.Condition // of its standard: what a top has that needs it
	Role      string
	Crew      int
	Minutes   Minutes
	Variance  float64 // of the minutes, in square minutes
	WaitHours float64 // clock hours afterwards
	After     []int   // numbers of the steps it follows, ascending
	Critical  bool    // on a longest chain
	Day       int     // working day on which it starts, from 1
	Rate      money.UnitPrice
	Amount    money.Amount
	Gives     catalogue.Service
	Note      string
}

// longInHours is the longest wait that is told in hours: beyond, nobody counts them.
const longInHours = 72

// Wait is how long nothing can be done after the step, as people tell it: in hours up to three days, beyond them in days. Nothing is 0.
func (s *Step) Wait() (amount float64, inDays bool) {
	if s.WaitHours <= longInHours {
		return s.WaitHours, false
	}
	return s.WaitHours / 24, true
}

// Gives reports whether the customer gets a service by one of the steps: what papers say is included follows from this
// alone.
func (p *Plan) Gives(service catalogue.Service) bool {
	return slices.ContainsFunc(p.Steps, func(s Step) bool { return s.Gives == service })
}

// Plan is all the work. Steps are in an order in which they can be done.
type Plan struct {
	Steps             []Step
	Hours             float64 // of people: expected minutes times crew
	CriticalPathHours float64 // work and waits along the longest chain, as if working round the clock
	WorkingDays       int     // from the first step to the last wait's end; 0 without steps, and where none are promised
	CuredDay          int     // working day by whose end the finish is fully cured, at the earliest; 0: not told
	NoPromise         string  // why no working days are promised; empty: they are
	Cost              money.Amount
	CostDeviation     float64 // standard deviation of the cost, in money
	CostThird         float64 // third central moment of the cost, in money³
}
