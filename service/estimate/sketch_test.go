package estimate

import (
	"cmp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// plainKept writes every beginning down and keeps the best few for each end.
func plainKept(longer []step) (list []partial) {
	for _, s := range longer {
		list = append(list, partial{append(slices.Clone(s.from.ways), *s.way), s.points})
	}
	slices.SortStableFunc(list, func(a, b partial) int { return cmp.Compare(b.points, a.points) })
	count := map[end]int{}
	return slices.DeleteFunc(list, func(p partial) bool {
		count[p.end()]++
		return count[p.end()] > mostBeginnings
	})
}

func TestBeginningsThatAreKeptAreThoseOfAllWrittenDown(t *testing.T) {
	t.Parallel()
	dropped := 0
	rapid.Check(t, func(t *rapid.T) {
		way := rapid.Custom(func(t *rapid.T) worth {
			return worth{points: float64(rapid.IntRange(-5, 5).Draw(t, "points")),
				behind: side{line: rapid.SampledFrom([]hardware.Hold{hardware.HoldFront, hardware.HoldBack}).Draw(t, "line"), stops: rapid.Bool().Draw(t, "stops")}}
		})
		begun := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) partial {
			return partial{rapid.SliceOfN(way, 0, 3).Draw(t, "ways"), float64(rapid.IntRange(-5, 5).Draw(t, "begun"))}
		}), 1, 12).Draw(t, "beginnings")
		ways := rapid.SliceOfN(way, 1, 8).Draw(t, "corner")
		var longer []step
		for i := range begun {
			for k := range ways {
				longer = append(longer, step{&begun[i], &ways[k], begun[i].points + ways[k].points})
			}
		}
		plain := plainKept(slices.Clone(longer))
		require.Equal(t, plain, kept(longer))
		dropped += len(longer) - len(plain)
	})
	require.Positive(t, dropped)
}

// A chain begins with a corner where the longest wood is long enough for the run before it, be it just so, and whose line is nobody else's.
func TestAChainBeginsWhereTheWoodIsJustLongEnough(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		line  hardware.Hold
		spare measure.Length
		kept  bool
	}{{hardware.HoldAuto, 0.5, true}, {hardware.HoldAuto, 0, true}, {hardware.HoldAuto, -0.5, false}, {hardware.HoldBack, 900, false}} {
		w := &work{bench: &bench{}}
		list := w.extend([]partial{{points: 3}}, []worth{{points: 4, before: side{line: c.line, spare: c.spare}}}, nil)
		require.Equal(t, c.kept, len(list) == 1, "%v", c)
		for _, p := range list {
			require.InDelta(t, 7, p.points, 1e-12)
		}
	}
}
