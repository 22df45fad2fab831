package estimate_test

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// settled is a corner that any good maker would make in the same way, or in one of the ways named. Written from shop
// sense before the points were; all of it common practice.
type settled struct {
	name  string
	order estimate.Order
	ways  []plan.JointKind       // at every corner
	pull  catalogue.FastenerKind // empty: not settled
	why   string
}

// corner is a plain L of sugar maple in a heated house, 96 and 72 in by 25-1/2 in, 1-1/2 in thick, eased, made at 7.5
// %; changes are made to it in turn.
func corner(changes ...func(*estimate.Order)) estimate.Order {
	o := estimate.Order{Units: measure.Inches, Pricing: estimate.PricingOrder{AsOf: "2026-11-01"},
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs: []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in},
				{Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree}}},
		Moisture: estimate.MoistureOrder{Making: wet(7.5), Profile: "heated_house"}}
	for _, change := range changes {
		change(&o)
	}
	return o
}

type change = func(*estimate.Order)

func angled(degrees float64) change {
	return func(o *estimate.Order) { o.Top.Corners[0].Angle = measure.Angle(degrees) * measure.Degree }
}

func deep(first, second measure.Length) change {
	return func(o *estimate.Order) { o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = first, second }
}

func long(first, second measure.Length) change {
	return func(o *estimate.Order) { o.Top.Runs[0].Length, o.Top.Runs[1].Length = first, second }
}

func of(species string) change { return func(o *estimate.Order) { o.Top.Species = species } }

func thick(t measure.Length) change { return func(o *estimate.Order) { o.Top.Thickness = t } }

func edged(p estimate.Profile, size measure.Length) change {
	return func(o *estimate.Order) { o.Top.Edge = estimate.Edge{Profile: p, Size: size} }
}

func living(climate string) change { return func(o *estimate.Order) { o.Moisture.Profile = climate } }

func madeAt(percent float64) change {
	return func(o *estimate.Order) { o.Moisture.Making = wet(percent) }
}

func cutWith(tool estimate.SeamCut, by estimate.Experience) change {
	return func(o *estimate.Order) { o.Shop = estimate.ShopOrder{SeamCut: tool, Experience: by} }
}

func wants(l estimate.Look) change { return func(o *estimate.Order) { o.Top.Corners[0].Look = l } }

func metric(o *estimate.Order)  { o.Units = measure.Millimetres }
func left(o *estimate.Order)    { o.Top.Hand = plan.Left }
func quarter(o *estimate.Order) { o.Top.Sawn = catalogue.QuarterSawn }
func apart(o *estimate.Order)   { o.Site.MustComeApart = true }
func byOwner(o *estimate.Order) { o.Site.AssembledBy = "customer" }
func heldRigid(o *estimate.Order) {
	for k := range o.Top.Corners {
		o.Top.Corners[k].Restrained = new(true)
	}
}

// horseshoe makes a U of the L: a third run like the second.
func horseshoe(o *estimate.Order) {
	o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: "C", Length: o.Top.Runs[1].Length, Depth: o.Top.Runs[0].Depth})
	o.Top.Runs[1].Length = 90 * in
	o.Top.Corners = append(o.Top.Corners, o.Top.Corners[0])
}

var (
	butt       = []plan.JointKind{plan.Butt}
	miter      = []plan.JointKind{plan.Miter}
	masonsOnly = []plan.JointKind{plan.MasonsMiter}
	noMiter    = []plan.JointKind{plan.MasonsMiter, plan.Butt}
	noStep     = []plan.JointKind{plan.Butt, plan.Miter}
	anyJoint   = []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter}
)

const (
	screws = catalogue.PocketScrew
	bolts  = catalogue.DrawBolt
)

func settledCorners() []settled {
	round, ogee := edged(estimate.Roundover, in/4), edged(estimate.Ogee, in/2)
	square := edged(estimate.Square, 0)
	first := cutWith(estimate.CircularSaw, estimate.FirstTime)
	const (
		plain   = "square or eased edges leave no notch, and one square cut does"
		turned  = "a restrained miter opens; the profile must still turn the corner"
		obtuse  = "the miter has the shorter seam; a butt's tip would be thin and show"
		outer   = "the profile turns the outer corner on the diagonal; a butt would carry it over end grain"
		noTurn  = "a stepped cut cannot be made with that saw, or by a beginner"
		knocked = "screws lose their grip when they are driven again and again"
		missing = "with unequal depths a miter's profiles miss each other"
		walks   = "the legs of a miter would walk further than any wall gap"
		acute   = "a miter at an acute corner is long, thin at the wall and opens most"
	)
	return []settled{
		// Square and eased edges at a right angle, or nearly.
		{"square edge", corner(square), butt, "", plain},
		{"eased edge", corner(), butt, "", plain},
		{"walnut desk", corner(of("walnut_black"), deep(24*in, 24*in)), butt, "", plain},
		{"white oak desk", corner(of("oak_white"), deep(24*in, 24*in), madeAt(7)), butt, "", plain},
		{"cherry, deep", corner(of("cherry_black"), deep(30*in, 30*in), square), butt, "", plain},
		{"pine bench", corner(of("pine_eastern_white"), deep(20*in, 20*in), square), butt, "", plain},
		{"quarter-sawn oak", corner(of("oak_white"), quarter, square), butt, "", plain},
		{"beech in millimetres", corner(metric, of("beech_american"), deep(650, 650), long(2400, 1800), thick(40)), butt, "", plain},
		{"mahogany", corner(of("mahogany"), square), butt, "", plain},
		{"unequal depths, square", corner(deep(25.5*in, 18*in), square), butt, "", plain},
		{"unequal depths, eased, millimetres", corner(metric, deep(650, 400), long(2500, 1700)), butt, "", plain},
		{"88.5 degrees", corner(angled(88.5)), butt, "", plain},
		{"92 degrees", corner(angled(92), square), butt, "", plain},
		{"restrained, square", corner(square, heldRigid), butt, "", plain},
		{"panel saw", corner(square, cutWith(estimate.PanelSaw, estimate.Practised)), butt, "", plain},
		{"circular saw", corner(square, cutWith(estimate.CircularSaw, estimate.Practised)), butt, "", plain},
		{"hand saw", corner(square, cutWith(estimate.HandSaw, estimate.Seasoned)), butt, "", plain},
		{"first timer, square", corner(square, first), butt, "", plain},
		{"damp coast, square", corner(square, living("damp_coast"), madeAt(10)), butt, "", plain},
		{"uninsulated workshop", corner(square, living("uninsulated_workshop"), madeAt(11)), butt, "", plain},
		{"thin pine", corner(of("pine_eastern_white"), thick(1*in), deep(20*in, 20*in)), butt, "", plain},
		{"thick maple", corner(thick(2.5 * in)), butt, "", plain},
		{"left hand", corner(left), butt, "", plain},
		{"small desk", corner(deep(18*in, 18*in), long(48*in, 36*in)), butt, "", plain},
		{"long counter", corner(long(160*in, 96*in)), butt, "", plain},
		{"wide slab", corner(deep(36*in, 36*in), square), butt, "", plain},
		{"one slab through, as wished", corner(wants(estimate.LookStraight)), butt, "", "the customer asked for it and nothing speaks against it"},
		{"U with square edges", corner(square, horseshoe), butt, "", plain},
		{"U with eased edges, left hand", corner(horseshoe, left), butt, "", plain},

		// A profile where the legs cannot swing.
		{"roundover, restrained", corner(round, heldRigid), masonsOnly, "", turned},
		{"ogee, restrained", corner(ogee, heldRigid), masonsOnly, "", turned},
		{"bullnose walnut, restrained", corner(of("walnut_black"), edged(estimate.Bullnose, 0), heldRigid), masonsOnly, "", turned},
		{"cove in oak, restrained", corner(of("oak_white"), edged(estimate.Cove, 3*in/8), heldRigid), masonsOnly, "", turned},
		{"roundover on a damp coast, restrained", corner(round, living("damp_coast"), madeAt(11), heldRigid), noMiter, "", turned},
		{"roundover beech in millimetres, restrained", corner(metric, of("beech_american"), deep(650, 650), long(2400, 1800),
			thick(40), edged(estimate.Roundover, 6), heldRigid), masonsOnly, "", turned},
		{"roundover, seasoned maker, restrained", corner(round, heldRigid, cutWith(estimate.Router, estimate.Seasoned)), masonsOnly, "", turned},
		{"roundover, left hand, restrained", corner(round, heldRigid, left), masonsOnly, "", turned},
		{"U with a roundover, restrained", corner(round, heldRigid, horseshoe), masonsOnly, "", turned},
		{"small chamfer, restrained", corner(edged(estimate.Chamfer, in/8), heldRigid), noMiter, "", turned},
		{"diagonal wished, but restrained and dry winters", corner(square, heldRigid, wants(estimate.LookMitred),
			living("dry_winter_house")), noMiter, "", "a wish does not keep a seam shut"},

		// A profile where a free miter would walk.
		{"long beech legs", corner(of("beech_american"), long(144*in, 144*in), round), noMiter, "", walks},
		{"wet wood", corner(round, madeAt(12)), noMiter, "", walks},
		{"mahogany, 4 to 9 percent", corner(of("mahogany"), madeAt(9), living("interior_dry_southwest"), round), noMiter, "", walks},
		{"deep island", corner(deep(48*in, 48*in), round), noMiter, "", walks},
		{"uninsulated workshop, roundover", corner(round, living("uninsulated_workshop"), madeAt(11)), noMiter, "", walks},

		// Unequal depths with a profile.
		{"unequal, roundover", corner(deep(25.5*in, 18*in), round), noMiter, "", missing},
		{"unequal, ogee, restrained", corner(deep(30*in, 20*in), ogee, heldRigid), noMiter, "", missing},
		{"unequal walnut in millimetres", corner(metric, of("walnut_black"), deep(620, 500), long(2600, 1900), thick(38),
			edged(estimate.Roundover, 6)), noMiter, "", missing},
		{"unequal at 83 degrees", corner(angled(83), deep(24*in, 20*in), round), noMiter, "", missing},

		// Obtuse corners.
		{"135 degrees, square", corner(angled(135), square), miter, bolts, obtuse},
		{"135 degrees, eased, nearly equal depths", corner(metric, angled(135), deep(620, 600), long(2400, 1800)), miter, bolts, obtuse},
		{"135 degrees, ash roundover", corner(angled(135), of("ash_white"), long(72*in, 72*in), round), miter, bolts, obtuse},
		{"135 degrees, ogee", corner(angled(135), ogee), miter, bolts, obtuse},
		{"140 degrees, eased", corner(angled(140)), miter, bolts, obtuse},
		{"150 degrees, eased", corner(angled(150)), miter, bolts, obtuse},
		{"135 degrees, quarter-sawn walnut", corner(angled(135), of("walnut_black"), quarter, square), miter, bolts, obtuse},
		{"135 degrees, left hand", corner(angled(135), left), miter, bolts, obtuse},
		{"135 degrees, a first-timer's track saw", corner(angled(135), cutWith(estimate.TrackSaw, estimate.FirstTime)), miter, bolts, obtuse},
		{"135 degrees, must come apart", corner(angled(135), apart), miter, bolts, obtuse},

		// Outer corners with a profile.
		{"outer corner, cherry bullnose", corner(angled(270), of("cherry_black"), thick(1.75*in), deep(24*in, 24*in),
			madeAt(8), edged(estimate.Bullnose, 0)), miter, bolts, outer},
		{"outer corner, roundover", corner(angled(270), round), miter, bolts, outer},
		{"outer corner, 225 degrees", corner(angled(225), round), miter, bolts, outer},
		{"outer corner, ogee, left hand", corner(angled(270), of("walnut_black"), ogee, left), miter, bolts, outer},

		// Who makes it, and with what.
		{"first-timer's circular saw, roundover, restrained", corner(round, heldRigid, first), butt, "", noTurn},
		{"first-timer's circular saw, roundover", corner(round, first), noStep, "", noTurn},
		{"circular saw, roundover", corner(round, cutWith(estimate.CircularSaw, estimate.Practised)), noStep, "", noTurn},
		{"first-timer with a router", corner(round, heldRigid, cutWith(estimate.Router, estimate.FirstTime)), butt, "", noTurn},
		{"first-timer with a track saw, small chamfer", corner(edged(estimate.Chamfer, in/8), cutWith(estimate.TrackSaw, estimate.FirstTime)), noStep, "", noTurn},

		// What must come apart.
		{"apart, square", corner(square, apart), butt, bolts, knocked},
		{"apart, roundover, restrained", corner(round, heldRigid, apart), masonsOnly, bolts, knocked},
		{"apart, roundover", corner(round, apart), anyJoint, bolts, knocked},
		{"joined by the customer", corner(byOwner), butt, bolts, knocked},
		{"apart, beech in millimetres", corner(metric, of("beech_american"), deep(650, 650), long(2400, 1800), thick(40), apart), butt, bolts, knocked},

		// Looks, where the wood stays still enough.
		{"diagonal wished, still wood", corner(of("cedar_western_red"), quarter, living("well_regulated_house"), madeAt(8),
			deep(18*in, 18*in), long(48*in, 40*in), square, wants(estimate.LookMitred)), miter, bolts,
			"the customer asked for it, and the wood hardly moves"},
		{"diagonal wished, quarter-sawn walnut", corner(of("walnut_black"), quarter, living("well_regulated_house"),
			madeAt(8), deep(18*in, 18*in), long(48*in, 40*in), wants(estimate.LookMitred)), miter, bolts,
			"the customer asked for it, and the wood hardly moves"},

		// Acute corners.
		{"60 degrees, eased", corner(angled(60)), butt, "", acute},
		{"75 degrees, square", corner(angled(75), square), butt, "", acute},
		{"60 degrees, roundover, restrained", corner(angled(60), round, heldRigid), noMiter, "", acute},
	}
}

func TestSettledCornersAreMadeAsAnyMakerWould(t *testing.T) {
	t.Parallel()
	cases := settledCorners()
	require.GreaterOrEqual(t, len(cases), 60)
	cat := demotest.Catalogue(t)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			e, err := estimate.Make(c.order, cat)
			require.NoError(t, err)
			for k := range e.Corners {
				r := &e.Corners[k]
				chosen := candidate(r, r.Chosen.Kind, r.Chosen.Through)
				if !slices.Contains(c.ways, r.Chosen.Kind) {
					t.Errorf("%v, not %v: %s\n%s", r.Chosen, c.ways, c.why, standings(r))
				}
				if c.pull != "" && chosen.Hardware.Pull.Groups[0].Kind != c.pull {
					t.Errorf("%s, not %s: %s\n%s", chosen.Hardware.Pull.Groups[0].Kind, c.pull, c.why, standings(r))
				}
			}
		})
	}
}

// standings lists the candidates with their findings, for a test that failed.
func standings(r *estimate.CornerResult) string {
	text := r.Why + "\n"
	for _, c := range r.Candidates {
		text += string(c.Joint.Kind) + " " + string(c.Joint.Through) + ": "
		if !c.Feasible {
			text += "infeasible"
		}
		text += c.Cost.String() + " " + itoa(c.Score) + "\n"
		for _, f := range c.Findings {
			text += "   " + itoa(f.Points) + " " + f.Text + "\n"
		}
	}
	return text
}

func itoa(n int) string { return strconv.Itoa(n) }
