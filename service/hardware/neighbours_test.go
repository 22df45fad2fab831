package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// A metre of seam, slots 20 mm wide at least 6 mm from each other and at most 200 mm apart, pull parts 30 mm wide and at most
// 300 mm apart. Nothing slips.
func metre() placing {
	return placing{length: 1000, back: 1000, clear: 6, alignSpacing: 200, halfPull: 15, pullTo: 1000, pullFirst: 80,
		pullLast: 920, pullSpacing: 300, slotRules: slotRules{halfSlot: 10, alignFirst: 76, alignLast: 924, slotTo: 1000}}
}

// Rules hold at their very limit, and not a hundredth of a millimetre beyond.
func TestNeighboursKeepTheirDistance(t *testing.T) {
	t.Parallel()
	r := metre()
	require.True(t, r.alignsFollow(100, 300), "200 apart")
	require.False(t, r.alignsFollow(100, 300.01))
	require.True(t, r.alignsFollow(100, 126), "10 + 6 + 10")
	require.False(t, r.alignsFollow(100, 125.99))
	require.True(t, r.follow(100, 12, 128, 10), "12 + 6 + 10")
	require.False(t, r.follow(100, 12, 127.99, 10))
	require.True(t, r.follow(100, 12, 300, 10))
	require.False(t, r.follow(100, 12, 300.01, 10))
	require.True(t, r.pullsFollow(100, 400), "300 apart")
	require.False(t, r.pullsFollow(100, 400.01))
	require.True(t, r.pullsFollow(100, 136), "15 + 6 + 15")
	require.False(t, r.pullsFollow(100, 135.99))
	require.True(t, r.clearOfPulls(131, []measure.Length{100}), "15 + 6 + 10")
	require.False(t, r.clearOfPulls(130.99, []measure.Length{100}))
	require.False(t, r.clearOfPulls(69.01, []measure.Length{100}))

	r.rate = 0.01 // held at the front: 100 mm from it slots are 1 mm longer to either side, and channels too
	r.halfChannel = 15
	require.True(t, r.alignsFollow(100, (100+11+6+10)/0.99+1e-6), "11 + 6 + 10 + 1 % of where it stands")
	require.False(t, r.alignsFollow(100, (100+11+6+10)/0.99-0.01))
	require.True(t, r.pullsFollow(100, (100+16+6+15)/0.99+1e-6))
	require.False(t, r.pullsFollow(100, (100+16+6+15)/0.99-0.01))
}

func TestAlignmentPartsReachBothEnds(t *testing.T) {
	t.Parallel()
	r := metre()
	all := []measure.Length{76, 250, 430, 600, 770, 924}
	require.True(t, r.alignsStand(all, nil))
	require.False(t, r.alignsStand(nil, nil), "none reach nothing")
	require.False(t, r.alignsStand(append([]measure.Length{76.01}, all[1:]...), nil))
	require.False(t, r.alignsStand(append(append([]measure.Length{}, all[:5]...), 923.99), nil))
	require.False(t, r.alignsStand(all, []measure.Length{280.99}), "a pull part beside the second: 15 + 6 + 10 = 31")
	require.True(t, r.alignsStand(all, []measure.Length{281}))
	require.False(t, r.alignsStand(all[:1], nil))
}

// Whoever is moved off one bar may stand on another, wherever that is in the list.
func TestLimitsAreBehindAllBars(t *testing.T) {
	t.Parallel()
	r := metre()
	r.pullBars = []bar{{from: 200, to: 300, play: never, name: "third"}, {from: 100, to: 210, play: never, name: "second"},
		{from: 40, to: 110, play: never, name: "first"}, {from: 600, to: 700, play: never, name: "before"},
		{from: 690, to: 960, play: never, name: "last"}}
	first, last, front, back := r.pullLimits(50, 950)
	require.InDelta(t, 300, float64(first), 0)
	require.InDelta(t, 600, float64(last), 0)
	require.Equal(t, "third", front.name)
	require.Equal(t, "before", back.name)

	first, last, front, back = r.pullLimits(310, 590)
	require.InDelta(t, 310, float64(first), 0)
	require.InDelta(t, 590, float64(last), 0)
	require.Nil(t, front)
	require.Nil(t, back)
}

// The points of the line In = in that are nearer than reach to a segment: by Pythagoras at its ends, beside it by the right
// angle to it.
func TestCapsulesAreThoseOfPlaneGeometry(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		a, b      Place
		reach, in measure.Length
		from, to  float64
	}{
		{"a point, 3 : 4 : 5", Place{Along: 100, In: 3}, Place{Along: 100, In: 3}, 5, 0, 96, 104},
		{"along the seam", Place{Along: 100, In: 3}, Place{Along: 150, In: 3}, 5, 0, 96, 154},
		{"across the seam, crossing it", Place{Along: 100, In: -40}, Place{Along: 100, In: 60}, 5, 0, 95, 105},
		{"across the seam, above it", Place{Along: 100, In: 4}, Place{Along: 100, In: 60}, 5, 0, 97, 103},
		{"at 45° through it", Place{Along: 0, In: -100}, Place{Along: 200, In: 100}, 10, 0, 100 - 14.142135623730951, 100 + 14.142135623730951},
		{"3 in 4 through it", Place{Along: 0, In: -60}, Place{Along: 160, In: 60}, 6, 0, 70, 90},
	} {
		s := segmentOf(c.a, c.b)
		from, to, ok := s.capsule(c.reach, c.in)
		require.True(t, ok, c.name)
		require.InDelta(t, c.from, float64(from), 1e-9, c.name)
		require.InDelta(t, c.to, float64(to), 1e-9, c.name)
		s = segmentOf(c.b, c.a)
		back, forth, _ := s.capsule(c.reach, c.in)
		require.InDelta(t, c.from, float64(back), 1e-9, c.name)
		require.InDelta(t, c.to, float64(forth), 1e-9, c.name)
		_, _, ok = s.capsule(0, c.in)
		require.False(t, ok, "nothing is nearer than not at all: %s", c.name)
	}
	s := segmentOf(Place{Along: 100, In: 5}, Place{Along: 150, In: 9})
	_, _, ok := s.capsule(5, 0)
	require.False(t, ok, "it touches")
}

// Evening out keeps every rule: who stood well before stands well, and nobody comes or goes.
func TestEveningOutBreaksNoRule(t *testing.T) {
	t.Parallel()
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		r := metre()
		r.rate = rapid.SampledFrom([]float64{0, 0.01, 0.05}).Draw(t, "rate")
		r.held = measure.Length(rapid.SampledFrom([]float64{0, 500, 1000}).Draw(t, "held"))
		r.alignFirst, r.alignLast = 150, 850 // room to move, also for the outermost
		pulls := []measure.Length{measure.Length(rapid.Float64Range(0, 1000).Draw(t, "pull"))}
		l := layout{work: &coverage{}, pulls: pulls}
		at := measure.Length(rapid.Float64Range(30, 150).Draw(t, "first"))
		for at < 970 && len(l.aligns) < 12 {
			l.aligns = append(l.aligns, at)
			at += measure.Length(rapid.Float64Range(40, 200).Draw(t, "step"))
		}
		if !r.alignsStand(l.aligns, pulls) {
			t.Skip("it does not stand")
		}
		before := append([]measure.Length{}, l.aligns...)
		r.evenAligns(&l)
		if len(l.aligns) != len(before) || !r.alignsStand(l.aligns, pulls) {
			t.Fatalf("%v became %v, held at %v, rate %v, pull part at %v", before, l.aligns, r.held, r.rate, pulls)
		}
		for i := range before {
			if before[i] != l.aligns[i] {
				moved++
				break
			}
		}
	})
	require.Greater(t, moved, 20)
}

// A slot of 20 mm stands clear of every wall, also of one that is narrower than it and of several one behind the other. By hand: 10 mm
// beside the last wall that it would touch.
func TestTheFirstAndTheLastSlotStandClearOfWalls(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		walls       []Interval
		first, last measure.Length
	}{
		{nil, 10, 990}, {[]Interval{{5, 15}, {985, 995}}, 25, 975}, {[]Interval{{40, 60}, {15, 30}, {0, 5}}, 70, 990}, {[]Interval{{20, 30}, {970, 980}}, 10, 990},
		{[]Interval{{960, 970}, {975, 999}}, 10, 950},
	} {
		r := metre()
		r.slotWalls = c.walls
		first, last := r.slotLimits()
		require.Equal(t, []measure.Length{c.first, c.last}, []measure.Length{first, last}, "%v", c.walls)
	}
}

// Where bars leave no place between them, it is told which of them met first, and not which others would bar that as well.
func TestLimitsEndWhereNoPlaceIsLeft(t *testing.T) {
	t.Parallel()
	r := metre()
	r.pullBars = []bar{{from: 550, to: 900, play: never}, {from: -1, to: 600, play: never}, {from: 400, to: 1001, play: never}}
	first, last, front, back := r.pullLimits(0, 1000)
	require.Greater(t, first, last)
	require.Same(t, &r.pullBars[2], front, "behind the one at the front")
	require.Same(t, &r.pullBars[2], back)
}

// A single place is a place: a slot of 20 mm has just one in a gap of 20 mm, 200 mm behind the last place for the first.
func TestASlotStandsInAGapThatItFills(t *testing.T) {
	t.Parallel()
	r := metre()
	r.blocked = []Interval{{90, 266}, {286, 450}}
	l := layout{work: &coverage{}}
	require.True(t, r.cover(&l, nil))
	require.InDelta(t, 76, float64(l.aligns[0]), 1e-6)
	require.InDelta(t, 276, float64(l.aligns[1]), 1e-6)
	require.True(t, r.alignsStand(l.aligns, nil))
	r.blocked[0].To = 266.01
	require.False(t, r.cover(&l, nil))
}
