package estimate

import (
	"cmp"
	"fmt"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// SupportOrder says what may be added to a base that does not carry the top.
type SupportOrder struct {
	Add       AddSupport // default brackets
	Unweighed bool       // do not work out what else would carry the top, and what that costs
}

// AddSupport is what is added where the base does not carry the top by itself.
type AddSupport string

// What may be added.
const (
	AddBrackets AddSupport = "brackets"
	AddLegs     AddSupport = "legs"
	AddNothing  AddSupport = "none"
)

// supply is what of the base comes with the top, but for blocking, which depends on the seams.
type supply struct {
	parts    []suppliedPart // by code
	brackets int
	legs     int
	battens  measure.Length // with the rails of pairs of legs
}

type suppliedPart struct {
	code  string
	count int
}

// Props are brackets, legs or a batten that come with the top.
type Props struct {
	Run       string
	Kind      base.Kind
	Item      string // empty: timber
	Name      string // of the item
	Count     int
	Legs      int              // of legs: how many there are, as a pair is two
	From, To  measure.Length   // of what they carry, along the run
	Front     measure.Length   // from the front edge to their tips
	Reach     measure.Length   // of an arm, the depth of legs, the width of a batten
	Positions []measure.Length // of their middles, along the run; of a batten none
	Spacing   measure.Length   // from each to the next, at most; 0: one alone
	Load      measure.Force    // the most that one bears: an arm at its tip; 0 of a batten
	Working   measure.Force    // what one may bear
	Added     bool             // because the base does not carry the top without them
	Without   measure.Length   // the overhang or span that they carry holds up to this without them; 0: not added
	Place     int              // in the order's list; −1: added
	Text      string
}

// blockingRun is how much blocking the seams ask for.
func (w *work) blockingRun(l *plan.Layout) (run measure.Length) {
	for k := range w.corners {
		if !w.carriedNear(k, 1, l) || !w.carriedNear(k+1, 0, l) {
			run += l.Seams[k].Length
		}
	}
	return run
}

// resolveSupport takes what was told to come with the top, and adds what the base lacks.
func (w *work) resolveSupport() error {
	o := &w.order.Support
	if o.Add == "" {
		o.Add = AddBrackets
	}
	var wrong fault.List
	for i := range w.runs {
		for k := range w.base.parts[i] {
			if p := &w.base.parts[i][k]; p.Supplied {
				wrong.Add(numbered("/base/", p.Place), w.supplyTold(i, p))
			}
		}
	}
	if err := wrong.Err(); err != nil {
		return err
	}
	b := w.base
	b.told = told{slices.Clone(b.parts), slices.Clip(b.props), b.supply}
	b.told.supply.parts = slices.Clone(b.supply.parts)
	w.addSupports()
	return nil
}

// addSupports adds what the base lacks.
func (w *work) addSupports() {
	if w.order.Support.Add != AddNothing {
		edges, l := w.frontEdges()
		for i := range w.runs {
			if w.toldBase(i) {
				w.addTo(i, edges[i], l)
			}
		}
	}
	slices.SortStableFunc(w.base.supply.parts, func(a, b suppliedPart) int { return cmp.Compare(a.code, b.code) })
}

// asTold is a top of which nothing is told, on its base as that was told; good until the next that is quiet.
func (w *work) asTold() *work {
	other := &w.silent
	*other = *w
	other.runs = slices.Clone(w.runs)
	other.base, other.quiet = w.base.asTold(), true
	other.order.Support = SupportOrder{Add: AddNothing, Unweighed: true}
	return other
}

// wouldAdd is how many brackets and legs would be added to the base as it was told, where those may be.
func (w *work) wouldAdd(add AddSupport) (brackets, legs int) {
	other := w.asTold()
	other.order.Support.Add = add
	other.addSupports()
	return added(other.base.props)
}

// frontEdges are from where to where each run's front edge goes, and a layout that they were taken from; nil where there is
// none, of a straight top too.
func (w *work) frontEdges() ([][2]measure.Length, *plan.Layout) {
	edges := make([][2]measure.Length, len(w.runs))
	var l *plan.Layout
	if len(w.corners) > 0 {
		w.joints = w.joints[:0]
		for range w.corners {
			w.joints = append(w.joints, plan.Joint{Kind: plan.Miter})
		}
		l, _ = w.layouts.lay(w) // what is wrong with it is told where the corners are chosen
	}
	for i := range edges {
		edges[i] = [2]measure.Length{0, w.runs[i].Length}
		if l != nil {
			edges[i][0], edges[i][1] = l.Span(i, 0)
		}
	}
	return edges, l
}

// fastenersCarrying are the parts on sale of a kind, the shortest first.
func (w *work) fastenersCarrying(kind catalogue.FastenerKind) []*catalogue.Fastener {
	list := slices.Clone(w.cat.FastenersOf(kind))
	slices.SortStableFunc(list, func(a, b *catalogue.Fastener) int { return cmp.Compare(a.Length, b.Length) })
	return list
}

// supplyTold picks what is bought for a part that was told to come with the top.
func (w *work) supplyTold(i int, p *base.Part) error {
	props := Props{Run: w.runs[i].Name, Kind: p.Kind, Count: 1, From: p.From, To: p.To, Place: p.Place,
		Positions: []measure.Length{(p.From + p.To) / 2}}
	switch p.Kind {
	case base.Cabinet, base.Open, base.Appliance:
		return impossible("/supply", fmt.Sprintf("Of a base only brackets, legs and battens come with the top, no %s.", p.Kind),
			"Leave supply out: what is told stands there.")
	case base.Batten:
		props.Positions = nil
	case base.Bracket:
		var arm *catalogue.Fastener
		for _, f := range w.fastenersCarrying(catalogue.SupportBracket) {
			if f.Length <= p.Depth+noiseOfSums {
				arm = f
			}
		}
		if arm == nil {
			return impossible("/depth", fmt.Sprintf("No bracket on sale has an arm as short as %s.", w.phrase(p.Depth)),
				"Tell a longer one, or add it to the catalogue.")
		}
		p.Front, p.Depth, p.Item = p.Front+p.Depth-arm.Length, arm.Length, arm.Code
		props.Item, props.Name, props.Working = arm.Code, arm.Name, arm.WorkingLoad
	case base.Legs:
		legs := w.fastenersCarrying(catalogue.SupportLeg)
		if len(legs) == 0 {
			return impossible("/supply", "No leg is in the catalogue.", "Add one, or leave supply out.")
		}
		p.Item = legs[0].Code
		props.Item, props.Name, props.Working, props.Legs = legs[0].Code, legs[0].Name, legs[0].WorkingLoad, 1
		if p.Depth > legs[0].Width+noiseOfSums {
			props.Legs = 2
		}
	}
	props.Front, props.Reach = p.Front, p.Depth
	if rest := p.Place + 1; p.Kind != base.Batten && rest < len(w.order.Base) && w.order.Base[rest].goesOn {
		props.Positions[0] = min(p.To, (p.From+p.To+w.order.Base[rest].To-w.order.Base[rest].From)/2)
	}
	if w.order.Base[p.Place].goesOn && p.Kind != base.Batten {
		w.bearsMore(p.Place-1, w.borne(i, &props, p.Depth, 0))
		return nil
	}
	props.Load = w.borne(i, &props, p.Depth, w.base.loads.Point)
	props.Text = w.propsText(&props)
	w.supplied(props)
	return nil
}

// bearsMore puts what a bracket or a leg under a seam bears of the piece beyond it on the one that is bought: it stands there once,
// and so does the load that counts at the worst place.
func (w *work) bearsMore(place int, load measure.Force) {
	for k := range w.base.props {
		if p := &w.base.props[k]; p.Place == place {
			p.Load += load
		}
	}
}

// supplied notes props that come with the top.
func (w *work) supplied(p Props) {
	s := &w.base.supply
	w.base.props = append(w.base.props, p)
	switch p.Kind {
	case base.Bracket:
		s.brackets += p.Count
	case base.Legs:
		s.legs += p.Legs
		if p.Legs > p.Count { // the rail of each pair
			s.battens += p.Reach * measure.Length(p.Count)
		}
	case base.Batten:
		s.battens += p.To - p.From
	case base.Cabinet, base.Open, base.Appliance:
	}
	if p.Item == "" {
		return
	}
	count := max(p.Count, p.Legs)
	for k := range s.parts {
		if s.parts[k].code == p.Item {
			s.parts[k].count += count
			return
		}
	}
	s.parts = append(s.parts, suppliedPart{p.Item, count})
}

// borne is what one of the props bears, in the worst place. A bracket bears the slab from its root to the edge that it
// reaches towards.
func (w *work) borne(i int, p *Props, rooted measure.Length, point measure.Force) measure.Force {
	lasting := w.base.loads.Uniform + w.base.woods[i].own
	b := base.Tributary(p.From, p.To, p.Positions)
	switch p.Kind {
	case base.Bracket:
		return base.ArmLoad(lasting, b, p.Front+rooted, point, p.Reach)
	case base.Legs:
		return base.PostLoad(lasting, b, p.Front+rooted, point)
	case base.Batten, base.Cabinet, base.Open, base.Appliance:
	}
	return 0
}

// propsText says what comes with the top, where it stands and why.
func (w *work) propsText(p *Props) string {
	if w.quiet {
		return ""
	}
	what := ""
	switch {
	case p.Kind == base.Batten:
		what = fmt.Sprintf("A batten along the wall of run %s from %s to %s.", p.Run, w.phrase(p.From), w.phrase(p.To))
	case p.Kind == base.Legs && p.Legs > p.Count && p.Count == 1:
		what = fmt.Sprintf("A pair of legs under run %s, with a rail from front to back (%s).", p.Run, p.Name)
	case p.Kind == base.Legs && p.Legs > p.Count:
		what = fmt.Sprintf("Pairs of legs under run %s, each with a rail from front to back: %d (%s).", p.Run, p.Count, p.Name)
	case p.Kind == base.Legs && p.Count == 1:
		what = fmt.Sprintf("A leg under run %s, %s behind its front edge (%s).", p.Run, w.phrase(p.Front), p.Name)
	case p.Kind == base.Legs:
		what = fmt.Sprintf("Legs under run %s, %s behind its front edge: %d (%s).", p.Run, w.phrase(p.Front), p.Count, p.Name)
	case p.Count == 1:
		what = fmt.Sprintf("A bracket under run %s, with an arm of %s that ends %s behind the front edge (%s).", p.Run,
			w.phrase(p.Reach), w.phrase(p.Front), p.Name)
	default:
		what = fmt.Sprintf("Brackets under run %s, each with an arm of %s that ends %s behind the front edge: %d (%s).", p.Run,
			w.phrase(p.Reach), w.phrase(p.Front), p.Count, p.Name)
	}
	if p.Spacing > 0 {
		what += fmt.Sprintf(" They stand at most %s apart.", w.phraseUp(p.Spacing))
	}
	if p.Added && p.Without > 0 {
		what += fmt.Sprintf(" With nothing there no more than %s would hold.", w.phraseDown(p.Without))
	}
	return what
}

// warnProps says what comes with the top, warns of what bears too much, and of a catalogue that has nothing to put there.
func (w *work) warnProps() {
	for k := range w.base.props {
		p := &w.base.props[k]
		at := "/base"
		if p.Place >= 0 {
			at = numbered("/base/", p.Place)
		}
		if p.Added {
			w.assume("/support/add", p.propsValue(), "the base as it is told does not carry the top: "+p.Text)
		}
		if p.Working > 0 && p.Load > p.Working {
			w.warn("support_overloaded", Serious, at, fmt.Sprintf("%s may bear %s, and here it would bear up to %s: put more of them there, or stronger ones.",
				p.Name, w.force(p.Working), w.force(p.Load)))
		}
		if p.Kind == base.Batten && !w.sells(catalogue.PerTimberMetre) {
			w.warnOnce("timber_not_in_bill", Info, at, "The catalogue has no timber for battens: they are not in the bill.")
		}
		if p.Kind == base.Bracket {
			w.warnOnce("bracket_into_solid", Caution, at, "Brackets are screwed into studs, a wall that carries them or the solid side of a cabinet, never into a board alone, by their maker's rules; the screws up into the top stand in slots across the grain and end in the wood.")
		}
	}
}

func (p *Props) propsValue() string {
	if p.Item != "" {
		return p.Item
	}
	return string(p.Kind)
}

func (w *work) force(f measure.Force) string {
	if w.units == measure.Millimetres {
		return fmt.Sprintf("%.0f N", f.Newtons())
	}
	return fmt.Sprintf("%.0f lbf", f.PoundsForce())
}
