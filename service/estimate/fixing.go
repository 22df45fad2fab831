package estimate

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// fixingRows are how far the rows of run i's fixings lie from its front edge: where the base has its rails, at front
// and back, and a third in the middle of a really deep run.
//
// Common practice; the distances are settings.
func (w *work) fixingRows(i int) (rows [mostRows]measure.Length, count int) {
	if w.toldBase(i) {
		return w.railRows(i)
	}
	depth := w.runs[i].Depth
	edge := min(w.set.FixingEdge, depth/4)
	if depth > w.set.FixingThirdRow {
		return [mostRows]measure.Length{edge, depth / 2, depth - edge}, 3
	}
	return [mostRows]measure.Length{edge, depth - edge}, 2
}

// mostRows is how many rows a run's fixings stand in: of what stands under it each may have its own at front and back.
const mostRows = 12

// stretch is a part of a row, along the run.
type stretch struct{ from, to measure.Length }

// placeRow appends the places of a row of run i's fixings, along the run from its start. They stand at the ends of each
// stretch of wood that is free, and evenly between, at most fixing_spacing apart. Not free are the ends, the cut-outs
// and the parts of the seams, each with fixing_edge around it; of a stretch that is shorter than that only the middle
// is used.
//
// Common practice: about every 12 in (300 mm).
func (w *work) placeRow(to []measure.Length, i int, row measure.Length, l *plan.Layout,
	parts []*option) []measure.Length {
	edge := w.set.FixingEdge
	from, end := l.Span(i, row)
	occupied := w.occupiedOnRow(w.occupied[:0], i, row, l, parts)
	w.occupied = occupied
	if !w.toldBase(i) {
		return w.placeBetween(to, stretch{from + edge, end - edge}, occupied)
	}
	rows := w.railsOf(i)
	if k := slices.IndexFunc(rows, func(r railRow) bool { return r.at == row }); k >= 0 {
		for _, rail := range rows[k].on {
			to = w.placeBetween(to, stretch{max(from+edge, rail.from), min(end-edge, rail.to)}, occupied)
		}
	}
	return to
}

// placeBetween appends the places in a stretch of a row.
func (w *work) placeBetween(to []measure.Length, whole stretch, occupied []stretch) []measure.Length {
	at := whole.from
	for k := 0; k <= len(occupied); k++ {
		free := stretch{at, whole.to}
		if k < len(occupied) {
			free.to, at = min(free.to, occupied[k].from), max(at, occupied[k].to)
		}
		to = w.placeStretch(to, free)
	}
	return to
}

func (w *work) placeStretch(to []measure.Length, free stretch) []measure.Length {
	length := free.to - free.from
	switch {
	case length < -tolerance:
		return to
	case length < w.set.FixingEdge-tolerance:
		return append(to, free.from+length/2)
	}
	gaps := max(1, int(math.Ceil(float64(length/w.set.FixingSpacing)-1e-9)))
	for n := range gaps + 1 {
		to = append(to, free.from+length*measure.Length(n)/measure.Length(gaps))
	}
	return to
}

// occupiedOnRow appends the stretches of a row on which no fixing may stand, in ascending order of their start.
func (w *work) occupiedOnRow(to []stretch, i int, row measure.Length, l *plan.Layout, parts []*option) []stretch {
	edge := w.set.FixingEdge
	for k := range w.cutouts {
		c := &w.cutouts[k]
		switch {
		case c.run != i || row <= c.FromFront-edge+tolerance || row >= c.FromFront+c.Depth+edge-tolerance:
		case c.shape != nil:
			if s := w.nearRow(k, row); s.near {
				to = insert(to, s.stretch)
			}
		default:
			to = insert(to, stretch{c.from - edge, c.to + edge})
		}
	}
	for k := max(0, i-1); k < min(i+1, len(parts)); k++ {
		path, clear := l.Seams[k].Path, max(edge, parts[k].reach+w.set.PartClear)
		for n := 1; n < len(path); n++ {
			if s, near := nearSegment(l, i, path[n-1], path[n], row, clear); near {
				to = insert(to, s)
			}
		}
	}
	return to
}

// insert keeps the stretches in ascending order of their start.
func insert(list []stretch, s stretch) []stretch {
	list = append(list, s)
	for k := len(list) - 1; k > 0 && list[k].from < list[k-1].from; k-- {
		list[k], list[k-1] = list[k-1], list[k]
	}
	return list
}

// tolerance is how near a fixing may be said to stand and still be clear: rounding decides nothing.
const tolerance = measure.Length(1e-6)

// nearSegment is the stretch of a row of run i that lies nearer than clear to the segment a–b, if any does.
func nearSegment(l *plan.Layout, i int, a, b plan.Point, row, clear measure.Length) (stretch, bool) {
	ax, ay := l.Local(i, a)
	bx, by := l.Local(i, b)
	return nearLine(ax, ay, bx, by, row, clear)
}

// besideRow is the stretch of a row on which no fixing may stand for a cut-out with a shape of its own, if there is one.
type besideRow struct {
	cutout int
	row    measure.Length
	stretch
	near bool
}

// nearRow is what cut-out k takes of a row, looked at once: it lies alike in its run whichever joints are made.
func (w *work) nearRow(k int, row measure.Length) besideRow {
	for _, known := range w.beside {
		if known.cutout == k && known.row == row {
			return known
		}
	}
	b := besideRow{cutout: k, row: row}
	b.stretch, b.near = w.cutouts[k].nearRow(row, w.set.FixingEdge)
	w.beside = append(w.beside, b)
	return b
}

// nearRow is the stretch of a row that lies nearer than clear to a cut-out with a shape of its own, if any does.
func (c *cutout) nearRow(row, clear measure.Length) (whole stretch, near bool) {
	for n, p := range c.outline {
		q := c.outline[(n+1)%len(c.outline)]
		s, hit := nearLine(p.X, p.Y, q.X, q.Y, row, clear)
		switch {
		case hit && near:
			whole = stretch{min(whole.from, s.from), max(whole.to, s.to)}
		case hit:
			whole, near = s, true
		}
	}
	return whole, near
}

// nearLine is nearSegment for places along the run and from its front edge.
func nearLine(ax, ay, bx, by, row, clear measure.Length) (stretch, bool) {
	s, near := stretch{measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))}, false
	if row < min(ay, by)-clear-tolerance || row > max(ay, by)+clear+tolerance {
		return s, false
	}
	reach := func(x measure.Length) { s.from, s.to, near = min(s.from, x), max(s.to, x), true }
	for _, p := range [...][2]measure.Length{{ax, ay}, {bx, by}} { // the discs round both ends
		if dy := magnitude(row - p[1]); dy < clear-tolerance {
			half := measure.Length(math.Sqrt(float64(clear*clear - dy*dy)))
			reach(p[0] - half)
			reach(p[0] + half)
		}
	}
	dx, dy := bx-ax, by-ay
	length := measure.Length(math.Hypot(float64(dx), float64(dy)))
	if length == 0 || magnitude(dy) < tolerance {
		return s, near
	}
	for _, side := range [...]measure.Length{-clear, clear} { // the lines beside it
		t := (row - ay - side*dx/length) / dy
		if t >= 0 && t <= 1 {
			reach(ax + t*dx - side*dy/length)
		}
	}
	return s, near
}

func (w *work) countFixings(l *plan.Layout, parts []*option) int {
	if w.fixing == nil {
		return 0
	}
	count := 0
	for i := range w.runs {
		count += w.fixingsOn(i, w.shapeOf(i, l), l, parts)
	}
	return count
}

// countOn counts the fixings of run i's piece.
func (w *work) countOn(i int, l *plan.Layout, parts []*option) (count int) {
	rows, n := w.fixingRows(i)
	for _, row := range rows[:n] {
		w.places = w.placeRow(w.places[:0], i, row, l, parts)
		count += len(w.places)
	}
	return count
}

// fixings describes the fixings to the base: where each stands and how long its slots must be.
//
// Common practice.
func (w *work) fixings(c *chosen) (FixingResult, error) {
	r := FixingResult{Kind: w.order.Top.Fixing.Kind}
	if w.fixing == nil {
		return r, nil
	}
	r.Item = w.fixing.Code
	r.Runs = make([]RunFixing, len(w.runs))
	all := make([]FixingPlace, 0, w.countFixings(c.layout, c.options))
	swings := false
	for i := range w.runs {
		f := &r.Runs[i]
		*f = RunFixing{Run: w.runs[i].Name, FixedLine: w.lineOf(i, c.options)}
		s := w.swingOf(i, c.layout, c.options)
		swings = swings || s.share > 0
		rows, n := w.fixingRows(i)
		f.Rows = make([]FixingRow, n)
		for k, row := range rows[:n] {
			f.Rows[k].FromFront = row
			w.places = w.placeRow(w.places[:0], i, row, c.layout, c.options)
			f.Along = max(f.Along, len(w.places))
			for _, at := range w.places {
				place := FixingPlace{Along: at, FromFront: row}
				place.SlotAcross, place.SlotAlong = w.slots(i, f.FixedLine, s, s.distance(at), row)
				all = append(all, place)
				f.Rows[k].SlotLength = max(f.Rows[k].SlotLength, place.SlotAcross)
			}
		}
		f.Places = all[r.Count:len(all):len(all)]
		r.Count = len(all)
	}
	if w.quiet {
		return r, w.lets(&r)
	}
	which := ""
	if swings {
		which = " that does not swing"
	}
	r.Note = fmt.Sprintf("Fixings at most %s apart, clear of cut-outs and of what sits in the wood; in each run%s the row nearest its fixed line moves least, the others slide in slots across the run.", w.phrase(w.set.FixingSpacing), which)
	if w.keptByBothSides(&r) {
		r.Note += " A run that is fixed at its centre and has no row there is kept in its place by the rows on both sides: all of them slide, each screw in the middle of its slot."
	}
	if w.base != nil {
		r.Note += " Where the base is told they stand in its rails, none of them over a bay."
		if w.overProps(&r) {
			r.Note += " Over a bracket or leg that is screwed to the top through slots of its own, the one counted there may be left out."
		}
	}
	if w.builtUp() {
		r.Note += " They end in the solid wood of the built-up edge, none of them where the slab is hollow below."
	}
	if swings {
		r.Note += " Legs that swing slide at every row, in slots across and along the run, longer with their distance from the corner."
	}
	if note := w.fixing.Kind.Traits().Note; note != "" {
		r.Note += " " + note
	}
	if f := w.fixing; f.Kind.Under() == catalogue.Inserted {
		r.Note += fmt.Sprintf(" For each insert bore %s wide and %s deep from below, at its place in the top.",
			w.phrase(f.BoreDiameter), w.phrase(f.Penetration))
	}
	return r, w.lets(&r)
}

// overProps reports whether a fixing stands over a bracket or legs.
func (w *work) overProps(r *FixingResult) bool {
	for i := range r.Runs {
		for k := range w.base.parts[i] {
			p := &w.base.parts[i][k]
			if p.Kind != base.Bracket && p.Kind != base.Legs {
				continue
			}
			for _, at := range r.Runs[i].Places {
				if at.Along >= p.From && at.Along <= p.To && at.FromFront >= p.Front && at.FromFront <= p.Front+p.Depth {
					return true
				}
			}
		}
	}
	return false
}

// keptByBothSides reports whether a run is fixed at its centre where none of its rows stands.
func (w *work) keptByBothSides(r *FixingResult) bool {
	for i := range r.Runs {
		if r.Runs[i].WithoutRow(w.runs[i].Depth) {
			return true
		}
	}
	return false
}

// WithoutRow reports whether the fixed line of a run so deep is its centre and none of its rows stands there, so that
// the rows on both sides keep it.
func (f *RunFixing) WithoutRow(depth measure.Length) bool {
	for k := range f.Rows {
		if magnitude(f.Rows[k].FromFront-depth/2) < tolerance {
			return false
		}
	}
	return f.FixedLine == hardware.HoldCentre
}

// lets refuses parts that do not let the wood go as far as it does, with the numbers of the place where it goes
// furthest.
func (w *work) lets(r *FixingResult) error {
	kind := w.fixing.Kind.Traits()
	if kind.Travel == nil {
		return nil
	}
	lets, most, where := kind.Travel(w.fixing), measure.Length(0), ""
	for i := range r.Runs {
		for _, p := range r.Runs[i].Places {
			goes := p.SlotAcross
			if !kind.Along {
				goes = max(goes, p.SlotAlong)
			}
			if goes = (goes - w.fixing.ThreadDiameter - w.set.SlotAllowance) / 2; goes > most {
				most, where = goes, r.Runs[i].Run
			}
		}
	}
	if most <= lets+tolerance {
		return nil
	}
	return fault.At("/top/fixing", impossible("/kind", fmt.Sprintf("In run %s the wood goes up to %s to one side of a fixing; a %s lets it go %s.",
		where, w.phraseUp(most), kind.Name, w.phraseDown(lets)), w.freerFixing(most, lets)))
}

// freerFixing is what lets the wood go as far as it does: other fixings, or, where half of it would do, another fixed line
// than an edge.
func (w *work) freerFixing(most, lets measure.Length) string {
	const others = `Use "slotted_clips" or "slotted_screws"`
	if most/2 > lets || w.order.Top.Fixing.FixedLine == hardware.HoldCentre {
		return others + "."
	}
	return others + `, or try "fixed_line": "centre".`
}
