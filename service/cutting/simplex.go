package cutting

import "math"

// Tolerances of the linear program. Its right-hand sides are whole numbers and its prices are scaled
// to about 1.
const (
	zero      = 1e-9 // coefficients and changes of a row below this are rounding
	tinyPivot = 1e-7
	refactor  = 100 // pivots until the inverse is computed anew
)

// entry is a coefficient of a column.
type entry struct {
	coef float64
	row  int
}

// simplex solves
//
//	min Σ price·x,  Σ coef·x ≥ rhs in every row,  x ≥ 0
//
// and solves it again after the right-hand side has changed or columns have come. Every row has a
// surplus variable, and one that makes up for what is lacking at a price that no plan would pay.
// Variables are numbered: surplus of row r is r, lack of row r is rows + r, then the columns.
type simplex struct {
	rows              int
	lack              float64   // price of a unit that is lacking
	prices            []float64 // of the columns
	first             []int     // first entry of each column, and the end
	cells             []entry   // of all columns, without those of their group
	group             []int     // of each column
	shared            [][]entry // cells that all columns of a group have
	rowSums, dualSums []float64 // of each group: its cells times a row of the inverse, or the prices
	full              []int32   // cells of a row of the inverse that are not zero
	column            []entry   // cells of the variable last listed
	order             []int     // of the places in the basis, while the inverse is computed
	wanted            []int     // columns that were worth bringing in when all were last looked at
	rhs               []float64
	basis             []int
	basic             []bool
	x                 []float64   // values of the basic variables
	dual              []float64   // price of each row
	inv               [][]float64 // inverse of the basis matrix
	alpha             []float64   // the entering column in terms of the basis
	floats            []float64   // memory of all lists of a row's length
	total             int         // exchanges so far
	pivots            int         // since the inverse was computed
	work              int64       // elementary steps spent
	broken            bool        // the basis has become singular: results do not count
}

// begin has no columns and no basis yet. Its lists are those of a problem before, where they are long enough.
func (s *simplex) begin(rows int, lack float64, shared [][]entry) {
	all := zeros(s.floats, 4*rows+rows*rows+2*len(shared))
	floats := all
	next := func(n int) []float64 {
		list := floats[:n:n]
		floats = floats[n:]
		return list
	}
	*s = simplex{rows: rows, lack: lack, shared: shared, floats: all,
		rhs: next(rows), x: next(rows), dual: next(rows), alpha: next(rows),
		rowSums: next(len(shared)), dualSums: next(len(shared)),
		inv: s.inv[:0], basis: zeros(s.basis, rows), order: zeros(s.order, rows), full: zeros(s.full, rows),
		basic: zeros(s.basic, 2*rows), first: append(s.first[:0], 0),
		prices: s.prices[:0], cells: s.cells[:0], group: s.group[:0], column: s.column[:0], wanted: s.wanted[:0]}
	for range rows {
		s.inv = append(s.inv, next(rows))
	}
}

// addColumn appends a column of a group with the cells added since the last one, and returns its variable.
func (s *simplex) addColumn(group int, price float64) int {
	s.prices, s.first, s.group = append(s.prices, price), append(s.first, len(s.cells)), append(s.group, group)
	s.basic = append(s.basic, false)
	return len(s.basic) - 1
}

// addCell appends a cell to the column that comes next.
func (s *simplex) addCell(row int, coef float64) { s.cells = append(s.cells, entry{coef, row}) }

// price of a variable.
func (s *simplex) price(v int) float64 {
	switch {
	case v < s.rows:
		return 0
	case v < 2*s.rows:
		return s.lack
	}
	return s.prices[v-2*s.rows]
}

// sum adds up, for each group, its cells times a row of prices or of the inverse.
func (s *simplex) sum(row, sums []float64) {
	for g, cells := range s.shared {
		sum := 0.0
		for _, e := range cells {
			sum += e.coef * row[e.row]
		}
		sums[g] = sum
	}
}

// dot is the variable's column times a row with its sums.
func (s *simplex) dot(v int, row, sums []float64) float64 {
	switch {
	case v < s.rows:
		return -row[v]
	case v < 2*s.rows:
		return row[v-s.rows]
	}
	v -= 2 * s.rows
	sum := sums[s.group[v]]
	for _, e := range s.cells[s.first[v]:s.first[v+1]] {
		sum += e.coef * row[e.row]
	}
	return sum
}

// start takes a basis.
func (s *simplex) start(basis []int) {
	copy(s.basis, basis)
	for i := range s.basic {
		s.basic[i] = false
	}
	for _, v := range s.basis {
		s.basic[v] = true
	}
	s.invert()
}

// list lists the cells of a variable in s.column.
func (s *simplex) list(v int) {
	switch n := s.rows; {
	case v < n:
		s.column = append(s.column[:0], entry{-1, v})
	case v < 2*n:
		s.column = append(s.column[:0], entry{1, v - n})
	default:
		v -= 2 * n
		s.column = append(append(s.column[:0], s.cells[s.first[v]:s.first[v+1]]...), s.shared[s.group[v]]...)
	}
}

// enter puts the column of v in terms of the basis into s.alpha.
func (s *simplex) enter(v int) {
	s.list(v)
	s.work += int64(len(s.column) * s.rows)
	for i, row := range s.inv {
		sum := 0.0
		for _, e := range s.column {
			sum += e.coef * row[e.row]
		}
		s.alpha[i] = sum
	}
}

// invert computes the inverse of the basis matrix by elimination with row exchange. It starts from the identity and
// brings in one basic variable after the other, those of single cells first, as they are cheap.
func (s *simplex) invert() {
	n := s.rows
	s.pivots = 0
	for r := range n {
		clear(s.inv[r])
		s.inv[r][r] = 1
	}
	order := s.order[:0]
	for i, v := range s.basis {
		if v < 2*n {
			order = append(order, i)
		}
	}
	for i, v := range s.basis {
		if v >= 2*n {
			order = append(order, i)
		}
	}
	for k, i := range order {
		s.enter(s.basis[i])
		big := i
		for _, r := range order[k+1:] {
			if math.Abs(s.alpha[r]) > math.Abs(s.alpha[big]) {
				big = r
			}
		}
		if math.Abs(s.alpha[big]) < zero {
			s.broken = true
			return
		}
		s.inv[i], s.inv[big] = s.inv[big], s.inv[i]
		s.alpha[i], s.alpha[big] = s.alpha[big], s.alpha[i]
		s.eliminate(i)
	}
	s.reprice()
	s.restore()
}

// reprice computes the price of each row from the basis.
func (s *simplex) reprice() {
	clear(s.dual)
	for i, v := range s.basis {
		if p := s.price(v); p != 0 {
			for r, b := range s.inv[i] {
				s.dual[r] += p * b
			}
		}
	}
}

// restore computes the values of the basic variables from the right-hand side.
func (s *simplex) restore() {
	s.work += int64(s.rows * s.rows / 2)
	for i, row := range s.inv {
		sum := 0.0
		for r, b := range row {
			sum += b * s.rhs[r]
		}
		s.x[i] = sum
	}
}

// eliminate turns the inverse into that of the basis in which the column of s.alpha stands in place i.
func (s *simplex) eliminate(i int) {
	f := 1 / s.alpha[i]
	row := s.inv[i]
	full := s.full[:0]
	for k, b := range row {
		if b != 0 {
			row[k] = b * f
			full = append(full, int32(k))
		}
	}
	s.work += int64(2 * s.rows)
	for r, a := range s.alpha {
		if r == i || math.Abs(a) < 1e-12 {
			continue
		}
		other := s.inv[r]
		if 2*len(full) > len(row) {
			other = other[:len(row)]
			for k, b := range row {
				other[k] -= a * b
			}
			s.work += int64(len(row))
			continue
		}
		for _, k := range full {
			other[k] -= a * row[k]
		}
		s.work += int64(2 * len(full))
	}
}

// exchange brings variable v into the basis in place i. s.alpha holds its column; cost is its reduced
// price.
func (s *simplex) exchange(i, v int, cost float64) {
	s.eliminate(i)
	s.x[i] /= s.alpha[i]
	for r, a := range s.alpha {
		if r != i {
			s.x[r] -= a * s.x[i]
		}
	}
	for k, b := range s.inv[i] {
		s.dual[k] += cost * b
	}
	s.basic[s.basis[i]], s.basic[v] = false, true
	s.basis[i] = v
	s.total++
	if s.pivots++; s.pivots >= refactor {
		s.invert()
	}
}

// primal brings in variable v whose reduced price is below zero.
func (s *simplex) primal(v int, cost float64) {
	s.enter(v)
	out, least := -1, math.Inf(1)
	for i, a := range s.alpha {
		if a <= tinyPivot {
			continue
		}
		q := max(s.x[i], 0) / a
		if q < least-zero || q < least+zero && (out < 0 || a > s.alpha[out]) {
			out, least = i, min(q, least)
		}
	}
	if out < 0 { // no price is below zero, so that no gain is unbounded: the numbers have gone bad
		s.broken = true
		return
	}
	s.exchange(out, v, cost)
}

// repair makes the values of the basic variables feasible again (dual simplex).
func (s *simplex) repair(limit int64) {
	for !s.broken && s.work < limit {
		out, worst := -1, -1e-8
		for i, x := range s.x {
			if x < worst {
				out, worst = i, x
			}
		}
		if out < 0 {
			return
		}
		row := s.inv[out]
		s.sum(row, s.rowSums)
		s.sum(s.dual, s.dualSums)
		in, least, size, cost := -1, math.Inf(1), 0.0, 0.0
		for v := range s.basic {
			if s.basic[v] {
				continue
			}
			a := -s.dot(v, row, s.rowSums)
			if a <= tinyPivot {
				continue
			}
			c := max(s.price(v)-s.dot(v, s.dual, s.dualSums), 0)
			q := c / a
			if q < least-zero || q < least+zero && a > size {
				in, least, size, cost = v, min(q, least), a, c
			}
		}
		s.work += int64(12 * len(s.basic))
		if in < 0 {
			s.broken = true
			return
		}
		s.enter(in)
		s.exchange(out, in, cost)
	}
}

// mostWanted is how many columns are remembered as worth bringing in.
const mostWanted = 24

// improve brings in columns at hand until none is worth it (primal simplex).
func (s *simplex) improve(limit int64) {
	s.wanted = s.wanted[:0]
	for !s.broken && s.work < limit {
		v, cost := s.choose()
		if v < 0 {
			return
		}
		s.primal(v, cost)
	}
}

// choose returns the variable with the least reduced price below zero, of those that were wanted when all were last
// looked at, or of all; -1 when there is none.
func (s *simplex) choose() (in int, least float64) {
	s.sum(s.dual, s.dualSums)
	in, least = -1, -zero/2
	n := 0
	for _, v := range s.wanted {
		if s.basic[v] {
			continue
		}
		if c := s.price(v) - s.dot(v, s.dual, s.dualSums); c < -zero/2 {
			s.wanted[n] = v
			n++
			if c < least {
				in, least = v, c
			}
		}
	}
	s.work += int64(8 * len(s.wanted))
	s.wanted = s.wanted[:n]
	if in >= 0 {
		return in, least
	}
	for v := range s.basic {
		if s.basic[v] {
			continue
		}
		c := s.price(v) - s.dot(v, s.dual, s.dualSums)
		if c >= -zero/2 {
			continue
		}
		if len(s.wanted) < mostWanted {
			s.wanted = append(s.wanted, v)
		} else if c < least {
			s.wanted[s.total%mostWanted] = v
		}
		if c < least {
			in, least = v, c
		}
	}
	s.work += int64(8 * len(s.basic))
	return in, least
}
