package estimate

// Effort is what the order took that the maker was at last, in candidates tried; purchases and searches for hardware are
// reckoned as so many (by their times, deploy/load/dearest). All tops that were made for it count: one that no wood is long
// enough for, and those that it is held against. The usual top takes about 10, three runs 170. The same order takes the
// same, whatever the maker made before.
func (m *Maker) Effort() int {
	if !m.begun {
		return m.aside
	}
	return m.aside + m.bench.effort()
}

// Steps is what the same order cost in work that is counted, for the key that asked: its effort, and what the effort leaves out, as
// it bounds nothing. A step is 2.5 to 5.5 µs of one core of a small server in orders that take some milliseconds
// (deploy/load/RESULTS.md); the usual top takes about 60, three runs 450, six 1,500. The same order takes the same, whatever the
// maker made before.
func (m *Maker) Steps() int {
	t, b := m.bench.taken, m.bench.bends
	return m.Effort() + t.priced + pieceSteps*t.begun + (2*b.asked+b.solved)/4
}

// pieceSteps is what a piece takes once for each top that it is in: its wood, base, walls and year, its drawing and its parts.
const pieceSteps = 15

// taken counts pieces, of all tops that are made for an order.
type taken struct {
	begun  int // of tops
	priced int // of candidates that were reckoned whole: each piece's blank, fixings and work anew
}

// begin forgets the order before.
func (m *Maker) begin() {
	m.anew()
	m.took, *m.bench.taken = took{}, taken{}
	m.bench.bends.clear()
}

// As much as trying a candidate takes: thousands of the solver's steps, cells of a search.
const (
	purchaseSteps = 5
	hardwareCells = 10_000
)

// effort is what the top at hand took so far.
func (b *bench) effort() int {
	effort := b.tried.tried + b.shed.Spent()/purchaseSteps
	if b.chooser != nil {
		effort += b.chooser.Spent() / hardwareCells
	}
	return effort
}

// anew forgets what was taken before, for another order or for what one is held against.
func (m *Maker) anew() { m.aside, m.begun = 0, false }

// another counts the top at hand before another one is begun for the same order.
func (m *Maker) another() { m.aside, m.begun = m.Effort(), true }

// mostBeside is how much an order may take with the tops that it is held against: another build, reckoned whole, and other ways
// to carry it, priced with its joints; and mostPieces how many pieces all candidates of such another top may have. A top of no more
// than freePieces is held against another one whatever it takes, which its own bounds bound: a thick counter in a U costs a tenth more
// than it must where that is left out. One of six runs, or of nine pieces, is hardly held against any. The estimate itself is never
// left out.
//
// Both are the same however often the order was looked up and whatever is remembered, so that a comparison of the corners makes what the estimate makes.
const (
	mostBeside = 800
	mostPieces = 700
	freePieces = 3
)

// mayMake reports whether another top that takes as much as the one at hand may be made beside it.
func (m *Maker) mayMake() bool { return m.took.runs <= freePieces || m.mayTake(1) }

// mayPrice reports the same of a top that is priced with the joints of the one at hand, which takes about a quarter.
func (m *Maker) mayPrice() bool { return m.mayTake(4) }

// took is what one top took.
type took struct {
	runs, effort int
	pieces       int // of all its candidates
}

// chosen notes what a top took whose corners are chosen, or that is refused: it is held against others when more was looked up.
func (m *Maker) chosen(runs int) { m.took = took{runs, m.bench.effort(), m.bench.tried.tried * runs} }

// mayTake reports whether there is room for so large a part of the top that was made last.
func (m *Maker) mayTake(part int) bool {
	return m.Effort()+m.took.effort/part <= mostBeside && m.took.pieces/part <= mostPieces
}

// leaveOut says of an answer what was not worked out beside it, and how to ask for it.
func (e *Estimate) leaveOut(pointer, text string) {
	e.Warnings = append(e.Warnings, Warning{"comparison_left_out", Info, pointer, text})
}
