package estimate

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// Limits of what can be asked for. Beyond them an estimate would be nonsense, not merely unusual.
const (
	LeastRun          = 100 * measure.Millimetre
	LongestRun        = 12 * measure.Metre
	LeastThickness    = 12 * measure.Millimetre
	GreatestThickness = 150 * measure.Millimetre
	MostRuns          = 6
	MostPieces        = 12 // of all runs, where some are made of several
)

// resolve looks everything up and takes the defaults. All faults found come back at once.
func (m *Maker) resolve(order Order) (*work, error) { return m.resolveAs(&order, nil) }

// resolveAs is resolve; for what is priced alone, of an order that differs from another one in thickness, wood and what may be added
// alone, with what does not depend on these taken from that one's work, without noting what was assumed, warned of and cited, and good
// until the next such.
func (m *Maker) resolveAs(order *Order, like *work) (*work, error) {
	quiet := like != nil
	m.bench.taken.begun += len(order.Top.Runs)
	series := seriesOf(order, &m.cat.Settings)
	cat := m.in(series)
	m.another()
	m.bench.clear(cat, order.Pricing.AsOf)
	w := &m.bench.silent
	if !quiet {
		w = new(work)
	}
	*w = work{order: *order, quiet: quiet, cat: cat, set: &cat.Settings, units: order.Units, series: series, bench: &m.bench}
	if !quiet {
		w.assumptions = make([]Assumption, 0, 16+4*(len(order.Base)+len(order.Site.Way)))
	}
	var wrong fault.List
	wrong.Add("/top", w.resolveTop())
	wrong.Add("", w.resolveMoisture())
	wrong.Add("", w.resolveFinish())
	wrong.Add("", w.resolveShop())
	wrong.Add("/pricing", w.resolveTerms())
	if err := wrong.Err(); err != nil {
		return nil, err // what follows builds on the above
	}
	if w.builtUp() { // the year and the base are those of the slab alone: how thick it is comes before its wood is picked
		w.layers = w.leastLayers()
	}
	if order.Moisture.Seasonal != nil {
		if err := w.resolveSeasonal(); err != nil {
			return nil, err
		}
	}
	if quiet {
		w.cutouts, w.crooked, w.left = like.cutouts, like.crooked, like.left
		w.beside = append(w.beside, like.beside...)
		if len(order.Site.Way) > 0 {
			w.walk = like.walk // what it knows of a piece holds for any
		}
		wrong.Add("", w.resolveBaseLike(like.base))
	} else {
		wrong.Add("/top", w.resolveCutouts())
		wrong.Add("/site/walls", w.resolveWalls())
		wrong.Add("", w.resolveBase())
	}
	wrong.Add("", w.resolveWood())
	if len(wrong) > 0 {
		wrong.Add("/site/way", passage.Check(w.order.Site.Way, w.units)) // at once with the rest of what is wrong with the site
		return nil, wrong.Err()
	}
	if s := order.Moisture.Stock; s != nil {
		wrong.Add("/moisture/stock/air", w.conditionStock(s))
	} else {
		w.condition()
	}
	w.resolveSeries()
	wrong.Add("/top/fixing", w.resolveFixing())
	wrong.Add("/site/way", w.resolveWay())
	wrong.Add("/site/lift", w.resolveLifting())
	w.warnListed()
	w.listMaterials()
	w.cite(source.CommonPractice, source.Demo, source.PlaneTrigonometry, source.NISTUnits, source.PERT)
	return w, wrong.Err()
}

func (w *work) resolveTop() error {
	var wrong fault.List
	t := &w.order.Top
	if t.Thickness < LeastThickness || t.Thickness > GreatestThickness {
		wrong.Add("", impossible("/thickness", fmt.Sprintf("A top of %s cannot be estimated; thicknesses from %s to %s can.",
			w.phrase(t.Thickness), w.phraseUp(LeastThickness), w.phraseDown(GreatestThickness)), ""))
	}
	if t.Construction == "" {
		t.Construction = EdgeGlued
		w.assume("/top/construction", string(EdgeGlued), "the usual way to make a wide slab")
	}
	if t.Sawn == "" {
		t.Sawn = catalogue.FlatSawn
		w.assume("/top/sawn", string(catalogue.FlatSawn), "flat-sawn moves most: the safe side")
	}
	if t.Hand == "" {
		t.Hand = plan.Right
		if len(t.Runs) > 1 {
			w.assume("/top/hand", string(plan.Right),
				"the second run lies on the right of someone who faces the first run's wall")
		}
	}
	wrong.Add("", w.resolveRuns())
	wrong.Add("", w.resolveCorners())
	wrong.Add("/edge", w.resolveEdge())
	if len(wrong) == 0 {
		wrong.Add("/edge", w.resolveMoulding())
	}
	return wrong.Err()
}

func (w *work) resolveRuns() error {
	var wrong fault.List
	t := &w.order.Top
	most := MostRuns
	if slices.ContainsFunc(t.Runs, func(r Run) bool { return r.partOf != nil }) {
		most = MostPieces
	}
	if n := len(t.Runs); n < 1 || n > most {
		wrong.Add("", impossible("/runs", fmt.Sprintf("A top has 1 to %d runs, not %d.", MostRuns, n), ""))
		return wrong.Err()
	}
	if want := len(t.Runs) - 1; len(t.Corners) != want {
		wrong.Add("", impossible("/corners", fmt.Sprintf("A top of %s needs %s, one between each two; %d are given.",
			plural(len(t.Runs), "run"), plural(want, "corner"), len(t.Corners)), ""))
	}
	w.runs = make([]run, len(t.Runs))
	w.blanks = slices.Grow(w.blanks[:0], len(t.Runs))[:len(t.Runs)]
	w.top = plan.Top{Hand: t.Hand, Runs: make([]plan.Run, len(t.Runs))}
	for i := range t.Runs {
		r := t.Runs[i]
		if r.Name == "" {
			r.Name = string(rune('A' + i))
		}
		if !strings.ContainsFunc(r.Name, func(c rune) bool { return unicode.IsGraphic(c) && !unicode.IsSpace(c) }) {
			wrong.Add("", impossible(numbered("/runs/", i)+"/name", "A name of blanks or of what cannot be seen names no run.",
				"Leave it out: runs are then named A, B, C in order."))
		}
		for k := range i {
			if w.runs[k].Name == r.Name {
				wrong.Add("", impossible(numbered("/runs/", i)+"/name",
					fmt.Sprintf("Two runs are named %q; give each its own name.", r.Name), ""))
			}
		}
		wrong.Add("", fault.Item("/runs", i, w.checkRun(&r)))
		wrong.Add("", w.resolveSpecies(i, &r))
		w.runs[i].Run = r
		w.top.Runs[i] = plan.Run{Name: r.Name, Length: r.Length, Depth: r.Depth}
	}
	return wrong.Err()
}

func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return numbered("", n) + " " + thing + "s"
}

func (w *work) checkRun(r *Run) error {
	var wrong fault.List
	if r.Length < LeastRun || r.Length > LongestRun {
		wrong.Add("", impossible("/length", fmt.Sprintf("Run %s is %s long; runs from %s to %s can be estimated.", r.Name,
			w.phrase(r.Length), w.phraseUp(LeastRun), w.phraseDown(LongestRun)), ""))
	}
	if r.Depth < LeastRun/2 || r.Depth > LongestRun/4 {
		wrong.Add("", impossible("/depth", fmt.Sprintf("Run %s is %s deep; depths from %s to %s can be estimated.", r.Name,
			w.phrase(r.Depth), w.phraseUp(LeastRun/2), w.phraseDown(LongestRun/4)), ""))
	}
	if len(wrong) == 0 && r.Depth > r.Length {
		wrong.Add("", impossible("/depth",
			fmt.Sprintf("Run %s is deeper (%s) than it is long (%s); the grain runs along a run's length, so its length is the longer side.", r.Name, w.phrase(r.Depth), w.phrase(r.Length)), "Swap length and depth, or check both."))
	}
	return wrong.Err()
}

// resolveSpecies finds a run's wood; an unknown code is reported where it was written.
func (w *work) resolveSpecies(i int, r *Run) error {
	own := r.Species != ""
	if !own {
		r.Species = w.order.Top.Species
	}
	if r.Sawn == "" {
		r.Sawn = w.order.Top.Sawn
	}
	w.runs[i].species = w.cat.SpeciesByCode(r.Species)
	// of the top's species, at the first run without its own
	told := slices.ContainsFunc(w.order.Top.Runs[:i], func(r Run) bool { return r.Species == "" })
	if w.runs[i].species == nil && (own || !told) {
		pointer := "/species"
		if own {
			pointer = numbered("/runs/", i) + "/species"
		}
		return unknown(pointer, "species", r.Species, codes(w.cat.Species,
			func(s *catalogue.Species) string { return s.Code }))
	}
	return nil
}

func (w *work) resolveCorners() error {
	var wrong fault.List
	t := &w.order.Top
	w.corners = make([]corner, len(t.Corners))
	w.top.Corners = make([]measure.Angle, len(t.Corners))
	for i := range t.Corners {
		c := corner{Corner: t.Corners[i]}
		if c.inLine != nil {
			c.angle, c.Joint, c.Through, c.Carry = plan.InLine, AutoJoint, ThroughAuto, CarryNone
			w.corners[i], w.top.Corners[i] = c, c.angle
			continue
		}
		at := "/corners/" + strconv.Itoa(i)
		wrong.Add(at, w.cornerAngle(&c, "/top"+at))
		if c.Joint == "" {
			c.Joint = AutoJoint
			w.assume("/top"+at+"/joint", string(AutoJoint), "the joint with the best score")
		}
		if c.Through == "" {
			c.Through = ThroughAuto
		}
		if c.Joint != AutoJoint && !c.Joint.RunsThrough() && c.Through != ThroughAuto {
			wrong.Add(at, impossible("/through", "A miter has no through run: both runs are cut.",
				"Leave out through, or ask for a butt or a mason's miter."))
		}
		if c.Carry == CarryDefault {
			c.Carry = CarryTemplate
			w.assume("/top"+at+"/carry", string(CarryTemplate),
				"scribing needs the slabs on their base, a trip of its own before the seam is cut")
		}
		w.corners[i], w.top.Corners[i] = c, c.angle
	}
	return wrong.Err()
}

func (w *work) cornerAngle(c *corner, pointer string) error {
	switch {
	case c.Measured != nil && c.Angle != 0:
		return impossible("/angle", "Give the angle or the three measured lengths, not both.", "")
	case c.Measured != nil:
		m := c.Measured
		theta, sensitivity, err := plan.TapedAngle(m.AlongFirst, m.AlongSecond, m.Across, m.Reflex)
		if err != nil {
			return fault.At("/measured", plan.NoTriangle(m.AlongFirst, m.AlongSecond, m.Across, w.units))
		}
		c.angle, c.sensitivity = theta, sensitivity
		if err := plan.CheckAngle(theta); err != nil {
			return fault.At("/measured", err)
		}
		return nil
	case c.Angle == 0:
		c.angle = 90 * measure.Degree
		w.assume(pointer+"/angle", c.angle, "no angle was given; walls are seldom exactly square, so measure it")
		return nil
	}
	c.angle = c.Angle
	return fault.At("/angle", plan.CheckAngle(c.angle))
}

// Depths that a profile reaches when its size is not given. Common practice.
var usualSize = map[Profile]measure.Length{
	Eased: measure.Inch / 16, Chamfer: measure.Inch / 8, Roundover: measure.Inch / 4, Cove: measure.Inch * 3 / 8,
	Ogee: measure.Inch / 2,
}

func (w *work) resolveEdge() error {
	e := &w.order.Top.Edge
	if e.Profile == "" {
		e.Profile = Eased
		w.assume("/top/edge/profile", string(Eased), "sharp edges are broken whatever else is done")
	}
	if e.Profile == Square {
		e.Size = 0
		return nil
	}
	if e.Size == 0 {
		e.Size = usualSize[e.Profile]
		if e.Profile == Bullnose {
			e.Size = w.order.Top.Thickness / 2
		}
		w.assume("/top/edge/size", e.Size, "the usual size of this profile")
	}
	w.profile = e.Size
	limit, part := w.order.Top.Thickness, "the top's thickness"
	if e.Profile == Bullnose {
		limit, part = limit/2, "half the top's thickness"
	}
	if e.Size > limit+1e-6 && limit >= LeastThickness/2 { // a thickness out of bounds is reported already
		return impossible("/size", fmt.Sprintf("The edge profile (%s) of %s does not fit: it may be at most %s, %s.",
			e.Profile, w.phrase(e.Size), w.phraseDown(limit), part), "")
	}
	return nil
}
