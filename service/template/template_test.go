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
	"seamwright/store/storetest"
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

// holdPiece holds a piece's template against the answer.
func holdPiece(t require.TestingT, e *estimate.Estimate, run int) *template.Template {
	r := &e.Runs[run]
	tt, err := template.OfRun(e, run, template.Above)
	require.NoError(t, err)
	outline := pick(tt, template.Outline)
	require.Len(t, outline, 1)
	o := outline[0].Points
	area := plan.Area(o)
	require.InDelta(t, float64(r.Piece.Area), math.Abs(float64(area)), 1e-3, "area of %s", r.Name)
	require.InDelta(t, float64(perimeter(r.Piece.Outline)), float64(perimeter(o)), fine)
	require.InDelta(t, float64(r.Piece.WallEdge), float64(lengthAt(o, r.Depth)), 1e-5, "wall edge of %s", r.Name)
	require.InDelta(t, float64(r.Piece.FrontEdge), float64(lengthAt(o, 0)), 1e-5, "front edge of %s", r.Name)
	lo, hi := o[0], o[0]
	for _, p := range o {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	require.InDelta(t, 0, float64(lo.X), fine)
	require.InDelta(t, float64(r.Piece.LongEdge), float64(hi.X), 1e-5)
	require.InDelta(t, 0, float64(lo.Y), 1e-5)
	require.InDelta(t, float64(r.Depth), float64(hi.Y), 1e-5)

	for _, c := range pick(tt, template.Cutouts) {
		is := &e.Cutouts[c.Number-1]
		require.InDelta(t, float64(is.Area), math.Abs(float64(plan.Area(c.Points))), 1e-3)
		require.True(t, plan.Contains(o, plan.Centroid(c.Points)), "cut-out %d lies in piece %s", c.Number, r.Name)
		for _, p := range c.Points {
			require.True(t, plan.Contains(o, p) || onEdge(o, p), "cut-out %d sticks out of piece %s", c.Number, r.Name)
		}
	}
	if blank := pick(tt, template.Blank); r.Blank.Width >= r.Depth {
		require.Len(t, blank, 1)
		require.InDelta(t, float64(r.Blank.Length)*float64(r.Blank.Width), math.Abs(float64(plan.Area(blank[0].Points))),
			1e-2)
		for _, p := range o {
			require.True(t, plan.Contains(blank[0].Points, p) || onEdge(blank[0].Points, p), "the blank holds the piece")
		}
	}
	holdSeams(t, e, run, tt, o)
	holdFixings(t, e, run, tt, o)
	below, err := template.OfRun(e, run, template.Below)
	require.NoError(t, err)
	require.Len(t, below.Shapes, len(tt.Shapes))
	for i := range tt.Shapes {
		for n, p := range tt.Shapes[i].Points {
			q := below.Shapes[i].Points[n]
			require.InDelta(t, float64(r.Piece.LongEdge-p.X), float64(q.X), 1e-5, "turned over sideways")
			require.InDelta(t, float64(p.Y), float64(q.Y), fine)
		}
	}
	return tt
}

// holdFixings holds the fixings against the answer: each at its distance from the front edge, its slot as long across and along.
func holdFixings(t require.TestingT, e *estimate.Estimate, run int, tt *template.Template, outline []plan.Point) {
	var places []estimate.FixingPlace
	for i := range e.Fixing.Runs {
		if e.Fixing.Runs[i].Run == e.Runs[run].Name {
			places = e.Fixing.Runs[i].Places
		}
	}
	crosses := map[int]int{}
	for _, s := range pick(tt, template.Fixings) {
		p := places[s.Number-1]
		require.True(t, plan.Contains(outline, middleOf(s.Points[0], s.Points[len(s.Points)/2])),
			"a fixing lies in its piece")
		if s.Feature == template.CentreMark {
			crosses[s.Number]++
			require.InDelta(t, float64(p.FromFront), float64(middleOf(s.Points[0], s.Points[1]).Y), 1e-5)
			continue
		}
		wide, high := extent(s.Points)
		require.InDelta(t, float64(p.SlotAlong), wide, 1e-5)
		require.InDelta(t, float64(p.SlotAcross), high, 1e-5)
	}
	require.Len(t, crosses, len(places))
}

// holdFront holds what shows of all pieces against the top: its whole front, and the free ends where they take the profile.
func holdFront(t require.TestingT, e *estimate.Estimate, all []*template.Template) {
	want, got := measure.Length(0), measure.Length(0)
	_, front := e.Chain()
	for i := range e.Runs {
		want += front[i].Distance(front[i+1])
	}
	if !e.Made.SquareEnds {
		want += e.Runs[0].Depth + e.Runs[len(e.Runs)-1].Depth
	}
	for _, tt := range all {
		for _, s := range pick(tt, template.Front) {
			got += s.Points[0].Distance(s.Points[1])
		}
	}
	require.InDelta(t, float64(want), float64(got), 1e-4)
}

func extent(points []plan.Point) (wide, high float64) {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return float64(hi.X - lo.X), float64(hi.Y - lo.Y)
}

// holdCut holds a cut beside a seam against its part: as wide along the seam as the answer says, and as deep.
func holdCut(t require.TestingT, e *estimate.Estimate, k, run int) {
	sizes := map[int]template.Mark{}
	for _, m := range template.Marks(e.Corners[k].ChosenCandidate()) {
		sizes[m.Number] = m
	}
	for _, s := range template.Beside(e, k, run) {
		m := sizes[s.Number]
		wide, deep := extent(s.Points)
		switch s.Feature {
		case template.Slot:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(m.Part.Length)/2, deep, fine)
		case template.Channel:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(m.Part.RecessDistance), deep, fine)
		case template.PocketHole:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(hardware.PocketSeat(m.Part)), deep, fine)
		case template.Pocket:
			require.InDelta(t, float64(m.Part.BoreDiameter), wide, fine)
			require.InDelta(t, float64(hardware.PocketRim(m.Part, e.Made.Thickness)-hardware.PocketSeat(m.Part)), deep, fine)
		case template.ScrewPoint:
			require.InDelta(t, float64(m.Part.ThreadDiameter), wide, fine)
		case template.Recess:
			if m.Recess > m.Part.RecessDiameter {
				require.InDelta(t, float64(m.Recess), wide, fine)
				require.InDelta(t, float64(m.Part.RecessDiameter), deep, 0.06, "round ends are of straight stretches")
				continue
			}
			require.Equal(t, m.Part.RecessDiameter/2, s.Radius)
			require.Equal(t, plan.Point{X: m.At, Y: m.Part.RecessDistance}, s.Points[0])
		case template.PieceEdge, template.SeamLine, template.FrontLine, template.Cutout, template.CentreMark, template.Fixing,
			template.BlankOutline:
			require.Fail(t, "no cut", s.Feature)
		}
	}
}

func onEdge(o []plan.Point, p plan.Point) bool {
	for i, a := range o {
		if plan.SegmentDistance(p, p, a, o[(i+1)%len(o)]) < 1e-3 {
			return true
		}
	}
	return false
}

// holdSeams holds seams and hardware of a piece against the answer: each part's centre is as far along the seam from its front end as the
// answer says.
func holdSeams(t require.TestingT, e *estimate.Estimate, run int, tt *template.Template, outline []plan.Point) {
	seams := map[int][]plan.Point{}
	for _, s := range pick(tt, template.Seam) {
		seams[s.Corner] = s.Points
		for _, p := range s.Points {
			require.True(t, onEdge(outline, p), "the seam at corner %d is an edge of its piece", s.Corner)
		}
	}
	parts := 0
	for k := run - 1; k <= run; k++ {
		if k < 0 || k >= len(e.Corners) {
			continue
		}
		c := e.Corners[k].ChosenCandidate()
		require.NotNil(t, c)
		seam := seams[k+1]
		require.NotEmpty(t, seam)
		var length measure.Length
		for i := 1; i < len(seam); i++ {
			length += seam[i-1].Distance(seam[i])
		}
		require.InDelta(t, float64(c.Geometry.SeamLength), float64(length), 1e-5)
		var places []measure.Length
		places = append(places, c.Hardware.Alignment.Positions...)
		for _, g := range c.Hardware.Pull.Groups {
			places = append(places, g.Positions...)
		}
		marks := template.Marks(c)
		require.Len(t, marks, len(places))
		holdCut(t, e, k, run)
		for _, m := range marks {
			require.Contains(t, places, m.At)
			want, found := along(seam, m.At), false
			for _, s := range tt.Shapes {
				if s.Layer != template.Hardware || s.Corner != k+1 || s.Number != m.Number || s.Radius > 0 ||
					s.Feature == template.Recess || s.Feature == template.Pocket {
					continue
				}
				found = true
				at := middleOf(s.Points[0], s.Points[1]) // the side on the seam
				require.InDelta(t, 0, float64(at.Distance(want)), 1e-5, "corner %d, mark %d in %s", k+1, m.Number, e.Runs[run].Name)
				require.True(t, plan.Contains(outline, plan.Centroid(s.Points)), "corner %d, mark %d lies in %s", k+1, m.Number,
					e.Runs[run].Name)
			}
			require.True(t, found, "corner %d, mark %d stands in %s", k+1, m.Number, e.Runs[run].Name)
			parts++
		}
	}
	count := map[[2]int]bool{}
	for _, s := range pick(tt, template.Hardware) {
		count[[2]int{s.Corner, s.Number}] = true
		if s.Radius > 0 {
			for turn := range 16 {
				a := 2 * math.Pi * float64(turn) / 16
				require.True(t, plan.Contains(outline, plan.Point{X: s.Points[0].X + s.Radius*measure.Length(math.Cos(a)),
					Y: s.Points[0].Y + s.Radius*measure.Length(math.Sin(a))}), "a recess lies in its piece")
			}
		}
	}
	require.Len(t, count, parts)
}

// turnOf is to which side a line of three points turns.
func turnOf(p []plan.Point) float64 {
	a, b, c := p[0], p[1], p[len(p)-1]
	return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
}

// Of any top: the templates are the answer's pieces, neighbours meet in one line, and a corner's template shows both at their places.
func TestTemplatesAreTheAnswersPieces(t *testing.T) {
	cat := storetest.Demo(t)
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
				features := map[template.Feature]int{}
				for _, s := range template.Beside(e, 0, run) {
					features[s.Feature]++
				}
				if run == stops {
					require.Positive(t, features[template.Pocket])
					require.Equal(t, features[template.Pocket], features[template.PocketHole])
					require.Zero(t, features[template.ScrewPoint])
				} else {
					require.Positive(t, features[template.ScrewPoint])
					require.Zero(t, features[template.Pocket])
				}
			}
		}
	}
}

// A short run that goes through before a deep one at a flat angle: the seam runs past its end, and every part still lies in its piece.
func TestASeamThatRunsPastItsPiece(t *testing.T) {
	cat := storetest.Demo(t)
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
