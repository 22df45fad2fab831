package template_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

const fine = 1e-6 // mm

func pick(t *template.Template, l template.Layer) (shapes []template.Shape) {
	for _, s := range t.Shapes {
		if s.Layer == l {
			shapes = append(shapes, s)
		}
	}
	return shapes
}

// perimeter is the length of a polygon's edges.
func perimeter(points []plan.Point) (sum measure.Length) {
	for i, p := range points {
		sum += p.Distance(points[(i+1)%len(points)])
	}
	return sum
}

// lengthAt is how much of an outline's edges lies on a line along the grain.
func lengthAt(points []plan.Point, y measure.Length) (sum measure.Length) {
	for i, p := range points {
		q := points[(i+1)%len(points)]
		if math.Abs(float64(p.Y-y)) < fine && math.Abs(float64(q.Y-y)) < fine {
			sum += p.Distance(q)
		}
	}
	return sum
}

// along is the place on a line so far from its beginning.
func along(path []plan.Point, at measure.Length) plan.Point {
	for i := 1; i < len(path); i++ {
		l := path[i-1].Distance(path[i])
		if at <= l || i == len(path)-1 {
			u := at / l
			return plan.Point{X: path[i-1].X + u*(path[i].X-path[i-1].X), Y: path[i-1].Y + u*(path[i].Y-path[i-1].Y)}
		}
		at -= l
	}
	return path[0]
}

func middleOf(a, b plan.Point) plan.Point { return plan.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2} }

// turnOf is to which side a line of three points turns.
func turnOf(p []plan.Point) float64 {
	a, b, c := p[0], p[1], p[len(p)-1]
	return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
}

// Of any top: the templates are the answer's pieces, neighbours meet in one line, and a corner's template shows both at their places.
func TestTemplatesAreTheAnswersPieces(t *testing.T) {
	cat := demotest.Catalogue(t)
	made, seams := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		e, err := estimate.Make(drawtest.Any(r), cat)
		if err != nil {
			return
		}
		made++
		var all []*template.Template
		holes := 0
		for run := range e.Runs {
			all = append(all, holdPiece(r, e, run))
			holes += len(pick(all[run], template.Cutouts))
		}
		require.Equal(r, len(e.Cutouts), holes)
		holdFront(r, e, all)
		for k := range e.Corners {
			a, b := seamOf(all[k], k), seamOf(all[k+1], k)
			require.Len(r, b, len(a))
			for i := range a {
				for j := range i {
					require.InDelta(r, float64(a[i].Distance(a[j])), float64(b[i].Distance(b[j])), 1e-5,
						"both pieces have the same seam")
				}
			}
			if len(a) == 3 {
				require.Positive(r, turnOf(a)*turnOf(b), "placed, not mirrored")
			}
			corner, err := template.OfCorner(e, k, template.Above)
			require.NoError(r, err)
			require.Len(r, pick(corner, template.Outline), 2)
			c := seamOf(corner, k)
			require.InDelta(r, float64(a[0].Distance(a[len(a)-1])), float64(c[0].Distance(c[len(c)-1])), 1e-5)
			for _, s := range pick(corner, template.Outline) {
				for _, p := range c {
					require.True(r, onEdge(s.Points, p), "the seam is an edge of both pieces")
				}
				require.LessOrEqual(r, math.Abs(float64(plan.Area(s.Points))), float64(e.Runs[s.Piece].Piece.Area)+1e-3)
			}
			seams++
		}
	})
	require.Greater(t, made, 10, "most drawn tops were refused: the draw is too wild to test anything")
	require.Greater(t, seams, 10)
}

func seamOf(t *template.Template, k int) []plan.Point {
	for _, s := range pick(t, template.Seam) {
		if s.Corner == k+1 {
			return s.Points
		}
	}
	return nil
}

// The desk by hand: A is 96 × 25-1/2 in, its end cut at 45° to the right, so its front edge is 70-1/2 in; B's start is the cut, to the left.
func TestTheDesksPiecesByHand(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	const in = float64(measure.Inch)
	for run, want := range [][][2]float64{{{0, 0}, {0, 25.5}, {70.5, 0}, {96, 25.5}},
		{{0, 25.5}, {25.5, 0}, {72, 0}, {72, 25.5}}} {
		tt := holdPiece(t, e, run)
		o := pick(tt, template.Outline)[0].Points
		require.Len(t, o, 4)
		for _, w := range want {
			found := false
			for _, p := range o {
				found = found || math.Hypot(float64(p.X)-w[0]*in, float64(p.Y)-w[1]*in) < 1e-6
			}
			require.True(t, found, "run %d has a corner at %v in: %v", run, w, o)
		}
	}
	_, err := template.OfRun(e, 2, template.Above)
	require.ErrorContains(t, err, "There is no run 3")
	_, err = template.OfCorner(e, 1, template.Above)
	require.ErrorContains(t, err, "There is no corner 2")
}

// A cut-out 3 in from the front, 10 in from the wall corner of a run whose front edge begins 25-1/2 in later: from its piece's own ends.
func TestACutOutIsPlacedFromItsPiecesOwnEnds(t *testing.T) {
	const in = measure.Inch
	o := drawtest.Desk()
	from := 40 * in
	o.Top.Cutouts = []estimate.Cutout{{Run: "B", Kind: "sink", Length: 20 * in, Depth: 16 * in, FromStart: &from,
		FromFront: 3 * in}}
	e := drawtest.Make(t, o)
	p, ok := template.PlaceCutout(e, 0)
	require.True(t, ok)
	for _, one := range []struct {
		want float64
		got  measure.Length
	}{{20, p.Length}, {16, p.Depth}, {14.5, p.LeftAtFront}, {12, p.RightAtFront}, {40, p.LeftAtWall}, {12, p.RightAtWall},
		{3, p.FromFront}, {6.5, p.FromWall}} {
		require.InDelta(t, one.want, one.got.Inches(), 1e-9)
	}
}

// Pocket screws are bored into the piece that stops and bite the one that goes through; seen from above and from its front end, a right
// hand's first run lies left of the seam, a left hand's right.
func TestPocketsAreBoredIntoThePieceThatStops(t *testing.T) {
	for _, through := range []estimate.ThroughWish{estimate.ThroughFirst, estimate.ThroughSecond} {
		for _, hand := range []plan.Hand{plan.Right, plan.Left} {
			o := drawtest.Desk()
			o.Top.Hand = hand
			o.Top.Corners[0] = estimate.Corner{Angle: 90 * measure.Degree, Joint: plan.Butt, Through: through,
				Pull: catalogue.PocketScrew}
			o.Top.Edge = estimate.Edge{Profile: estimate.Square}
			e := drawtest.Make(t, o)
			require.Equal(t, hand == plan.Right, template.FirstLiesLeft(e, 0))
			stops := map[bool]int{true: 1, false: 0}[through == estimate.ThroughFirst]
			for run := range e.Runs {
				features := map[hardware.Feature]int{}
				for _, s := range template.Beside(e, 0, run) {
					features[hardware.Feature(s.Feature)]++
				}
				if run == stops {
					require.Positive(t, features[hardware.PocketCut])
					require.Equal(t, features[hardware.PocketCut], features[hardware.PocketHoleCut])
					require.Zero(t, features[hardware.ScrewCut])
				} else {
					require.Positive(t, features[hardware.ScrewCut])
					require.Zero(t, features[hardware.PocketCut])
				}
			}
		}
	}
}

// A short run that goes through before a deep one at a flat angle: the seam runs past its end, and every part still lies in its piece.
func TestASeamThatRunsPastItsPiece(t *testing.T) {
	cat := demotest.Catalogue(t)
	past := 0
	for deg := 100.0; deg <= 165; deg += 5 {
		for length := measure.Length(500); length <= 1500; length += 100 {
			o := drawtest.Desk()
			o.Units = measure.Millimetres
			o.Top.Runs = []estimate.Run{{Name: "A", Length: length, Depth: 300}, {Name: "B", Length: 2200, Depth: 650}}
			o.Top.Corners = []estimate.Corner{{Angle: measure.Angle(deg) * measure.Degree, Joint: plan.Butt,
				Through: estimate.ThroughFirst}}
			o.Top.Edge = estimate.Edge{Profile: estimate.Square}
			e, err := estimate.Make(o, cat)
			if err != nil {
				continue
			}
			g := &e.Corners[0].ChosenCandidate().Geometry
			if g.First.FrontEdge >= g.SeamLength {
				continue
			}
			past++
			for run := range e.Runs {
				outline := e.Runs[run].Piece.Outline
				tt, err := template.OfRun(e, run, template.Above)
				require.NoError(t, err)
				o := pick(tt, template.Outline)[0].Points
				require.Len(t, o, len(outline))
				for _, s := range pick(tt, template.Hardware) {
					require.True(t, plan.Contains(o, plan.Centroid(s.Points)) || s.Radius > 0 && plan.Contains(o, s.Points[0]),
						"%v°, %v: mark %d in piece %d", deg, length, s.Number, run)
				}
			}
		}
	}
	require.Positive(t, past)
}

// A square corner: 24 in along both walls are 24·√2 in across. The taped angle of these three is the corner's.
func TestACornerIsCheckedByThreeTapes(t *testing.T) {
	leg, across, ok := template.Check(drawtest.Make(t, drawtest.Desk()), 0)
	require.True(t, ok)
	require.InDelta(t, 24, leg.Inches(), 1e-9)
	require.InDelta(t, 24*math.Sqrt2, across.Inches(), 1e-9)
	bar := drawtest.Make(t, drawtest.Bar())
	leg, across, ok = template.Check(bar, 0)
	require.True(t, ok)
	theta, _, err := plan.TapedAngle(leg, leg, across, false)
	require.NoError(t, err)
	require.InDelta(t, bar.Corners[0].Angle.Degrees(), theta.Degrees(), 1e-9)
	bar.Corners[0].Angle = 277 * measure.Degree
	_, _, ok = template.Check(bar, 0)
	require.False(t, ok, "an outer corner")
}
