package estimate_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// The checks below read nothing but an answer: outlines, the seam's path, positions and sizes. They walk round every
// footprint in small steps and share no formula with the code that places the parts.

type xy struct{ x, y float64 }

// footprint is what one part takes of one piece, in millimetres from the seam (y) and along it from the part's axis
// (x), as points round it.
func footprint(kind catalogue.FastenerKind, f *catalogue.Fastener, stops bool, thickness, slot, channel,
	recess float64) []xy {
	var out []xy
	box := func(half, deep float64) {
		for i := 0; i <= 40; i++ {
			t := float64(i) / 40
			out = append(out, xy{-half, t * deep}, xy{half, t * deep}, xy{half * (2*t - 1), deep}, xy{half * (2*t - 1), 0})
		}
	}
	switch kind.Form() {
	case catalogue.Recessed:
		box(channel/2, float64(f.RecessDistance))
		r, more := float64(f.RecessDiameter)/2, (recess-float64(f.RecessDiameter))/2
		for a := 0.0; a < 2*math.Pi; a += 0.02 {
			out = append(out, xy{math.Copysign(more, math.Cos(a)) + r*math.Cos(a), float64(f.RecessDistance) + r*math.Sin(a)})
		}
	case catalogue.Pocketed:
		lean := 15 * math.Pi / 180
		if stops {
			box(float64(f.BoreDiameter)/2, thickness/2/math.Tan(lean)+float64(f.BoreDiameter)/2/math.Sin(lean))
		} else {
			box(float64(f.ThreadDiameter)/2, float64(f.Penetration)*math.Cos(lean))
		}
	case catalogue.LetIn:
		if !kind.Traits().Plunged {
			box(slot/2, float64(f.Length)/2)
			break
		}
		// The circle of a cutter of 100 mm, plunged half the biscuit and half a millimetre deep
		deep := float64(f.Length)/2 + 0.5
		chord := math.Sqrt(2500 - (50-deep)*(50-deep))
		more := slot/2 - chord
		for i := -200; i <= 200; i++ {
			x := chord * float64(i) / 200
			out = append(out, xy{x + math.Copysign(more, x), math.Sqrt(2500-x*x) - (50 - deep)},
				xy{slot / 2 * float64(i) / 200, 0})
		}
	case catalogue.NoForm: // stand in no seam
	}
	return out
}

// woodAround is the least wood around everything cut at a corner, in millimetres, negative when something breaks out,
// and what it is.
func woodAround(e *estimate.Estimate, k int, c *estimate.Candidate) (least float64, what string) {
	least = math.Inf(1)
	h, thickness := &c.Hardware, float64(e.Made.Thickness)
	for i := range 2 {
		piece := &e.Runs[k+i].Piece
		stops := c.Joint.Through == plan.Second && i == 0 || c.Joint.Through == plan.First && i == 1 ||
			c.Joint.Kind == plan.Miter && i == 0
		look := func(name string, at measure.Length, shape []xy) {
			if d := woodIn(piece.Outline, c.Geometry.SeamPath, float64(c.Geometry.SeamLength), float64(at), shape); d < least {
				least, what = d, fmt.Sprintf("%s at %.3f mm in run %s", name, float64(at), e.Runs[k+i].Name)
			}
		}
		for n, at := range h.Alignment.Positions {
			look(h.Alignment.Item, at, footprint(h.Alignment.Kind, &h.Alignment.Part, stops, thickness,
				float64(h.Alignment.SlotWidths[n]), 0, 0))
		}
		for g := range h.Pull.Groups {
			group := &h.Pull.Groups[g]
			for n, at := range group.Positions {
				channel, recess := 0.0, float64(group.Part.RecessDiameter)
				if group.Kind == catalogue.DrawBolt {
					channel = float64(group.Channels[n])
				}
				if len(group.Recesses) > 0 {
					recess = float64(group.Recesses[n])
				}
				look(group.Item, at, footprint(group.Kind, &group.Part, stops, thickness, 0, channel, recess))
			}
		}
	}
	return least, what
}

// woodIn is the least distance of a shape, standing on the seam at a place, from the edges of an outline other than the
// seam.
func woodIn(outline, path []plan.Point, length, at float64, shape []xy) float64 {
	p, q := path[len(path)-2], path[len(path)-1]
	long := math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
	ux, uy := float64(q.X-p.X)/long, float64(q.Y-p.Y)/long
	into := 1.0
	if middle := (xy{float64(p.X+q.X)/2 - uy*0.01, float64(p.Y+q.Y)/2 + ux*0.01}); !within(outline, middle) {
		into = -1
	}
	start := at - (length - long)
	least := math.Inf(1)
	for _, s := range shape {
		y := s.y
		if y == 0 {
			y = 1e-6 // the opening lies on the seam: look just inside the wood
		}
		along := start + s.x
		point := xy{float64(p.X) + along*ux - into*y*uy, float64(p.Y) + along*uy + into*y*ux}
		d := edgeDistance(outline, p, q, point)
		if !within(outline, point) {
			d = -d
		}
		least = math.Min(least, d)
	}
	return least
}

// edgeDistance is how far a point lies from an outline, without what of it is the seam from p to q.
func edgeDistance(outline []plan.Point, p, q plan.Point, at xy) float64 {
	least := math.Inf(1)
	long := math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
	along := func(o plan.Point) (t, off float64) {
		dx, dy := float64(o.X-p.X), float64(o.Y-p.Y)
		ux, uy := float64(q.X-p.X)/long, float64(q.Y-p.Y)/long
		return dx*ux + dy*uy, math.Abs(dy*ux - dx*uy)
	}
	for i := range outline {
		a, b := outline[i], outline[(i+1)%len(outline)]
		ta, offA := along(a)
		tb, offB := along(b)
		if offA > 1e-6 || offB > 1e-6 {
			least = math.Min(least, fromSegment(at, a, b))
			continue
		}
		if ta > tb {
			a, b, ta, tb = b, a, tb, ta
		}
		if ta < -1e-6 {
			least = math.Min(least, fromSegment(at, a, p))
		}
		if tb > long+1e-6 {
			least = math.Min(least, fromSegment(at, q, b))
		}
	}
	return least
}

func fromSegment(at xy, a, b plan.Point) float64 {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	t := ((at.x-float64(a.X))*dx + (at.y-float64(a.Y))*dy) / (dx*dx + dy*dy)
	t = math.Max(0, math.Min(1, t))
	return math.Hypot(at.x-float64(a.X)-t*dx, at.y-float64(a.Y)-t*dy)
}

// within counts how often a ray crosses an outline.
func within(outline []plan.Point, at xy) bool {
	in := false
	for i := range outline {
		a, b := outline[i], outline[(i+1)%len(outline)]
		if (float64(a.Y) > at.y) != (float64(b.Y) > at.y) && at.x < float64(a.X)+
			float64(b.X-a.X)*(at.y-float64(a.Y))/float64(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

var named = []estimate.Corner{{Joint: plan.Miter}, {Joint: plan.Butt, Through: estimate.ThroughFirst},
	{Joint: plan.Butt, Through: estimate.ThroughSecond},
	{Joint: plan.MasonsMiter, Through: estimate.ThroughFirst}, {Joint: plan.MasonsMiter, Through: estimate.ThroughSecond}}

// Every bore, recess, channel, pocket and slot lies in its piece with half an inch of wood around it: every angle,
// depth, joint and kind.
func TestEveryFootprintLiesInTheWood(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	made := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		o := deskA()
		o.Top.Species = rapid.SampledFrom([]string{"maple_sugar", "mahogany", "oak_white"}).Draw(t, "species")
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Right, plan.Left}).Draw(t, "hand")
		o.Top.Thickness = measure.Length(rapid.SampledFrom([]float64{0.75, 1, 1.5, 2, 2.5}).Draw(t, "thickness")) * in
		o.Top.Edge.Size = measure.Length(rapid.SampledFrom([]float64{0.0625, 0.25, 0.5}).Draw(t, "profile")) * in
		c := rapid.SampledFrom(named).Draw(t, "joint")
		c.Angle = measure.Angle(rapid.SampledFrom([]float64{45, 60, 75, 83, 90, 97, 110, 120, 135, 150, 165, 200, 225, 270,
			300}).Draw(t, "angle")) * measure.Degree
		c.Pull = rapid.SampledFrom([]catalogue.FastenerKind{"", catalogue.DrawBolt, catalogue.PocketScrew}).Draw(t, "pull")
		c.Alignment = rapid.SampledFrom([]catalogue.FastenerKind{"", catalogue.Biscuit, catalogue.LooseTenon}).Draw(t,
			"alignment")
		o.Top.Corners[0] = c
		var depth measure.Length
		equal := rapid.Bool().Draw(t, "equal depths")
		for i := range o.Top.Runs {
			if i == 0 || !equal {
				depth = measure.Length(rapid.Float64Range(3, 30).Draw(t, "depth")) * in
			}
			o.Top.Runs[i].Depth = depth
			o.Top.Runs[i].Length = measure.Length(rapid.SampledFrom([]float64{90, 120}).Draw(t, "length")) * in
		}
		o.Moisture.Humid = wet(rapid.SampledFrom([]float64{8, 9, 12}).Draw(t, "humid"))
		o.Moisture.Dry = wet(7)
		if rapid.Bool().Draw(t, "cut-out") {
			from := measure.Length(rapid.Float64Range(20, 60).Draw(t, "from")) * in
			o.Top.Cutouts = []estimate.Cutout{{Run: "B", Length: 12 * in, Depth: o.Top.Runs[1].Depth / 2, FromStart: &from,
				FromFront: o.Top.Runs[1].Depth / 4}}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			for _, f := range fault.All(err) {
				require.NotEqual(t, fault.Internal, f.Kind, f.Detail)
			}
			return
		}
		chosen := chosenOf(&e.Corners[0])
		least, what := woodAround(e, 0, chosen)
		if least < 12.7-0.02 {
			t.Fatalf("%.3f mm of wood: %s", least, what)
		}
		made[string(c.Joint)+" "+string(chosen.Hardware.Pull.Groups[0].Kind)+" "+string(chosen.Hardware.Alignment.Kind)]++
	})
	t.Log(made)
	require.Greater(t, len(made), 3, "the draws hardly ever gave a top")
}

// Three corners whose last recess broke out of the wall edge, by 0.48 in, with its centre, and by 0.06 in.
func TestRecessesThatBrokeOutOfTheWallEdge(t *testing.T) {
	t.Parallel()
	for _, one := range []struct{ angle, depth measure.Length }{{60, 25.5}, {45, 12}, {90, 6}} {
		o := deskA()
		o.Top.Edge = estimate.Edge{Profile: estimate.Square}
		o.Top.Corners[0] = estimate.Corner{Angle: measure.Angle(one.angle) * measure.Degree, Joint: plan.Miter,
			Pull: catalogue.DrawBolt}
		o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = one.depth*in, one.depth*in
		o.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(7.9), Humid: wet(8.1)}
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		least, what := woodAround(e, 0, chosenOf(&e.Corners[0]))
		require.GreaterOrEqual(t, least, 12.7-0.001, what)
	}
}

// What only swells against glue is pressed, not pulled: there is nothing to compare with the tension strength.
func TestGlueIsComparedWithWhatDriesAlone(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Species = "oak_white"
	o.Top.Corners[0].Joint = plan.Butt
	o.Moisture = estimate.MoistureOrder{Making: wet(7), Dry: wet(7.5), Humid: wet(10)}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Zero(t, chosenOf(&e.Corners[0]).Strain)

	o.Moisture.Dry = wet(6.5)
	e, err = estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	half := chosenOf(&e.Corners[0]).Strain
	o.Moisture.Dry = wet(6)
	e, err = estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.InDelta(t, 2, float64(chosenOf(&e.Corners[0]).Strain.Stress/half.Stress), 1e-9,
		"by the drying, half a point against one, whatever it swells")

	o.Top.Corners[0].Glue = true
	_, err = estimate.Make(o, demotest.Catalogue(t))
	require.ErrorContains(t, err, "lbf/in² of tension across the grain if it could not creep")
	require.ErrorContains(t, err, "Swelling would press instead")
}
