package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/scribe"
	"seamwright/store/demotest"
)

// withSiteFromTheOtherEnd is the same top on the same site given from its other end.
func withSiteFromTheOtherEnd(o estimate.Order) estimate.Order {
	lengths := map[string]measure.Length{}
	for _, r := range o.Top.Runs {
		lengths[r.Name] = r.Length
	}
	turned := fromTheOtherEnd(o)
	turned.Base = slices.Clone(o.Base)
	for i := range turned.Base {
		b := &turned.Base[i]
		b.From, b.To = lengths[b.Run]-b.To, lengths[b.Run]-b.From
	}
	turned.Top.Cutouts = slices.Clone(o.Top.Cutouts)
	for i := range turned.Top.Cutouts {
		c := &turned.Top.Cutouts[i]
		c.FromStart, c.FromEnd = c.FromEnd, c.FromStart
	}
	turned.Site.Walls = slices.Clone(o.Site.Walls)
	for i := range turned.Site.Walls {
		wall := &turned.Site.Walls[i]
		wall.Offsets = slices.Clone(wall.Offsets)
		slices.Reverse(wall.Offsets)
		for k := range wall.Offsets {
			wall.Offsets[k].At = lengths[wall.Run] - wall.Offsets[k].At
		}
	}
	return turned
}

// sited draws a top of one to three runs, of depths that cabinets have, with what stands under it, a cut-out and a wall.
func sited(t *rapid.T) estimate.Order {
	o := corner()
	o.Top.Thickness = rapid.SampledFrom([]measure.Length{1 * in, 1.25 * in, 1.5 * in, 3 * in}).Draw(t, "thickness")
	o.Top.Runs, o.Top.Corners = nil, nil
	for i := range rapid.IntRange(1, 3).Draw(t, "runs") {
		name := string(rune('A' + i))
		r := estimate.Run{Name: name, Length: measure.Length(rapid.IntRange(2*48, 2*110).Draw(t, "half inches")) * in / 2,
			Depth: measure.Length(rapid.SampledFrom([]float64{22, 24, 24, 25.5, 30}).Draw(t, "depth")) * in}
		o.Top.Runs = append(o.Top.Runs, r)
		if i > 0 {
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{
				Angle: measure.Angle(rapid.SampledFrom([]float64{88, 90, 90, 90, 120, 135}).Draw(t, "angle")) * measure.Degree})
		}
		for at := measure.Length(0); at < r.Length; {
			to := min(r.Length, at+measure.Length(rapid.SampledFrom([]int{18, 24, 30, 36}).Draw(t, "stretch"))*in)
			o.Base = append(o.Base, estimate.BaseOrder{Run: name, From: at, To: to, Kind: rapid.SampledFrom([]base.Kind{base.Cabinet, base.Cabinet, base.Cabinet,
				base.Open, base.Appliance}).Draw(t, "what stands there")})
			at = to
		}
	}
	if first := &o.Top.Runs[0]; rapid.Bool().Draw(t, "a cut-out") {
		o.Top.Cutouts = []estimate.Cutout{{Run: first.Name, Kind: "hob", Length: 20 * in, Depth: 16 * in, FromFront: 2.5 * in,
			FromStart: far(measure.Length(rapid.IntRange(4, int((first.Length/in)-24)).Draw(t, "from its start")) * in)}}
	}
	if last := &o.Top.Runs[len(o.Top.Runs)-1]; rapid.Bool().Draw(t, "a crooked wall") {
		o.Site.Walls = []estimate.WallOrder{{Run: last.Name, Edge: estimate.AtWall, Offsets: []scribe.Offset{{}, {At: last.Length / 2,
			Off: measure.Length(rapid.SampledFrom([]float64{-0.375, -0.25, 0.125, 0.25}).Draw(t, "it draws back by")) * in}, {At: last.Length}}}}
	}
	return o
}

// A top on its site is the same from either end, to the last bracket, bolt and clip.
func TestASiteIsTheSameFromEitherEnd(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		o := sited(t)
		a, err := estimate.Make(o, cat)
		b, other := estimate.Make(withSiteFromTheOtherEnd(o), cat)
		require.Equal(t, err == nil, other == nil, "%v and %v", err, other)
		if err != nil {
			return
		}
		require.Equal(t, whatItTakes(a), whatItTakes(b))
		require.Equal(t, a.Price.Total.String(), b.Price.Total.String())
	})
}

// whatItTakes is what the hardware of a top counts.
func whatItTakes(e *estimate.Estimate) map[string]float64 {
	counts := map[string]float64{"fixings": float64(e.Fixing.Count)}
	for i := range e.Corners {
		for _, g := range e.Corners[i].ChosenCandidate().Hardware.Pull.Groups {
			counts["pull parts"] += float64(g.Count)
		}
	}
	for _, p := range e.Base.Props {
		counts[string(p.Kind)] += float64(p.Count)
	}
	return counts
}
