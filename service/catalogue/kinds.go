package catalogue

import (
	"math"

	"seamwright/service/measure"
)

// FastenerKind is a family of hardware.
type FastenerKind string

// The kinds. Dowels are known so that they can be refused with a reason.
const (
	Biscuit      FastenerKind = "biscuit"
	LooseTenon   FastenerKind = "loose_tenon"
	Dowel        FastenerKind = "dowel"
	PocketScrew  FastenerKind = "pocket_screw"
	DrawBolt     FastenerKind = "draw_bolt"
	SlottedClip  FastenerKind = "slotted_clip"
	SlottedScrew FastenerKind = "slotted_screw"
	FigureEight  FastenerKind = "figure_eight"
	Button       FastenerKind = "button"

	ThreadedInsert FastenerKind = "threaded_insert"

	SupportBracket FastenerKind = "support_bracket"
	SupportLeg     FastenerKind = "support_leg"
)

// FastenerRole is what a kind of hardware does for a top.
type FastenerRole uint8

// The roles.
const (
	Refused FastenerRole = iota // nothing: no seam that moves can have it
	Aligns                      // keeps the faces of a seam level
	Pulls                       // keeps a seam shut
	Fixes                       // holds the top to its base
	Carries                     // is a part of the base
)

// FastenerForm is how a part sits in a seam, whatever it is called: which measures it has, what must be cut for it, where
// it can stand and how it is drawn follow from that.
type FastenerForm uint8

// The forms.
const (
	NoForm   FastenerForm = iota // it stands in no seam
	LetIn                        // half in either piece, in a slot across the seam
	Pocketed                     // a screw, from a pocket in one piece into the other
	Recessed                     // a bolt between recesses in both pieces, through a channel
)

// usual is the series in which parts of a form are mostly sold and cut for, wherever a shop is: slot cutters and bolts
// in millimetres, screws by their number.
//
// Common practice.
func (f FastenerForm) usual() Series {
	switch f {
	case LetIn, Recessed:
		return Metric
	case Pocketed:
		return Imperial
	case NoForm:
	}
	return AnySeries
}

// UnderForm is how a part sits between a top and what is below, whatever it is called: which measures it has, and what
// must be cut for it.
type UnderForm uint8

// The forms.
const (
	NotUnder UnderForm = iota // it stands in a seam, or is of a kind that is none
	Clipped                   // a bought clip, between the base and the top's underside
	Upright                   // a screw through a slot of the base, up into the top
	Inserted                  // a threaded bush in the top, and a machine screw into it through a slot of the base
	Arm                       // reaches out under the top from a wall or a cabinet
	Post                      // stands on the floor
)

// FastenerTraits is all that sets one kind of hardware apart from another.
type FastenerTraits struct {
	Kind FastenerKind
	Name string // of one, in a sentence
	Role FastenerRole

	Form  FastenerForm // one of the two
	Under UnderForm

	// Of alignment parts.
	Plunged bool // its slot is plunged with a round cutter, which leaves its circle in the wood
	FirstIn int  // in so many rows it is tried before all other kinds
	// the part nearest to a third of its row's share of the top's thickness is tried first; else the widest
	ByShare   bool
	RowsNotes [2]string // what an answer says of them, in one row and in two

	// Of fixings.
	Screws int                              // that hold one
	LetIn  bool                             // the base's rails must be cut for it
	Travel func(f *Fastener) measure.Length // how far it lets the wood go to either side; nil: its slot says so
	Along  bool                             // it lets the wood go along the rail as well, as far as it likes
	Usual  Series                           // in which it is mostly sold; none: as its form
	Note   string                           // what an answer says of them

	// Of what is refused.
	Plural  string
	Refusal string // why a seam that moves cannot have it
}

// fastenerKinds has a row for every kind, in the order in which they are listed. What is said of preference and fit is
// common practice.
var fastenerKinds = [...]FastenerTraits{
	{Kind: Biscuit, Name: "biscuit", Role: Aligns, Form: LetIn, Plunged: true, FirstIn: 1, RowsNotes: [2]string{
		"Biscuits, because they are quick to cut and slide in their slots. " + dryAndTight,
		"Biscuits in two rows, one over the other, because the top is thick. " + dryAndTight}},
	{Kind: LooseTenon, Name: "loose tenon", Role: Aligns, Form: LetIn, FirstIn: 2, ByShare: true, RowsNotes: [2]string{
		"Loose tenons of about a third of the top's thickness. " + dryAndTight,
		"Loose tenons in two rows, one over the other, because the top is thick; each is about a third of its half. " +
			dryAndTight}},
	{Kind: Dowel, Name: "dowel", Role: Refused, Form: LetIn, Plural: "dowels", Refusal: "a round hole gives no side room"},
	{Kind: PocketScrew, Name: "pocket screw", Role: Pulls, Form: Pocketed},
	{Kind: DrawBolt, Name: "draw bolt", Role: Pulls, Form: Recessed},
	{Kind: SlottedClip, Name: "slotted clip", Role: Fixes, Under: Clipped, Screws: 1,
		Note: "Slots are what a clip must allow; clips come with their own, so check them."},
	{Kind: SlottedScrew, Name: "slotted screw", Role: Fixes, Under: Upright, Usual: Imperial},
	{Kind: FigureEight, Name: "figure-eight clip", Role: Fixes, Under: Clipped, Screws: 2, LetIn: true, Travel: swing,
		Usual: Imperial,
		Note:  "Let figure-eights flush into the rails, along the run, with room to turn; slots are what each must allow."},
	{Kind: Button, Name: "button", Role: Fixes, Under: Clipped, Screws: 1, LetIn: true, Travel: tongue, Along: true,
		Usual: Imperial,
		Note:  "Set buttons with five eighths of their tongue in the rail's groove, which is as deep as the whole; slots are what each must allow."},
	{Kind: ThreadedInsert, Name: "threaded insert", Role: Fixes, Under: Inserted, Usual: Imperial,
		Note: "Drive inserts just below the face; draw their machine screws up until the washers still slide, and take none so long that it meets the end of its bore."},
	{Kind: SupportBracket, Name: "bracket", Role: Carries, Under: Arm},
	{Kind: SupportLeg, Name: "leg", Role: Carries, Under: Post},
}

// swingPlay is how much a figure-eight may pull along the run when it turns: its screws have that much play. Common
// practice.
const swingPlay measure.Length = 0.5

// swing is how far a figure-eight that lies along the run lets the wood go across it: with c between its screws' centres
// it draws c − √(c² − x²) along the run at x, which its screws' play p must hold, so that
//
//	x = √(2·c·p − p²)
//
// Source: Pythagoras; common practice for the play.
func swing(f *Fastener) measure.Length {
	c := float64(max(f.Length, swingPlay/2))
	return measure.Length(math.Sqrt(2*c*float64(swingPlay) - float64(swingPlay*swingPlay)))
}

// tongue is how far a button lets the wood go to either side: a quarter of its tongue must stay in the groove, which is
// as deep as the whole of it, so that it is set in the middle between. Common practice.
func tongue(f *Fastener) measure.Length { return f.Length * 3 / 8 }

const dryAndTight = "No glue; tight in thickness: a loose fit in thickness defeats their purpose, and only the slot's width may have play."

// FastenerKinds returns a row for every kind of hardware, in the order in which they are listed. It must not be
// changed.
func FastenerKinds() []FastenerTraits { return fastenerKinds[:] }

// Traits returns the kind's row; of what is no kind an empty one.
func (k FastenerKind) Traits() *FastenerTraits {
	for i := range fastenerKinds {
		if t := &fastenerKinds[i]; t.Kind == k {
			return t
		}
	}
	return &noTraits
}

var noTraits FastenerTraits

// Form returns how parts of the kind sit in a seam.
func (k FastenerKind) Form() FastenerForm { return k.Traits().Form }

// Under returns how parts of the kind sit under a top.
func (k FastenerKind) Under() UnderForm { return k.Traits().Under }

// Role returns what parts of the kind do.
func (k FastenerKind) Role() FastenerRole { return k.Traits().Role }

// Condition is that of the steps which a seam with such parts needs; empty for what stands in no seam.
func (k FastenerKind) Condition() Condition {
	switch k.Role() {
	case Aligns, Pulls:
		return Condition(k)
	case Refused, Fixes, Carries: // Carries: what is counted of them is no part of a seam
	}
	return ""
}

// TriedAs is the place of a kind of alignment part among the others, in so many rows: 0 for the one that is tried
// first.
func (k FastenerKind) TriedAs(rows int) int {
	for i := range fastenerKinds {
		if t := &fastenerKinds[i]; t.Kind == k && t.FirstIn != rows {
			return 1 + i
		}
	}
	return 0
}
