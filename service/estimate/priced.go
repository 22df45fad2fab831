package estimate

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/plan"
	"seamwright/service/price"
)

// priced is what a top comes to, and no more: nothing is told of it.
type priced struct {
	price price.Price
	props []Props
}

// priced prices an order with the joints and the fixed lines of an estimate, as an estimate of an order that names them does; where one
// of them cannot be made so, with the joints that an estimate chooses. It is nil where the base does not carry the top. The order differs
// from that of a work as resolveAs has it.
func (m *Maker) priced(ctx context.Context, order Order, e *Estimate, like *work) (*priced, error) {
	w, err := m.resolveAs(&order, like)
	if err != nil {
		return nil, err
	}
	w.ctx = ctx
	w.kept = make([]plan.Joint, len(w.corners))
	for k := range w.kept {
		w.kept[k] = e.Corners[k].Chosen
	}
	lines := w.frontLines()
	for i := 1; i < len(w.corners); i++ { // of the runs between two corners
		lines[i] = e.Runs[i].Movement.FixedLine
	}
	p, err := w.priced(lines)
	if err == nil || !strings.HasPrefix(fault.All(err)[0].Pointer, "/top/corners") {
		return p, err
	}
	full, err := m.make(ctx, order, foreseen{}) // with other joints
	if err != nil || !full.Base.Holds {
		return nil, err
	}
	return &priced{full.Price, full.Base.Props}, nil
}

func (w *work) priced(lines []hardware.Hold) (*priced, error) {
	w.joints = append(w.joints[:0], w.kept...)
	l, err := w.layouts.lay(w)
	if err != nil {
		return nil, fault.At("/top", err)
	}
	for i := range w.runs {
		if w.base.parts[i] == nil {
			continue
		}
		line, slab := w.baseLine(i, l), w.stripsOn(i)
		if w.stands(i, &line) != nil || !w.bears(i, line.StripsIn(&w.drawn, &slab)) {
			return nil, nil
		}
	}
	w.chooseFrom()
	c, err := w.chooseWith(lines, w.kept, len(w.kept) > 1)
	if err := cmp.Or(w.ctx.Err(), err); err != nil {
		return nil, err
	}
	if err := w.buyLast(c); err != nil {
		return nil, err
	}
	costs, err := w.costsOf(c)
	if err != nil {
		return nil, fmt.Errorf("priced: %w", err)
	}
	if w.fixing != nil && w.fixing.Kind.Traits().Travel != nil { // else they are never refused
		if _, err := w.fixings(c); err != nil {
			return nil, err
		}
	}
	if w.builtUp() && !w.anyHollow(c.layout) {
		return nil, nil
	}
	p, err := price.Build(costs, w.terms)
	if err != nil {
		return nil, fault.At("/pricing", err)
	}
	return &priced{p, w.base.props}, nil
}
