package passage

import "seamwright/service/measure"

// section is a way as all pieces of one depth and thickness meet it: how long a piece is only decides whether it passes, and how it is
// held then.
type section struct {
	depth, thickness measure.Length
	steps            []room
	longest          measure.Length // that passes all steps
}

// room is what a step has for pieces of one depth and thickness.
type room struct {
	longest, endUp, straight measure.Length // as a verdict has them
	holds                    [mostHolds]held
	count                    int // of the holds
}

// mostHolds is how many ways of holding a step may try: a car has nine places.
const mostHolds = 9

// held is a way to hold a piece that is no longer than so much.
type held struct {
	longest measure.Length
	hold    Hold
}

// may adds a way to hold a piece, after those that are easier.
func (r *room) may(hold Hold, longest measure.Length) {
	r.holds[r.count] = held{longest, hold}
	r.count++
}

// verdict is what a step says of a piece of its length.
func (r *room) verdict(p Piece) Verdict {
	v := Verdict{Passes: fits(p, r.longest), Longest: r.longest, EndUp: r.endUp, Straight: r.straight}
	for i := 0; v.Passes && v.Hold == NoHold && i < r.count; i++ {
		if fits(p, r.holds[i].longest) {
			v.Hold = r.holds[i].hold
		}
	}
	return v
}

// of is the way as pieces of a depth and thickness meet it.
func (w *Walk) of(depth, thickness measure.Length) *section {
	for i := range w.sections {
		if s := &w.sections[i]; s.depth == depth && s.thickness == thickness {
			return s
		}
	}
	s := section{depth, thickness, make([]room, len(w.Steps)), Unlimited}
	for i := range w.Steps {
		s.steps[i] = w.room(&w.Steps[i], float64(depth), float64(thickness))
		s.longest = min(s.longest, s.steps[i].longest)
	}
	w.sections = append(w.sections, s)
	return &w.sections[len(w.sections)-1]
}

func (w *Walk) room(s *Step, depth, thickness float64) room {
	switch s.Kind {
	case Door:
		return s.door(depth, thickness)
	case Turn:
		return s.turn(depth, thickness, w)
	case Lift:
		return s.lift(depth, thickness)
	}
	return room{}
}
