package estimate

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// What is remembered of a strip is never told of another one that differs in anything.
func TestAStripIsRememberedByAllThatItsVerdictDependsOn(t *testing.T) {
	t.Parallel()
	var b bends
	rules := support.Rules{Creep: 2, Safety: 6, Overhang: 180, Span: 360, Most: 5}
	beam := func() support.Beam {
		return support.Beam{Section: support.Section{Width: 300, Thickness: 38}, Kind: support.Spans,
			Wood: support.Wood{Stiffness: 1e7, Strength: 1e5}, Lengths: []measure.Length{600, 700, 800},
			Load: support.Load{Lasting: 1, Passing: 1, Point: 500}}
	}
	seen := map[support.Verdict]bool{}
	for _, change := range []func(*support.Beam){
		func(*support.Beam) {},
		func(s *support.Beam) { s.Width = 310 },
		func(s *support.Beam) { s.Thickness = 40 },
		func(s *support.Beam) { s.Wood.Stiffness = 1.1e7 },
		func(s *support.Beam) { s.Wood.Strength = 2e5 },
		func(s *support.Beam) { s.Lengths[1] = 710 },
		func(s *support.Beam) { s.Lengths = s.Lengths[:2] },
		func(s *support.Beam) { s.Load.Lasting = 1.1 },
		func(s *support.Beam) { s.Load.Passing = 1.1 },
		func(s *support.Beam) { s.Load.Point = 510 },
		func(s *support.Beam) { s.Load.PointStay = true },
	} {
		s := beam()
		change(&s)
		want := support.Assess(s, rules)
		for range 2 {
			require.Equal(t, want, b.assess(s, rules))
		}
		seen[want] = true
	}
	require.Greater(t, len(seen), 9, "they differ")
	rules.Safety = 5
	require.Equal(t, support.Assess(beam(), rules), b.assess(beam(), rules))
	b.clear()
	require.Empty(t, b.known)
}
