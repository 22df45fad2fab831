package division_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/division"
	"seamwright/service/measure"
)

func TestPlacesAreEqualPartsUnlessSomethingIsInTheWay(t *testing.T) {
	t.Parallel()
	s := division.Slab{To: 4800, Longest: 2500, Least: 600, Grid: 10}
	require.Equal(t, []measure.Length{2400}, s.Places())
	s.Barred = []division.Stretch{{From: 2330, To: 2490}}
	require.Equal(t, []measure.Length{2330}, s.Places(), "the nearer side of what is in the way")
	s.Held = []division.Stretch{{From: 2490, To: 2600}, {From: 600, To: 700}}
	require.Equal(t, []measure.Length{2490}, s.Places(), "on what carries it")
	s.Longest = 1650
	require.Len(t, s.Places(), 2)
	s.Longest = 900
	require.Nil(t, s.Places(), "so many pieces nobody joins")
	require.Nil(t, (&division.Slab{To: 1000, Longest: 500, Least: 520, Grid: 10}).Places())
}

// What is found is allowed, and no other division into as many pieces is better: all of them are tried.
func TestPlacesAreTheBestOfAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, from, to int) measure.Length {
			return measure.Length(rapid.IntRange(from, to).Draw(t, name)) * 10
		}
		s := division.Slab{From: -length("before", 0, 3), To: length("to", 10, 40), Longest: length("longest", 5, 30),
			Least: length("least", 1, 6), Grid: 10}
		for range rapid.IntRange(0, 3).Draw(t, "barred") {
			at := length("at", 0, 40)
			s.Barred = append(s.Barred, division.Stretch{From: at, To: at + length("wide", 1, 12)})
		}
		for range rapid.IntRange(0, 2).Draw(t, "held") {
			at := length("at", 0, 40)
			s.Held = append(s.Held, division.Stretch{From: at, To: at + length("wide", 0, 6)})
		}
		got := s.Places()
		for n := 2; n <= 4; n++ {
			best := math.Inf(1)
			forEach(&s, n, func(at []measure.Length) { best = math.Min(best, cost(&s, at)) })
			if math.IsInf(best, 1) {
				continue
			}
			require.Len(t, got, n-1, "the fewest pieces")
			require.InDelta(t, best, cost(&s, got), 1e-3)
			return
		}
		require.Nil(t, got)
	})
}

// forEach tries every division of a slab into n pieces.
func forEach(s *division.Slab, n int, try func([]measure.Length)) {
	var walk func(at []measure.Length, from measure.Length)
	walk = func(at []measure.Length, from measure.Length) {
		if len(at) == n-1 {
			try(at)
			return
		}
		for x := math.Floor(float64(from/s.Grid)) * 10; x <= float64(s.To); x += 10 {
			if measure.Length(x) > from {
				walk(append(at[:len(at):len(at)], measure.Length(x)), measure.Length(x))
			}
		}
	}
	walk(nil, s.From)
}

// cost is what a division is judged by: seams that nothing carries, then how far pieces are from equal; infinite for one
// that is not allowed.
func cost(s *division.Slab, at []measure.Length) float64 {
	total, last := 0.0, s.From
	equal := (s.To - s.From) / measure.Length(len(at)+1)
	for i := range len(at) + 1 {
		to := s.To
		if i < len(at) {
			to = at[i]
			held := len(s.Held) == 0
			for _, b := range s.Barred {
				if to > b.From && to < b.To {
					return math.Inf(1)
				}
			}
			for _, h := range s.Held {
				held = held || to >= h.From && to <= h.To
			}
			if !held {
				total += 1e9
			}
		}
		if to-last > s.Longest || to-last < s.Least {
			return math.Inf(1)
		}
		total += float64(to-last-equal) * float64(to-last-equal)
		last = to
	}
	return total
}
