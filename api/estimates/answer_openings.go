package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func walkCutout(f *wire.Fields, c *estimate.CutoutResult) {
	f.Open()
	wire.Word(f, "run", &c.Run)
	wire.Word(f, "kind", &c.Kind)
	walkPoints(f, "outline", &c.Outline)
	f.Area("area", &c.Area)
	f.Texts("open_at", &c.OpenAt)
	walkMaking(f, &c.Making)
	f.Close()
}

// walkMaking walks how a cut-out is made, which is left out where the order does not say.
func walkMaking(f *wire.Fields, at **estimate.CutoutMaking) {
	if !f.OpenIf("making", *at != nil) {
		return
	}
	if f.Reads() {
		*at = new(estimate.CutoutMaking)
	}
	m := *at
	wire.Word(f, "shape", &m.Shape)
	f.Made("length", &m.Length)
	f.Made("depth", &m.Depth)
	f.MadeOrNull("corner_radius", &m.CornerRadius)
	f.Angle("turned", &m.Turned)
	wire.Word(f, "mount", &m.Mount)
	f.Pair("centre", &m.Centre.X, &m.Centre.Y)
	f.Made("edge_length", &m.Edge)
	f.MadeOrNull("shown_edge_length", &m.ShownEdge)
	wire.List(f, "rails", &m.Rails, walkRail)
	f.Close()
}

func walkRail(f *wire.Fields, r *estimate.Rail) {
	f.Open()
	wire.Word(f, "side", &r.Side)
	f.Sized("width", &r.Width, measure.Most)
	f.Made("length", &r.Length)
	f.Pressure("own_stress", &r.Own)
	f.Pressure("lifted_stress", &r.Lifted)
	f.PressureOrNull("allowed_stress", &r.Strength)
	holds := r.Holds()
	f.Bool("holds", &holds)
	f.Close()
}
