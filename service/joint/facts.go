package joint

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Facts is what is known of one candidate at a corner, for the rules to judge.
type Facts struct {
	Units    measure.System // of the sentences
	Settings *catalogue.Settings

	Joint    plan.Joint
	Angle    measure.Angle
	Through  string // name of the through run; empty for a miter
	Stopping string // name of the stopping run; empty for a miter

	NoLayout      string         // why the pieces cannot be laid out so; empty: they can
	NoWood        string         // why no wood on sale makes the pieces; empty: it does, or is not asked for yet
	NoWay         string         // why a piece does not pass the way to its place; empty: it does, or is not asked for
	Divided       string         // why the joint would have a piece divided if it were asked for; empty: it would not, or is not asked yet
	NotCarried    string         // why a piece would stand on nothing; empty: it stands, or nothing is told of it
	CutoutTooNear string         // why a cut-out forbids the seam; empty: none does
	OutOfReach    string         // why nobody reaches its pull parts from below; empty: they are reached
	ProfileName   string         // such as "roundover"
	ProfileSize   measure.Length // how deep the profile reaches in from the front edge
	Remedy        string         // the butt's remedy in words; empty: none needed
	Seam          measure.Length
	FirstCut      measure.Angle  // of the first run, with its length
	SecondCut     measure.Angle  // of the second run
	Mismatch      measure.Length // of the profiles at a miter
	DepthsDiffer  float64        // share of the greater depth by which the lesser is less; 0: equal
	Dry, Humid    Season
	Step          measure.Length // at a miter's front end, because its runs are not fixed at the same line; 0: they are
	ThroughLine   hardware.Hold  // fixed line of the through run
	HoldAt        hardware.Hold  // where the pieces are held flush
	Restrained    bool           // the legs cannot swing
	NeededGap     measure.Length // at the walls, for a leg that swings
	Swing         measure.Length // sideways at the far end of a leg that swings, its share of it
	GapLimit      measure.Length // what can be covered there
	Hardware      *hardware.Plan
	Tool          Tool
	FirstTime     bool // the maker has never made one
	Seasoned      bool // the maker has made many
	Apart         bool // the corner must come apart on site
	ByCustomer    bool // and the customer puts it together
	WishMitred    bool
	WishStraight  bool

	write *sentence // nil: nobody reads what is found
}

// Tool is what cuts the seam.
type Tool struct {
	Name   string // for a sentence
	Guided bool   // it runs along a track or a fence
	Stops  bool   // it can end a cut inside the wood, as a mason's miter asks
}

// Moulded reports whether the edge profile is larger than eased.
func (f *Facts) Moulded() bool { return f.ProfileSize > f.Settings.EasedLimit+1e-9 }

// Reflex reports whether the corner bends away from the room.
func (f *Facts) Reflex() bool { return f.Angle > 180*measure.Degree }

// opening is how far the seam opens at one end against the other, in the worse season.
func (f *Facts) opening() measure.Length {
	return max(magnitude(f.Dry.Gap(f.HoldAt)), magnitude(f.Humid.Gap(f.HoldAt)))
}

// push is the larger push of a through run on the seam, without its sign.
func (f *Facts) push() measure.Length {
	return max(magnitude(f.Dry.Push), magnitude(f.Humid.Push))
}

// Slip is the larger slip of both seasons, without its sign.
func (f *Facts) Slip() measure.Length {
	return max(magnitude(f.Dry.MaxSlip), magnitude(f.Humid.MaxSlip))
}

func magnitude(l measure.Length) measure.Length { return max(l, -l) }
