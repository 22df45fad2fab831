package seam

import (
	"math"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// kinds are one mark of each part that is cut for.
func (s *sheet) kinds() []*mark {
	var out []*mark
	seen := map[string]bool{}
	for i := range s.marks {
		if m := &s.marks[i]; !seen[m.part.Code] {
			seen[m.part.Code] = true
			out = append(out, m)
		}
	}
	return out
}

// sections sketches one of each kind of cut, across the seam, with its dimensions and what is to be known of it. Underside up,
// as on the bench.
func (s *sheet) sections(x, y, w float64) float64 {
	for i, m := range s.kinds() {
		if i == 0 {
			y = s.Headline(x, y, w, s.say("Across the seam, underside up"))
		}
		y = s.section(x, y, w, m)
		y = s.Paragraph(x, y, w, m.drawn.told(s, m), pen.Letters{Size: pen.Small}) + 2.5
	}
	return y
}

// section draws one under its part's name.
func (s *sheet) section(x, y, w float64, m *mark) float64 {
	l := pen.Letters{Size: pen.Body, Bold: true}
	y = s.Paragraph(x, y, w, shorter(s.speech.Told(m.part.Name), w, l), l) + 1
	return m.drawn.section(s, x, y, w, m)
}

// shorter is a part's name on one line: without what is said of it behind a comma where that has no room.
func shorter(name string, w float64, l pen.Letters) string {
	for pen.Width(name, l) > w {
		at := strings.LastIndex(name, ", ")
		if at < 0 {
			return pen.Fit(name, w, l)
		}
		name = name[:at]
	}
	return name
}

// cross is the frame of a section: the seam in the middle, the underside above.
type cross struct {
	x, y, scale float64 // paper of the seam and the underside; paper per wood
	t           float64 // thickness on paper
	span        float64 // half of its width on paper
}

func (c *cross) at(across, depth float64) pen.Point {
	return pen.At(c.x+across*c.scale, c.y+depth*c.scale)
}

// crossSection draws the two pieces to half a width of wood either side.
func (s *sheet) crossSection(x, y, w, half float64) *cross {
	dims := 26.0 // beside the section, for dimensions at both sides
	c := &cross{x: x + w/2, y: y, scale: math.Min((w-dims)/(2*half), 22/float64(s.thickness))}
	c.t = float64(s.thickness) * c.scale
	span := half * c.scale
	s.Rect(c.x-span, y, 2*span, c.t, 0, pen.Stroke{Fill: pen.Wood})
	s.Line(c.x-span, y, c.x+span, y, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	s.Line(c.x-span, y+c.t, c.x+span, y+c.t, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	for _, e := range []float64{-span, span} {
		s.Line(c.x+e, y-0.5, c.x+e, y+c.t+0.5, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "2 0.8 0.4 0.8"})
	}
	s.glueLines(c.x-span, c.x+span, y, c.t)
	c.span = span
	s.upright(c.x+span+3, y, y+c.t, s.exact(s.thickness), pen.Left)
	return c
}

// glueLines draws where the layers of a slab lie on each other; at a seam a built-up edge is solid as well. t is its thickness on paper.
func (s *sheet) glueLines(x0, x1, y, t float64) {
	for i := 1; i < s.layers; i++ {
		at := y + t*float64(i)/float64(s.layers)
		s.Line(x0, at, x1, at, pen.Stroke{Ink: pen.Faint, Width: pen.Medium})
	}
}

// seamIn draws the seam of a section.
func (s *sheet) seamIn(c *cross) {
	s.Line(c.x, c.y, c.x, c.y+c.t, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
}

// upright is a dimension between two heights; its figure begins to the right of it, or ends to its left.
func (s *sheet) upright(x, y0, y1 float64, text string, at pen.Anchor) {
	k := pen.Stroke{Ink: pen.Ink, Width: pen.Thin}
	s.Line(x, y0, x, y1, k)
	s.Line(x-0.8, y0, x+0.8, y0, k)
	s.Line(x-0.8, y1, x+0.8, y1, k)
	beside := 1.2
	if at == pen.Right {
		beside = -1.2
	}
	s.Text(x+beside, (y0+y1)/2+0.36*pen.Small, text, pen.Letters{Size: pen.Small, At: at})
}

// level is a dimension between two places.
type level struct {
	x0, x1 float64
	text   string
}

// levels draws dimensions under a section, a second one lower where its figure would lie on the first one's, and
// returns where they end.
func (s *sheet) levels(y float64, list ...level) float64 {
	k, l := pen.Stroke{Ink: pen.Ink, Width: pen.Thin}, pen.Letters{Size: pen.Small, At: pen.Middle}
	taken := math.Inf(-1)
	for _, d := range list {
		middle := (d.x0 + d.x1) / 2
		if middle-pen.Width(d.text, l)/2 < taken+0.6 {
			y += pen.Small + 2
		}
		s.Line(d.x0, y, d.x1, y, k)
		s.Line(d.x0, y-0.8, d.x0, y+0.8, k)
		s.Line(d.x1, y-0.8, d.x1, y+0.8, k)
		s.Text(middle, y+pen.Small+0.4, d.text, l)
		taken = middle + pen.Width(d.text, l)/2
	}
	return y + pen.Small + 1.5
}

// slotSection is a slot for a biscuit or loose tenon.
func (s *sheet) slotSection(x, y, w float64, m *mark) float64 {
	half := float64(m.part.Length) / 2
	c := s.crossSection(x, y, w, math.Max(half+14, float64(s.thickness)*0.9))
	h := float64(m.part.Thickness)
	for row := range m.rows {
		centre := float64(s.thickness) * (2*float64(row) + 1) / (2 * float64(m.rows))
		p := c.at(-half, centre-h/2)
		s.Rect(p.X, p.Y, 2*half*c.scale, h*c.scale, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	}
	s.seamIn(c)
	above := s.thickness/measure.Length(2*m.rows) - m.part.Thickness/2
	s.upright(c.x-c.span-3, c.y+c.t-float64(above)*c.scale, c.y+c.t, s.most(above), pen.Right)
	y += c.t
	return s.levels(y+2, level{c.x, c.at(half, 0).X, s.least(m.part.Length / 2)})
}

// slotTold says what is to be known of a slot.
func (s *sheet) slotTold(m *mark) string {
	above := s.thickness/measure.Length(2*m.rows) - m.part.Thickness/2
	where := s.say("in the middle of the thickness")
	if m.rows > 1 {
		where = s.say("in two rows, a quarter of the thickness from either face")
	}
	return s.say("Slots %s thick and tight, %s, in both pieces, %s deep or a little more; %s of wood above. Along the seam as long as the table says.",
		s.phrase(m.part.Thickness), where, s.least(m.part.Length/2), s.mostPhrase(above))
}

// boltSection is a draw bolt with its recesses and channel.
func (s *sheet) boltSection(x, y, w float64, m *mark) float64 {
	f := m.part
	d, r, deep := float64(f.RecessDistance), float64(f.RecessDiameter)/2, float64(f.RecessDepth)
	c := s.crossSection(x, y, w, d+r+12)
	for _, side := range []float64{-1, 1} {
		p := c.at(side*d-r, 0)
		s.Rect(p.X, p.Y, 2*r*c.scale, deep*c.scale, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	}
	p := c.at(-d+r, 0)
	s.Rect(p.X, p.Y, 2*(d-r)*c.scale, deep*c.scale, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "0.8 0.5",
		Fill: pen.White})
	axis := deep / 2
	b := math.Max(float64(f.BoltDiameter)*c.scale, 0.5)
	long := float64(f.Length)
	p = c.at(-long/2, axis)
	s.Rect(p.X, p.Y-b/2, long*c.scale, b, 0, pen.Stroke{Fill: pen.Faint})
	s.seamIn(c)
	s.upright(c.x-c.span-3, c.y, c.y+deep*c.scale, s.most(f.RecessDepth), pen.Right)
	s.upright(c.x-c.span-3, c.y+deep*c.scale, c.y+c.t, s.most(s.thickness-f.RecessDepth), pen.Right)
	y += c.t
	return s.levels(y+2, level{c.at(-d-r, 0).X, c.at(-d+r, 0).X, "⌀ " + s.exact(f.RecessDiameter)},
		level{c.x, c.at(d, 0).X, s.exact(f.RecessDistance)})
}

// boltTold says what is to be known of a draw bolt. Its channel is cut with the recess, by one setting of the router: common
// practice, as no catalogue tells its depth.
func (s *sheet) boltTold(m *mark) string {
	f := m.part
	text := s.say("From below, in both pieces: recess %s across and %s deep, its centre %s from the seam; %s of wood left above it. Channel as wide as the table says, from recess to recess and as deep as they are, %s (one setting of the router, common practice), so that the bolt lies %s below the underside. Bolt %s by %s; its washer, %s, bears beside the channel.",
		s.exact(f.RecessDiameter), s.most(f.RecessDepth), s.exact(f.RecessDistance), s.mostPhrase(s.thickness-f.RecessDepth),
		s.most(f.RecessDepth), s.exact(f.RecessDepth/2),
		s.exact(f.BoltDiameter), s.exact(f.Length), s.exact(f.BearingDiameter))
	if m.recess > 0 {
		text += " " + s.say("Make each recess as long along the seam as is said under the table, half of it to either side of its bolt: a round one would stop the washer before the wood has moved.")
	}
	return text
}

// pocketSection is a pocket screw.
func (s *sheet) pocketSection(x, y, w float64, m *mark) float64 {
	f := m.part
	seat, rim := s.pocket(f)
	bite := float64(f.Penetration)
	half := math.Max(rim+6, bite+10)
	c := s.crossSection(x, y, w, half)
	sin, cos := hardware.PocketLean.Sin(), hardware.PocketLean.Cos()
	mid := float64(s.thickness) / 2
	// from the seam into the piece with the pocket
	axis := func(along float64) pen.Point { return pen.At(along*cos, mid-along*sin) }
	wide := func(from, to, r float64) []pen.Point {
		a, b := axis(from), axis(to)
		return []pen.Point{pen.At(a.X-r*sin, a.Y-r*cos), pen.At(b.X-r*sin, b.Y-r*cos), pen.At(b.X+r*sin, b.Y+r*cos),
			pen.At(a.X+r*sin, a.Y+r*cos)}
	}
	place := func(poly []pen.Point) []pen.Point {
		poly = window{-half, 0, half, float64(s.thickness)}.clip(poly)
		out := make([]pen.Point, len(poly))
		for i, q := range poly {
			out[i] = c.at(q.X, q.Y)
		}
		return out
	}
	shank := float64(f.Length - f.Penetration)
	s.Poly(place(wide(shank, shank+400, float64(f.BoreDiameter)/2)), false,
		pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	s.Poly(place(wide(0, shank, float64(m.size)/2)), false, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.White})
	s.Poly(place(wide(-bite, shank, float64(f.ThreadDiameter)/2)), false, pen.Stroke{Fill: pen.Faint})
	s.Poly(place(wide(shank, shank+3, float64(f.HeadDiameter)/2)), false, pen.Stroke{Fill: pen.Ink})
	s.seamIn(c)
	tip := axis(-bite)
	above := float64(s.thickness) - tip.Y
	s.upright(c.x-c.span-3, c.at(0, tip.Y).Y, c.y+c.t, s.most(measure.Length(above)), pen.Right)
	s.Line(c.x-c.span-2, c.at(0, tip.Y).Y, c.at(tip.X, 0).X, c.at(0, tip.Y).Y, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	y += c.t
	return s.levels(y+2, level{c.at(-bite*cos, 0).X, c.x, s.exact(measure.Length(bite * cos))},
		level{c.x, c.at(seat, 0).X, s.exact(measure.Length(seat))})
}

// pocketTold says what is to be known of a pocket: where its mouth opens on the underside and where its drill stops follow from
// the lean and from leaving at half the thickness t. Along the drill the underside is t/2 / sin lean from the seam, and the
// screw's head bears its length less what bites from it; the mouth's middle is t/2 / tan lean from the seam.
//
// Source: plane geometry; the lean is common practice.
func (s *sheet) pocketTold(m *mark) string {
	f := m.part
	owner, other := s.moving()
	half, lean := s.thickness/2, hardware.PocketLean
	mouth := half * measure.Length(lean.Cos()/lean.Sin())
	shank := f.Length - f.Penetration
	stop := half/measure.Length(lean.Sin()) - shank
	above := s.thickness - (half + f.Penetration*measure.Length(lean.Sin()))
	return s.say("Pocket %s across, bored from below into %s, leaning about %s (common practice; the jig decides) so that the screw leaves at half the thickness, %s from either face. Middle of its mouth %s from the seam; drill stop: the shoulder %s deep, along the drill from the underside, which leaves %s under the head.",
		s.phrase(f.BoreDiameter), owner, s.degrees(lean), s.exact(half), s.exact(mouth), s.most(stop), s.exact(shank)) + " " +
		s.say("Screw %s long, %s of it in %s; its point stays %s below the face. Open the exit hole in %s to the table’s diameter; head or washer %s.",
			s.exact(f.Length), s.exact(f.Penetration), other, s.most(above), owner,
			s.phrase(max(f.HeadDiameter, min(f.WasherDiameter, f.BoreDiameter))))
}
