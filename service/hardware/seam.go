// Package hardware places alignment and pull parts along a seam that must be able to move, and sizes the holes
// and slots that let it.
package hardware

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Hold is the place on a seam (or on a run's depth) where the two pieces are held flush.
type Hold string

// The places; HoldAuto lets the calculation choose.
const (
	HoldAuto   Hold = ""
	HoldFront  Hold = "front"
	HoldCentre Hold = "centre"
	HoldBack   Hold = "back"
)

// Point returns where on a seam of that length the pieces are held, from its front end. HoldAuto is not a place
// yet and counts as the front.
func (h Hold) Point(length measure.Length) measure.Length {
	switch h {
	case HoldCentre:
		return length / 2
	case HoldBack:
		return length
	default:
		return 0
	}
}

// phrase is the place as a sentence says it.
func (h Hold) phrase() string {
	switch h {
	case HoldCentre:
		return "held at the centre"
	case HoldBack:
		return "held at the back"
	default:
		return "held at the front"
	}
}

// Side is one of the two pieces that meet, with the edges that come near the seam; the seam's own edge is not among
// them.
type Side struct{ Edges []Edge }

// Interval is a stretch of seam, from its front end.
type Interval struct{ From, To measure.Length }

// Seam is what the hardware of a corner must know. Positions are measured along the seam from its front end.
type Seam struct {
	Joint     plan.JointKind
	Length    measure.Length
	Thickness measure.Length
	// no part may reach into this much at the front (profile, or the mitred part of a mason's miter)
	FrontKeep measure.Length
	// largest slip per length of seam from the held point, over both seasons, ≥ 0 (a strain: far below 0.5)
	SlipRate float64
	Blocked  []Interval     // where no part may stand, because only one piece reaches there
	Sides    [2]Side        // the piece that stops, of a miter the first run's, and the other piece
	Units    measure.System // of the lengths, masses and forces in sentences

	GravityOvenDry float64 // oven-dry specific gravity of the wood that screw threads bite; 0: unknown
	Gravity12      float64 // the same at 12 % moisture; 0: unknown
	Legs           [2]Leg  // the first run's piece and the second's
}

// SameButLegs reports whether two seams differ in their legs at most.
func (s *Seam) SameButLegs(other *Seam) bool {
	a, b := s, other
	return a.Joint == b.Joint && slices.Equal(a.Blocked, b.Blocked) && a.sameWood(b) && a.FrontKeep == b.FrontKeep &&
		a.SlipRate == b.SlipRate && a.Units == b.Units && a.GravityOvenDry == b.GravityOvenDry && a.Gravity12 == b.Gravity12
}

// sameWood reports whether two seams have the same edges around them, along the same length and thickness, so that the
// same bars bind.
func (s *Seam) sameWood(other *Seam) bool {
	return s.Length == other.Length && (s.Joint == other.Joint || s.Joint.RunsThrough() == other.Joint.RunsThrough()) &&
		s.Thickness == other.Thickness && slices.Equal(s.Sides[0].Edges, other.Sides[0].Edges) &&
		slices.Equal(s.Sides[1].Edges, other.Sides[1].Edges)
}

// Wish is what the caller asked for; empty fields let the calculation choose.
type Wish struct {
	HoldAt    Hold
	Pull      catalogue.FastenerKind
	Alignment catalogue.FastenerKind
}

// Plan is the hardware of one seam. Feasible is false when no part of the catalogue does it; Reason then says why.
type Plan struct {
	Feasible  bool
	Reason    string
	Short     Shortage // what was short when not feasible
	HoldAt    Hold
	Alignment Alignment
	Pull      Pull
	Tries     []string // what was tried before the pull parts chosen, with the numbers
}

// Shortage tells which rule an infeasible plan breaks.
type Shortage string

// The shortages.
const (
	ShortNothing   Shortage = ""
	ShortMovement  Shortage = "movement"  // holes cannot take the slip
	ShortThickness Shortage = "thickness" // no part fits the top's thickness
	ShortRoom      Shortage = "room"      // no positions keep every rule
)

// Alignment is the set of parts that keep the faces level. Positions hold for each row.
type Alignment struct {
	Item       string
	Part       catalogue.Fastener // its sizes, without what it costs
	Kind       catalogue.FastenerKind
	Count      int // parts, over all rows
	Rows       int
	Positions  []measure.Length
	SlotWidths []measure.Length // along the seam, at each position
	SlotWidth  measure.Length   // the widest
	Note       string
}

// Pull is the set of parts that keep the seam shut.
type Pull struct {
	Groups []PullGroup // one, or screws near the held point and bolts further out

	Capacity    measure.Force // allowable pull of all parts that count; 0 when none counts
	Ultimate    measure.Force // short-term test strength of the screws; 0 when not known
	MomentForce measure.Force // the larger of the legs' pulls on the seam
	People      int           // the most that one of the legs needs
	// the first run's piece and the second's; no names in answers that were kept before legs were told apart
	Legs [2]Carried
	Note string // what they hold by and how the top is carried; see Chooser.Note
}

// PullGroup is one kind of pull part at its positions.
type PullGroup struct {
	Item          string
	Part          catalogue.Fastener // its sizes, without what it costs
	Kind          catalogue.FastenerKind
	Count         int
	Positions     []measure.Length
	HoleDiameters []measure.Length // screws: exit holes at each position
	Channels      []measure.Length // draw bolts: channel widths at each position
	// draw bolts: lengths of the recesses along the seam, at each position, when they are elongated; else nil
	Recesses     []measure.Length
	RecessLength measure.Length // the longest of them; 0 when the recesses are round
	// draw bolts: how far a washer can go from the middle of its recess, the longest; 0 in answers that were kept before
	// it was told
	Travel   measure.Length
	Bearing  measure.Length // least width of wood under head or washer
	Counts   bool           // its capacity counts
	Capacity measure.Force
}
