package seam

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// sections sketches one of each kind of cut, across the seam, with its dimensions. Underside up, as on the bench.
func (s *sheet) sections(x, y, w float64) float64 {
	seen := map[string]bool{}
	for i := range s.marks {
		m := &s.marks[i]
		if seen[m.part.Code] {
			continue
		}
		if len(seen) == 0 {
			y = s.headline(x, y, w, "Sections across the seam, underside up")
		}
		seen[m.part.Code] = true
		switch m.kind {
		case catalogue.DrawBolt:
			y = s.boltSection(x, y, w, m)
		case catalogue.PocketScrew:
			y = s.pocketSection(x, y, w, m)
		default:
			y = s.slotSection(x, y, w, m)
		}
	}
	return y
}

// cross is the frame of a section: the seam in the middle, the underside above.
type cross struct {
	x, y, scale float64 // paper of the seam and the underside; paper per wood
	t           float64 // thickness on paper
	span        float64 // half of its width on paper
}

func (c *cross) at(across, depth float64) point {
	return point{c.x + across*c.scale, c.y + depth*c.scale}
}

// crossSection draws the two pieces to half a width of wood either side.
func (s *sheet) crossSection(x, y, w, half float64) *cross {
	dims := 26.0 // beside the section, for dimensions at both sides
	c := &cross{x: x + w/2, y: y, scale: math.Min((w-dims)/(2*half), 22/float64(s.thickness))}
	c.t = float64(s.thickness) * c.scale
	span := half * c.scale
	s.rect(c.x-span, y, 2*span, c.t, 0, stroke{fill: wood})
	s.line(c.x-span, y, c.x+span, y, stroke{ink: ink, width: thick})
	s.line(c.x-span, y+c.t, c.x+span, y+c.t, stroke{ink: ink, width: thick})
	for _, e := range []float64{-span, span} {
		s.line(c.x+e, y-0.5, c.x+e, y+c.t+0.5, stroke{ink: faint, width: thin, dash: "2 0.8 0.4 0.8"})
	}
	c.span = span
	s.upright(c.x+span+3, y, y+c.t, s.exact(s.thickness), left)
	return c
}

// seamIn draws the seam of a section.
func (s *sheet) seamIn(c *cross) {
	s.line(c.x, c.y, c.x, c.y+c.t, stroke{ink: ink, width: medium})
}

// upright is a dimension between two heights; its figure begins to the right of it, or ends to its left.
func (s *sheet) upright(x, y0, y1 float64, text string, at anchor) {
	k := stroke{ink: ink, width: thin}
	s.line(x, y0, x, y1, k)
	s.line(x-0.8, y0, x+0.8, y0, k)
	s.line(x-0.8, y1, x+0.8, y1, k)
	beside := 1.2
	if at == right {
		beside = -1.2
	}
	s.text(x+beside, (y0+y1)/2+0.36*sizeSmall, text, letters{size: sizeSmall, at: at})
}

// level is a dimension between two places, its figure under it.
func (s *sheet) level(y, x0, x1 float64, text string) {
	k := stroke{ink: ink, width: thin}
	s.line(x0, y, x1, y, k)
	s.line(x0, y-0.8, x0, y+0.8, k)
	s.line(x1, y-0.8, x1, y+0.8, k)
	s.text((x0+x1)/2, y+sizeSmall+0.4, text, letters{size: sizeSmall, at: middle})
}

// slotSection is a slot for a biscuit or loose tenon.
func (s *sheet) slotSection(x, y, w float64, m *mark) float64 {
	y = s.paragraph(x, y, w, fit(m.part.Name, w, letters{size: sizeBody, bold: true}), letters{size: sizeBody, bold: true}) + 1
	half := float64(m.part.Length) / 2
	c := s.crossSection(x, y, w, math.Max(half+14, float64(s.thickness)*0.9))
	h := float64(m.part.Thickness)
	for row := range m.rows {
		centre := float64(s.thickness) * (2*float64(row) + 1) / (2 * float64(m.rows))
		p := c.at(-half, centre-h/2)
		s.rect(p.x, p.y, 2*half*c.scale, h*c.scale, 0, stroke{ink: ink, width: medium, fill: white})
	}
	s.seamIn(c)
	above := s.thickness/measure.Length(2*m.rows) - m.part.Thickness/2
	s.upright(c.x-c.span-3, c.y+c.t-float64(above)*c.scale, c.y+c.t, s.exact(above), right)
	y += c.t
	s.level(y+2, c.x, c.at(half, 0).x, s.exact(m.part.Length/2))
	y += 2 + sizeSmall + 1.5
	where := "in the middle of the thickness"
	if m.rows > 1 {
		where = "in two rows, a quarter of the thickness from either face"
	}
	return s.paragraph(x, y, w, fmt.Sprintf("Slots %s thick and tight, %s, in both pieces, %s deep or a little more; %s of wood above. Along the seam as long as the table says.",
		s.phrase(m.part.Thickness), where, s.exact(m.part.Length/2), s.phrase(above)), letters{size: sizeSmall}) + 2.5
}

// boltSection is a draw bolt with its recesses and channel.
func (s *sheet) boltSection(x, y, w float64, m *mark) float64 {
	f := m.part
	y = s.paragraph(x, y, w, fit(f.Name, w, letters{size: sizeBody, bold: true}), letters{size: sizeBody, bold: true}) + 1
	d, r, deep := float64(f.RecessDistance), float64(f.RecessDiameter)/2, float64(f.RecessDepth)
	c := s.crossSection(x, y, w, d+r+12)
	for _, side := range []float64{-1, 1} {
		p := c.at(side*d-r, 0)
		s.rect(p.x, p.y, 2*r*c.scale, deep*c.scale, 0, stroke{ink: ink, width: medium, fill: white})
	}
	p := c.at(-d+r, 0)
	s.rect(p.x, p.y, 2*(d-r)*c.scale, deep*c.scale, 0, stroke{ink: ink, width: thin, dash: "0.8 0.5", fill: white})
	axis := deep / 2
	b := math.Max(float64(f.BoltDiameter)*c.scale, 0.5)
	long := float64(f.Length)
	p = c.at(-long/2, axis)
	s.rect(p.x, p.y-b/2, long*c.scale, b, 0, stroke{fill: faint})
	s.seamIn(c)
	s.upright(c.x-c.span-3, c.y, c.y+deep*c.scale, s.exact(f.RecessDepth), right)
	s.upright(c.x-c.span-3, c.y+deep*c.scale, c.y+c.t, s.exact(s.thickness-f.RecessDepth), right)
	y += c.t
	s.level(y+2, c.x, c.at(d, 0).x, s.exact(f.RecessDistance))
	s.level(y+2, c.at(-d-r, 0).x, c.at(-d+r, 0).x, "⌀ "+s.exact(f.RecessDiameter))
	y += 2 + sizeSmall + 1.5
	return s.paragraph(x, y, w, fmt.Sprintf("From below, in both pieces: recess %s across and %s deep, its centre %s from the seam; %s of wood left above it. Channel as wide as the table says, from recess to recess, deep enough for the bolt and no deeper than the recess. Bolt %s by %s; its washer, %s, bears beside the channel.",
		s.exact(f.RecessDiameter), s.exact(f.RecessDepth), s.exact(f.RecessDistance), s.phrase(s.thickness-f.RecessDepth), s.exact(f.BoltDiameter), s.exact(f.Length), s.exact(f.BearingDiameter)), letters{size: sizeSmall}) + 2.5
}

// pocketSection is a pocket screw.
func (s *sheet) pocketSection(x, y, w float64, m *mark) float64 {
	f := m.part
	y = s.paragraph(x, y, w, fit(f.Name, w, letters{size: sizeBody, bold: true}), letters{size: sizeBody, bold: true}) + 1
	seat, rim := s.pocket(f)
	pen := float64(f.Penetration)
	half := math.Max(rim+6, pen+10)
	c := s.crossSection(x, y, w, half)
	sin, cos := pocketAngle.Sin(), pocketAngle.Cos()
	mid := float64(s.thickness) / 2
	axis := func(along float64) point { return point{along * cos, mid - along*sin} } // from the seam into the piece with the pocket
	wide := func(from, to, r float64) []point {
		a, b := axis(from), axis(to)
		return []point{{a.x - r*sin, a.y - r*cos}, {b.x - r*sin, b.y - r*cos}, {b.x + r*sin, b.y + r*cos}, {a.x + r*sin, a.y + r*cos}}
	}
	place := func(poly []point) []point {
		poly = window{-half, 0, half, float64(s.thickness)}.clip(poly)
		out := make([]point, len(poly))
		for i, q := range poly {
			out[i] = c.at(q.x, q.y)
		}
		return out
	}
	shank := float64(f.Length - f.Penetration)
	s.poly(place(wide(shank, shank+400, float64(f.BoreDiameter)/2)), false, stroke{ink: ink, width: medium, fill: white})
	s.poly(place(wide(0, shank, float64(m.size)/2)), false, stroke{ink: ink, width: thin, fill: white})
	s.poly(place(wide(-pen, shank, float64(f.ThreadDiameter)/2)), false, stroke{fill: faint})
	s.poly(place(wide(shank, shank+3, float64(f.HeadDiameter)/2)), false, stroke{fill: ink})
	s.seamIn(c)
	tip := axis(-pen)
	above := float64(s.thickness) - tip.y
	s.upright(c.x-c.span-3, c.at(0, tip.y).y, c.y+c.t, s.exact(measure.Length(above)), right)
	s.line(c.x-c.span-2, c.at(0, tip.y).y, c.at(tip.x, 0).x, c.at(0, tip.y).y, stroke{ink: faint, width: thin})
	y += c.t
	s.level(y+2, c.x, c.at(seat, 0).x, s.exact(measure.Length(seat)))
	s.level(y+2, c.at(-pen*cos, 0).x, c.x, s.exact(measure.Length(pen*cos)))
	y += 2 + sizeSmall + 1.5
	owner, other := s.moving()
	text := fmt.Sprintf("Pocket %s across, bored from below into %s, leaning about %s (common practice; the jig decides) so that the screw leaves at half the thickness, %s from either face. Screw %s long, %s of it in %s; its point stays %s below the face. Open the exit hole in %s to the table’s diameter; head or washer %s.",
		s.phrase(f.BoreDiameter), owner, degrees(pocketAngle), s.exact(s.thickness/2), s.exact(f.Length), s.exact(f.Penetration), other, s.exact(measure.Length(above)), owner, s.phrase(max(f.HeadDiameter, min(f.WasherDiameter, f.BoreDiameter))))
	return s.paragraph(x, y, w, text, letters{size: sizeSmall}) + 2.5
}
