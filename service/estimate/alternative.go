package estimate

import (
	"context"
	"fmt"
	"slices"
	"sort"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// Alternative is another way to carry a top that its base does not carry by itself. Its price is that of an order that says so and
// names the joints of the estimate, so that it differs by what carries the top alone.
type Alternative struct {
	Way       CarryWay
	Thickness measure.Length // of Thicker
	Species   string         // of StifferWood
	Count     int            // of Brackets and Legs
	Cost      money.Amount   // of the whole top, against what is estimated; negative: it costs less
	Total     money.Amount   // the same of the price that the customer pays
	Text      string
}

// CarryWay is a way to carry a top.
type CarryWay string

// The ways.
const (
	Thicker     CarryWay = "thicker"
	StifferWood CarryWay = "stiffer_wood"
	ByBrackets  CarryWay = "brackets"
	ByLegs      CarryWay = "legs"
)

// weighs reports whether other ways to carry a top are looked for: something is added to its base, or lacks.
func (e *Estimate) weighs(o *SupportOrder) bool {
	return e.Base != nil && !o.Unweighed && (!e.Base.Holds || slices.ContainsFunc(e.Base.Props, func(p Props) bool { return p.Added }))
}

// added is how many brackets and legs are added to what is told.
func added(list []Props) (brackets, legs int) {
	for i := range list {
		if p := &list[i]; p.Added && p.Kind == base.Bracket {
			brackets += p.Count
		} else if p.Added {
			legs += p.Legs
		}
	}
	return brackets, legs
}

// alternatives prices the other ways to carry a top: as thick as it must be, of the cheapest wood that is stiff enough, with brackets
// and with legs. A way that does not carry it either is none.
func (m *Maker) alternatives(ctx context.Context, order Order, e *Estimate) ([]Alternative, error) {
	if !m.mayPrice() {
		e.leaveOut("/support/alternatives", "This top takes much reckoning, so that what else would carry it was not worked out. Ask for a thicker top or another wood, or for legs or brackets by `support.add`.")
		return nil, nil
	}
	m.newOther()
	bare := order
	bare.Support = SupportOrder{Add: AddNothing, Unweighed: true}
	bare.Explain, bare.Site.Tolerances, bare.Site.Lift = false, false, nil
	if c := e.Carrying; c != nil { // a top as thick as this one passes the way where it does, a thicker one never where it does not
		bare.Site.Way = nil
		bare.Site.MustComeApart = order.Site.MustComeApart || c.Joined != nil && !c.Joined.Passes
	}
	w := m.bench.last.work
	if m.bench.last.estimate != e { // it was chosen from tops that other makers made
		var err error
		if w, err = m.other.resolve(bare); err != nil {
			return nil, err
		}
	}
	var list []Alternative
	left := false
	add := func(o Order, a Alternative) {
		if left = left || !m.mayPrice(); left {
			return
		}
		m.other.anew()
		other, err := m.other.priced(ctx, o, e, w)
		m.aside += m.other.Effort()
		if err != nil || other == nil {
			return // what cannot be made, or does not hold, is no way
		}
		switch brackets, legs := added(other.props); a.Way {
		case ByBrackets:
			a.Count = brackets
		case ByLegs:
			a.Count = legs
		case Thicker, StifferWood:
		}
		a.Cost, a.Total = other.price.Cost.Minus(e.Price.Cost), other.price.Total.Minus(e.Price.Total)
		a.Text = w.alternativeText(&a, e)
		list = append(list, a)
	}
	top := w.asTold()
	top.joints = top.joints[:0]
	for k := range e.Corners {
		top.joints = append(top.joints, e.Corners[k].Chosen)
	}
	l, err := top.layouts.lay(top)
	if err != nil {
		return nil, fault.At("/top", err)
	}
	holds := top.holdsOn(l)
	thick, found := top.thickEnough(holds)
	species := top.stiffEnough(e, holds)
	if found {
		o := bare
		o.Top.Thickness = thick
		if !o.Site.MustComeApart { // thicker, the joined top may pass no more
			o.Site.Way = order.Site.Way
		}
		add(o, Alternative{Way: Thicker, Thickness: thick})
	}
	if species != "" {
		o := bare
		o.Top.Species, o.Top.Runs = species, slices.Clone(order.Top.Runs)
		for i := range o.Top.Runs {
			o.Top.Runs[i].Species = ""
		}
		add(o, Alternative{Way: StifferWood, Species: species})
	}
	_, has := added(e.Base.Props)
	for _, by := range [...]struct {
		way CarryWay
		add AddSupport
	}{{ByBrackets, AddBrackets}, {ByLegs, AddLegs}} {
		if order.Support.Add == by.add || order.Support.Add == "" && by.add == AddBrackets {
			continue // it is what is estimated
		}
		if brackets, legs := w.wouldAdd(by.add); by.way == ByBrackets && brackets == 0 || by.way == ByLegs && legs == has {
			continue // it is no other way; brackets that would not do are legs already
		}
		o := bare
		o.Support.Add = by.add
		add(o, Alternative{Way: by.way})
	}
	if left {
		e.leaveOut("/support/alternatives", "This top takes much reckoning, so that only some of what else would carry it was worked out. Ask for a thicker top or another wood, or for legs or brackets by `support.add`.")
	}
	return list, ctx.Err()
}

// holdsOn reports, as often as it is asked, whether every strip of a layout's pieces holds, in the thickness and the woods of the runs
// by then: in another thickness the strips are the same, in another wood only as wide as it spreads a load.
func (w *work) holdsOn(l *plan.Layout) func() bool {
	strips := make([][]base.Way, len(w.runs))
	for i := range w.runs {
		if w.toldBase(i) {
			from, to := l.Span(i, w.runs[i].Depth/2)
			line, slab := w.lay(i, from, to, frontEdge(i, l)), w.stripsOn(i)
			strips[i] = line.StripsIn(&w.drawn, &slab)
		}
	}
	bears := func(i, k int) bool {
		s := &strips[i][k]
		s.Respread(w.base.woods[i].spread)
		return w.holds(i, s)
	}
	run, weak := -1, 0 // the strip that did not hold last: most likely it does not hold again
	bends := func(i int) bool {
		r := &w.runs[i]
		return w.woods.of(r.species, r.Sawn).found && w.resolveBent(i) == nil
	}
	return func() bool {
		if run >= 0 && !(bends(run) && bears(run, weak)) {
			return false
		}
		for i := range strips {
			if i != run && len(strips[i]) > 0 && !bends(i) {
				return false
			}
		}
		for i := range strips {
			for k := range strips[i] {
				if !(i == run && k == weak) && !bears(i, k) {
					run, weak = i, k
					return false
				}
			}
		}
		return true
	}
}

// bears reports whether all strips of run i hold.
func (w *work) bears(i int, strips []base.Way) bool {
	for k := range strips {
		if !w.holds(i, &strips[k]) {
			return false
		}
	}
	return true
}

// thickEnough is the least thickness, in eighths of an inch or in steps of 3 mm, at which the top needs nothing added. What is
// thicker never sags more, as long as the slab above a built-up edge is glued up from as many layers: with more of them it is thinner.
func (w *work) thickEnough(holds func() bool) (measure.Length, bool) {
	was, woods := w.order.Top.Thickness, slices.Clone(w.base.woods)
	defer func() { w.order.Top.Thickness = was; copy(w.base.woods, woods) }()
	step := measure.Inch / 8
	if w.units == measure.Millimetres {
		step = 3 * measure.Millimetre
	}
	least, most := int(was/step+1e-6)+1, int(GreatestThickness/step)
	n := least + sort.Search(max(most+1-least, 0), func(n int) bool {
		w.order.Top.Thickness = measure.Length(least+n) * step
		return holds()
	})
	if n > most {
		return 0, false
	}
	w.order.Top.Thickness = measure.Length(n) * step
	return w.order.Top.Thickness, !w.builtUp() || w.leastLayers() == w.layers
}

// stiffEnough is the wood, of those that need nothing added at this thickness and are on sale, whose boards or panels cost least
// for the slabs of an estimate; empty: none.
func (w *work) stiffEnough(e *Estimate, holds func() bool) string {
	best, least := "", money.Zero
	for k := range w.cat.Species {
		s := &w.cat.Species[k]
		for i := range w.runs {
			w.runs[i].species, w.runs[i].Run.Species = s, s.Code
		}
		if s.Code == w.order.Top.Species || !holds() {
			continue
		}
		if cost, ok := w.woodOnSale(s, e); ok && (best == "" || cost.Cmp(least) < 0) {
			best, least = s.Code, cost
		}
	}
	return best
}

// woodOnSale is about what the slabs of an estimate cost in another wood, by their size.
func (w *work) woodOnSale(s *catalogue.Species, e *Estimate) (sum money.Amount, ok bool) {
	for i := range e.Runs {
		blank := e.Runs[i].Blank // a stock plans its staves anew
		slabs := []takeoff.Slab{{Run: e.Runs[i].Name, Blank: &blank}}
		if w.order.Top.Construction == Panel {
			p, err := takeoff.PickPanels(w.cat, s.Code, w.runs[i].Sawn, w.order.Top.Thickness, w.blankDepth(i), w.order.Top.Staves == FingerJointed, w.order.Pricing.AsOf, w.units)
			if err != nil {
				return sum, false
			}
			sum = sum.Plus(p.Used(slabs))
			continue
		}
		stock, err := w.shed.Lumber(s.Code, w.runs[i].Sawn, w.order.Top.Thickness, w.order.Pricing.AsOf, w.units)
		if err != nil {
			return sum, false
		}
		sum = sum.Plus(stock.Used(slabs, w.set))
	}
	return sum, true
}

// alternativeText says what an alternative is and what it costs.
func (w *work) alternativeText(a *Alternative, e *Estimate) string {
	what := ""
	switch a.Way {
	case Thicker:
		what = "A top of " + w.phrase(a.Thickness) + " needs nothing added."
	case StifferWood:
		what = fmt.Sprintf("A top of %s, as thick as this one, needs nothing added.", w.cat.SpeciesByCode(a.Species).Name)
	case ByBrackets:
		if a.Count == 1 {
			what = "One bracket would carry it."
			break
		}
		what = numbered("Brackets would carry it: ", a.Count) + "."
	case ByLegs:
		if a.Count == 1 {
			what = "One leg would carry it."
			break
		}
		what = numbered("Legs would carry it: ", a.Count) + "."
	}
	zero := money.Zero
	price := " The price is the same"
	switch a.Total.Cmp(zero) {
	case -1:
		price = " The price is " + zero.Minus(a.Total).String() + " " + e.Currency + " less"
	case 1:
		price = " The price is " + a.Total.String() + " " + e.Currency + " more"
	}
	if len(e.Corners) > 0 {
		price += ", with the joints as they are"
	}
	return what + price + "."
}
