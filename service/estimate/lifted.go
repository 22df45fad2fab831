package estimate

import (
	"math"
	"strconv"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// LiftingOrder asks how every piece and the joined top are lifted. Nil and zero take a default.
type LiftingOrder struct {
	Horizontal *measure.Length // from the ankles to the hands
	Height     *measure.Length // of the hands where the lift begins
	Travel     *measure.Length // up or down
	Lift       hardware.Lift   // the rest of it
	Told       LiftTold
}

// Lifting is how the pieces of a top and the joined top are lifted.
type Lifting struct {
	Lift        hardware.Lift
	Multipliers hardware.LiftMultipliers
	Limit       measure.Mass // one person's; 0: no such lift
	Pieces      []Lifted
	Joined      *Lifted // nil of one run
}

// Lifted is what is lifted at once.
type Lifted struct {
	Run      string // empty: the joined top
	Mass     measure.Mass
	Hardware measure.Mass   // of it, of steel in the seams
	Centre   plan.Point     // of gravity, on the plan
	Along    measure.Length // of it, along the run from its start; of the joined top, along the first run
	FromWall measure.Length // and from that run's wall
	People   int
	Share    measure.Mass
	Index    float64 // 0: no such lift
	Enough   int     // people with whom the index is at most 1; 0: no such lift
	Text     string
}

// A slab is lifted off trestles onto a base. Common practice.
const (
	liftReach  = 16 * measure.Inch
	liftHeight = 30 * measure.Inch
	liftTravel = 6 * measure.Inch
)

// steel is the density of the parts that pull in seams, in kilograms a cubic metre.
//
// Source: usual value of carbon steel (7.85 g/cm³).
const steel = 7850

// resolveLifting takes the defaults of a lift.
func (w *work) resolveLifting() error {
	o := w.order.Site.Lift
	if o == nil {
		return nil
	}
	w.lift = o.Lift
	for _, d := range []struct {
		told *measure.Length
		to   *measure.Length
		name string
		take measure.Length
		why  string
	}{{o.Horizontal, &w.lift.Horizontal, "horizontal", liftReach, "a slab is held before the body"},
		{o.Height, &w.lift.Height, "height", liftHeight, "lifted off trestles"},
		{o.Travel, &w.lift.Travel, "travel", liftTravel, "from trestles onto a base"}} {
		if *d.to = d.take; d.told != nil {
			*d.to = *d.told
		} else {
			w.assume("/site/lift/"+d.name, d.take, d.why)
		}
	}
	w.assumeLift(&w.lift, o.Told, "/site/lift")
	return checkLift(&w.lift)
}

// lifting says how the chosen top is lifted; nil where nobody asked.
func (w *work) lifting(c *chosen) *Lifting {
	if w.order.Site.Lift == nil {
		return nil
	}
	t := &Lifting{Lift: w.lift}
	t.Limit, t.Multipliers = hardware.LiftFormOf(w.units).Limit(w.lift)
	l := c.layout
	joined := Lifted{}
	var x, y float64
	add := func(m measure.Mass, at plan.Point) {
		joined.Mass += m
		x, y = x+float64(m)*float64(at.X), y+float64(m)*float64(at.Y)
	}
	for i := range w.runs {
		p := Lifted{Run: w.runs[i].Name, Mass: w.shapeOf(i, l).mass, Centre: w.shapeOf(i, l).centre}
		add(p.Mass, p.Centre)
		p.place(w, l, i)
		t.reckon(w, &p)
		t.Pieces = append(t.Pieces, p)
	}
	if len(w.runs) > 1 {
		for k := range c.options {
			for _, g := range c.options[k].Hardware.Pull.Groups {
				each := pullMass(g.Part.BoltDiameter+g.Part.ThreadDiameter, g.Part.Length)
				for _, at := range g.Positions {
					joined.Hardware += each
					add(each, onPath(l.Seams[k].Path, at))
				}
			}
		}
		if joined.Mass > 0 {
			joined.Centre = plan.Point{X: measure.Length(x / float64(joined.Mass)), Y: measure.Length(y / float64(joined.Mass))}
		}
		joined.place(w, l, 0)
		t.reckon(w, &joined)
		t.Joined = &joined
	}
	w.warnLifted(t)
	w.cite(source.NIOSHLifting)
	return t
}

// pullMass is the mass of a part of steel as a rod of its diameter and length; a bolt has no thread of its own, a screw
// no bolt.
func pullMass(diameter, length measure.Length) measure.Mass {
	volume := measure.Volume(math.Pi / 4 * float64(diameter) * float64(diameter) * float64(length))
	return measure.Mass(steel * volume.CubicMetres())
}

// onPath is the place at a distance along a path.
func onPath(path []plan.Point, at measure.Length) plan.Point {
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		d := a.Distance(b)
		if at <= d || i == len(path)-1 {
			return plan.Point{X: a.X + (b.X-a.X)*at/d, Y: a.Y + (b.Y-a.Y)*at/d}
		}
		at -= d
	}
	return path[0]
}

// place says where on a run's slab the centre of gravity lies.
func (x *Lifted) place(w *work, l *plan.Layout, run int) {
	along, fromFront := l.Local(run, x.Centre)
	x.Along, x.FromWall = along, w.runs[run].Depth-fromFront
}

// reckon holds a load against the limit.
func (t *Lifting) reckon(w *work, x *Lifted) {
	x.People = hardware.People(x.Mass, w.set.PersonLimit)
	x.Share = x.Mass / measure.Mass(x.People)
	what, run := "Piece "+x.Run, x.Run
	if x.Run == "" {
		what, run = "The joined top", w.runs[0].Name
	}
	text := what + ": " + w.phraseMass(x.Mass) + ", its centre of gravity " + w.phrase(x.Along) + " from the start of run " + run +
		" and " + w.phrase(x.FromWall) + " from its wall."
	if t.Limit <= 0 {
		x.Text = text
		return
	}
	x.Index, x.Enough = float64(x.Share/t.Limit), hardware.People(x.Mass, t.Limit)
	by, within := " Lifted by one person, that is ", ""
	if x.People > 1 {
		by = numbered(" Lifted by ", x.People) + " people, each has "
	}
	if x.Enough > x.People {
		within = numbered(" With ", x.Enough) + " it is within the limit, as far as they can share it."
	}
	x.Text = text + by + strconv.FormatFloat(x.Index, 'f', 2, 64) + " times what this lift allows." + within
}

func (w *work) phraseMass(m measure.Mass) string {
	if w.units == measure.Inches {
		return m.Whole(w.units) + " lb"
	}
	return m.Whole(w.units) + " kg"
}

// warnLifted says which loads are too much for a person's share.
func (w *work) warnLifted(t *Lifting) {
	all := t.Pieces
	if t.Joined != nil {
		all = append(all[:len(all):len(all)], *t.Joined)
	}
	for i := range all {
		switch x := &all[i]; {
		case t.Limit <= 0:
			w.warn("out_of_bounds", Serious, "/site/lift", outOfBounds)
			return
		case x.Index > 3:
			w.warn("lift_dangerous", Serious, "/site/lift", x.Text)
		case x.Index > 1:
			w.warn("lift_heavy", Caution, "/site/lift", x.Text)
		}
	}
}

// Lifters are how many lift the piece of a run within the limit of the lift that was told; 0 where nobody asked or there is no such
// lift. To carry a piece is another act, with a limit of its own: RunResult.People.
func (e *Estimate) Lifters(run int) int {
	if e.Lifting == nil || run >= len(e.Lifting.Pieces) {
		return 0
	}
	return e.Lifting.Pieces[run].Enough
}

// LiftingTexts are what is said of each load, the pieces first; nil where nobody asked.
func (e *Estimate) LiftingTexts() []string {
	t := e.Lifting
	if t == nil {
		return nil
	}
	var out []string
	for i := range t.Pieces {
		out = append(out, t.Pieces[i].Text)
	}
	if t.Joined != nil {
		out = append(out, t.Joined.Text)
	}
	return out
}
