package passage_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/passage"
)

// Rectangles are moved through random corridor corners by trying: every place on a grid of two shifts and a turn, from
// free ones to free neighbours. What is a little shorter than the longest gets through, what is a little longer does not.
func TestMovingByTrialThroughRandomTurns(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(1, 1947))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for range 10 {
		a, b, angle := between(700, 1500), between(700, 1500), between(35, 125)
		width := between(20, 0.8*min(a, b))
		longest := float64(verdict(passage.Piece{Length: 1, Depth: measure.Length(width), Thickness: measure.Length(width)}, turn(a, b, angle, 0)).Longest)
		require.True(t, movesRound(0.94*longest, width*0.95, a, b, angle), "%v × %v round %v, %v at %v°", longest, width, a, b, angle)
		require.False(t, movesRound(1.05*longest, width*1.02, a, b, angle), "%v × %v round %v, %v at %v°", longest, width, a, b, angle)
	}
}

// movesRound tries. A place is the middle's distances from the two outer walls and the angle of the length.
func movesRound(length, width, a, b, degrees float64) bool {
	theta := degrees * math.Pi / 180
	const turns = 180
	step := max(length, width) / 110
	reach := max(length, width)/2 + max(a, b) + 3*step // beyond, a piece is in a corridor alone
	across := int(reach/step) + 2
	n := across * across * turns
	seen := make([]bool, n)
	at := func(i, j, k int) int { return (i*across+j)*turns + k }
	queue := make([]int32, 0, 1<<16)
	push := func(i, j, k int) {
		if i < 0 || j < 0 || i >= across || j >= across {
			return
		}
		k = (k + turns) % turns
		place := at(i, j, k)
		if seen[place] || !free(float64(i)*step, float64(j)*step, float64(k)*math.Pi/turns, length, width, a, b, theta) {
			return
		}
		seen[place] = true
		queue = append(queue, int32(place))
	}
	for i := range across { // far out in the first corridor, between its walls
		for k := range turns {
			push(i, across-1, k)
		}
	}
	for head := 0; head < len(queue); head++ {
		place := int(queue[head])
		i, j, k := place/turns/across, place/turns%across, place%turns
		if i == across-1 {
			return true // far out in the second one
		}
		for di := -1; di <= 1; di++ {
			for dj := -1; dj <= 1; dj++ {
				for dk := -1; dk <= 1; dk++ {
					push(i+di, j+dj, k+dk)
				}
			}
		}
	}
	return false
}

// free reports whether a rectangle lies between the walls: every corner inside of the outer ones, and nothing left of it
// when it is cut down to what is behind both inner ones.
func free(p1, p2, phi, length, width, a, b, theta float64) bool {
	if p1 > a+length && p2 > b+length {
		return false
	}
	x := (p2 + p1*math.Cos(theta)) / math.Sin(theta)
	type point struct{ p1, p2 float64 }
	var corners []point
	c, s := math.Cos(phi), math.Sin(phi)
	for _, q := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		px, py := x+q[0]*length/2*c-q[1]*width/2*s, p1+q[0]*length/2*s+q[1]*width/2*c
		corner := point{py, px*math.Sin(theta) - py*math.Cos(theta)}
		if corner.p1 < 0 || corner.p2 < 0 {
			return false
		}
		corners = append(corners, corner)
	}
	behind := func(list []point, of func(point) float64) (out []point) {
		for i, q := range list {
			r := list[(i+1)%len(list)]
			if of(q) > 0 {
				out = append(out, q)
			}
			if of(q) > 0 != (of(r) > 0) {
				f := of(q) / (of(q) - of(r))
				out = append(out, point{q.p1 + f*(r.p1-q.p1), q.p2 + f*(r.p2-q.p2)})
			}
		}
		return out
	}
	rest := behind(corners, func(q point) float64 { return q.p1 - a })
	if len(rest) > 0 {
		rest = behind(rest, func(q point) float64 { return q.p2 - b })
	}
	return len(rest) == 0
}

// Boxes are turned at random, from the best turn found so far, until they lie in a lift: none becomes longer than what is
// said, and most come near it.
func TestTurningByTrialInRandomLifts(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(2, 1957))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	near := 0
	const lifts = 60
	for range lifts {
		car := [3]float64{between(800, 2500), between(800, 2500), between(1800, 2600)}
		d, w := between(50, 1200), between(10, 120)
		step := passage.Step{Kind: passage.Lift, Width: measure.Length(car[0]), Depth: measure.Length(car[1]), Height: measure.Length(car[2]),
			DoorWidth: measure.Length(car[0]), DoorHeight: measure.Length(car[2])}
		said := float64(verdict(passage.Piece{Length: 1, Depth: measure.Length(d), Thickness: measure.Length(w)}, step).Longest)
		best := 0.0
		for range 12 { // starts
			q := [4]float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}
			here, spread := longestTurned(q, d, w, car), 0.5
			for range 3000 {
				var next [4]float64
				for i := range q {
					next[i] = q[i] + spread*random.NormFloat64()
				}
				if l := longestTurned(next, d, w, car); l > here {
					here, q = l, next
				} else {
					spread = max(1e-4, spread*0.995)
				}
			}
			best = max(best, here)
		}
		require.LessOrEqual(t, best, said+1e-3, "%v × %v in %v", d, w, car)
		if best > 0.97*said {
			near++
		}
	}
	t.Logf("%d of %d within 3 %%", near, lifts)
	require.GreaterOrEqual(t, near, lifts*3/4)
}

// longestTurned is the longest box of a depth and thickness, turned by a quaternion, whose extents lie within a car.
func longestTurned(q [4]float64, d, w float64, car [3]float64) float64 {
	n := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	a, b, c, e := q[0]/n, q[1]/n, q[2]/n, q[3]/n
	r := [3][3]float64{
		{1 - 2*(c*c+e*e), 2 * (b*c - a*e), 2 * (b*e + a*c)},
		{2 * (b*c + a*e), 1 - 2*(b*b+e*e), 2 * (c*e - a*b)},
		{2 * (b*e - a*c), 2 * (c*e + a*b), 1 - 2*(b*b+c*c)},
	}
	longest := math.Inf(1)
	for i := range car {
		longest = min(longest, (car[i]-math.Abs(r[i][1])*d-math.Abs(r[i][2])*w)/math.Abs(r[i][0]))
	}
	return longest
}

// A rectangle is turned by small steps in another one; Carver's condition says the same.
func TestTurningBySmallStepsInRandomDoors(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(3, 1957))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for range 300 {
		w, h := between(500, 1200), between(500, 2200)
		d, thick := max(w, h)*between(1.001, 1.4), between(5, 400)
		best := 0.0 // of the longest side that fits beside the given thickness
		const steps = 20_000
		for i := 0; i <= steps; i++ {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / steps)
			best = max(best, min((w-thick*sin)/max(cos, 1e-12), (h-thick*cos)/max(sin, 1e-12)))
		}
		v := verdict(passage.Piece{Length: 1e5, Depth: measure.Length(d), Thickness: measure.Length(thick)},
			passage.Step{Kind: passage.Door, Width: measure.Length(w), Height: measure.Length(h)})
		if math.Abs(d-best) > 0.5 {
			require.Equal(t, d < best, v.Passes, "%v × %v through %v × %v: at most %v", d, thick, w, h, best)
		}
	}
}
