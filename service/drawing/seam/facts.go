package seam

import (
	"math"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// figures are the seam's figures with their names.
func (s *sheet) figures() [][2]string {
	return [][2]string{
		{s.say("Seam length"), s.exact(s.c.Geometry.SeamLength)},
		{s.say("Corner, room side"), s.degrees(s.corner.Angle)},
		{s.say("Thickness"), s.thick()},
		{s.say("Held flush (▲▼)"), s.heldText()},
		{s.say("Front kept clear"), s.keepText()},
	}
}

// strap is the seam's figures in one row of boxes, or in more on a narrow sheet.
func (s *sheet) strap(x, y, w float64) float64 {
	perRow := 5
	if s.narrow {
		perRow = 3
	}
	each := w / float64(perRow)
	for i, f := range s.figures() {
		at := x + each*float64(i%perRow)
		if i > 0 && i%perRow == 0 {
			y += 9.4
		}
		s.Text(at, y+2.6, pen.Fit(f[0], each-1, pen.Letters{Size: pen.Small}), pen.Letters{Size: pen.Small, Ink: pen.Faint})
		s.Text(at, y+6.6, pen.Fit(f[1], each-1, pen.Letters{Size: pen.Head, Bold: true}),
			pen.Letters{Size: pen.Head, Bold: true})
	}
	return y + 10.5
}

// cuts are the rows of the cuts: what, of the first piece, of the second.
func (s *sheet) cuts() [][3]string {
	first, second := &s.c.Geometry.First, &s.c.Geometry.Second
	return [][3]string{
		{s.say("Cut angle"), s.degrees(first.CutAngle), s.degrees(second.CutAngle)},
		{s.say("Saw off square"), s.degrees(first.SawSetting), s.degrees(second.SawSetting)},
		{s.say("Piece’s wall edge"), s.exact(first.WallEdge), s.exact(second.WallEdge)},
		{s.say("Piece’s front edge"), s.exact(first.FrontEdge), s.exact(second.FrontEdge)},
	}
}

// seasons are the rows of what the seasons do: what, dry, humid.
func (s *sheet) seasons() [][3]string {
	dry, humid := &s.c.Movement.Dry, &s.c.Movement.Humid
	rows := [][3]string{
		{s.say("Slide, far end"), s.farSlide(dry), s.farSlide(humid)},
		{s.say("Opening"), s.opening(dry), s.opening(humid)},
	}
	if dry.MaxOpening == 0 && humid.MaxOpening == 0 {
		return rows
	}
	rows = append(rows, [3]string{s.say("it opens at the"), s.opensAt(dry), s.opensAt(humid)})
	if still := s.turnText(0); s.turnText(dry.AngleChange) != still || s.turnText(humid.AngleChange) != still {
		rows = append(rows, [3]string{s.say("or, free to swing, its angle"), s.turnText(dry.AngleChange), s.turnText(humid.AngleChange)})
	}
	return rows
}

func (s *sheet) seasonNote() string {
	dry, humid := &s.c.Movement.Dry, &s.c.Movement.Humid
	if s.corner.InLine != nil {
		return s.say("Both pieces move alike: the seam stays shut, and nothing slides.")
	}
	if dry.MaxOpening == 0 && humid.MaxOpening == 0 {
		return s.say("The seam slides and stays shut.")
	}
	switch m := &s.c.Movement; {
	case m.Restrained:
		return s.say("Held rigid, the seam opens by this.") + " " + s.speech.Told(m.RestrainedWhy)
	case m.RestrainedWhy != "":
		return s.say("The corner turns and the seam stays shut; held rigid, it would open by this.") + " " +
			s.speech.Told(m.RestrainedWhy)
	default:
		return s.say("Opening: if the corner cannot turn. Free to swing, it turns instead and stays shut.")
	}
}

// facts are the cuts and what the seasons do.
func (s *sheet) facts(x, y, w float64) float64 {
	y = s.Headline(x, y, w, s.say("Cuts"))
	y = s.three(x, y, w, [3]string{"", s.first, s.second}, true)
	for _, row := range s.cuts() {
		y = s.three(x, y, w, row, false)
	}
	y = s.Paragraph(x, y+0.3, w, s.cutNote(), pen.Letters{Size: pen.Small}) + 2
	y = s.Headline(x, y, w, s.say("What the seasons do"))
	y = s.three(x, y, w, [3]string{"", s.say("dry"), s.say("humid")}, true)
	for _, row := range s.seasons() {
		y = s.three(x, y, w, row, false)
	}
	return s.Paragraph(x, y+0.3, w, s.seasonNote(), pen.Letters{Size: pen.Small}) + 3
}

func (s *sheet) heldText() string {
	switch s.c.Movement.HoldAt {
	case hardware.HoldCentre:
		return s.say("centre, %s", s.exact(s.held))
	case hardware.HoldBack:
		return s.say("wall end, %s", s.exact(s.held))
	default:
		return s.say("front end, 0")
	}
}

func (s *sheet) keepText() string {
	keep := s.c.Geometry.FrontKeep
	switch {
	case keep <= 0:
		return "0"
	case s.turn > 0:
		return s.say("%s, mitred", s.least(keep))
	default:
		return s.say("%s, profile", s.least(keep))
	}
}

// cutNote says how the angles are meant. A run that goes through is not cut along the seam: its end follows the wall, or at a
// reflex corner the other run's front.
func (s *sheet) cutNote() string {
	text := s.say("Cut angle: between the piece's length and its cut, in the wood.")
	switch {
	case !s.c.Joint.Kind.RunsThrough():
	case s.corner.Angle > 180*measure.Degree:
		text += " " + s.say("%s goes through: the angle is of its end, along the front of %s.", s.through(), s.stopping())
	case s.turn > 0:
		text += " " + s.say("%s goes through: the angle is of its end, along the other wall. Both are notched: the first %s of the seam at %s to either front edge, then along %s.",
			s.through(), s.exact(s.turn), s.degrees(s.corner.Angle/2), s.through())
	default:
		text += " " + s.say("%s goes through: the angle is of its end, along the other wall; its front edge takes the seam.",
			s.through())
	}
	// as shown: noise is not negative
	if s.c.Geometry.First.SawSetting.Number() < 0 || s.c.Geometry.Second.SawSetting.Number() < 0 {
		text += " " + s.say("A negative saw setting leans the other way.")
	}
	if gap := s.c.Geometry.NominalErrorGap; gap.Number(s.units) > 0 && plan.MayPassForNominal(s.corner.Angle) {
		text += " " + s.say("Cut for %s instead, the seam would gape by %s at its far end.",
			s.degrees(s.c.Geometry.NominalAngle), s.phrase(gap))
	}
	if s.corner.InLine != nil {
		return text + " " + s.say("Cut both ends in one setting, so that the fronts lie in one line.")
	}
	switch s.c.Carry {
	case "site_template":
		text += " " + s.say("Mark both ends of the seam from the site template; it goes before these angles.")
	case "scribe":
		text += " " + s.say("Scribe %s in place; the scribed line goes before these angles.", s.stopping())
	default:
		text += " " + s.say("Nothing carries the real corner to the wood: measure the angle again before cutting.")
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
	return s.slideText(slide)
}

// opening is how wide the seam gapes, and opensAt where.
func (s *sheet) opening(season *joint.Season) string {
	return s.plainFigure(measure.Length(math.Abs(float64(season.Gap(s.c.Movement.HoldAt)))))
}

func (s *sheet) opensAt(season *joint.Season) string {
	if season.OpensAt == joint.Nowhere {
		return "–"
	}
	return s.say(string(season.OpensAt))
}

func (s *sheet) turnText(a measure.Angle) string {
	switch turn := measure.Round(a.Degrees(), 2); {
	case turn > 0:
		return "+" + s.degrees(a)
	case turn < 0:
		return "−" + s.degrees(-a)
	}
	return s.degrees(a)
}

// three writes a name and the figures of two.
func (s *sheet) three(x, y, w float64, row [3]string, head bool) float64 {
	l := pen.Letters{Size: pen.Body, Bold: head}
	half := w * 0.3
	name := pen.Wrap(row[0], w-2*half-1, pen.Letters{Size: pen.Body})
	for i, line := range name {
		s.Text(x, y+3+float64(i)*pen.Body*1.2, line, pen.Letters{Size: pen.Body})
	}
	l.At = pen.Right
	s.Text(x+w-half, y+3, pen.Fit(row[1], half-1, l), l)
	s.Text(x+w, y+3, pen.Fit(row[2], half-1, l), l)
	return y + 4.6 + float64(max(len(name)-1, 0))*pen.Body*1.2
}

// thick is the thickness, with the layers that it is glued up from.
func (s *sheet) thick() string {
	if s.layers < 2 {
		return s.exact(s.thickness)
	}
	return s.say("%s, %s layers", s.exact(s.thickness), strconv.Itoa(s.layers))
}
