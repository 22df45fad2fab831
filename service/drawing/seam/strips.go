package seam

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// strip is a stretch of the seam drawn in one row: both views, their marks and arrows.
type strip struct {
	from, to float64 // mm of wood
	marks    []mark
}

const (
	margin    = 10.0 // paper beside the seam's ends in a strip
	smallest  = 12   // a whole seam is drawn no smaller than 1 : 12; a longer one is divided
	largest   = 2    // nor larger than 1 : 2; short seams are not blown up
	tallest   = 50.0 // the view from below takes no more paper than this
	markHalf  = 2.3  // half of a numbered mark
	markWidth = 5.4  // what it takes beside others
)

// strips divides the seam so that each stretch fits the paper at one usual scale, never through a part, and its numbered
// marks have room.
func (s *sheet) strips(paper float64) ([]strip, pen.Scale) {
	length, usable, wide := float64(s.c.Geometry.SeamLength), paper-2*margin, markWidth
	if len(s.marks) > 99 {
		wide = 7
	}
	for n := max(1, int(math.Ceil(length/(usable*smallest)))); ; n++ {
		cut := s.cuttings(n)
		longest := 0.0
		for _, t := range cut {
			longest = math.Max(longest, t.to-t.from)
		}
		scale := max(pen.ChooseScale(s.units == measure.Inches, longest, 2*s.reach(), usable, tallest), largest)
		room := scale <= smallest
		for _, t := range cut {
			room = room && float64(len(t.marks))*wide <= (t.to-t.from)/float64(scale)+2*margin
		}
		if room || n > len(s.marks)+8 {
			return cut, scale
		}
	}
}

// cuttings divides the seam into n stretches of about the same length, between parts.
func (s *sheet) cuttings(n int) []strip {
	length := float64(s.c.Geometry.SeamLength)
	out := make([]strip, 0, n)
	from, k := 0.0, 0
	for i := 1; i <= n; i++ {
		to := length
		if i < n {
			to = s.between(length * float64(i) / float64(n))
		}
		t := strip{from: from, to: to}
		for k < len(s.marks) && float64(s.marks[k].at) <= to {
			t.marks = append(t.marks, s.marks[k])
			k++
		}
		if to > from {
			out = append(out, t)
			from = to
		}
	}
	return out
}

// between is the middle between the two neighbouring parts round a place.
func (s *sheet) between(x float64) float64 {
	for i := 1; i < len(s.marks); i++ {
		a, b := float64(s.marks[i-1].at), float64(s.marks[i].at)
		if a <= x && x <= b {
			return (a + b) / 2
		}
	}
	return x
}

// reach is how far from the seam the view from below must show the wood.
func (s *sheet) reach() float64 {
	most := 45.0
	for i := range s.marks {
		most = math.Max(most, s.marks[i].drawn.across(s, &s.marks[i], s.pocketSide())+12)
	}
	return most
}

// pocket is where a pocket shows on the underside: from its head seat to the far rim of its mouth, from the seam.
func (s *sheet) pocket(f *catalogue.Fastener) (seat, rim float64) {
	return float64(hardware.PocketSeat(f)), float64(hardware.PocketRim(f, s.thickness))
}

// pocketSide is the side of the page on which the pockets lie: the stopping run's, of a miter the first run's.
func (s *sheet) pocketSide() float64 {
	if s.c.Joint.Through == plan.First {
		return -s.side
	}
	return s.side
}
