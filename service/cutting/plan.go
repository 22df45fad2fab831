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
	l.stock = append(l.stock, stock)
	n := len(l.take)
	for range l.kinds {
		l.take = append(l.take, 0)
	}
	return l.take[n:]
}

// clone returns a copy.
func (l *layout) clone() layout {
	return layout{l.kinds, slices.Clone(l.stock), slices.Clone(l.take), slices.Clone(l.spare)}
}

// row returns what strip i is cut into.
func (l *layout) row(i int) []int { return l.take[i*l.kinds : (i+1)*l.kinds] }

// cut returns the number of boards of each stock that the strips come from.
func (l *layout) cut(j *job) []int {
	n := make([]int, len(j.room))
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
	for s, n := range l.cut(j) {
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

// plan writes the layout in the caller's terms. bound is in units of the grid; it does not count when
// the layout is proved to be optimal.
func (j *job) plan(p *Problem, l layout, bound int64, proved bool) Plan {
	plan := Plan{Boards: make([]int, len(p.Stocks)), Spare: make([]int, len(p.Stocks)), Optimal: proved}
	strips := 0
	for s, n := range l.cut(j) {
		plan.Boards[j.stock[s]] = n
		strips += n * j.strips
	}
	plan.Strips = j.write(p, l, plan.Boards, strips)
	if _, content := l.bare(j); l.spare == nil && content < j.least {
		l.spare = make([]int, len(j.room))
		j.top.add(j.least-content, l.spare)
	}
	for s, n := range l.spare {
		plan.Spare[j.stock[s]] = n
		plan.Boards[j.stock[s]] += n
	}
	for i, n := range plan.Boards {
		plan.Cost += float64(n) * p.Stocks[i].Cost
	}
	plan.LowerBound = plan.Cost
	if !proved {
		plan.LowerBound = min(plan.Cost, float64(bound)*float64(j.grid)/millionths)
	}
	return plan
}

// write hands the pieces of the demands out to the strips.
func (j *job) write(p *Problem, l layout, boards []int, strips int) []Strip {
	pieces := 0
	for _, n := range j.need {
		pieces += n
	}
	out := make([]Strip, 0, strips)
	names := j.names(p, make([]int, 2*pieces))
	placed := names[pieces:pieces]
	next := make([]int, l.kinds) // first piece of each kind not yet handed out
	for t := 1; t < l.kinds; t++ {
		next[t] = next[t-1] + j.need[t-1]
	}
	for at := range boards {
		rest := boards[at] * j.strips
		for i, s := range l.stock {
			if j.stock[s] != at {
				continue
			}
			from, left := len(placed), p.Stocks[at].Length
			for t, n := range l.row(i) {
				for _, d := range names[next[t] : next[t]+n] {
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
	return out
}

// names lists the demand of every piece, by kind, in the front half of buf.
func (j *job) names(p *Problem, buf []int) []int {
	n := 0
	for _, i := range j.order {
		for range p.Demands[i].Count {
			buf[n] = i
			n++
		}
	}
	return buf
}
