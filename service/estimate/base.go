package estimate

import (
	"fmt"
	"slices"
	"strconv"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/support"
)

// BaseOrder is a stretch under a run with what stands there.
type BaseOrder struct {
	Run       string
	Kind      base.Kind
	From, To  measure.Length  // along the wall edge from the run's start, as cut-outs are placed
	FromFront *measure.Length // from the top's front edge to its front; nil: the usual
	Depth     *measure.Length // towards the wall; nil: as far as the wall edge
	Closed    bool            // of a cabinet: at its top, so that nobody reaches up through it
	Supply    bool            // of brackets, legs and battens: they come with the top
	Air       *catalogue.Air  // of an appliance: below the top, as the mean of a day; nil: the usual

	goesOn bool // it is the rest, beyond a seam, of the entry before it
}

// LoadsOrder is what lies on a top.
type LoadsOrder struct {
	Use     Use               // default worktop
	Uniform *measure.Pressure // for years; nil: by use
	Point   *measure.Force    // at the worst place, for a while; nil: by use
}

// Use is what a top is used for.
type Use string

// The uses.
const (
	Worktop Use = "worktop"
	Desk    Use = "desk"
	Bar     Use = "bar"
)

// Loads are what strips of a top are judged under; their own weight comes on top.
type Loads struct {
	Use     Use
	Uniform measure.Pressure
	Point   measure.Force
}

// foundation is what stands under the runs, and what they carry.
type foundation struct {
	parts [][]base.Part // of each run; nil: nothing is told of it
	loads Loads
	woods []bent // of each run
	holes [][]base.Hole
	faces []measure.Moisture // by the order's list: the lower face at an appliance; nil where there is none

	supply supply
	props  []Props
	told   told // the same before anything was added

	rows [][]railRow // of each run that were asked for
}

// told is a base as it was told, with what comes with the top.
type told struct {
	parts  [][]base.Part
	props  []Props
	supply supply
}

// bent is a run's wood under load.
type bent struct {
	along, across support.Wood
	own           measure.Pressure
	spread        float64
}

// resolveBase places what stands under the runs, takes the usual loads and refuses what cannot stand so. All that is wrong
// comes at once.
func (w *work) resolveBase() error {
	if len(w.order.Base) == 0 {
		if w.order.Loads != nil {
			return impossible("/loads", "Loads are judged on what stands under the top, and nothing is said of that.",
				"Tell in base what stands under the runs, or leave loads out.")
		}
		if w.order.Support != (SupportOrder{}) {
			return impossible("/support", "A base is added to, and nothing is said of what stands under the top.",
				"Tell in base what stands under the runs, or leave support out.")
		}
		return nil
	}
	var wrong fault.List
	b := &foundation{parts: make([][]base.Part, len(w.runs)), holes: make([][]base.Hole, len(w.runs)),
		woods: make([]bent, len(w.runs))}
	w.base = b
	for i := range w.cutouts {
		c := &w.cutouts[i]
		b.holes[c.run] = append(b.holes[c.run], base.Hole{From: c.from, To: c.to, Front: c.FromFront, Depth: c.Depth})
	}
	faulty := map[string]bool{}
	for k := range w.order.Base {
		if err := w.placePart(k); err != nil {
			faulty[w.order.Base[k].Run] = true
			wrong.Add(numbered("/base/", k), err)
		}
	}
	if len(wrong) > 0 { // what is wrong elsewhere comes along
		for i := range w.runs {
			if b.parts[i] != nil && !faulty[w.runs[i].Name] {
				wrong.Add("", w.cutOverEdge(i))
			}
		}
		return wrong.Err()
	}
	b.loads = w.resolveLoads()
	for i := range w.runs {
		if b.parts[i] == nil {
			w.assume("/base", "nothing of run "+w.runs[i].Name,
				"nothing is said of what stands under it: it is not judged, and its fixings stand as on a base that goes through")
			continue
		}
		wrong.Add("", w.cutOverEdge(i))
		addOnce(&wrong, w.resolveBentAt(i))
	}
	if err := wrong.Err(); err != nil {
		return err
	}
	return w.resolveSupport()
}

// resolveBaseLike takes a base as it was told for a top of another thickness or another wood, which bend otherwise.
func (w *work) resolveBaseLike(like *foundation) error {
	w.base = like.asTold()
	var wrong fault.List
	for i := range w.runs {
		if w.toldBase(i) {
			addOnce(&wrong, w.resolveBentAt(i))
		}
	}
	if err := wrong.Err(); err != nil {
		return err
	}
	w.addSupports()
	return nil
}

// asTold is a base before anything was added.
func (b *foundation) asTold() *foundation {
	told := *b
	told.parts, told.props, told.supply = slices.Clone(b.told.parts), slices.Clip(b.told.props), b.told.supply
	for i := range told.parts {
		told.parts[i] = slices.Clip(told.parts[i])
	}
	told.supply.parts = slices.Clone(told.supply.parts)
	told.woods, told.rows = slices.Clone(b.woods), nil
	return &told
}

// placePart puts an entry of the order's base under its run.
func (w *work) placePart(k int) error {
	o := &w.order.Base[k]
	i := -1
	for n := range w.runs {
		if w.runs[n].Name == o.Run {
			i = n
		}
	}
	if i < 0 {
		return unknownRun(o.Run, w.runs)
	}
	r := &w.runs[i]
	p := base.Part{Kind: o.Kind, From: o.From, To: o.To, Place: k, Closed: o.Closed, Supplied: o.Supply}
	var shift measure.Length // lengths are told from the finished edges
	if w.moulded {
		shift = w.set.MouldingThickness
		if i == 0 && !w.order.Top.Edge.SquareEnds {
			p.From, p.To = max(0, p.From-shift), p.To-shift
		}
		if i == len(w.runs)-1 && !w.order.Top.Edge.SquareEnds {
			p.To = min(p.To, max(r.Length, p.To-shift))
		}
	}
	var wrong fault.List
	switch {
	case o.To <= o.From:
		wrong.Add("", impossible("/to", "It must lie further along the run than from.", "Both count from the run's start."))
	case o.To-o.From > r.Length+shift+noiseOfSums:
		wrong.Add("", impossible("", fmt.Sprintf("It is %s wide, and run %s is %s long.", w.phrase(o.To-o.From), r.Name,
			w.phrase(r.Length)), ""))
	case p.To > r.Length+noiseOfSums:
		wrong.Add("", impossible("/to", fmt.Sprintf("It ends at %s, beyond the end of run %s, which is %s long.", w.phrase(o.To), r.Name,
			w.phrase(r.Length)), "Both count along the wall edge from the run's start."))
	}
	wrong.Add("", w.partAcross(&p, o, r, shift))
	wrong.Add("", w.airBelow(&p, o, r.Name))
	if len(wrong) == 0 {
		wrong.Add("", w.partBeside(&p, i))
	}
	if len(wrong) > 0 {
		return wrong.Err()
	}
	w.base.parts[i] = append(w.base.parts[i], p)
	return nil
}

// noiseOfSums is what is left of a sum of lengths by rounding.
const noiseOfSums = measure.Length(1e-6)

// partAcross takes an entry's place across the run: as it was told, else the usual.
func (w *work) partAcross(p *base.Part, o *BaseOrder, r *run, shift measure.Length) error {
	at := ""
	if !w.quiet {
		at = "/base/" + strconv.Itoa(p.Place)
	}
	switch {
	case o.FromFront != nil:
		p.Front = max(0, *o.FromFront-shift)
	case p.Kind == base.Batten:
		p.Front = max(0, r.Depth-w.set.BaseRail)
		w.assume(at+"/from_front", p.Front+shift, "a batten as wide as a rail, at the wall")
	case p.Kind == base.Cabinet || p.Kind == base.Legs:
		p.Front = min(max(0, w.set.BaseFront-shift), r.Depth/4)
		w.assume(at+"/from_front", p.Front+shift, "fronts usually stand so far behind the top's front edge")
	case p.Kind == base.Bracket && o.Depth != nil:
		p.Front = max(0, r.Depth-*o.Depth)
	case p.Kind == base.Bracket:
		return impossible("/depth", "How far a bracket reaches is not said.", "Tell its depth, from the wall.")
	}
	if p.Front >= r.Depth-noiseOfSums {
		return impossible("/from_front", fmt.Sprintf("It would stand behind run %s, which is %s deep.", r.Name, w.phrase(r.Depth)),
			"It counts from the top's front edge.")
	}
	p.Depth = r.Depth - p.Front
	if o.Depth != nil {
		p.Depth = *o.Depth
	} else if p.Kind != base.Open && p.Kind != base.Appliance && p.Kind != base.Batten {
		w.assume(at+"/depth", p.Depth, "as far as the wall edge")
	}
	if p.Front+p.Depth > r.Depth+noiseOfSums {
		return impossible("/depth", fmt.Sprintf("It would reach behind run %s, which is %s deep.", r.Name, w.phrase(r.Depth)), "")
	}
	return nil
}

// partBeside refuses what cannot stand together.
func (w *work) partBeside(p *base.Part, i int) error {
	for n := range w.base.parts[i] {
		q := &w.base.parts[i][n]
		if p.From >= q.To-noiseOfSums || q.From >= p.To-noiseOfSums || base.InFront(p, w.base.parts[i][n:n+1]) || base.InFront(q, []base.Part{*p}) {
			continue
		}
		over, under := p.Kind, q.Kind
		if under.Over() {
			over, under = under, over
		}
		switch {
		case over == base.Batten && under != base.Batten:
		case over == base.Bracket && (under == base.Open || under == base.Batten):
		case p.Kind == base.Legs && q.Kind == base.Open || p.Kind == base.Open && q.Kind == base.Legs:
		case over == base.Bracket && under == base.Appliance:
			return impossible("/from", fmt.Sprintf("A bracket cannot hang where an appliance stands (/base/%d).", q.Place),
				"Put it beside the appliance, or carry the wall edge by a batten.")
		default:
			return impossible("/from", fmt.Sprintf("From %s to %s it overlaps /base/%d (%s), which reaches from %s to %s.",
				w.phrase(p.From), w.phrase(p.To), q.Place, q.Kind, w.phrase(q.From), w.phrase(q.To)), "")
		}
	}
	return nil
}

// resolveLoads are the loads that were told, else those of the use.
func (w *work) resolveLoads() Loads {
	var o LoadsOrder
	if w.order.Loads != nil {
		o = *w.order.Loads
	}
	if o.Use == "" {
		o.Use = Worktop
		w.assume("/loads/use", string(Worktop), "the usual top")
	}
	uniform, point := w.set.WorktopUniform, w.set.WorktopPoint
	switch o.Use {
	case Desk:
		uniform, point = w.set.DeskUniform, w.set.DeskPoint
	case Bar:
		uniform, point = w.set.BarUniform, w.set.BarPoint
	case Worktop:
	}
	l := Loads{Use: o.Use, Uniform: measure.Pressure(uniform) * measure.Kilopascal, Point: measure.Force(point) * measure.Newton}
	if o.Uniform != nil {
		l.Uniform = *o.Uniform
	} else {
		w.assume("/loads/uniform", loadNumber(l.Uniform, w.units), "what usually lies on such a top for years; the slab's own weight comes on top")
	}
	if o.Point != nil {
		l.Point = *o.Point
	} else {
		w.assume("/loads/point", l.Point.Number(w.units), "what usually stands at the worst place of such a top for a while")
	}
	return l
}

// loadNumber is a uniform load in lbf/ft² or kPa, as answers write it.
func loadNumber(p measure.Pressure, units measure.System) float64 {
	if units == measure.Inches {
		return measure.Round(float64(p/measure.PoundPerSquareFoot), 4)
	}
	return measure.Round(p.Kilopascals(), 4)
}

// cutOverEdge refuses cut-outs over the edge of a bay, where what carries the slab beside it would hold no wood.
func (w *work) cutOverEdge(i int) error {
	if !slices.ContainsFunc(w.cutouts, func(c cutout) bool { return c.run == i }) {
		return nil
	}
	var wrong fault.List
	l := w.drawn.Lay(w.base.parts[i], 0, w.runs[i].Length, w.runs[i].Depth, [2]bool{})
	for k := range w.cutouts {
		c := &w.cutouts[k]
		if c.run != i {
			continue
		}
		for n := 1; n < len(l.Parts); n++ {
			before, after := &l.Parts[n-1], &l.Parts[n]
			edge := after.From
			if before.Kind.Carries() == after.Kind.Carries() || edge <= c.from+noiseOfSums || edge >= c.to-noiseOfSums {
				continue
			}
			carrier := before
			if after.Kind.Carries() {
				carrier = after
			}
			wrong.Add("", impossible(numbered("/base/", carrier.Place),
				fmt.Sprintf("The %s cut-out in run %s lies over its edge at %s: it would hold no wood there, beside a bay that it carries.",
					cutoutName(c), w.runs[i].Name, w.phrase(edge)), "Move the cut-out, or what carries the slab."))
			break
		}
	}
	return wrong.Err()
}

// resolveBentAt is resolveBent; a fault is one of the place where the run's wood is told.
func (w *work) resolveBentAt(i int) error {
	at := "/top"
	if w.order.Top.Runs[i].Species != "" {
		at = numbered("/top/runs/", i)
	}
	return fault.At(at, w.resolveBent(i))
}

// resolveBent looks up how run i's wood bends; see support.WoodOf for what is refused.
func (w *work) resolveBent(i int) error {
	r, b := &w.runs[i], &w.base.woods[i]
	known := w.woods.of(r.species, r.Sawn)
	if !known.found { // told anew: a refusal is one order's
		_, _, err := bentWood(r.species, r.Sawn)
		for _, f := range fault.All(err) {
			f.Fix += " Or leave base and loads out: then nobody judges what carries the top."
		}
		return err
	}
	b.along, b.across, b.spread = known.along, known.across, known.spread
	var err error
	b.own, err = ownWeight(r.species, w.order.Top.Thickness, "Choose another wood, or say nothing of what stands under the top.")
	return err
}
