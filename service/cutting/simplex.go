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
	rows   int
	lack   float64   // price of a unit that is lacking
	prices []float64 // of the columns
	first  []int     // first entry of each column, and the end
	cells  []entry   // of all columns
	rhs    []float64
	basis  []int
	basic  []bool
	x      []float64   // values of the basic variables
	dual   []float64   // price of each row
	inv    [][]float64 // inverse of the basis matrix
	alpha  []float64   // the entering column in terms of the basis
	total  int         // exchanges so far
	pivots int         // since the inverse was computed
	work   int64       // elementary steps spent
	broken bool        // the basis has become singular: results do not count
}

// newSimplex has no columns and no basis yet.
func newSimplex(rows int, lack float64) *simplex {
	s := &simplex{rows: rows, lack: lack}
	f := make([]float64, 4*rows+rows*rows)
	s.rhs, s.x, s.dual, s.alpha = f[:rows], f[rows:2*rows], f[2*rows:3*rows], f[3*rows:4*rows]
	s.inv = make([][]float64, rows)
	for r := range rows {
		s.inv[r] = f[(4+r)*rows : (5+r)*rows]
	}
	s.basis = make([]int, rows)
	s.basic = make([]bool, 2*rows, 4*rows+256)
	s.first = make([]int, 1, 2*rows+256)
	return s
}

// addColumn appends a column with the cells added since the last one, and returns its variable.
func (s *simplex) addColumn(price float64) int {
	s.prices, s.first = append(s.prices, price), append(s.first, len(s.cells))
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

// dot is the variable's column times a row of prices or of the inverse.
func (s *simplex) dot(v int, row []float64) float64 {
	switch {
	case v < s.rows:
		return -row[v]
	case v < 2*s.rows:
		return row[v-s.rows]
	}
	sum := 0.0
	v -= 2 * s.rows
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

// invert computes the inverse of the basis matrix by elimination with row exchange.
func (s *simplex) invert() {
	n := s.rows
	s.work += int64(n) * int64(n) * int64(n) / 2
	s.pivots = 0
	m := make([][]float64, n)
	buf := make([]float64, n*n)
	for r := range n {
		m[r] = buf[r*n : (r+1)*n]
		clear(s.inv[r])
		s.inv[r][r] = 1
	}
	for i, v := range s.basis {
		switch {
		case v < n:
			m[v][i] = -1
		case v < 2*n:
			m[v-n][i] = 1
		default:
			for _, e := range s.cells[s.first[v-2*n]:s.first[v-2*n+1]] {
				m[e.row][i] = e.coef
			}
		}
	}
	for i := range n {
		big := i
		for r := i + 1; r < n; r++ {
			if math.Abs(m[r][i]) > math.Abs(m[big][i]) {
				big = r
			}
		}
		if math.Abs(m[big][i]) < zero {
			s.broken = true
			return
		}
		m[i], m[big] = m[big], m[i]
		s.inv[i], s.inv[big] = s.inv[big], s.inv[i]
		f := 1 / m[i][i]
		for k := range n {
			m[i][k] *= f
			s.inv[i][k] *= f
		}
		for r := range n {
			if f := m[r][i]; r != i && f != 0 {
				for k := range n {
					m[r][k] -= f * m[i][k]
					s.inv[r][k] -= f * s.inv[i][k]
				}
			}
		}
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

// exchange brings variable v into the basis in place i. s.alpha holds its column; cost is its reduced
// price.
func (s *simplex) exchange(i, v int, cost float64) {
	n := s.rows
	f := 1 / s.alpha[i]
	row := s.inv[i]
	for k := range row {
		row[k] *= f
	}
	s.x[i] *= f
	for r := range n {
		a := s.alpha[r]
		if r == i || math.Abs(a) < 1e-12 {
			continue
		}
		other := s.inv[r][:len(row)]
		for k, b := range row {
			other[k] -= a * b
		}
		s.x[r] -= a * s.x[i]
	}
	for k, b := range row {
		s.dual[k] += cost * b
	}
	s.basic[s.basis[i]], s.basic[v] = false, true
	s.basis[i] = v
	s.total++
	s.work += int64(n * n / 2)
	if s.pivots++; s.pivots >= refactor {
		s.invert()
	}
}

// enter puts the column of v in terms of the basis into s.alpha.
func (s *simplex) enter(v int) {
	s.work += int64(4 * s.rows)
	for i, row := range s.inv {
		s.alpha[i] = s.dot(v, row)
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
		in, least, size, cost := -1, math.Inf(1), 0.0, 0.0
		for v := range s.basic {
			if s.basic[v] {
				continue
			}
			a := -s.dot(v, row)
			if a <= tinyPivot {
				continue
			}
			c := max(s.price(v)-s.dot(v, s.dual), 0)
			q := c / a
			if q < least-zero || q < least+zero && a > size {
				in, least, size, cost = v, min(q, least), a, c
			}
		}
		s.work += int64(8 * len(s.basic))
		if in < 0 {
			s.broken = true
			return
		}
		s.enter(in)
		s.exchange(out, in, cost)
	}
}

// improve brings in columns at hand until none is worth it (primal simplex).
func (s *simplex) improve(limit int64) {
	for !s.broken && s.work < limit {
		in, least := -1, -zero/2
		for v := range s.basic {
			if s.basic[v] {
				continue
			}
			if c := s.price(v) - s.dot(v, s.dual); c < least {
				in, least = v, c
			}
		}
		s.work += int64(8 * len(s.basic))
		if in < 0 {
			return
		}
		s.primal(in, least)
	}
}
