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
	CutoutTooNear string         // why a cut-out forbids the seam; empty: none does
	ProfileName   string         // such as "roundover"
	ProfileSize   measure.Length // how deep the profile reaches in from the front edge
	Remedy        string         // the butt's remedy in words; empty: none needed
	Seam          measure.Length
	Mismatch      measure.Length // of the profiles at a miter
	Unequal       bool           // unequal depths
	Dry, Humid    Season
	Step          measure.Length // at a miter's front end, because its runs are not fixed at the same line; 0: they are
	ThroughLine   hardware.Hold  // fixed line of the through run
	Restrained    bool           // the legs cannot swing
	Hardware      *hardware.Plan
	Guided        bool // the tool that cuts the seam is guided
	Apart         bool // the corner must come apart on site
	ByCustomer    bool // and the customer puts it together
	WishMitred    bool
	WishStraight  bool
}

// Moulded reports whether the edge profile is larger than eased.
func (f *Facts) Moulded() bool { return f.ProfileSize > f.Settings.EasedLimit+1e-9 }

// Reflex reports whether the corner bends away from the room.
func (f *Facts) Reflex() bool { return f.Angle > 180*measure.Degree }

// opening is the larger opening of both seasons, without its sign.
func (f *Facts) opening() measure.Length {
	return max(magnitude(f.Dry.MaxOpening), magnitude(f.Humid.MaxOpening))
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
