package estimate_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// fromTheOtherEnd is the same top given from its other end, with the hand turned.
func fromTheOtherEnd(o estimate.Order) estimate.Order {
	o.Top.Runs, o.Top.Corners = slices.Clone(o.Top.Runs), slices.Clone(o.Top.Corners)
	slices.Reverse(o.Top.Runs)
	slices.Reverse(o.Top.Corners)
	if o.Top.Hand == plan.Left {
		o.Top.Hand = plan.Right
	} else {
		o.Top.Hand = plan.Left
	}
	return o
}

// Neither piece of a miter stops, so that it must not matter which of them comes first: screws have room in either.
func TestAScrewedMiterIsTheSameFromEitherEnd(t *testing.T) {
	t.Parallel()
	o := corner(edged(estimate.Square, 0))
	o.Top.Species, o.Top.Thickness = "douglas_fir", 25.4
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 836, Depth: 237}, {Name: "B", Length: 1224, Depth: 436}}
	o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree, HoldAt: hardware.HoldBack, Pull: catalogue.PocketScrew}}
	cat := demotest.Catalogue(t)
	a, err := estimate.Make(o, cat)
	require.NoError(t, err)
	b, err := estimate.Make(fromTheOtherEnd(o), cat)
	require.NoError(t, err)
	require.Equal(t, a.Price.Total.String(), b.Price.Total.String())
	p, q := candidate(&a.Corners[0], plan.Miter, plan.NoSide), candidate(&b.Corners[0], plan.Miter, plan.NoSide)
	require.NotEmpty(t, p.Hardware.Pull.Groups)
	require.Equal(t, p.Hardware.Pull.Groups, q.Hardware.Pull.Groups)
}

func turned(j plan.Joint) plan.Joint {
	switch j.Through {
	case plan.First:
		j.Through = plan.Second
	case plan.Second:
		j.Through = plan.First
	case plan.NoSide:
	}
	return j
}

// A chain is the same from either end: the same joints with the same scores at the same price.
func TestAChainIsTheSameFromEitherEnd(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 4).Draw(t, "runs")
		o := corner(edged(rapid.SampledFrom([]estimate.Profile{estimate.Eased, estimate.Roundover, estimate.Ogee}).Draw(t,
			"profile"), 0))
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range n {
			// Lengths differ, so that no two runs can be taken for each other.
			length := measure.Length(1500 + 137*i + rapid.IntRange(0, 20).Draw(t, "length")*100)
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: string(rune('A' + i)), Length: length,
				Depth: measure.Length(rapid.SampledFrom([]int{450, 600, 620}).Draw(t, "depth"))})
			if i > 0 {
				deg := rapid.SampledFrom([]float64{80, 90, 90, 90, 135, 270}).Draw(t, "angle")
				o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(deg) * measure.Degree,
					Restrained: rapid.SampledFrom([]*bool{nil, new(true), new(false)}).Draw(t, "restrained")})
			}
		}
		a, err := estimate.Make(o, cat)
		b, other := estimate.Make(fromTheOtherEnd(o), cat)
		require.Equal(t, err == nil, other == nil, "%v and %v", err, other)
		if err != nil {
			return
		}
		require.Equal(t, a.Price.Total.String(), b.Price.Total.String())
		for k := range a.Corners {
			p, q := &a.Corners[k], &b.Corners[len(b.Corners)-1-k]
			require.Equal(t, p.Chosen, turned(q.Chosen), "corner %d", k)
			require.Equal(t, candidate(p, p.Chosen.Kind, p.Chosen.Through).Score,
				candidate(q, q.Chosen.Kind, q.Chosen.Through).Score)
		}
	})
}

// Of a U no pair of joints that could be asked for has a better total than the one chosen.
func TestNoPairOfJointsIsBetterThanTheOneChosen(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, o := range []estimate.Order{corner(horseshoe), corner(horseshoe, edged(estimate.Roundover, in/4)), uShape()} {
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		best := total(e)
		for _, first := range e.Corners[0].Candidates {
			for _, second := range e.Corners[1].Candidates {
				asked := o
				asked.Top.Corners = slices.Clone(o.Top.Corners)
				for k, j := range []plan.Joint{first.Joint, second.Joint} {
					asked.Top.Corners[k].Joint, asked.Top.Corners[k].Through = j.Kind, estimate.ThroughWish(j.Through)
				}
				if other, err := estimate.Make(asked, cat); err == nil {
					// each total is rounded to whole points
					require.LessOrEqual(t, total(other)-costPoints(e, other), best+1, "%v and %v", first.Joint, second.Joint)
				}
			}
		}
	}
}

// Of a chain that turns back, whose runs may be held at either edge, no three joints that could be asked for have a
// total that is better by more than a few points: the search is bounded and gives no proof.
func TestNoThreeJointsAreMuchBetterThanTheOnesChosen(t *testing.T) {
	t.Parallel()
	const few = 2
	cat := demotest.Catalogue(t)
	draw := rand.New(rand.NewPCG(1, 2))
	for range 12 {
		o := corner()
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range 4 {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Length: measure.Length(1500 + draw.IntN(2000)),
				Depth: measure.Length(450 + 85*draw.IntN(3))})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners,
					estimate.Corner{Angle: []measure.Angle{90, 270, 270, 135}[draw.IntN(4)] * measure.Degree})
			}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			continue
		}
		ways := e.Corners[0].Candidates // of each corner the same
		for set := range len(ways) * len(ways) * len(ways) {
			asked := o
			asked.Top.Corners = slices.Clone(o.Top.Corners)
			for k, x := 0, set; k < 3; k, x = k+1, x/len(ways) {
				j := ways[x%len(ways)].Joint
				asked.Top.Corners[k].Joint, asked.Top.Corners[k].Through = j.Kind, estimate.ThroughWish(j.Through)
			}
			if other, err := estimate.Make(asked, cat); err == nil {
				require.LessOrEqual(t, total(other)-costPoints(e, other), total(e)+few, "%v", asked.Top.Corners)
			}
		}
	}
}

// A joint that makes a piece longer than any board is excluded, with the numbers, and another one is taken. A top that
// no joint makes short enough is refused for its length.
func TestAJointWhosePiecesNoBoardMakesIsExcluded(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := corner(edged(estimate.Square, 0))
	// boards end at 16 ft, 192 in
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 191 * in, Depth: 25 * in},
		{Name: "B", Length: 60 * in, Depth: 25 * in}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Equal(t, plan.Joint{Kind: plan.Butt, Through: plan.Second}, e.Corners[0].Chosen)
	miter := candidate(&e.Corners[0], plan.Miter, plan.NoSide)
	require.False(t, miter.Feasible)
	require.Contains(t, miter.Findings[0].Text, "Run A needs staves of 16' 3")

	o.Top.Corners[0].Joint = plan.Miter
	e, err = estimate.Make(o, cat)
	require.NoError(t, err)
	require.NotZero(t, e.Runs[0].Blank.EndJoints(), "a joint that is named is made, of finger-jointed staves")
	o.Top.Staves, o.Top.StraightJoints = estimate.FullLength, estimate.StraightForbid
	_, err = estimate.Make(o, cat)
	require.Contains(t, fault.All(err)[0].Fix, "a butt with run B through")

	o.Top.Corners[0].Joint, o.Top.Runs[0].Length = estimate.AutoJoint, 230*in
	_, err = estimate.Make(o, cat)
	require.Equal(t, "/top/runs/0/length", fault.All(err)[0].Pointer)
}

// total are the chosen joints' points but for those about cost.
func total(e *estimate.Estimate) (sum int) {
	for k := range e.Corners {
		c := &e.Corners[k]
		for _, f := range candidate(c, c.Chosen.Kind, c.Chosen.Through).Findings {
			if f.Rule != "cost" {
				sum += f.Points
			}
		}
	}
	return sum
}

// costPoints are what the other top loses by costing more: 5 for each ten percent, the shop's default. Negative where
// it is cheaper.
func costPoints(e, other *estimate.Estimate) int {
	a, b := e.Price.Cost.Float(), other.Price.Cost.Float()
	return int((b - a) / min(a, b) * 50)
}
