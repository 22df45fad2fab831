package estimate_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/store/demotest"
)

func carried(o estimate.Order, way ...passage.Step) estimate.Order {
	o.Site.Way = way
	return o
}

func assumed(e *estimate.Estimate, pointer string) any {
	for _, a := range e.Assumptions {
		if a.Pointer == pointer {
			return a.Value
		}
	}
	return nil
}

func TestAJoinedTopThatDoesNotPassIsJoinedOnSite(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	narrow := passage.Step{Kind: passage.Turn, First: 40 * in, Second: 40 * in, Height: 70 * in}
	for _, test := range []struct {
		name   string
		way    []passage.Step
		advice estimate.Advice
		apart  any
	}{
		{"a garage door", []passage.Step{{Kind: passage.Door, Width: 96 * in, Height: 84 * in}}, estimate.CarryJoined, nil},
		{"a turn for pieces alone", []passage.Step{narrow}, estimate.CarryPieces, true},
		{"a turn for the long piece where the other goes through", []passage.Step{{Kind: passage.Turn, First: 30 * in, Second: 30 * in, Height: 80 * in}},
			estimate.CarryPieces, true},
		{"a turn too tight for the long piece", []passage.Step{{Kind: passage.Turn, First: 24 * in, Second: 24 * in, Height: 80 * in}},
			estimate.CarrySplit, true},
		{"a hatch smaller than the top is deep", []passage.Step{{Kind: passage.Door, Width: 8 * in, Height: 5 * in}},
			estimate.CarryCannot, true},
	} {
		o := carried(deskA(), test.way...)
		o.Top.StraightJoints = estimate.StraightForbid
		e, err := estimate.Make(o, cat)
		require.NoError(t, err, test.name)
		require.Equal(t, test.advice, e.Carrying.Advice, "%s: %s", test.name, e.Carrying.Text)
		require.Equal(t, test.apart, assumed(e, "/site/must_come_apart"), test.name)
		require.Equal(t, test.advice == estimate.CarrySplit || test.advice == estimate.CarryCannot, warned(e, "piece_does_not_pass"), test.name)
	}
	plain, err := estimate.Make(deskA(), cat)
	require.NoError(t, err)
	require.Nil(t, plain.Carrying)
}

// An L of two depths of 25-1/2 in goes flat through a door that is as wide as its corner is from its inner corner:
// 25.5·√2 = 36.06 in.
func TestAJoinedTopIsTurnedThroughADoorAboutItsInnerCorner(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, test := range []struct {
		width  measure.Length
		passes bool
	}{{36.07 * in, true}, {36.05 * in, false}} {
		e, err := estimate.Make(carried(deskA(), passage.Step{Kind: passage.Door, Width: test.width, Height: 60 * in}), cat)
		require.NoError(t, err)
		require.Equal(t, test.passes, e.Carrying.Joined.Passes)
		require.Equal(t, test.passes, e.Carrying.Joined.Way[0].Hold == passage.Turned)
	}
}

// A straight top of 120 in, at most 50 in of which passes: three parts. Clear of a sink from 30 to 60 in the cut next to
// equal parts (40 in) moves to beside the sink.
func TestAPieceIsSplitClearOfItsCutouts(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 120 * in, Depth: 25.5 * in}}
	o.Top.Corners, o.Top.StraightJoints = nil, estimate.StraightForbid
	narrow := carried(o, passage.Step{Kind: passage.Lift, Width: 26 * in, Depth: 40 * in, Height: 30 * in})
	e, err := estimate.Make(narrow, cat)
	require.NoError(t, err)
	p := &e.Carrying.Pieces[0]
	longest := p.Way[0].Longest
	require.Less(t, float64(longest), float64(60*in))
	require.Greater(t, float64(longest), float64(40*in))
	require.Len(t, p.Splits, 2)
	require.InDelta(t, float64(40*in), float64(p.Splits[0]), 5)
	require.InDelta(t, float64(80*in), float64(p.Splits[1]), 5)

	at := 30 * in
	narrow.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, FromStart: &at}}
	e, err = estimate.Make(narrow, cat)
	require.NoError(t, err)
	p = &e.Carrying.Pieces[0]
	require.NotEmpty(t, p.Splits)
	last := measure.Length(0)
	for _, s := range append(p.Splits, 120*in) {
		require.LessOrEqual(t, float64(s-last), float64(longest)+1e-6)
		last = s
	}
	for _, s := range p.Splits {
		require.True(t, s <= 30*in || s >= 60*in, "split at %v", s.Inches())
	}
	require.InDelta(t, float64(40*in), math.Abs(float64(p.Way[0].Longest-longest))+float64(40*in), 1e-6, "cut-outs do not change the box")
}

// A cut never runs into a corner: of two runs of 65 in that meet at 70°, whose seam takes much of either, each is split where it has its
// whole depth. A corner of 70° takes depth / tan 70° and more of both; half of a run would lie in it or close by where it is short.
func TestAPieceIsSplitClearOfItsCorner(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	splits := 0
	for _, angle := range []measure.Angle{50, 70, 90, 120, 250} {
		for _, length := range []measure.Length{48 * in, 52 * in, 65 * in, 90 * in} {
			for _, deep := range []measure.Length{35 * in, 45 * in, 60 * in} {
				o := deskA()
				o.Top.StraightJoints = estimate.StraightForbid
				for i := range o.Top.Runs {
					o.Top.Runs[i].Length = length
				}
				o.Top.Corners[0].Angle = angle * measure.Degree
				e, err := estimate.Make(carried(o, passage.Step{Kind: passage.Lift, Width: 30 * in, Depth: deep, Height: 34 * in}), cat)
				if err != nil {
					continue // too short to turn such a corner
				}
				for i := range e.Carrying.Pieces {
					for _, at := range e.Carrying.Pieces[i].Splits {
						splits++
						require.True(t, cutsSquare(e, i, at), "%v°, %v in: run %s is split at %v in, within its corner", angle, length.Inches(),
							e.Carrying.Pieces[i].Run, at.Inches())
					}
				}
			}
		}
	}
	require.Greater(t, splits, 10)
}

// cutsSquare reports whether a cut square across run i, so far from its wall's start, goes from its wall edge to its front edge: both
// ends lie on the piece, and the points of its corner all lie on one side of it.
func cutsSquare(e *estimate.Estimate, i int, at measure.Length) bool {
	wall, _ := e.Chain()
	from, to, size := wall[i], wall[i+1], wall[i].Distance(wall[i+1])
	first := true
	var off measure.Length
	for _, p := range e.Corners[0].ChosenCandidate().Geometry.SeamPath {
		far := ((p.X-from.X)*(to.X-from.X)+(p.Y-from.Y)*(to.Y-from.Y))/size - at
		if !first && far*off < 0 {
			return false
		}
		first, off = false, far
	}
	return true
}

func TestAWayIsCheckedWithTheRestOfTheOrder(t *testing.T) {
	t.Parallel()
	_, err := estimate.Make(carried(deskA(), passage.Step{Kind: passage.Door, Width: 30 * in},
		passage.Step{Kind: passage.Lift, Width: 30 * in, Depth: 40 * in, Height: 80 * in, DoorWidth: 40 * in}), demotest.Catalogue(t))
	var pointers []string
	for _, f := range fault.All(err) {
		pointers = append(pointers, f.Pointer)
	}
	require.Equal(t, []string{"/site/way/0/height", "/site/way/1/door_width"}, pointers)
}

// A clear size that lets no hand pass is a mistake, with its pointer and both numbers; the least one is an answer.
func TestImpossibleDoorsAreRefused(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	_, err := estimate.Make(carried(deskA(), passage.Step{Kind: passage.Door, Width: 1 * in, Height: 80 * in},
		passage.Step{Kind: passage.Turn, First: 40 * in, Second: 3 * in, Height: 2 * in},
		passage.Step{Kind: passage.Lift, Width: 40 * in, Depth: 3.9 * in, Height: 80 * in, DoorWidth: 36 * in, DoorHeight: 0.5 * in}), cat)
	at := map[string]string{}
	for _, f := range fault.All(err) {
		require.Equal(t, fault.Impossible, f.Kind)
		at[f.Pointer] = f.Detail + " " + f.Fix
	}
	require.Len(t, at, 5)
	for _, pointer := range []string{"/site/way/0/width", "/site/way/1/height", "/site/way/1/second", "/site/way/2/depth", "/site/way/2/door_height"} {
		require.Contains(t, at, pointer)
	}
	require.Equal(t, `A door with a clear size of 1 in here lets no hand pass with the piece; the least is 3-15/16 in. `+
		`Check the size and its unit: without one it is read in "in".`, at["/site/way/0/width"])
	e, err := estimate.Make(carried(deskA(), passage.Step{Kind: passage.Door, Width: passage.LeastClear, Height: passage.LeastClear}), cat)
	require.NoError(t, err)
	require.False(t, e.Carrying.Joined.Passes)
}

// A lift's door that nobody told of is as wide and as high as the car.
func TestALiftsDoorIsAsLargeAsItsCar(t *testing.T) {
	t.Parallel()
	e := mustMake(t, carried(deskA(), passage.Step{Kind: passage.Lift, Width: 50 * in, Depth: 60 * in, Height: 90 * in}))
	require.Equal(t, 50*in, assumed(e, "/site/way/0/door_width"))
	require.Equal(t, 90*in, assumed(e, "/site/way/0/door_height"))
}

// Of the boxes round a joined top that pass, the least is told: an L at 120° lies in one along either of its runs and across them, by hand
// from its corners, whichever run comes first.
func TestAJoinedTopGoesInTheLeastBoxThatPasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ first, second measure.Length }{{96 * in, 60 * in}, {60 * in, 96 * in}} {
		o := carried(deskA(), passage.Step{Kind: passage.Door, Width: 400 * in, Height: 400 * in})
		o.Top.Runs = []estimate.Run{{Name: "A", Length: c.first, Depth: 25.5 * in}, {Name: "B", Length: c.second, Depth: 25.5 * in}}
		o.Top.Corners[0].Angle = 120 * measure.Degree
		e := mustMake(t, o)
		require.True(t, e.Carrying.Joined.Passes)
		wall, front := e.Chain()
		points := slices.Concat(wall, front)
		least := math.Inf(1)
		for i := range 2 {
			along := unit(wall[i], wall[i+1])
			lengths, depths := [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
			for _, p := range points {
				x, y := float64(dot(p, along)), float64(p.Y*along.X-p.X*along.Y)
				lengths, depths = [2]float64{min(lengths[0], x), max(lengths[1], x)}, [2]float64{min(depths[0], y), max(depths[1], y)}
			}
			least = min(least, (lengths[1]-lengths[0])*(depths[1]-depths[0]))
		}
		size := e.Carrying.Joined.Size
		require.InDelta(t, least, float64(size.Length)*float64(size.Depth), 1)
	}
}
