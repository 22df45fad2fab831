package passage

import "seamwright/service/measure"

// door carries a piece square through an opening as deep as a wall: its section must fit. Where depth × thickness does,
// any length passes; else the piece may go sideways, its length across the opening.
func (s *Step) door(p Piece) Verdict {
	w, h := float64(s.Width), orNoLimit(s.Height)
	d, t := float64(p.Depth), float64(p.Thickness)
	if rectangleFits(d, t, w, h) {
		hold := Tilted
		switch {
		case d <= h && t <= w:
			hold = OnEdge
		case d <= w && t <= h:
			hold = Flat
		}
		return Verdict{Passes: true, Hold: hold, Longest: Unlimited}
	}
	longest := measure.Length(max(longestIn(t, w, h), longestIn(d, w, h)))
	return Verdict{Passes: fits(p, longest), Hold: Across, Longest: longest}
}
