package estimate

import (
	"cmp"
	"context"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// Maker makes one estimate after another from one catalogue and uses its working memory again. What it returns does not
// depend on what it made before. It is for one goroutine at a time. Estimates of tops with the same seam share the lists of its
// hardware, which nobody writes to; else what is returned shares no memory with the maker.
type Maker struct {
	cat   *catalogue.Snapshot
	views map[catalogue.SeriesWish]*catalogue.Snapshot // of it, by the hardware's sizes
	bench bench
	other *Maker // of what a top is held against; nil until it is needed
	aside int    // effort of that, and of tops that were made for the same order before the one at hand
	begun bool   // a top was, for the order at hand
	took  took   // the top whose corners were chosen last
}

// NewMaker returns a maker for a catalogue.
func NewMaker(cat *catalogue.Snapshot) *Maker {
	return &Maker{cat: cat, bench: bench{bends: new(bends), taken: new(taken)}}
}

// newOther makes the maker of what a top is held against. It knows of strips what this one knows, and counts with it.
func (m *Maker) newOther() {
	if m.other == nil {
		m.other = NewMaker(m.cat)
		m.other.bench.bends, m.other.bench.taken = m.bench.bends, m.bench.taken
	}
}

// Catalogue is the catalogue that the maker's estimates are made from.
func (m *Maker) Catalogue() *catalogue.Snapshot { return m.cat }

// Make works out a whole estimate. Faults carry pointers into the request; all that are found in one stage come at
// once. When the context ends, it stops at the next candidate and returns the context's error.
func (m *Maker) Make(ctx context.Context, order Order) (*Estimate, error) {
	m.begin()
	d, err := divided(ctx, m, &order, func(seams [][]inLine, see foreseen) (draft, error) { return m.makeOf(ctx, &order, seams, see) })
	if err != nil {
		return nil, err
	}
	return m.finish(ctx, &d)
}

// draft is an estimate that is not held against anything yet: one that is divided, as it does not pass its way, never is.
type draft struct {
	*Estimate
	order Order  // that it is of
	parts *parts // where runs are made of pieces
}

// finish adds what else would do to an estimate and, where runs are made of pieces, leads all that was said back to them.
func (m *Maker) finish(ctx context.Context, d *draft) (*Estimate, error) {
	e, err := m.weighed(ctx, d.order, d.Estimate)
	if err != nil || d.parts == nil {
		return e, err
	}
	d.parts.tellParts(&e.Assumptions, &e.Warnings)
	d.parts.tellBase(e.Base)
	return e, nil
}

// makeOf works out an order with straight seams in its runs, if any.
func (m *Maker) makeOf(ctx context.Context, order *Order, seams [][]inLine, see foreseen) (draft, error) {
	if !anySeam(seams) {
		return m.makeJoined(ctx, *order, see)
	}
	p, err := m.parted(order, seams)
	if err != nil {
		return draft{}, err
	}
	d, err := m.makeJoined(ctx, p.order, see)
	if err != nil {
		return draft{}, p.refusal(err)
	}
	d.parts = p
	return d, nil
}

// makeJoined works out an order whose runs are pieces; where no boards are long enough, of finger-jointed staves.
func (m *Maker) makeJoined(ctx context.Context, order Order, see foreseen) (draft, error) {
	e, staves, err := joined(m, &order, see, func(o Order, see foreseen) (*Estimate, *[]Assumption, error) {
		e, err := m.make(ctx, o, see)
		if err != nil {
			return nil, nil, err
		}
		return e, &e.Assumptions, nil
	})
	order.Top.Staves = staves
	return draft{Estimate: e, order: order}, err
}

// weighed is an estimate with what else would do: another way to come to its thickness, and to carry it.
func (m *Maker) weighed(ctx context.Context, order Order, e *Estimate) (*Estimate, error) {
	e, err := m.builds(ctx, order, e)
	if err != nil {
		return nil, err
	}
	if e.Made.Layers > 0 {
		order.Top.Build = e.Made.Build
	}
	return m.weigh(ctx, order, e)
}

// weigh adds what else would carry a top that its base does not carry by itself.
func (m *Maker) weigh(ctx context.Context, order Order, e *Estimate) (*Estimate, error) {
	defer func() { m.bench.last = made{} }()
	if !e.weighs(&order.Support) {
		return e, nil
	}
	var err error
	if e.Base.Ways, err = m.alternatives(ctx, order, e); err != nil {
		return nil, err
	}
	return e, nil
}

func (m *Maker) make(ctx context.Context, order Order, see foreseen) (*Estimate, error) {
	w, err := m.resolve(order)
	if err == nil {
		w.ctx = ctx
		err = w.foresee(see)
	}
	if err != nil {
		return nil, err
	}
	chosen, err := w.chooseCorners()
	m.chosen(len(w.runs))
	if err := cmp.Or(ctx.Err(), err); err != nil {
		return nil, err
	}
	return w.assemble(chosen)
}

// Compare works out the corners alone: every candidate with its findings, hardware and cost. It ends as Make does.
func (m *Maker) Compare(ctx context.Context, order Order) (*Comparison, error) {
	m.begin()
	return divided(ctx, m, &order, func(seams [][]inLine, see foreseen) (*Comparison, error) {
		return m.compareOf(ctx, &order, seams, see)
	})
}

func (m *Maker) compareOf(ctx context.Context, order *Order, seams [][]inLine, see foreseen) (*Comparison, error) {
	if !anySeam(seams) {
		return m.compareJoined(ctx, *order, see)
	}
	p, err := m.parted(order, seams)
	if err != nil {
		return nil, err
	}
	c, err := m.compareJoined(ctx, p.order, see)
	if err != nil {
		return nil, p.refusal(err)
	}
	p.tellParts(&c.Assumptions, &c.Warnings)
	return c, nil
}

func (m *Maker) compareJoined(ctx context.Context, order Order, see foreseen) (*Comparison, error) {
	c, _, err := joined(m, &order, see, func(o Order, see foreseen) (*Comparison, *[]Assumption, error) {
		c, err := m.compare(ctx, o, see)
		if err != nil {
			return nil, nil, err
		}
		return c, &c.Assumptions, nil
	})
	return c, err
}

func (m *Maker) compare(ctx context.Context, order Order, see foreseen) (*Comparison, error) {
	w, err := m.resolve(order)
	if err == nil {
		w.ctx = ctx
		err = w.foresee(see)
	}
	if err != nil {
		return nil, err
	}
	if w.layers > 1 && order.Top.Build == "" && order.Top.Construction != Panel { // whichever way an estimate takes
		if e, err := m.make(ctx, order, foreseen{}); err == nil {
			e, err = m.builds(ctx, order, e)
			if err == nil && e.Made.Build == BuiltUp {
				order.Top.Build = BuiltUp
				return m.compareBuilt(ctx, order, &e.Assumptions[len(e.Assumptions)-1])
			}
		}
		if w, err = m.resolve(order); err != nil {
			return nil, err
		}
		w.ctx = ctx
	}
	chosen, err := w.chooseCorners()
	m.chosen(len(w.runs))
	if err := cmp.Or(ctx.Err(), err); err != nil {
		return nil, err
	}
	return w.compared(chosen)
}

// compareBuilt is compare of a top whose build was chosen.
func (m *Maker) compareBuilt(ctx context.Context, order Order, why *Assumption) (*Comparison, error) {
	c, err := m.compare(ctx, order, foreseen{})
	if err == nil {
		c.Assumptions = append(c.Assumptions, *why)
	}
	return c, err
}

// Make works out a whole estimate with a maker of its own.
func Make(order Order, cat *catalogue.Snapshot) (*Estimate, error) {
	return NewMaker(cat).Make(context.Background(), order)
}

// Compare works out the corners alone with a maker of its own.
func Compare(order Order, cat *catalogue.Snapshot) (*Comparison, error) {
	return NewMaker(cat).Compare(context.Background(), order)
}

// bench is the working memory of one top. It is cleared for the next one; nothing that a caller gets lies in it.
type bench struct {
	chooser *hardware.Chooser
	purse   takeoff.Purse
	shed    takeoff.Shed
	tally   *labour.Tally
	clerk   joint.Clerk
	drafter plan.Drafter

	materials []*catalogue.Material // glue, finish and sundries that are needed
	needs     []takeoff.Need        // of the materials, then of the hardware
	uses      []use                 // of the materials
	lines     []takeoff.BillLine
	used      []source.ID

	// Used again for each candidate.
	blanks     []takeoff.Blank
	slabs      []takeoff.Slab
	parts      []*option
	rivals     []*option // at the corner at hand
	cornerJobs []labour.Corner
	joints     []plan.Joint
	judged     []joint.Judged
	costs      []joint.Cost
	longer     []step // of a sketch
	reckoned   []reckoned
	places     []measure.Length // of a row of fixings
	occupied   []stretch
	hole       []plan.Point                  // a cut-out on the plan
	errors     [3][mostErrors]measure.Length // of the seam at hand, at its front, at the wall and drawn together

	// What is known of the top at hand so far.
	layouts layouts
	shapes  shapes
	at      []*shape // of the candidate at hand, run by run
	wood    woodCosts
	trials  trials
	whole   whole
	edges   []hardware.Edge
	tried   options
	last    made // the estimate at hand, once there is one
	silent  work // of a top of which nothing is told
	drawn   base.Memory
	faced   []face       // of the piece at hand
	scribed []plan.Point // its outline
	beside  []besideRow
	stood   []lineOn // that are known; only once all that is added stands
	woods   woods    // of the catalogue
	bends   *bends   // of the order at hand, whichever top is made for it
	taken   *taken   // likewise

	lacksWood bool // pieces were tried that no wood on sale is long enough for
}

// made is an estimate, and the top that it was put together from.
type made struct {
	estimate *Estimate
	work     *work
}

// clear makes the bench ready for a top priced as of a day.
func (b *bench) clear(cat *catalogue.Snapshot, asOf catalogue.Date) {
	b.purse.Reset(asOf, cat.Settings.Charge)
	b.shed.Reset(cat)
	if b.tally == nil {
		b.tally = labour.NewTally(cat)
	}
	b.materials, b.needs, b.uses, b.used = b.materials[:0], b.needs[:0], b.uses[:0], b.used[:0]
	b.layouts.clear()
	b.last = made{}
	b.drawn.Clear()
	b.stood, b.beside = b.stood[:0], b.beside[:0]
	b.shapes.clear()
	b.drafter.Reset()
	if b.chooser != nil {
		b.chooser.For(cat)
	}
	b.wood.clear()
	b.trials.clear()
	b.whole.clear()
	b.edges = b.edges[:0]
	b.tried.clear()
	b.lacksWood = false
}

// options is the memory of the candidates that are tried. One that is not looked at any more is given back, for the
// next candidate or the next top.
type options struct {
	tried  int // for the top at hand, with those whose memory was used again
	all    []*option
	free   []*option
	recent [2]*option // tried last
}

// mostKept is how many candidates are kept for the next top; a long chain tries hundreds.
const mostKept = 64

func (l *options) clear() {
	l.all = l.all[:min(len(l.all), mostKept)]
	l.free, l.recent, l.tried = append(l.free[:0], l.all...), [2]*option{}, 0
}

// next is an empty candidate.
func (l *options) next() *option {
	l.tried++
	var o *option
	if last := len(l.free) - 1; last >= 0 {
		o, l.free = l.free[last], l.free[:last]
		*o = option{}
	} else {
		o = new(option)
		l.all = append(l.all, o)
	}
	l.recent = [2]*option{o, l.recent[0]}
	return o
}

// giveBack takes candidates back, but for some.
func (l *options) giveBack(list, but []*option) {
	for _, o := range list {
		if o != nil && !slices.Contains(but, o) {
			for i := range l.recent {
				if l.recent[i] == o {
					l.recent[i] = nil
				}
			}
			l.free = append(l.free, o)
		}
	}
}

// alike is a candidate tried shortly before for the same corner with the same joint and lines, and the same joints at
// the other corners; nil when there is none. Only the hardware can differ.
func (l *options) alike(o *option) *option {
	for _, b := range l.recent {
		if b != nil && b != o && b.layout != nil && b.layout == o.layout && b.corner == o.corner && b.Joint == o.Joint &&
			b.Movement.FirstLine == o.Movement.FirstLine && b.Movement.SecondLine == o.Movement.SecondLine {
			return b
		}
	}
	return nil
}
