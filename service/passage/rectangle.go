package passage

import "math"

// rectangleFits reports whether a rectangle p × q fits into one of a × b, turned as may be. With p ≥ q and a ≥ b: upright
// when p ≤ a and q ≤ b, and turned, when p > a, if
//
//	b ≥ (2pqa + (p² − q²)·√(p² + q² − a²)) / (p² + q²)
//
// Source: W. B. Carver, Solution to Problem E 1225, American Mathematical Monthly 64 (1957), page 114 (remembered; held
// against turning by small steps in the tests).
func rectangleFits(p, q, a, b float64) bool {
	p, q = max(p, q), min(p, q)
	a, b = max(a, b), min(a, b)
	if p <= a {
		return q <= b
	}
	if q > b {
		return false
	}
	return b*(p*p+q*q) >= 2*p*q*a+(p*p-q*q)*math.Sqrt(p*p+q*q-a*a)
}

// longestIn is the longest p such that p × q fits into a × b; 0 when none does. What is shorter fits wherever what is
// longer does, so that halving finds it.
func longestIn(q, a, b float64) float64 {
	if q > max(a, b) {
		return 0
	}
	low, high := 0.0, math.Hypot(a, b)
	switch {
	case q <= min(a, b):
		low = max(a, b)
	case q <= max(a, b):
		low = min(a, b)
	}
	if math.IsInf(high, 1) {
		return low
	}
	if longest, found := turnedIn(q, a, b, low, high); found {
		return longest
	}
	return halved(q, a, b, low, high)
}

// nearest is how near to the longest a strip is halved, in millimetres.
const nearest = 1e-7

// halved is the longest of a width that fits, by halving between one that does and one that does not.
func halved(q, a, b, low, high float64) float64 {
	for high-low > nearest {
		middle := (low + high) / 2
		if middle <= low || middle >= high {
			break
		}
		if rectangleFits(middle, q, a, b) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// turnedIn is what halving comes to where strips longer than a, the longer side, are turned: the last of its steps that fits. Where
// turned, how much room a strip has is nearly a line of its length, so that a few chords lead to where none is left; that the step there
// fits and the next one does not is asked.
func turnedIn(q, a, b, low, high float64) (longest float64, found bool) {
	a, b = max(a, b), min(a, b)
	if low < a || high-low <= nearest || q > b {
		return 0, false
	}
	room := func(p float64) float64 {
		return b*(p*p+q*q) - 2*p*q*a - (p*p-q*q)*math.Sqrt(max(0, p*p+q*q-a*a))
	}
	from, at := low, high
	roomFrom, roomAt := room(from), room(at)
	for range 12 {
		next := at - roomAt*(at-from)/(roomAt-roomFrom)
		if !(next >= low && next <= high) {
			return 0, false
		}
		close := math.Abs(next-at) < nearest/1e3
		if from, roomFrom, at = at, roomAt, next; close {
			break
		}
		roomAt = room(at)
	}
	step := high - low
	for step > nearest {
		step /= 2
	}
	longest = low + min(math.Floor((at-low)/step)*step, high-low-step)
	return longest, (longest == low || rectangleFits(longest, q, a, b)) && !rectangleFits(longest+step, q, a, b)
}

// leastStrip is no more than the width of a rectangle of some height that p × q lies in.
func leastStrip(p, q, height float64) float64 {
	if p <= height || p < q {
		return 0 // upright, or it is not asked
	}
	turned := (2*p*q*height + (p*p-q*q)*math.Sqrt(max(0, p*p+q*q-height*height))) / (p*p + q*q)
	return min(turned, height)
}

// narrowest is the least width of a section depth × thickness that is rolled until it is no higher than height, and how it
// is held then. There is none when it is too high however it lies.
//
// Rolled by φ from flat it is d·cos φ + t·sin φ wide and d·sin φ + t·cos φ high. Both are arcs of one sine: the width has
// its least at one end of a range of φ, the height stays under a limit at the beginning and at the end.
func narrowest(depth, thickness, height float64) (width float64, hold Hold, ok bool) {
	d, t := max(depth, thickness), min(depth, thickness)
	onEdge, flat := OnEdge, Flat
	if thickness > depth {
		onEdge, flat = Flat, OnEdge
	}
	if d <= height {
		return t, onEdge, true
	}
	if t > height {
		return 0, NoHold, false
	}
	diagonal := math.Hypot(d, t)
	// d·sin φ + t·cos φ = √(d² + t²)·sin(φ + ψ), tan ψ = t/d
	roll := math.Asin(height/diagonal) - math.Atan2(t, d)
	if rolled := d*math.Cos(roll) + t*math.Sin(roll); rolled < d {
		return rolled, Tilted, true
	}
	return d, flat, true
}
