package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// fewest tries every place on a grid of a quarter inch for each alignment part in turn.
func fewest(r *placing, pulls []measure.Length, last measure.Length, seen map[measure.Length]int) int {
	const never = 1000
	if last >= r.alignLast {
		return 0
	}
	if n, ok := seen[last]; ok {
		return n
	}
	best := never
	for at := last + measure.Inch/4; at <= r.length; at += measure.Inch / 4 {
		if last == 0 && at > r.alignFirst || last > 0 && at-last > r.alignSpacing {
			break
		}
		if r.alignStands(at, pulls) && (last == 0 || r.alignsFollow(last, at)) {
			best = min(best, 1+fewest(r, pulls, at, seen))
		}
	}
	seen[last] = best
	return best
}

func TestCoverNeedsNoMoreThanTryingEverything(t *testing.T) {
	t.Parallel()
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		r := placing{
			length: measure.Length(rapid.Float64Range(100, 1200).Draw(t, "length")), front: 10, clear: 6.35,
			rate:         rapid.SampledFrom([]float64{0, 0.004, 0.02}).Draw(t, "rate"),
			alignSpacing: measure.Length(rapid.SampledFrom([]float64{110, 203.2, 300}).Draw(t, "spacing")),
			slotRules: slotRules{halfSlot: measure.Length(rapid.SampledFrom([]float64{12, 29, 45}).Draw(t, "slot")),
				alignFirst: 76.2},
			halfPull: 17.5,
		}
		r.back, r.alignLast, r.slotTo = r.length-r.clear, r.length-76.2, r.length
		r.held = r.length * measure.Length(rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "held"))
		var pulls []measure.Length
		for range rapid.IntRange(0, 5).Draw(t, "pulls") {
			pulls = append(pulls, r.length*measure.Length(rapid.Float64Range(0, 1).Draw(t, "pull")))
		}
		for range rapid.IntRange(0, 2).Draw(t, "blocked") {
			from := r.length * measure.Length(rapid.Float64Range(0, 1).Draw(t, "from"))
			r.blocked = append(r.blocked, Interval{from, from + 60})
		}
		l := layout{work: &coverage{}}
		want := fewest(&r, pulls, 0, map[measure.Length]int{})
		switch ok := r.cover(&l, pulls); {
		case ok && !r.alignsStand(l.aligns, pulls):
			t.Fatalf("the cover %v breaks a rule", l.aligns)
		case want < 1000 && (!ok || len(l.aligns) > want):
			t.Fatalf("%d parts do, but the cover is %v", want, l.aligns)
		case ok:
			found++
		}
	})
	require.Positive(t, found)
}

func TestAfterAndBeforeAWallAreInverses(t *testing.T) {
	t.Parallel()
	r := placing{slotRules: slotRules{halfSlot: 28}, rate: 0.02, held: 300}
	for _, at := range []measure.Length{10, 290, 300, 310, 900} {
		require.InDelta(t, float64(at), float64(r.afterWall(at-r.alignHalf(at))), 1e-9)
		require.InDelta(t, float64(at), float64(r.beforeWall(at+r.alignHalf(at))), 1e-9)
	}
}
