package passage

import "seamwright/service/measure"

// door carries a piece square through an opening as deep as a wall: its section must fit. Where depth × thickness does,
// any length passes; else the piece may go sideways, its length across the opening.
func (s *Step) door(d, t float64) (r room) {
	w, h := float64(s.Width), orNoLimit(s.Height)
	if rectangleFits(d, t, w, h) {
		hold := Tilted
		switch {
		case d <= h && t <= w:
			hold = OnEdge
		case d <= w && t <= h:
			hold = Flat
		}
		r.longest = Unlimited
		r.may(hold, Unlimited)
		return r
	}
	r.longest = measure.Length(max(longestIn(t, w, h), longestIn(d, w, h)))
	r.may(Across, r.longest)
	return r
}
