package seam

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
)

// strap is the seam's figures in one row of boxes, or two on a narrow sheet.
func (s *sheet) strap(x, y, w float64) float64 {
	figures := [][2]string{
		{"Seam length", s.exact(s.c.Geometry.SeamLength)},
		{"Corner, room side", degrees(s.corner.Angle)},
		{"Thickness", s.exact(s.thickness)},
		{"Held flush (▲▼)", s.heldText()},
		{"Front kept clear", s.keepText()},
	}
	perRow := 5
	if s.narrow {
		perRow = 3
	}
	each := w / float64(perRow)
	for i, f := range figures {
		at := x + each*float64(i%perRow)
		if i > 0 && i%perRow == 0 {
			y += 8.6
		}
		s.Text(at, y+2.4, f[0], pen.Letters{Size: pen.Small, Ink: pen.Faint})
		s.Text(at, y+6, pen.Fit(f[1], each-1, pen.Letters{Size: pen.Head, Bold: true}), pen.Letters{Size: pen.Head, Bold: true})
	}
	return y + 9.5
}

// facts are the cuts and what the seasons do.
func (s *sheet) facts(x, y, w float64) float64 {
	g := &s.c.Geometry
	y = s.Headline(x, y, w, "Cuts")
	y = s.three(x, y, w, "", s.first, s.second, true)
	first, second := s.cutTexts()
	y = s.three(x, y, w, "Cut angle", first[0], second[0], false)
	y = s.three(x, y, w, "Saw off square", first[1], second[1], false)
	y = s.three(x, y, w, "Wall edge", s.exact(g.First.WallEdge), s.exact(g.Second.WallEdge), false)
	y = s.three(x, y, w, "Front edge", s.exact(g.First.FrontEdge), s.exact(g.Second.FrontEdge), false)
	y = s.Paragraph(x, y+0.3, w, s.cutNote(), pen.Letters{Size: pen.Small}) + 2
	y = s.Headline(x, y, w, "What the seasons do")
	dry, humid := &s.c.Movement.Dry, &s.c.Movement.Humid
	y = s.three(x, y, w, "", "dry", "humid", true)
	y = s.three(x, y, w, "Slide, far end", s.farSlide(dry), s.farSlide(humid), false)
	y = s.three(x, y, w, "Opening", s.opening(dry), s.opening(humid), false)
	y = s.three(x, y, w, "or the corner turns", turnText(dry.AngleChange), turnText(humid.AngleChange), false)
	note := "Opening: if the corner cannot turn. Free to swing, it turns instead and stays shut."
	switch m := &s.c.Movement; {
	case m.Restrained:
		note = "Held rigid, the seam opens by this. " + m.RestrainedWhy
	case m.RestrainedWhy != "":
		note = "The corner turns and the seam stays shut; held rigid, it would open by this. " + m.RestrainedWhy
	}
	if dry.MaxOpening == 0 && humid.MaxOpening == 0 {
		note = "The seam slides and stays shut."
	}
	return s.Paragraph(x, y+0.3, w, note, pen.Letters{Size: pen.Small}) + 3
}

// exact is a length for the tape, to 1/32 in or half a millimetre.
func (s *sheet) exact(l measure.Length) string { return l.Text(s.units) }

// most is a depth or the wood that is left, rounded down; least a size that must not come out smaller, rounded up.
func (s *sheet) most(l measure.Length) string  { return l.TextAs(s.units, measure.Most) }
func (s *sheet) least(l measure.Length) string { return l.TextAs(s.units, measure.Least) }

func (s *sheet) heldText() string {
	switch s.c.Movement.HoldAt {
	case hardware.HoldCentre:
		return "centre, " + s.exact(s.held)
	case hardware.HoldBack:
		return "wall end, " + s.exact(s.held)
	default:
		return "front end, 0"
	}
}

func (s *sheet) keepText() string {
	keep := s.c.Geometry.FrontKeep
	switch {
	case keep <= 0:
		return "0"
	case s.turn > 0:
		return keep.TextAs(s.units, measure.Least) + ", mitred"
	default:
		return keep.TextAs(s.units, measure.Least) + ", profile"
	}
}

// cutTexts are the cut angle and saw setting of both pieces. A run that goes through is not cut along the seam: its
// end follows the wall, or at a reflex corner the other run's front.
func (s *sheet) cutTexts() (first, second [2]string) {
	g := &s.c.Geometry
	return [2]string{degrees(g.First.CutAngle), degrees(g.First.SawSetting)}, [2]string{degrees(g.Second.CutAngle), degrees(g.Second.SawSetting)}
}

// cutNote says how the angles are meant.
func (s *sheet) cutNote() string {
	text := "Cut angle: between the piece's length and its cut, in the wood. "
	switch {
	case !s.c.Joint.Kind.RunsThrough():
	case s.corner.Angle > 180*measure.Degree:
		text += s.through() + " goes through: the angle is of its end, along " + s.stopping() + "’s front. "
	case s.turn > 0:
		text += s.through() + " goes through: the angle is of its end, along the other wall. Both are notched: the first " + s.exact(s.turn) + " of the seam at " + degrees(s.corner.Angle/2) + " to either front edge, then along " + s.through() + ". "
	default:
		text += s.through() + " goes through: the angle is of its end, along the other wall; its front edge takes the seam. "
	}
	if s.c.Geometry.First.SawSetting.Number() < 0 || s.c.Geometry.Second.SawSetting.Number() < 0 { // as shown: noise is not negative
		text += "A negative saw setting leans the other way. "
	}
	if gap := s.c.Geometry.NominalErrorGap; gap.Number(s.units) > 0 {
		text += "Cut for " + degrees(s.c.Geometry.NominalAngle) + " instead, the seam would gape by " + s.phrase(gap) + " at its far end. "
	}
	switch s.c.Carry {
	case "site_template":
		text += "Mark both ends of the seam from the site template; it goes before these angles."
	case "scribe":
		text += "Scribe " + s.stopping() + " in place; the scribed line goes before these angles."
	default:
		text += "Nothing carries the real corner to the wood: measure the angle again before cutting."
	}
	return text
}

// farSlide is a season's slide at the end of the seam furthest from the held point, with its arrow. Held at the centre
// both ends slide, away from it or towards it.
func (s *sheet) farSlide(season *joint.Season) string {
	slide := season.MaxSlip
	if s.c.Movement.HoldAt == hardware.HoldBack {
		slide = -slide
	}
	return slideText(slide, s.units)
}

// opening is how wide the seam gapes, and where.
func (s *sheet) opening(season *joint.Season) string {
	if season.MaxOpening == 0 {
		return "0"
	}
	return plainFigure(measure.Length(math.Abs(float64(season.MaxOpening))), s.units) + " " + string(season.OpensAt)
}

func turnText(a measure.Angle) string {
	if measure.Round(a.Degrees(), 2) > 0 {
		return "+" + degrees(a)
	}
	return degrees(a)
}

// three writes a name and the figures of two.
func (s *sheet) three(x, y, w float64, name, a, b string, head bool) float64 {
	l := pen.Letters{Size: pen.Body, Bold: head}
	s.Text(x, y+3, name, pen.Letters{Size: pen.Body})
	l.At = pen.Right
	half := w * 0.33
	s.Text(x+w-half, y+3, pen.Fit(a, half-1, l), l)
	s.Text(x+w, y+3, pen.Fit(b, half-1, l), l)
	return y + 4.2
}
