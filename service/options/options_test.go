package options

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

func desk() *estimate.Order {
	o := drawtest.Desk()
	return &o
}

func TestEveryCombinationIsMadeOnceTheLastListFastest(t *testing.T) {
	t.Parallel()
	order := desk()
	order.Finish = estimate.FinishOrder{System: "hardwax_oil", Coats: 3}
	before := *order
	l := Lists{
		Species:  []string{"oak_white", "ash_white"},
		Joints:   []plan.JointKind{plan.Butt, plan.Miter},
		Finishes: []string{"none", "hardwax_oil"},
	}
	wishes, err := Combine(order, &l)
	require.NoError(t, err)
	require.Len(t, wishes, 8)
	seen := map[[3]string]bool{}
	for _, w := range wishes {
		o := &w.Order
		seen[[3]string{o.Top.Species, string(o.Top.Corners[0].Joint), o.Finish.System}] = true
		require.Equal(t, order.Top.Thickness, o.Top.Thickness)
		want := map[string]int{"none": 0, "hardwax_oil": 3}[o.Finish.System]
		require.Equal(t, want, o.Finish.Coats, "the request's coats are those of its own finish")
	}
	require.Len(t, seen, 8)
	require.Equal(t, "none", wishes[0].Order.Finish.System)
	require.Equal(t, "hardwax_oil", wishes[1].Order.Finish.System)
	require.Equal(t, before, *order, "the order is left as it was")
	none, err := Combine(order, &Lists{})
	require.NoError(t, err)
	require.Len(t, none, 1)
	require.Equal(t, before, none[0].Order)
}

func TestListsThatMakeNoSenseAreRefusedAtTheirPlace(t *testing.T) {
	t.Parallel()
	many := func(n int) (list []measure.Length) {
		for i := range n {
			list = append(list, measure.Length(20+i))
		}
		return list
	}
	straight := desk()
	straight.Top.Corners, straight.Top.Runs = nil, straight.Top.Runs[:1]
	own := desk()
	own.Top.Runs = []estimate.Run{{Species: "oak_white"}, {Species: "ash_white"}}
	mixed := desk()
	mixed.Top.Runs = []estimate.Run{{Species: "oak_white"}, {}}
	for name, c := range map[string]struct {
		order *estimate.Order
		lists Lists
		at    []string
		kind  fault.Kind
	}{
		"twice, in two lists": {desk(), Lists{Species: []string{"a", "b", "a"}, Thicknesses: []measure.Length{38.1, 38.1}}, []string{"/species/2", "/thicknesses/1"}, fault.Invalid},
		"201":                 {desk(), Lists{Thicknesses: many(67), Joints: []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter}}, []string{""}, fault.Impossible},
		"no corner":           {straight, Lists{Joints: []plan.JointKind{plan.Butt}}, []string{"/joints"}, fault.Impossible},
		"woods of the runs":   {own, Lists{Species: []string{"a"}}, []string{"/species"}, fault.Impossible},
	} {
		_, err := Combine(c.order, &c.lists)
		var at []string
		for _, f := range fault.All(err) {
			at = append(at, f.Pointer)
			require.Equal(t, c.kind, f.Kind, name)
		}
		require.Equal(t, c.at, at, name)
	}
	_, err := Combine(
		desk(),
		&Lists{
			Thicknesses: many(50),
			Joints:      []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter, estimate.AutoJoint},
		},
	)
	require.NoError(t, err, "200 are few enough")
	_, err = Combine(mixed, &Lists{Species: []string{"a"}})
	require.NoError(t, err)
}

// set makes a set of the desk.
func set(t testing.TB, order *estimate.Order, l *Lists, by Criterion) (*Set, []Made) {
	t.Helper()
	wishes, err := Combine(order, l)
	require.NoError(t, err)
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	made := make([]Made, len(wishes))
	for i := range wishes {
		made[i].Estimate, made[i].Err = maker.Make(context.Background(), wishes[i].Order)
	}
	s, err := Gather(wishes, made, by, cat)
	require.NoError(t, err)
	return s, made
}

// What an option says is what its estimate says.
func TestAnOptionSaysWhatItsEstimateSays(t *testing.T) {
	t.Parallel()
	order := desk()
	s, made := set(
		t,
		order,
		&Lists{
			Species:     []string{"maple_sugar", "walnut_black", "teak"},
			Thicknesses: []measure.Length{25, 38.1, 300},
			Finishes:    []string{"none", "hardwax_oil"},
		},
		ByMovement,
	)
	require.Len(t, s.Options, 12)
	require.Len(t, s.Impossible, 6)
	apart := 0 // the whole rounded by itself is not what the rounded pieces make
	for i := range s.Options {
		o := &s.Options[i]
		e := made[o.Wish()].Estimate
		require.Equal(t, i+1, o.Number)
		require.Equal(t, e.Price.Total, o.Total)
		require.Equal(t, e.Mass, o.Weight)
		require.Equal(t, e.WholeMass(), o.WholeWeight)
		if o.WholeWeight != e.Mass.Whole(e.Units) {
			apart++
		}
		require.Equal(t, e.Labour.WorkingDays, o.WorkingDays)
		require.Equal(t, e.Made.Finish, o.Finish)
		require.Equal(t, e.Made.Thickness, o.Thickness)
		widest := measure.Length(0)
		for k := range e.Runs {
			require.Equal(t, e.Runs[k].Species, o.Species)
			widest = max(widest, e.Runs[k].Movement.Range)
		}
		require.Equal(t, widest, o.Movement)
		require.Equal(t, e.Corners[0].Chosen.Kind, o.Joint)
		if i > 0 {
			require.LessOrEqual(t, s.Options[i-1].Movement.Number(s.Units), o.Movement.Number(s.Units))
		}
		pull := e.Corners[0].ChosenCandidate().Hardware.Pull
		require.LessOrEqual(t, o.Strength, float64(pull.Capacity/pull.MomentForce)+0.005)
	}
	require.Positive(t, apart, "one of them tells the two roundings apart")
	for _, m := range s.Impossible {
		require.Equal(t, measure.Length(300), m.Thickness)
		require.Equal(t, "/thicknesses/2", m.Reasons[0].Pointer)
	}
	for _, a := range s.Assumptions[:len(s.Assumptions)-len(ownAssumptions)] {
		require.Contains(t, a.Pointer, "/estimate/")
	}
}

func TestWhenNothingCanBeMadeEveryReasonIsSaidOnce(t *testing.T) {
	t.Parallel()
	order := desk()
	wishes, err := Combine(
		order,
		&Lists{Thicknesses: []measure.Length{300, 301}, Finishes: []string{"none", "hardwax_oil"}},
	)
	require.NoError(t, err)
	cat := demotest.Catalogue(t)
	made := make([]Made, len(wishes))
	for i := range wishes {
		made[i].Estimate, made[i].Err = estimate.Make(wishes[i].Order, cat)
	}
	_, err = Gather(wishes, made, ByPrice, cat)
	var at []string
	for _, f := range fault.All(err) {
		at = append(at, f.Pointer)
	}
	require.Equal(t, []string{"/thicknesses/0", "/thicknesses/1"}, at)
	made[2].Err = context.Canceled
	_, err = Gather(wishes, made, ByPrice, cat)
	require.ErrorIs(t, err, context.Canceled, "what is no fault of the request is not listed as one")
}

// Against brute force: by the definition, written anew over all pairs.
func TestTheDominatedAreThoseOfBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := make([]Option, rapid.IntRange(1, 40).Draw(t, "n"))
		for i := range list {
			for c := range criteria {
				list[i].shown[c] = float64(rapid.IntRange(0, 4).Draw(t, "x"))
			}
			if rapid.IntRange(0, 5).Draw(t, "days") == 0 {
				list[i].shown[ByDays] = math.Inf(1)
			}
		}
		by := Criterion(rapid.IntRange(0, criteria-1).Draw(t, "by"))
		Rank(list, by)
		for i := range list {
			first := 0
			for k := range list {
				worse, better := 0, 0
				for c := range criteria {
					if list[k].shown[c] > list[i].shown[c] {
						worse++
					}
					if list[k].shown[c] < list[i].shown[c] {
						better++
					}
				}
				if worse == 0 && better > 0 && first == 0 {
					first = k + 1
				}
			}
			require.Equal(t, first, list[i].DominatedBy)
			require.Equal(t, i+1, list[i].Number)
			if i > 0 {
				require.LessOrEqual(t, list[i-1].shown[by], list[i].shown[by])
				require.LessOrEqual(t, list[i-1].Ranks[by], list[i].Ranks[by])
			}
			if first > 0 {
				require.Zero(t, list[first-1].DominatedBy, "the best ranked that beats it is beaten by none")
			}
		}
	})
}

// A slab of 1 m depth, 30 mm thick, 600 kg/m³, 4 MPa across: bears 4e6·0.03²/6 = 600 N, is asked
// 600·9.80665·0.03·1²/8 =
// 22.065 N for each metre of its length.
func TestASlabsStrengthByHand(t *testing.T) {
	t.Parallel()
	got := carriedAcross(4000*measure.Kilopascal, 30, measure.Metre, 18*measure.Kilogram, measure.SquareMetre)
	require.InDelta(t, 600/22.0649625, got, 1e-9)
	require.InDelta(
		t,
		2*got,
		carriedAcross(4000*measure.Kilopascal, 60, measure.Metre, 36*measure.Kilogram, measure.SquareMetre),
		1e-9,
		"twice as thick",
	)
	require.InDelta(
		t,
		got/4,
		carriedAcross(4000*measure.Kilopascal, 30, 2*measure.Metre, 36*measure.Kilogram, 2*measure.SquareMetre),
		1e-9,
		"twice as deep",
	)
}
