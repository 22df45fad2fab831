// Package division finds where a long slab is best made of several pieces that meet end to end.
package division

import (
	"math"

	"seamwright/service/measure"
)

// Stretch is a part of the slab, along it.
type Stretch struct{ From, To measure.Length }

// Slab is what is to be divided.
type Slab struct {
	From, To measure.Length // its outermost points
	Longest  measure.Length // that a piece may be
	Least    measure.Length // that a piece must be
	Grid     measure.Length // places count in whole ones, from 0

	Barred []Stretch // no seam between their ends
	Held   []Stretch // where what stands below carries both sides of a seam; nil: not known, and no place is better than another
}

// most is how many pieces a slab is made of at most. Common practice: nobody joins more on a site.
const most = 4

// Places are the places of the seams that make as few pieces as may be; of these as many as may be are held, and of these
// the pieces are as near to equal as may be (the least sum of squares). Nil: none are found, or none are needed.
//
// It goes from seam to seam and keeps of each place the best way there (dynamic programming).
func (s *Slab) Places() []measure.Length {
	if s.Longest <= 0 {
		return nil
	}
	places := s.free()
	for n := max(2, int(math.Ceil(float64((s.To-s.From)/s.Longest)-1e-9))); n <= most; n++ {
		if at := s.divide(places, n); at != nil {
			return at
		}
	}
	return nil
}

// free are the places that are not barred.
func (s *Slab) free() (places []measure.Length) {
	first := measure.Length(math.Ceil(float64((s.From + s.Least) / s.Grid)))
next:
	for at := first * s.Grid; at <= s.To-s.Least; at += s.Grid {
		for _, b := range s.Barred {
			if at > b.From && at < b.To {
				continue next
			}
		}
		places = append(places, at)
	}
	return places
}

// held reports whether a seam there is carried.
func (s *Slab) held(at measure.Length) bool {
	for _, h := range s.Held {
		if at >= h.From && at <= h.To {
			return true
		}
	}
	return false
}

// way is the best way to a place: what it costs, and the place before.
type way struct {
	cost   float64
	before int
}

func (s *Slab) divide(places []measure.Length, n int) []measure.Length {
	equal := (s.To - s.From) / measure.Length(n)
	unheld := float64(n) * float64(s.To-s.From) * float64(s.To-s.From) // more than all differences together
	part := func(from, to measure.Length) float64 {
		if to-from > s.Longest+1e-6 || to-from < s.Least-1e-6 {
			return math.Inf(1)
		}
		return float64(to-from-equal) * float64(to-from-equal)
	}
	seam := make([]float64, len(places))
	for i, at := range places {
		if len(s.Held) > 0 && !s.held(at) {
			seam[i] = unheld
		}
	}
	ways := make([][]way, n-1)
	for k := range ways {
		ways[k] = make([]way, len(places))
		for i, at := range places {
			w := way{math.Inf(1), -1}
			if k == 0 {
				w.cost = part(s.From, at)
			} else {
				for b := range i {
					if c := ways[k-1][b].cost + part(places[b], at); c < w.cost {
						w = way{c, b}
					}
				}
			}
			w.cost += seam[i]
			ways[k][i] = w
		}
	}
	best, least := -1, math.Inf(1)
	for i, at := range places {
		if c := ways[n-2][i].cost + part(at, s.To); c < least {
			best, least = i, c
		}
	}
	if best < 0 {
		return nil
	}
	out := make([]measure.Length, n-1)
	for k := n - 2; k >= 0; k-- {
		out[k] = places[best]
		best = ways[k][best].before
	}
	return out
}
