package hardware

import (
	"cmp"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// pocketed is a screw that goes from a pocket in one piece into the other.
var pocketed = form{
	prints: pocketFootprints,
	near:   func(f *catalogue.Fastener) measure.Length { return max(f.Length-f.Penetration, f.Penetration) },
	far: func(f *catalogue.Fastener, t measure.Length) measure.Length {
		return max(PocketRim(f, t), f.Penetration)
	},
	cut: cutForm{shapes: pocketShapes, told: [2]string{"pocket, hole %s"}, size: measure.Bore},
	pull: &pullForm{
		// the head must enter its pocket
		room: func(f *catalogue.Fastener, _ measure.Length, _ *catalogue.Settings) bool {
			return headOf(f) <= f.BoreDiameter
		},
		order:   thinnestFirst,
		instead: deeper,

		end:     func(s *catalogue.Settings) measure.Length { return s.PocketEnd },
		spacing: func(s *catalogue.Settings) measure.Length { return s.PocketSpacing },
		many:    func(measure.Length, *catalogue.Settings) int { return fewPulls },
		half:    func(f *catalogue.Fastener, _ *catalogue.Settings) measure.Length { return f.BoreDiameter / 2 },
		channel: func(*catalogue.Fastener, *catalogue.Settings) measure.Length { return 0 }, // within its pocket
		shank:   func(f *catalogue.Fastener) measure.Length { return f.ThreadDiameter },
		head:    headOf,

		group:   (*Chooser).pocketScrews,
		widths:  func(g *PullGroup) []measure.Length { return g.HoleDiameters },
		cut:     "exit hole",
		bears:   "head",
		words:   "screws",
		holds:   bite,
		formula: "count · 2850·G²·D · penetration (lbf, in), G oven-dry",
		source:  source.NDSScrews,
		grip: Grip{
			Points:    func(s *catalogue.Settings) int { return s.PointsSideGrain },
			Bites:     true,
			Text:      func(through string) string { return "Pull screws bite run " + through + "'s side grain: " },
			Apart:     -1,
			ApartText: "wood screws lose their grip when they are driven again and again.",
		},
	},
}

// thinnestFirst, then ever heavier, of equals the one that bites deepest.
func thinnestFirst(a, b *catalogue.Fastener) int {
	return cmp.Or(cmp.Compare(a.ThreadDiameter, b.ThreadDiameter), cmp.Compare(b.Penetration, a.Penetration),
		cmp.Compare(a.Code, b.Code))
}

// deeper: of several screws that differ in length alone the one that bites deepest is tried.
func deeper(f, have *catalogue.Fastener) (alike, better bool) {
	return have.Kind == f.Kind && have.ThreadDiameter == f.ThreadDiameter && headOf(have) == headOf(f) &&
		have.BoreDiameter == f.BoreDiameter && have.MayMixWithBolt == f.MayMixWithBolt, f.Penetration > have.Penetration
}

// pocketScrews are a group with its exit holes. In a miter they bite end grain and do not count.
func (c *Chooser) pocketScrews(g *PullGroup, _ measure.Length, holes, _ []measure.Length) (ultimate measure.Force) {
	f := &g.Part
	g.HoleDiameters, g.Counts = holes, c.seam.Joint.RunsThrough()
	if !g.Counts {
		return 0
	}
	g.Capacity = measure.Force(g.Count) * screwAllowable(c.seam.GravityOvenDry, f.ThreadDiameter, f.Penetration)
	return measure.Force(g.Count) * screwUltimate(c.seam.Gravity12, f.ThreadDiameter, f.Penetration)
}

// bite says what screws hold by.
func bite(seam *Seam) string {
	switch {
	case !seam.Joint.RunsThrough():
		return "Screws in a " + seam.Joint.Name() + " bite end grain: weaker, erratic, and not permitted in withdrawal by the NDS, so they are not counted. "
	case seam.GravityOvenDry <= 0:
		return "Screws bite side grain, but no specific gravity of this wood is known, so they are not counted. "
	}
	return "Screws bite side grain. "
}

// headOf returns the diameter that bears under a screw: its head, or its washer when that is larger and enters the
// pocket's bore.
func headOf(screw *catalogue.Fastener) measure.Length {
	if screw.WasherDiameter > screw.HeadDiameter && screw.WasherDiameter <= screw.BoreDiameter {
		return screw.WasherDiameter
	}
	return screw.HeadDiameter
}

// PocketLean is the usual lean of a pocket. Common practice; the jig decides.
const PocketLean = 15 * measure.Degree

// PocketSeat is how far from the seam a pocket's screw bears: (length − penetration)·cos lean.
//
// Source: plane geometry; the lean is common practice.
func PocketSeat(f *catalogue.Fastener) measure.Length {
	return (f.Length - f.Penetration) * measure.Length(PocketLean.Cos())
}

// PocketRim is how far from the seam the mouth of a pocket reaches on the underside, when the screw leaves at half the
// thickness t: t/2 / tan lean + bore/2 / sin lean, and at least a bore beyond its seat.
//
// Source: plane geometry; the lean is common practice.
func PocketRim(f *catalogue.Fastener, thickness measure.Length) measure.Length {
	mouth := float64(thickness/2)/math.Tan(float64(PocketLean)) + float64(f.BoreDiameter/2)/PocketLean.Sin()
	return max(measure.Length(mouth), PocketSeat(f)+f.BoreDiameter)
}

// pocketFootprints appends what a screw's pocket and its thread take of both pieces. Screws of a miter find room for
// their pockets in either piece: neither is the one that stops, and the bench decides which is bored.
func pocketFootprints(to []Footprint, f *catalogue.Fastener, _ bool, seam *Seam, _ *catalogue.Settings) []Footprint {
	pocket, screw := PocketRim(f, seam.Thickness), f.Penetration*measure.Length(PocketLean.Cos())
	to = append(to, box("pocket", 0, f.BoreDiameter/2, pocket, never), box("screw", 1, f.ThreadDiameter/2, screw, never))
	if !seam.Joint.RunsThrough() {
		to = append(to, box("pocket", 1, f.BoreDiameter/2, pocket, never), box("screw", 0, f.ThreadDiameter/2, screw, never))
	}
	return to
}

// pocketShapes are a pocket with its exit hole in the piece that is bored, and the screw's thread in the other.
func pocketShapes(m *Mark, p Piece) []Shape {
	if !p.Bored {
		return []Shape{{Feature: ScrewCut, Hidden: true, Points: oblong(m.At, m.Part.ThreadDiameter/2, 0,
			m.Part.Penetration*measure.Length(PocketLean.Cos()))}}
	}
	seat, rim := PocketSeat(m.Part), PocketRim(m.Part, p.Thickness)
	return []Shape{
		{Feature: PocketHoleCut, Hidden: true, Points: oblong(m.At, m.Size/2, 0, seat)},
		{Feature: PocketCut, Points: oblong(m.At, m.Part.BoreDiameter/2, seat, rim)},
	}
}
