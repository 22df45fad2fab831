package estimate

import (
	"context"
	"fmt"
	"reflect"

	"seamwright/service/plan"
)

// HoldShapes chooses an order's corners and holds all that was remembered of pieces against what each comes to in a layout that is
// drawn by itself. It returns how much was compared, and what differs.
func HoldShapes(m *Maker, order Order) (pieces, fixings, ends int, wrong string) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, 0, 0, ""
	}
	w.ctx = context.Background()
	_, _ = w.chooseCorners() // a top that is refused remembers its pieces as well
	for _, known := range w.layouts.known {
		if known.err != nil {
			continue
		}
		joints := make([]plan.Joint, len(w.corners))
		for k := range joints {
			joints[k] = known.layout.Seams[k].Joint
		}
		l, err := plan.Lay(w.top, joints, w.profile, w.set.MasonsMargin)
		if err != nil {
			return pieces, fixings, ends, "a layout by itself is refused: " + err.Error()
		}
		for i := range w.runs {
			n := known.layout.Drawn(i)
			if n >= len(w.shapes.list) || !w.shapes.list[n].known {
				continue
			}
			got, want := *w.shapes.list[n], w.reckonShape(i, l, nil)
			for _, f := range got.fixings {
				parts := make([]*option, len(w.corners))
				for k := range parts {
					parts[k] = new(option)
				}
				if i > 0 {
					parts[i-1].reach = f.reach[0]
				}
				if i < len(parts) {
					parts[i].reach = f.reach[1]
				}
				if count := w.countOn(i, l, parts); count != f.count {
					return pieces, fixings, ends, fmt.Sprintf("run %d: %d fixings, by itself %d", i, f.count, count)
				}
				fixings++
			}
			for end, near := range got.near {
				if near == nobodyAsked {
					continue
				}
				if line := w.baseLine(i, l); (near == tooFar) != (line.Gap(end) > w.set.SeamHold) {
					return pieces, fixings, ends, fmt.Sprintf("run %d: what carries end %d", i, end)
				}
				ends++
			}
			want.size, want.near, want.fixings = got.size, got.near, got.fixings
			if !reflect.DeepEqual(got, want) {
				return pieces, fixings, ends, fmt.Sprintf("run %d: %+v, by itself %+v", i, got, want)
			}
			pieces++
		}
	}
	return pieces, fixings, ends, ""
}
