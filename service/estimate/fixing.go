package estimate

import (
	"fmt"
	"math"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// fixingGrid is how many fixings stand in a row along run i, and how far its rows lie from the front edge: near both edges, and in the
// middle of deep runs.
//
// Common practice: about every 12 in (300 mm).
func (w *work) fixingGrid(i int, p *plan.Piece) (along int, rows [3]measure.Length, count int) {
	depth, short := w.runs[i].Depth, min(p.WallEdge, p.FrontEdge)
	edge := min(2*measure.Inch, depth/4)
	along = max(2, int(math.Ceil(float64((short-2*edge)/w.set.FixingSpacing)-1e-9))+1)
	if depth > 2*w.set.FixingSpacing {
		return along, [3]measure.Length{edge, depth / 2, depth - edge}, 3
	}
	return along, [3]measure.Length{edge, depth - edge}, 2
}

func (w *work) countFixings(l *plan.Layout) int {
	if w.fixing == nil {
		return 0
	}
	count := 0
	for i := range w.runs {
		along, _, rows := w.fixingGrid(i, &l.Pieces[i])
		count += along * rows
	}
	return count
}

// fixings describes the fixings to the base; slots are as long as the movement at their distance from the fixed line asks.
//
// Common practice.
func (w *work) fixings(c *chosen) FixingResult {
	r := FixingResult{Kind: w.order.Top.Fixing.Kind}
	if w.fixing == nil {
		return r
	}
	r.Item, r.Count = w.fixing.Code, w.countFixings(c.layout)
	r.Runs = make([]RunFixing, len(w.runs))
	for i := range w.runs {
		along, rows, n := w.fixingGrid(i, &c.layout.Pieces[i])
		line := w.lineOf(i, c.options)
		f := RunFixing{Run: w.runs[i].Name, FixedLine: line, Along: along}
		most := max(math.Abs(w.runs[i].move.DryStrain), math.Abs(w.runs[i].move.HumidStrain))
		fixed := line.Point(w.runs[i].Depth)
		f.Rows = make([]FixingRow, 0, n)
		for _, at := range rows[:n] {
			slot := hardware.Slot(w.fixing.ThreadDiameter, magnitude(at-fixed)*measure.Length(most), w.set)
			f.Rows = append(f.Rows, FixingRow{FromFront: at, SlotLength: slot})
		}
		r.Runs[i] = f
	}
	r.Note = fmt.Sprintf("Fixings about every %s; in each run the row nearest its fixed line holds, the others slide in slots along the slab's depth.", w.phrase(w.set.FixingSpacing))
	return r
}
