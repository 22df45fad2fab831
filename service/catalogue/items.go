package catalogue

import (
	"time"

	"seamwright/service/measure"
	"seamwright/service/money"
)

// Date is a calendar day as YYYY-MM-DD, so that dates compare as text.
type Date string

// Price is what one pack costs from a day on.
type Price struct {
	Supplier  string
	ValidFrom Date
	Amount    money.UnitPrice // for one pack
}

// Pack is a container, or a single unit, in which an item is sold. Prices are in the order of their
// dates, oldest first.
type Pack struct {
	Size   money.Quantity // content in the item's unit
	Prices []Price
}

// PriceAsOf returns the newest price that holds on the day; ok is false when none does yet.
func (p *Pack) PriceAsOf(day Date) (price Price, ok bool) {
	for i := len(p.Prices) - 1; i >= 0; i-- {
		if p.Prices[i].ValidFrom <= day {
			return p.Prices[i], true
		}
	}
	return Price{}, false
}

// Unit is what an item is counted in.
type Unit string

// The units of items.
const (
	Each       Unit = "each"
	BoardFoot  Unit = "board_foot"
	CubicMetre Unit = "cubic_metre"
	Litre      Unit = "litre"
	Metre      Unit = "metre"
)

// Fastener is a piece of hardware. A length of zero means that the kind has no such measure.
type Fastener struct {
	Code    string
	Version int64 // counts the changes of the row; 0 when it is from no database
	Name    string
	Kind    FastenerKind

	Width     measure.Length // alignment: size along the seam
	Length    measure.Length // alignment: size across the seam; screws, bolts and inserts: whole length
	Thickness measure.Length // alignment: size through the top's thickness

	ThreadDiameter  measure.Length // screws; inserts: of their machine screw
	HeadDiameter    measure.Length // screws, also of inserts: head, or its washer when that is larger and fits the pocket
	WasherDiameter  measure.Length // screws: loose washer; zero when it is used without one
	BoreDiameter    measure.Length // pocket screws: bore of the pocket; inserts: bore in the top
	Penetration     measure.Length // screws: thread in the other piece; inserts: how deep the top is bored
	BoltDiameter    measure.Length // draw bolts
	RecessDiameter  measure.Length // draw bolts: bored recess in each piece
	RecessDepth     measure.Length // draw bolts: depth of the recess from below
	RecessDistance  measure.Length // draw bolts: from the seam to the recess centre
	BearingDiameter measure.Length // draw bolts: washer or half-round that bears beside the channel

	LeastThickness    measure.Length // of the top
	GreatestThickness measure.Length // of the top; zero: no upper limit

	WorkingLoad    measure.Force // draw bolts: allowable pull of one, from the maker's data (demo: invented)
	MayMixWithBolt bool          // pocket screws: may stand in one seam with draw bolts further out
	Series         Series        // sizes that it is made in

	Packs []Pack // sold by the piece: Unit is Each
}

// Fits reports whether a part may stand in a top so thick.
func (f *Fastener) Fits(thickness measure.Length) bool {
	return thickness >= f.LeastThickness && (f.GreatestThickness == 0 || thickness <= f.GreatestThickness)
}

// Series is the system of sizes that hardware is made in.
type Series string

// The series.
const (
	AnySeries Series = "" // sold alike everywhere
	Metric    Series = "metric"
	Imperial  Series = "imperial"
)

// MaterialKind is a family of materials.
type MaterialKind string

// The kinds of material.
const (
	LumberKind MaterialKind = "lumber"
	PanelKind  MaterialKind = "panel"
	GlueKind   MaterialKind = "glue"
	FinishKind MaterialKind = "finish"
	SundryKind MaterialKind = "sundry"
)

// Material is something bought to make a top. Exactly one of the pointers is set, by Kind.
type Material struct {
	Code    string
	Version int64 // counts the changes of the row; 0 when it is from no database
	Name    string
	Kind    MaterialKind
	Unit    Unit
	Packs   []Pack

	Lumber *Lumber
	Panel  *Panel
	Glue   *Glue
	Finish *Finish
	Sundry *Sundry
}

// Lumber is rough boards of one species, thickness and grade, sold by the board foot or the cubic metre in stock lengths.
type Lumber struct {
	Species           string
	RoughThickness    measure.Length
	SurfacedThickness measure.Length
	Grade             string
	ClearYield        measure.Fraction // least share of clear cuttings by the grade's rule
	StockLengths      []measure.Length // on sale, ascending
	WorkingWidth      measure.Length   // width of a board that can be counted on, between straight edges
	MeasuredWidth     measure.Length   // mean width by which an unedged board is sold; 0: its edges are straight
}

// Unedged reports whether the boards come with the tree's own edges.
func (l *Lumber) Unedged() bool { return l.MeasuredWidth > 0 }

// EdgingYield is the share of what is measured and paid that is left between straight edges: 1 for boards that are
// edged.
func (l *Lumber) EdgingYield() float64 {
	if !l.Unedged() {
		return 1
	}
	return float64(l.WorkingWidth / l.MeasuredWidth)
}

// Panel is a ready-made edge-glued slab of one size, sold each.
type Panel struct {
	Species   string
	Thickness measure.Length
	Width     measure.Length
	Length    measure.Length

	FingerJointed bool // its staves are joined end to end from short pieces
}

// Glue is sold by the litre.
type Glue struct {
	Spread     measure.Area // glue-line area that one litre covers
	ClampHours float64      // until the clamps come off
}

// Finish is sold by the litre.
type Finish struct {
	System   string       // such as "hardwax_oil"
	Coverage measure.Area // one coat on one litre
	DryHours float64      // between coats
	Coats    int          // usual number of coats
	SelfHeat bool         // oily rags can catch fire by themselves
	CureDays float64      // from the last coat until it is fully cured; 0: unknown

	// Percent of the moisture that its usual coats keep out over 14 days of the published test; 0: unknown, or nothing.
	Excluding float64
}

// Sundry is a small thing used in proportion to a driver.
type Sundry struct {
	Driver Driver  // what it is used in proportion to
	Use    float64 // units used per driver unit
	Finish string  // only with this finish system; empty: always
	ByUse  bool    // charged by what is used, however the shop charges: the wear of a bit is not a bit
}

// AddDays returns the day so many days later, or earlier when they are negative. A date that is not one comes back as
// it is.
func (d Date) AddDays(days int) Date {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return d
	}
	return Date(t.AddDate(0, 0, days).Format(time.DateOnly))
}
