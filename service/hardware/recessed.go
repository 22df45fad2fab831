package hardware

import (
	"cmp"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// recessed is a bolt between recesses in both pieces, through a channel. Its recesses may be elongated along the seam.
var recessed = form{
	prints: boltFootprints,
	alike:  true,
	near:   recessRim,
	far:    func(f *catalogue.Fastener, _ measure.Length) measure.Length { return recessRim(f) },
	cut:    cutForm{shapes: boltShapes, told: [2]string{"bolt, channel %s"}, size: measure.Bore},
	pull: &pullForm{
		further: true,
		room: func(f *catalogue.Fastener, thickness measure.Length, s *catalogue.Settings) bool {
			return thickness >= f.RecessDepth+s.WoodAboveRecess
		},
		order: strongestFirst,

		end:     func(s *catalogue.Settings) measure.Length { return s.BoltEnd },
		spacing: func(s *catalogue.Settings) measure.Length { return s.BoltSpacing },
		many: func(seam measure.Length, s *catalogue.Settings) int {
			if seam >= s.BoltThreeFrom-noise { // a slab as deep as that has a seam as long, rounded up or down
				return manyBolts
			}
			return fewPulls
		},
		half: func(f *catalogue.Fastener, s *catalogue.Settings) measure.Length {
			return max(f.RecessDiameter/2, f.BearingDiameter/2, Hole(f.BoltDiameter, 0, s)/2)
		},
		channel: func(f *catalogue.Fastener, s *catalogue.Settings) measure.Length {
			return (f.BoltDiameter + s.HoleAllowance) / 2
		},
		shank:  func(f *catalogue.Fastener) measure.Length { return f.BoltDiameter },
		head:   func(f *catalogue.Fastener) measure.Length { return f.BearingDiameter },
		travel: func(f *catalogue.Fastener) measure.Length { return Travel(f.RecessDiameter, f.BearingDiameter) },

		group:   (*Chooser).drawBolts,
		widths:  func(g *PullGroup) []measure.Length { return g.Channels },
		cut:     "channel",
		bears:   "washer",
		words:   "bolts",
		holds:   func(*Seam) string { return "Draw bolts hold by their bearing, by the maker's working load. " },
		formula: "count · working load",
		source:  source.Demo,
		grip: Grip{
			Points:    func(s *catalogue.Settings) int { return s.PointsBolts },
			Text:      func(string) string { return "Draw bolts pull the seam from below: " },
			Apart:     1,
			ApartText: "draw bolts come apart and together again from below.",
		},
	},
}

// recessRim is how far from the seam a recess reaches.
func recessRim(f *catalogue.Fastener) measure.Length { return f.RecessDistance + f.RecessDiameter/2 }

// strongestFirst, of equals the longest.
func strongestFirst(a, b *catalogue.Fastener) int {
	return cmp.Or(cmp.Compare(b.WorkingLoad, a.WorkingLoad), cmp.Compare(b.Length, a.Length), cmp.Compare(a.Code, b.Code))
}

// drawBolts are a group with its channels and, when their recesses are elongated, those.
func (c *Chooser) drawBolts(g *PullGroup, held measure.Length, channels, long []measure.Length) (ultimate measure.Force) {
	f := &g.Part
	g.Channels, g.Recesses, g.Counts = channels, long, true
	for i, x := range g.Positions[:len(long)] {
		long[i] = LongRecess(f.RecessDiameter, Slip(c.seam.SlipRate, x, held))
		g.RecessLength = max(g.RecessLength, long[i])
	}
	g.Travel = Travel(max(f.RecessDiameter, g.RecessLength), f.BearingDiameter)
	g.Capacity = measure.Force(g.Count) * f.WorkingLoad
	return 0
}

// boltFootprints appends a draw bolt's channels and recesses in both pieces. long: its recesses are elongated.
func boltFootprints(to []Footprint, f *catalogue.Fastener, long bool, _ *Seam, s *catalogue.Settings) []Footprint {
	play := never
	if long {
		play = 0
	}
	for side := range 2 {
		to = append(to, box("channel", side, Hole(f.BoltDiameter, 0, s)/2, f.RecessDistance,
			max(0, s.HoleLeast-s.HoleAllowance)/2),
			Footprint{Name: "recess", Side: side, Rows: [3]FootprintRow{{0, f.RecessDistance}}, Count: 1,
				Radius: f.RecessDiameter / 2, Play: play})
	}
	return to
}

// boltShapes are a channel and the recess at its end, round or elongated along the seam.
func boltShapes(m *Mark, _ Piece) []Shape {
	r := m.Part.RecessDiameter / 2
	recess := Shape{Feature: RecessCut, Points: []plan.Point{{X: m.At, Y: m.Part.RecessDistance}}, Radius: r}
	if more := m.Recess/2 - r; more > 0 {
		recess = Shape{Feature: RecessCut, Points: round(m.At, more, m.Part.RecessDistance, r)}
	}
	return []Shape{{Feature: ChannelCut, Points: oblong(m.At, m.Size/2, 0, m.Part.RecessDistance)}, recess}
}
