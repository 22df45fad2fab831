package template_test

import (
	"math"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
)

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
	sizes := map[int]hardware.Mark{}
	for _, m := range e.Corners[k].ChosenCandidate().Hardware.Marks() {
		sizes[m.Number] = m
	}
	for _, s := range template.Beside(e, k, run) {
		m := sizes[s.Number]
		wide, deep := extent(s.Points)
		switch hardware.Feature(s.Feature) {
		case hardware.SlotCut:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(m.Part.Length)/2, deep, fine)
		case hardware.ChannelCut:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(m.Part.RecessDistance), deep, fine)
		case hardware.PocketHoleCut:
			require.InDelta(t, float64(m.Size), wide, fine)
			require.InDelta(t, float64(hardware.PocketSeat(m.Part)), deep, fine)
		case hardware.PocketCut:
			require.InDelta(t, float64(m.Part.BoreDiameter), wide, fine)
			require.InDelta(t, float64(hardware.PocketRim(m.Part, e.Made.Thickness)-hardware.PocketSeat(m.Part)), deep, fine)
		case hardware.ScrewCut:
			require.InDelta(t, float64(m.Part.ThreadDiameter), wide, fine)
		case hardware.RecessCut:
			if m.Recess > m.Part.RecessDiameter {
				require.InDelta(t, float64(m.Recess), wide, fine)
				require.InDelta(t, float64(m.Part.RecessDiameter), deep, 0.06, "round ends are of straight stretches")
				continue
			}
			require.Equal(t, m.Part.RecessDiameter/2, s.Radius)
			require.Equal(t, plan.Point{X: m.At, Y: m.Part.RecessDistance}, s.Points[0])
		default:
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
		marks := c.Hardware.Marks()
		require.Len(t, marks, len(places))
		holdCut(t, e, k, run)
		for _, m := range marks {
			require.Contains(t, places, m.At)
			want, found := along(seam, m.At), false
			for _, s := range tt.Shapes {
				if s.Layer != template.Hardware || s.Corner != k+1 || s.Number != m.Number || s.Radius > 0 ||
					s.Feature == template.Feature(hardware.RecessCut) || s.Feature == template.Feature(hardware.PocketCut) {
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
