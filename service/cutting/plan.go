package cutting

import "slices"

// layout is a list of strips in the job's terms: the stock of each, and how many pieces of each kind
// it is cut into, one row of kinds after the other.
type layout struct {
	kinds int
	stock []int
	take  []int
	spare []int // boards of each stock that are bought uncut; nil: the cheapest that bring the content asked for
}

// add appends an empty strip and returns its row.
func (l *layout) add(stock int) []int {
	n := len(l.take)
	l.stock, l.take = append(l.stock, stock), slices.Grow(l.take, l.kinds)[:n+l.kinds]
	clear(l.take[n:])
	return l.take[n:]
}

// clone returns a copy.
func (l *layout) clone() layout {
	return layout{l.kinds, slices.Clone(l.stock), slices.Clone(l.take), slices.Clone(l.spare)}
}

// row returns what strip i is cut into.
func (l *layout) row(i int) []int { return l.take[i*l.kinds : (i+1)*l.kinds] }

// cut returns the number of boards of each stock that the strips come from.
func (l *layout) cut(j *job) []int { return l.count(j, nil) }

// count is cut in the memory of another list where that is enough.
func (l *layout) count(j *job, n []int) []int {
	n = zeros(n, len(j.room))
	for _, s := range l.stock {
		n[s]++
	}
	for s := range n {
		n[s] = (n[s] + j.strips - 1) / j.strips
	}
	return n
}

// bare returns the price of the boards that are cut, in units of the job's grid, and their content.
func (l *layout) bare(j *job) (cost, content int64) {
	var few [fewStocks]int
	for s, n := range l.count(j, few[:0]) {
		cost += int64(n) * j.cost[s]
		content += int64(n) * j.content[s]
	}
	return cost, content
}

// cost returns the price of the boards that are cut and of those beside them.
func (l *layout) cost(j *job) int64 {
	cost, content := l.bare(j)
	if l.spare == nil {
		return cost + j.top.cost(j.least-content)
	}
	for s, n := range l.spare {
		cost += int64(n) * j.cost[s]
	}
	return cost
}

// fewStocks is how many stocks hardly any problem exceeds.
const fewStocks = 16

// buy writes what the layout buys in the caller's terms. bound is in units of the grid; it does not count when
// the layout is proved to be optimal.
func (j *job) buy(p *Problem, l *layout, bound int64, proved bool, b *Purchase) {
	b.clear(p)
	b.Optimal = proved
	b.lay.kinds, b.lay.stock, b.lay.take = l.kinds, append(b.lay.stock, l.stock...), append(b.lay.take, l.take...)
	var few [fewStocks]int
	content := int64(0)
	for s, n := range l.count(j, few[:0]) {
		b.Boards[j.stock[s]] = n
		content += int64(n) * j.content[s]
	}
	spare := l.spare
	if spare == nil && content < j.least {
		spare = zeros(few[:0], len(j.room))
		j.top.add(j.least-content, spare)
	}
	for s, n := range spare {
		b.Spare[j.stock[s]] = n
		b.Boards[j.stock[s]] += n
	}
	for i, n := range b.Boards {
		b.Cost += float64(n) * p.Stocks[i].Cost
	}
	b.LowerBound = b.Cost
	if !proved {
		b.LowerBound = min(b.Cost, float64(bound)*float64(j.grid)/millionths)
	}
}

// write hands the pieces of the demands out to the strips of a purchase.
func (j *job) write(p *Problem, b *Purchase, plan *Plan) {
	l := &b.lay
	pieces, strips := 0, 0
	for _, n := range j.need {
		pieces += n
	}
	for at, n := range b.Boards {
		strips += (n - b.Spare[at]) * j.strips
	}
	out := slices.Grow(plan.Strips[:0], strips)
	j.names = j.list(p, j.names[:0])
	plan.pieces = slices.Grow(plan.pieces[:0], pieces)
	placed := plan.pieces
	var few [smallKinds]int
	next := zeros(few[:0], l.kinds) // first piece of each kind not yet handed out
	for t := 1; t < l.kinds; t++ {
		next[t] = next[t-1] + j.need[t-1]
	}
	for at := range b.Boards {
		rest := (b.Boards[at] - b.Spare[at]) * j.strips
		for i, s := range l.stock {
			if j.stock[s] != at {
				continue
			}
			from, left := len(placed), p.Stocks[at].Length
			for t, n := range l.row(i) {
				for _, d := range j.names[next[t] : next[t]+n] {
					placed = append(placed, d)
					left -= p.Demands[d].Length + p.Kerf
				}
				next[t] += n
			}
			out = append(out, Strip{Stock: at, Pieces: placed[from:len(placed):len(placed)], Leftover: max(left, 0)})
			rest--
		}
		for range rest {
			out = append(out, Strip{Stock: at, Pieces: []int{}, Leftover: p.Stocks[at].Length})
		}
	}
	plan.Strips = out
}

// list adds the demand of every piece to a list, by kind.
func (j *job) list(p *Problem, names []int) []int {
	for _, i := range j.order {
		for range p.Demands[i].Count {
			names = append(names, i)
		}
	}
	return names
}
