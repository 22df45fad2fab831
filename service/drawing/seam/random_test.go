package seam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

// anyOrder draws tops of every sort: both hands, any angle, unequal depths, thin and thick, one to three corners, calm
// and harsh seasons.
func anyOrder(t *rapid.T) estimate.Order {
	o := drawtest.Desk()
	o.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units")
	o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Right, plan.Left}).Draw(t, "hand")
	o.Top.Species = rapid.SampledFrom([]string{"maple_sugar", "walnut_black", "cherry_black", "oak_white"}).Draw(t,
		"species")
	o.Top.Thickness = measure.Length(rapid.SampledFrom([]float64{0.875, 1, 1.25, 1.5, 1.75, 2, 2.25}).Draw(t,
		"thickness")) * in
	o.Top.Edge = estimate.Edge{Profile: rapid.SampledFrom([]estimate.Profile{estimate.Square, estimate.Roundover,
		estimate.Chamfer}).Draw(t, "profile")}
	if o.Top.Edge.Profile != estimate.Square {
		o.Top.Edge.Size = measure.Length(rapid.Float64Range(2, 12).Draw(t, "size"))
	}
	n := rapid.IntRange(2, 3).Draw(t, "runs")
	o.Top.Runs, o.Top.Corners = nil, nil
	for i := range n {
		o.Top.Runs = append(o.Top.Runs, estimate.Run{
			Length: measure.Length(rapid.Float64Range(1500, 3200).Draw(t, "length")),
			Depth:  measure.Length(rapid.Float64Range(90, 1300).Draw(t, "depth")),
			Sawn:   rapid.SampledFrom([]catalogue.Sawn{catalogue.FlatSawn, catalogue.QuarterSawn}).Draw(t, "sawn")})
		if i > 0 {
			deg := rapid.Float64Range(55, 168).Draw(t, "angle")
			if rapid.Bool().Draw(t, "reflex") {
				deg = 360 - deg
			}
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(deg) * measure.Degree,
				Joint: rapid.SampledFrom([]plan.JointKind{estimate.AutoJoint, estimate.AutoJoint, plan.Butt, plan.Miter,
					plan.MasonsMiter}).Draw(t, "joint"),
				Through: rapid.SampledFrom([]estimate.ThroughWish{estimate.ThroughAuto, estimate.ThroughFirst,
					estimate.ThroughSecond}).Draw(t, "through"),
				Pull: rapid.SampledFrom([]catalogue.FastenerKind{"", "", catalogue.PocketScrew, catalogue.DrawBolt}).Draw(t,
					"pull"),
				Alignment: rapid.SampledFrom([]catalogue.FastenerKind{"", "", catalogue.Biscuit, catalogue.LooseTenon}).Draw(t,
					"alignment"),
				HoldAt: rapid.SampledFrom([]hardware.Hold{hardware.HoldAuto, hardware.HoldFront, hardware.HoldCentre,
					hardware.HoldBack}).Draw(t, "hold")})
		}
	}
	dry := rapid.Float64Range(6, 9).Draw(t, "dry")
	humid := dry + rapid.Float64Range(0, 4).Draw(t, "swing")
	o.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(rapid.Float64Range(6, 12).Draw(t, "making")),
		Dry: drawtest.Wet(dry), Humid: drawtest.Wet(humid)}
	return o
}

// sheets makes an estimate of a random order, the first of a few that can be made, and hands over every candidate that can be drawn.
func sheets(t *rapid.T, cat *catalogue.Snapshot, check func(*estimate.Estimate, int, *estimate.Candidate)) int {
	const tries = 8 // most random orders are refused
	e, err := estimate.Make(anyOrder(t), cat)
	for range tries - 1 {
		if err == nil {
			break
		}
		e, err = estimate.Make(anyOrder(t), cat)
	}
	if err != nil {
		return 0 // no such top can be made
	}
	n := 0
	for k := range e.Corners {
		for i := range e.Corners[k].Candidates {
			if c := &e.Corners[k].Candidates[i]; len(c.Geometry.SeamPath) >= 2 {
				check(e, k, c)
				n++
			}
		}
	}
	return n
}

func TestNoLabelLiesOnAnother(t *testing.T) {
	cat, drawn := demotest.Catalogue(t), 0
	rapid.Check(t, func(r *rapid.T) {
		drawn += sheets(r, cat, func(e *estimate.Estimate, k int, c *estimate.Candidate) {
			for _, narrow := range []bool{false, true} {
				s, err := newSheet(e, k, Options{Joint: &c.Joint, Narrow: narrow})
				require.NoError(r, err)
				s.draw()
				require.Empty(r, drawtest.Collisions(s.Boxes()))
				w := paperWidth
				if narrow {
					w = phoneWidth
				}
				for _, b := range s.Boxes() {
					require.True(r, b.X0 > 0 && b.X1 < w+2*frameSpace, "%q leaves the sheet: %v", b.Text, b)
				}
			}
		})
	})
	require.Greater(t, drawn, 100, "too few tops were drawn to prove anything")
}

// The outlines beside the seam are told by the joint's angles alone; here they are held against the pieces that the
// estimate cut: a place near the seam is wood on the drawing where it is wood on the plan, of the same run.
func TestThePiecesBesideTheSeamAreThoseOfThePlan(t *testing.T) {
	cat, held := demotest.Catalogue(t), 0
	rapid.Check(t, func(r *rapid.T) {
		sheets(r, cat, func(e *estimate.Estimate, k int, c *estimate.Candidate) {
			if c.Joint != e.Corners[k].Chosen {
				return // the plan shows the chosen joint
			}
			s, err := newSheet(e, k, Options{})
			require.NoError(r, err)
			path := c.Geometry.SeamPath
			if s.overhang() || endsNear(e.Runs[k].Piece.Outline, path) || endsNear(e.Runs[k+1].Piece.Outline, path) {
				return // a piece ends where the drawing only shows that it goes on
			}
			p, w := path[len(path)-2], path[len(path)-1]
			l := p.Distance(w)
			ux, uy := (w.X-p.X)/l, (w.Y-p.Y)/l
			line := s.seamLine()
			pieces := s.pieces()
			for i := 0; i <= 40; i++ {
				for _, y := range []float64{-9, -5, -1, 1, 5, 9} {
					x := -30 + (float64(c.Geometry.SeamLength)+60)*float64(i)/40
					dx, dy := measure.Length(x)-s.turn, measure.Length(y)
					at := plan.Point{X: p.X + dx*ux - dy*uy, Y: p.Y + dx*uy + dy*ux}
					for n := range pieces {
						outline := e.Runs[k+n].Piece.Outline
						if nearEdge(outline, at) {
							continue
						}
						require.Equal(r, plan.Contains(outline, at), inside(pieces[n].polygon(line), pen.At(x, y)),
							"%v at corner %d, run %d, %.1f along and %.1f beside the seam", c.Joint, k, n, x, y)
						held++
					}
				}
			}
		})
	})
	require.Greater(t, held, 10000)
}

// endsNear reports whether a piece has another corner, or an edge that does not begin at the seam, close to one of the
// seam's ends.
func endsNear(outline, path []plan.Point) bool {
	onPath := func(v plan.Point) bool {
		for _, p := range path {
			if v.Distance(p) < 0.01 {
				return true
			}
		}
		return false
	}
	for i, v := range outline {
		w := outline[(i+1)%len(outline)]
		for _, end := range []plan.Point{path[0], path[len(path)-1]} {
			if !onPath(v) && (v.Distance(end) < 60 || !onPath(w) && plan.SegmentDistance(v, w, end, end) < 60) {
				return true
			}
		}
	}
	return false
}

func nearEdge(outline []plan.Point, p plan.Point) bool {
	for i := range outline {
		if plan.SegmentDistance(p, p, outline[i], outline[(i+1)%len(outline)]) < 0.2 {
			return true
		}
	}
	return false
}

// Seen from below, a top and its mirror image change sides and nothing else.
func TestTheOtherHandIsTheMirrorImage(t *testing.T) {
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		o := anyOrder(r)
		o.Top.Hand = plan.Right
		right, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		o.Top.Hand = plan.Left
		left, err := estimate.Make(o, cat)
		require.NoError(r, err)
		for k := range right.Corners {
			a, err := newSheet(right, k, Options{})
			require.NoError(r, err)
			b, err := newSheet(left, k, Options{})
			require.NoError(r, err)
			require.Equal(r, 1.0, a.side, "from below a right-hand top's first run lies below the seam")
			require.Equal(r, -1.0, b.side)
			require.Len(r, b.marks, len(a.marks))
			for i := range a.marks {
				require.Equal(r, a.marks[i].at, b.marks[i].at)
				require.Equal(r, a.marks[i].dry, b.marks[i].dry)
			}
			for i, p := range a.seamLine() {
				q := b.seamLine()[i]
				require.InDelta(r, p.X, q.X, 1e-6)
				require.InDelta(r, p.Y, -q.Y, 1e-6)
				require.False(r, math.IsNaN(p.X))
			}
		}
	})
}
