package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/store/demotest"
)

// Where a piece goes through, its end lies along the other run's wall. That wall bulges by 6 mm half a metre from the corner, so that
// the end must reach 6 mm beyond the best line's foremost place at the corner: the blank is longer by that, its end has a scribe table
// of its own, and its finished outline reaches the wall. A mitred corner has no such end.
func TestTheEndOfAThroughPieceIsScribedToTheOtherWall(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		through estimate.ThroughWish
		wall    string
		offsets []measure.Length
		longer  int
		corner  float64
		edge    string
	}{
		{"first", "B", []measure.Length{0, 0, 36 * in, -6, 72 * in, 0}, 0, 90, estimate.AtEnd},
		{"second", "A", []measure.Length{0, 0, 48 * in, -6, 96 * in, 0}, 1, 90, estimate.AtStart},
		{"first", "B", []measure.Length{0, 0, 36 * in, -6, 72 * in, 0}, 0, 105, estimate.AtEnd},
	} {
		o := deskA()
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through, o.Top.Corners[0].Angle = plan.Butt, c.through, measure.Angle(c.corner)*measure.Degree
		plain, err := estimate.Make(o, cat)
		require.NoError(t, err)
		o.Site.Walls = []estimate.WallOrder{{Run: c.wall, Edge: estimate.AtWall, Offsets: offsets(c.offsets...)}}
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		sin := measure.Length((measure.Angle(c.corner) * measure.Degree).Sin())
		require.InDelta(t, float64(plain.Runs[c.longer].Blank.Length+6/sin), float64(e.Runs[c.longer].Blank.Length), 1e-6, "%v", c)

		through, beside := &e.Runs[c.longer], &e.Runs[1-c.longer]
		require.InDelta(t, float64(beside.Piece.WallEdge), float64(beside.Walls[0].Length), 1e-9)
		require.Empty(t, beside.Walls[0].WallOf)
		require.Len(t, through.Walls, 1)
		end := &through.Walls[0]
		require.Equal(t, c.edge, end.Edge)
		require.Equal(t, c.wall, end.WallOf)
		require.InDelta(t, float64(through.Depth/sin), float64(end.Length), 1e-9)
		require.Equal(t, beside.WallJoint.Cover, end.Cover)
		// the wall draws back by 6 mm at the corner and comes forward by 6 mm over half its length
		falls := 6 / float64(beside.Walls[0].Stations[1].At) * float64(end.Length)
		require.Len(t, end.Stations, 2)
		require.InDelta(t, 0, float64(end.Stations[0].At), 1e-9)
		require.InDelta(t, 0, float64(end.Stations[0].Remove), 1e-9)
		require.InDelta(t, float64(end.Length), float64(end.Stations[1].At), 1e-9)
		require.InDelta(t, falls, float64(end.Stations[1].Remove), 1e-9)
		require.InDelta(t, falls, float64(end.Greatest), 1e-9)
		require.NotNil(t, through.Piece.Scribed)

		o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Miter, ""
		e, err = estimate.Make(o, cat)
		require.NoError(t, err)
		require.Empty(t, e.Runs[c.longer].Walls)
		require.Nil(t, e.Runs[c.longer].Piece.Scribed)
	}
}

// A wall that is straight as far as the piece goes through, but in front of the best line there, asks for a longer blank and no scribing.
func TestAThroughEndAtAStraightStretchIsOnlyLonger(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, "first"
	plain, err := estimate.Make(o, cat)
	require.NoError(t, err)
	// level on both sides of a bulge in the middle of the wall, which is far from the corner
	o.Site.Walls = []estimate.WallOrder{{Run: "B", Edge: estimate.AtWall, Offsets: offsets(0, 0, 35*in, 0, 36*in, -9, 37*in, 0, 72*in, 0)}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	end := &e.Runs[0].Walls[0]
	require.Zero(t, end.Greatest)
	require.Contains(t, end.Text, "nothing is to be scribed")
	require.InDelta(t, 9, float64(e.Runs[0].Blank.Length-plain.Runs[0].Blank.Length), 1e-6)
}

// At whatever corner and with whatever walls, each wall is met by the finished pieces everywhere from its run's start to its end: the
// way out from the front edge ends where the wall is, by its offsets, and pieces neither overlap nor leave anything between them.
func TestFinishedPiecesFillTheRoomUpToTheWalls(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	tried := 0
	rapid.Check(t, func(r *rapid.T) {
		o := deskA()
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Right, plan.Left}).Draw(r, "hand")
		corner := &o.Top.Corners[0]
		corner.Joint = rapid.SampledFrom([]plan.JointKind{plan.Butt, plan.MasonsMiter, plan.Miter}).Draw(r, "joint")
		if corner.Joint != plan.Miter {
			corner.Through = rapid.SampledFrom([]estimate.ThroughWish{"first", "second"}).Draw(r, "through")
		}
		corner.Angle = measure.Angle(rapid.Float64Range(70, 115).Draw(r, "angle")) * measure.Degree
		walls := map[string]*scribe.Profile{}
		for i := range o.Top.Runs {
			name := string(rune('A' + i))
			if rapid.IntRange(0, 3).Draw(r, "told") == 0 {
				continue
			}
			var list []scribe.Offset
			for k := range rapid.IntRange(2, 7).Draw(r, "stations") {
				list = append(list, scribe.Offset{At: o.Top.Runs[i].Length * measure.Length(k) / 6, Off: measure.Length(rapid.Float64Range(-8, 8).Draw(r, "off"))})
			}
			p := scribe.Of(list)
			walls[name] = &p
			o.Site.Walls = append(o.Site.Walls, estimate.WallOrder{Run: name, Edge: estimate.AtWall, Offsets: list})
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return // a joint that cannot be made so
		}
		tried++
		reach := func(run string, at measure.Length) measure.Length {
			if p := walls[run]; p != nil {
				return p.ExtraAt(at)
			}
			return 0
		}
		wall, front := e.Chain()
		for i := range e.Runs {
			name, depth := e.Runs[i].Name, float64(e.Runs[i].Depth)
			along := unit(wall[i], wall[i+1])
			in := plan.Point{X: -along.Y, Y: along.X}
			if (front[0].X-wall[0].X)*(-along.Y)+(front[0].Y-wall[0].Y)*along.X < 0 && i == 0 || i > 0 && dot(sub(front[i+1], wall[i+1]), in) < 0 {
				in = plan.Point{X: along.Y, Y: -along.X}
			}
			length := wall[i].Distance(wall[i+1])
			for n := 1; n < 40; n++ {
				at := length * measure.Length(n) / 40
				if at < 30 || at > length-30 {
					continue // beside the corner the neighbour's wall counts as well
				}
				foot := plan.Point{X: wall[i].X + along.X*at, Y: wall[i].Y + along.Y*at}
				extra := reach(name, at)
				holds := func(out measure.Length) (pieces int) {
					p := plan.Point{X: foot.X - in.X*out, Y: foot.Y - in.Y*out}
					for k := range e.Runs {
						if insideOf(e.Runs[k].Piece.Finished(), p) {
							pieces++
						}
					}
					return pieces
				}
				require.Equal(r, 1, holds(extra-0.01), "run %s at %v of %v", name, at, depth)
				require.Zero(r, holds(extra+0.01), "run %s at %v", name, at)
			}
		}
		for i := range e.Runs { // what a piece's blank must hold
			from, to := math.Inf(1), math.Inf(-1)
			along := unit(wall[i], wall[i+1])
			for _, p := range e.Runs[i].Piece.Finished() {
				at := float64(dot(p, along))
				from, to = min(from, at), max(to, at)
			}
			require.GreaterOrEqual(r, float64(e.Runs[i].Blank.Length), to-from-1e-6)
			require.GreaterOrEqual(r, float64(plan.Area(e.Runs[i].Piece.Finished())), float64(plan.Area(e.Runs[i].Piece.Outline))-1e-6)
		}
	})
	require.Greater(t, tried, 20)
}

func sub(a, b plan.Point) plan.Point     { return plan.Point{X: a.X - b.X, Y: a.Y - b.Y} }
func dot(a, b plan.Point) measure.Length { return a.X*b.X + a.Y*b.Y }

func unit(a, b plan.Point) plan.Point {
	d := a.Distance(b)
	return plan.Point{X: (b.X - a.X) / d, Y: (b.Y - a.Y) / d}
}

// insideOf is the crossing rule: from a point inside, a ray crosses the outline an odd number of times.
func insideOf(outline []plan.Point, p plan.Point) bool {
	inside := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			inside = !inside
		}
	}
	return inside
}

// An end that goes through at a slanting corner is cut straight where the other run's wall draws back most, and scribed from there: its
// blank must be so much longer, wherever along the end that is. Its corner towards the front reaches further than the wall does there at
// 75°, the one at the wall at 105°.
func TestAThroughBlankHoldsTheStraightCutOfItsEnd(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, angle := range []measure.Angle{75, 105} {
		for _, bulge := range [][]measure.Length{{0, 0, 8 * in, -9, 72 * in, -9}, {0, -9, 18 * in, -9, 22 * in, 0, 26 * in, -9, 72 * in, -9}} {
			o := deskA()
			o.Top.Corners[0] = estimate.Corner{Angle: angle * measure.Degree, Joint: plan.Butt, Through: estimate.ThroughFirst}
			plain, err := estimate.Make(o, cat)
			require.NoError(t, err)
			o.Site.Walls = []estimate.WallOrder{{Run: "B", Edge: estimate.AtWall, Offsets: offsets(bulge...)}}
			e, err := estimate.Make(o, cat)
			require.NoError(t, err)
			wall := scribe.Of(offsets(bulge...))
			most := measure.Length(0)
			for at := measure.Length(0); at <= e.Runs[0].Walls[0].Length; at++ {
				most = max(most, wall.ExtraAt(at))
			}
			sin := measure.Length((angle * measure.Degree).Sin())
			require.GreaterOrEqual(t, float64(e.Runs[0].Blank.Length), float64(plain.Runs[0].Blank.Length+most/sin)-0.01, "%v°, %v", float64(angle), bulge)
		}
	}
}
