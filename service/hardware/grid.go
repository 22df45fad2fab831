package hardware

import (
	"slices"

	"seamwright/service/measure"
)

// pitch is the step of the search: a quarter of an inch.
const pitch = measure.Inch / 4

// What the searches for one top may look at, in cells times the places that each is held against. A usual top takes
// some ten thousands, one of six runs up to all of it. When it is spent, a seam is searched on a few points
// only, and when half as much has been spent again, not at all: parts then stand evenly or nowhere.
const (
	mostEffort = 400_000
	fewPoints  = 40
	cellWork   = 8 // what a cell takes by itself, in places held against it
)

// searchable is the longest seam that is searched, so that the work of one request stays bounded. No top comes near it.
const searchable = 6 * measure.Metre

// The kinds of part in a search.
const (
	pulling = iota
	aligning
)

// Instead of a place: no part of that kind so far, and no such arrangement.
const (
	noPart = int32(-1)
	noWay  = int32(-2)
)

// grid searches for positions among points along the seam, from front to back. What is known of an arrangement of parts
// up to a point where its last part stands is the number of pull parts so far, the last part's kind, and where the last
// part of the other kind stands. Of two arrangements that differ in the latter alone, the one where it stands further
// back can be continued in every way that the other can, since its place weighs only in how far off the next one of its
// kind may be. So one arrangement is kept for each point, kind and number, which makes the search exact on its points.
//
// Pull parts are counted up to a few over the least; the last layer stands for that many or more.
type grid struct {
	r       placing
	at      []measure.Length
	left    [2][]measure.Length // where a part's room begins, by kind and point
	right   [2][]measure.Length // where it ends
	fits    [2][]bool           // a single part of the kind may stand there
	spacing [2]measure.Length
	first   [2]measure.Length // last place for the first part of a kind
	last    [2]measure.Length // first place for the last one
	layers  int
	cells   []cell    // by layer, kind and point
	latest  [][2]int  // by layer and kind: the last point so far where an arrangement ends; −1: none
	before  [2][2]int // by kind and kind: the last point from which a part of the second kind leaves room for the first
	bounded bool      // the searches are for one top, and have an effort
	effort  int       // that is left
	coarse  bool      // it was not enough
}

// cell is the best arrangement that ends at a point with a kind, in a layer.
type cell struct {
	other    int32 // point of the last part of the other kind, noPart or noWay
	prev     int32 // point of the part before the last; noPart: none
	prevKind int8
	prevIn   int16 // layer of that part
}

// extra is how many pull parts over the least the search counts one by one.
const extra = 4

// search looks for positions on the grid, with the fewest pull parts, and evens them out.
func (r *placing) search(l *layout) bool {
	least := max(r.leastPulls, steps(r.pullLast-r.pullFirst, r.pullSpacing)+1)
	if least > mostParts || r.length > searchable {
		return false
	}
	g := &l.work.grid
	g.r, g.layers = *r, least+extra
	g.spacing = [2]measure.Length{r.pullSpacing, r.alignSpacing}
	g.first, g.last = [2]measure.Length{r.pullFirst, r.alignFirst}, [2]measure.Length{r.pullLast, r.alignLast}
	defer g.tidy()
	if g.bounded && g.effort < -mostEffort/2 {
		return false
	}
	g.points()
	g.fill()
	for layer := least; layer <= g.layers; layer++ {
		if g.finish(l, layer) && r.cover(l, l.pulls) {
			r.evenBoth(l)
			return true
		}
	}
	return false
}

// mostKept is the largest number of cells that is kept for the next search. Settings that make sense need a tenth of
// it.
const mostKept = 1 << 15

// tidy lets much memory go.
func (g *grid) tidy() {
	if cap(g.cells) > mostKept {
		g.cells = nil
	}
}

// fill works out the cell of every point, from front to back.
func (g *grid) fill() {
	n := 2 * (g.layers + 1) * len(g.at)
	g.cells = slices.Grow(g.cells[:0], n)[:n] // each is written before it is read
	g.latest = slices.Grow(g.latest[:0], g.layers+1)
	for range g.layers + 1 {
		g.latest = append(g.latest, [2]int{-1, -1})
	}
	g.before = [2][2]int{{-1, -1}, {-1, -1}}
	for x := range g.at {
		for kind := range 2 {
			for other := range 2 {
				p := &g.before[kind][other]
				for *p+1 < x && g.right[other][*p+1] <= g.left[kind][x]-g.r.clear+noise {
					*p++
				}
			}
		}
		for layer := 0; layer <= g.layers; layer++ {
			for kind := range 2 {
				c := g.best(kind, layer, x)
				if *g.cell(kind, layer, x) = c; c.other != noWay {
					g.latest[layer][kind] = x
				}
			}
		}
	}
}

// begin gives the searches that follow the effort of one top.
func (g *grid) begin() { g.bounded, g.effort, g.coarse = true, mostEffort, false }

// step is the pitch, or a coarser one when there is no effort left for it. It spends what it takes.
func (g *grid) step() measure.Length {
	work := func(step measure.Length) int {
		return 2 * g.layers * (int(g.r.length/step) + 1) * (int((g.spacing[pulling]+g.spacing[aligning])/2/step) + cellWork)
	}
	if !g.bounded {
		return pitch
	}
	step := pitch
	if coarse := g.r.length / fewPoints; coarse > pitch && work(pitch) > g.effort {
		step, g.coarse = coarse, true
	}
	g.effort -= work(step)
	return step
}

// points lays out the grid: steps from the front, and the places where a rule begins or ends to bind.
func (g *grid) points() {
	r := &g.r
	step := g.step()
	n := int(r.length / step)
	g.at = slices.Grow(g.at[:0], n+16)
	for i := 0; i <= n; i++ {
		g.at = append(g.at, measure.Length(i)*step)
	}
	g.at = append(g.at, r.pullFrom, r.pullTo, r.pullFirst, r.pullLast, r.alignFirst, r.alignLast, r.slotFrom, r.slotTo)
	for i := range r.pullBars {
		g.at = append(g.at, r.beforeBar(&r.pullBars[i]), r.afterBar(&r.pullBars[i]))
	}
	for _, w := range r.slotWalls {
		g.at = append(g.at, r.beforeWall(w.From), r.afterWall(w.To))
	}
	for _, b := range r.blocked {
		g.at = append(g.at, b.From-r.halfPull, b.To+r.halfPull, r.beforeWall(b.From), r.afterWall(b.To))
	}
	slices.Sort(g.at)
	g.at = slices.Compact(g.at)
	for kind := range 2 {
		left, right, fits := slices.Grow(g.left[kind][:0], len(g.at)), slices.Grow(g.right[kind][:0], len(g.at)),
			slices.Grow(g.fits[kind][:0], len(g.at))
		for _, at := range g.at {
			half, fit := r.pullHalf(at), false
			if kind == aligning {
				half = r.alignHalf(at)
				fit = r.slotWoodWith(at, half)
			} else {
				fit = r.pullStandsWith(at, half)
			}
			left, right, fits = append(left, at-half), append(right, at+half), append(fits, fit)
		}
		g.left[kind], g.right[kind], g.fits[kind] = left, right, fits
	}
}

func (g *grid) cell(kind, layer, x int) *cell {
	return &g.cells[(layer*2+kind)*len(g.at)+x]
}

// best is the best arrangement whose last part, of that kind, stands at point x, with so many pull parts.
func (g *grid) best(kind, layer, x int) cell {
	c := cell{other: noWay, prev: noPart}
	if !g.fits[kind][x] || kind == pulling && layer == 0 {
		return c
	}
	before := layer
	if kind == pulling {
		before = layer - 1
	}
	if before == 0 && g.at[x] <= g.first[kind]+noise {
		c.other = noPart
	}
	g.extend(&c, kind, before, x)
	if kind == pulling && layer == g.layers {
		g.extend(&c, kind, layer, x) // that many or more
	}
	return c
}

// extend improves c by what continues an arrangement of a layer with a part at x.
func (g *grid) extend(c *cell, kind, layer, x int) {
	near := g.at[x] - g.spacing[kind] - noise
	for p := min(g.before[kind][kind], g.latest[layer][kind]); p >= 0 && int32(p) > c.other && g.at[p] >= near; p-- {
		if from := g.cell(kind, layer, p); from.other > c.other {
			*c = cell{other: from.other, prev: int32(p), prevKind: int8(kind), prevIn: int16(layer)}
		}
	}
	other := 1 - kind
	far := g.at[x] - max(g.spacing[kind], g.first[kind]) - noise // nothing in front of this follows
	for p := min(g.before[kind][other], g.latest[layer][other]); p >= 0 && int32(p) > c.other && g.at[p] >= far; p-- {
		if from := g.cell(other, layer, p); from.other != noWay && g.follows(kind, int(from.other), x) {
			*c = cell{other: int32(p), prev: int32(p), prevKind: int8(other), prevIn: int16(layer)}
			return
		}
	}
}

// follows reports whether a part at x is near enough to the one of its kind before it, or to the front end.
func (g *grid) follows(kind, before, x int) bool {
	if before == int(noPart) {
		return g.at[x] <= g.first[kind]+noise
	}
	return g.at[x]-g.at[before] <= g.spacing[kind]+noise
}

// finish finds an arrangement with so many pull parts that reaches the back end, and reads its pull parts off.
func (g *grid) finish(l *layout, layer int) bool {
	for x := len(g.at) - 1; x >= 0; x-- {
		for kind := pulling; kind <= aligning; kind++ {
			c := g.cell(kind, layer, x)
			if c.other >= 0 && g.reaches(kind, x) && g.reaches(1-kind, int(c.other)) {
				g.readOff(l, kind, layer, x)
				return true
			}
		}
	}
	return false
}

// reaches reports whether a last part at x is near enough to the back end.
func (g *grid) reaches(kind, x int) bool {
	return g.at[x] >= g.last[kind]-noise
}

// readOff follows an arrangement back to its first part and lists its pull parts.
func (g *grid) readOff(l *layout, kind, layer, x int) {
	l.pulls = l.pulls[:0]
	for x != int(noPart) {
		if kind == pulling {
			l.pulls = append(l.pulls, g.at[x])
		}
		c := g.cell(kind, layer, x)
		kind, layer, x = int(c.prevKind), int(c.prevIn), int(c.prev)
	}
	slices.Reverse(l.pulls)
}
