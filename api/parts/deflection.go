package parts

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/support"
)

func (s *room) postDeflection(c *web.Call) error {
	return answer(c, readDeflection, estimate.Deflect, writeDeflection)
}

func readDeflection(o *wire.Object, explain bool) estimate.DeflectionOrder {
	load := o.Child("load")
	back, _ := o.Distance("back")
	return estimate.DeflectionOrder{
		Units:     o.Units(),
		Species:   o.Text("species"),
		Sawn:      catalogue.Sawn(o.Text("sawn")),
		Thickness: o.Length("thickness"),
		Direction: support.Direction(o.Text("direction")),
		Support:   support.Kind(o.Text("support")),
		Length:    o.Length("length"),
		Spans:     o.Lengths("spans"),
		Back:      back,
		Width:     o.Length("width"),
		Uniform:   estimates.ReadSurfaceLoad(load, "uniform"),
		Point:     estimates.ReadForce(load, "point"),
		PointStay: load.Flag("point_stays"),
		OwnWeight: o.Flag("own_weight"),
		Explain:   explain,
	}
}

func writeDeflection(w *wire.Writer, a *estimate.DeflectionAnswer) {
	w.Units = a.Units
	w.Open()
	w.Text("units", w.Units.String())
	w.OpenAt("catalogue")
	w.Int("revision", a.Revision)
	w.Close()
	w.Text("species", a.Species)
	w.Text("sawn", string(a.Sawn))
	w.Text("direction", string(a.Direction))
	w.Text("support", string(a.Support))
	w.Number("stiffness", stress(w, a.Wood.Stiffness), 3)
	w.NumberOrNull("strength", stress(w, a.Wood.Strength), 3)
	w.Number("own_weight", estimates.SurfaceLoad(w.Units, a.OwnWeight), 4)
	w.Number("deflection", exact(w, a.Sag), 6)
	w.Number("long_term", exact(w, a.LongTerm), 6)
	w.Number("limit", exact(w, a.Limit), 6)
	w.Number("stress", stress(w, a.Stress), 4)
	w.NumberOrNull("stress_limit", stress(w, a.StressLimit), 4)
	w.Bool("holds", a.Holds)
	w.Text("governs", governs(a))
	w.SizedOrNull("greatest_length", a.Greatest, measure.Most)
	w.Texts("cautions", a.Cautions)
	estimates.WriteGrounds(w, &a.Grounds)
	w.Close()
}

func governs(a *estimate.DeflectionAnswer) string {
	if a.ByStrength {
		return "strength"
	}
	return "deflection"
}

// stress is a stress or a modulus in lbf/in² or MPa.
func stress(w *wire.Writer, p measure.Pressure) float64 {
	if w.Units == measure.Inches {
		return p.PoundsPerSquareInch()
	}
	return p.Megapascals()
}

// exact is a length to more places than makers' lengths have: a sag is small.
func exact(w *wire.Writer, l measure.Length) float64 { return l.In(w.Units) }
