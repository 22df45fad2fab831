package hardware

import (
	"math"

	"seamwright/service/measure"
)

// The formulas below take inches and give pounds-force, as they are published; these turn ours into theirs. All are
// for side grain (threads across the fibres). In end grain the NDS does not permit wood screws in withdrawal
// (12.2.2.2, remembered), so such screws count with nothing.

// lagFrom is the least thread diameter of the lag screws of NDS Table 12.2A; thinner ones are wood screws.
const lagFrom = measure.Inch / 4 // NDS Table 12.2A

// WoodScrewAllowable returns the reference withdrawal design value of one wood screw in side grain:
//
//	W = 2850·G²·D·p   (lbf; D and p in inches)
//
// G is the specific gravity on oven-dry mass and oven-dry volume, D the thread diameter, p the length of thread in the
// wood. Normal load duration, no other adjustment. It rounds nothing.
//
// Source: NDS 2018, eq. 12.2-2 (formula read in Brockenbrough, Civil Engineering Formulas, eq. 6.37).
func WoodScrewAllowable(gravity float64, thread, penetration measure.Length) measure.Force {
	return measure.Force(2850*gravity*gravity*thread.Inches()*penetration.Inches()) * measure.PoundForce // NDS eq. 12.2-2
}

// LagScrewAllowable returns the reference withdrawal design value of one lag screw in side grain:
//
//	W = 1800·G^(3/2)·D^(3/4)·p   (lbf; D and p in inches)
//
// Symbols as in WoodScrewAllowable; p leaves the tip out. It rounds nothing.
//
// Source: NDS 2018, eq. 12.2-1 and Table 12.2A.
func LagScrewAllowable(gravity float64, thread, penetration measure.Length) measure.Force {
	w := 1800 * math.Pow(gravity, 1.5) * math.Pow(thread.Inches(), 0.75) // NDS eq. 12.2-1
	return measure.Force(w*penetration.Inches()) * measure.PoundForce
}

// WoodScrewUltimate returns the short-term test load that draws one wood screw out of side grain, without any safety:
//
//	p = 15700·G²·D·L   (lbf; D and L in inches)
//
// G is the specific gravity at 12 % moisture, D the shank or thread diameter, L the length of thread in the wood.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 8; constant remembered, agrees with its metric twin 108.25.
func WoodScrewUltimate(gravity float64, thread, penetration measure.Length) measure.Force {
	return measure.Force(15700*gravity*gravity*thread.Inches()*penetration.Inches()) * measure.PoundForce // WH ch. 8
}

// LagScrewUltimate returns the short-term test load that draws one lag screw out of side grain, without any safety:
//
//	p = 8100·G^(3/2)·D^(3/4)·L   (lbf; D and L in inches)
//
// G is the specific gravity at 12 % moisture.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 8; constant remembered, agrees with its metric twin 125.4.
func LagScrewUltimate(gravity float64, thread, penetration measure.Length) measure.Force {
	p := 8100 * math.Pow(gravity, 1.5) * math.Pow(thread.Inches(), 0.75) // WH ch. 8
	return measure.Force(p*penetration.Inches()) * measure.PoundForce
}

// NailUltimate returns the short-term test load that draws one bright common nail out of side grain, without any
// safety:
//
//	p = 7850·G^(5/2)·D·L   (lbf; D and L in inches)
//
// G is the specific gravity at 12 % moisture. No nail holds a top: it stands here beside the screws' equations because
// its loads are published.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 8, eq. 8-1; constant remembered, gives nine published loads.
func NailUltimate(gravity float64, shank, penetration measure.Length) measure.Force {
	// WH eq. 8-1
	return measure.Force(7850*math.Pow(gravity, 2.5)*shank.Inches()*penetration.Inches()) * measure.PoundForce
}

// screwAllowable is the formula for the screw's class. Zero gravity, unknown, gives zero.
func screwAllowable(gravity float64, thread, penetration measure.Length) measure.Force {
	if thread >= lagFrom {
		return LagScrewAllowable(gravity, thread, penetration)
	}
	return WoodScrewAllowable(gravity, thread, penetration)
}

// screwUltimate is the formula for the screw's class. Zero gravity, unknown, gives zero.
func screwUltimate(gravity float64, thread, penetration measure.Length) measure.Force {
	if thread >= lagFrom {
		return LagScrewUltimate(gravity, thread, penetration)
	}
	return WoodScrewUltimate(gravity, thread, penetration)
}
