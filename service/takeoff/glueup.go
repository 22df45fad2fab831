package takeoff

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// GlueUp is how the slab of a blank is glued up: in sections that the planer takes, a few joints at once, with so many
// clamps. With one set of clamps one glue-up follows the other.
type GlueUp struct {
	Parts      int              // sections of a layer; one where the planer takes all of it
	Joints     int              // stave joints of all layers
	JointArea  measure.Area     // of one of them
	AtOnce     int              // joints that the open time is enough for, at least one
	Count      int              // glue-ups of sections, slab and layers
	Spreading  float64          // minutes to spread as many joints as one glue-up has
	Closing    float64          // minutes to set the clamps
	Pressure   measure.Pressure // on the joints
	Clamps     int              // of one glue-up of staves
	Spacing    measure.Length   // from clamp to clamp
	FaceForce  measure.Force    // that presses layers on each other; 0: it is one
	Litres     float64          // of glue
	Hours      float64          // that the clamps are in use, one glue-up after the other
	SlowSpread bool             // one joint alone takes longer than the open time
	SlowClose  bool             // setting the clamps takes longer than the closed time
}

// Section is a part of a slab that is glued up and planed by itself.
type Section struct {
	Staves int
	Width  measure.Length
}

// Pressures on joints: low ones for light woods, whose surfaces yield, the highest for the densest.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 10, about 700 kPa (100 lbf/in²) and up to 1,700 kPa (247 lbf/in²);
// from memory, and within what is read elsewhere (testdata/published/clamp_pressure.csv). Which wood is light and which is
// dense is common practice.
const (
	leastPressure = 700 * measure.Kilopascal
	mostPressure  = 1700 * measure.Kilopascal
	lightGravity  = 0.35
	denseGravity  = 0.75
)

// GluePressure is the pressure on the joints of a wood of a specific gravity (about 12 % of moisture): straight from the
// least of the handbook for light woods to its most for dense ones.
func GluePressure(gravity float64) measure.Pressure {
	share := (gravity - lightGravity) / (denseGravity - lightGravity)
	return leastPressure + (mostPressure-leastPressure)*measure.Pressure(min(max(share, 0), 1)) // WH ch. 10
}

// sections is in how many sections a layer is glued up: as few as the planer allows.
func (b *Blank) sections(s *catalogue.Settings) int {
	most := max(1, int(math.Floor(float64(s.PlanerWidth/b.StaveWidth)+1e-9)))
	return (b.LayerStaves() + most - 1) / most
}

// Section is section i of so many of a layer; they are as equal as whole staves are.
func (b *Blank) Section(i, of int) Section {
	n := b.LayerStaves() / of
	if i < b.LayerStaves()%of {
		n++
	}
	return Section{Staves: n, Width: b.StaveWidth * measure.Length(n)}
}

// PlanGlueUp plans the glue-up of a blank from a wood of a specific gravity; ok is false for a ready-made panel.
//
//	joints at once = ⌊open time · spread rate / area of a joint⌋
//	clamps         = ⌈pressure · area of a joint / force of a clamp⌉
//
// The clamps of a glue-up press all its joints, one behind the other, so that one joint's area counts.
//
// Common practice; open and closed time, rates and force are the shop's.
func PlanGlueUp(b *Blank, gravity float64, glue *catalogue.Glue, s *catalogue.Settings) (g GlueUp, ok bool) {
	if b.Staves == 0 || b.StaveWidth <= 0 {
		return g, false
	}
	thick := b.Thickness
	if b.Layers > 0 {
		thick = b.Layer
	}
	g = GlueUp{Parts: b.sections(s), Joints: b.joints(),
		JointArea: measure.Area(b.Length) * measure.Area(thick+s.ThicknessAllowance), Pressure: GluePressure(gravity),
		Litres: float64(b.GlueArea(s) / glue.Spread)}
	each := g.JointArea.SquareMetres() / s.GlueSpreadRate // minutes
	g.AtOnce = max(1, int(math.Floor(s.GlueOpenMinutes/each+1e-9)))
	most := g.count(b)
	g.Spreading, g.SlowSpread = each*float64(most), each > s.GlueOpenMinutes+1e-9 && g.Joints > 0
	if g.Joints > 0 {
		force := g.Pressure.Kilopascals() * g.JointArea.SquareMetres() // kN
		g.Clamps = int(math.Ceil(force/s.ClampForce - 1e-9))
		g.Spacing = b.Length / measure.Length(g.Clamps)
	}
	g.Closing = float64(g.Clamps) * s.ClampMinutes
	g.SlowClose = g.Closing > s.GlueClosedMinutes+1e-9
	if b.Layers > 0 {
		area := b.Faces() / measure.Area(b.layers()-1)
		g.FaceForce = measure.Force(g.Pressure.Kilopascals() * area.SquareMetres() * 1000)
	}
	g.Hours = float64(g.Count) * glue.ClampHours
	return g, true
}

// count counts the glue-ups and returns how many joints the greatest has. In every other layer a stave is ripped in two,
// whose halves lie outside, so that it has a joint more.
func (g *GlueUp) count(b *Blank) (most int) {
	times := func(joints int) int {
		most = max(most, min(joints, g.AtOnce))
		return (joints + g.AtOnce - 1) / g.AtOnce
	}
	layers := b.layers()
	if b.BuiltUp() { // one slab; its strips by themselves, blocks as they are pressed
		layers = 1
		if n := b.Under.stripJoints(b.layers()); n > 0 {
			g.Count += times(n)
		}
	}
	for layer := range layers {
		for i := range g.Parts {
			joints := b.Section(i, g.Parts).Staves - 1
			if layer%2 == 1 && i == g.Parts-1 && b.LayerStaves() > 1 {
				joints++
			}
			g.Count += times(joints)
		}
		g.Count += times(g.Parts - 1)
	}
	if b.layers() > 1 {
		g.Count++ // all layers in one press
	}
	return most
}
