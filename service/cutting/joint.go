package cutting

import "math"

// mostTries is how many boards the search for a purchase with a content tries; tryWork is about what one takes.
const (
	mostTries = 20_000
	tryWork   = 50
)

// withContent finds the cheapest purchase that the pieces can be cut from and that has the content asked for, or says
// that this takes too long: then it gives the cheapest plan for the pieces alone, and what nothing costs less than. That is
// the content alone and the pieces alone: from the larger of the two on, prices are tried in rising order until one suffices.
func (d *small) withContent(states int, budget int64) (layout, bool) {
	if d.j.top.listed < d.j.least {
		return layout{}, false
	}
	lay := d.cheapest(states)
	cost, content := lay.bare(d.j)
	if content >= d.j.least {
		return lay, true
	}
	d.choose(true)
	d.value()
	d.target = max(d.j.top.cost(d.j.least), cost)
	tries := min(mostTries, int((budget-d.j.spent)/4/tryWork))
	d.steps, d.boards = tries, 0
	joint, found := d.raise()
	d.j.spent += int64(tries-max(0, d.steps)) * tryWork
	if !found {
		d.bound = d.target
		return lay, false
	}
	return joint, true
}

// raise raises the target until a purchase is found that costs no more.
func (d *small) raise() (layout, bool) {
	var left takes
	for t, n := range d.j.need {
		left[t] = uint8(n)
	}
	for d.steps > 0 {
		d.next, d.boards = noBound, 0
		if d.deepen(left, 0, 0, 0, 0) {
			return d.layout(), true
		}
		if d.steps > 0 {
			d.target = d.next
		}
	}
	d.boards = 0
	return layout{}, false
}

// deepen adds boards until nothing is left to be cut, those that give a piece of the longest kind left. Kind is the
// longest one before, of which boards from the one in place from on are still to be tried: their order does not matter.
func (d *small) deepen(left takes, cost, content int64, kind, from int) bool {
	longest := kind
	for longest < d.kinds && left[longest] == 0 {
		longest++
	}
	if longest == d.kinds {
		return true // within the target, or it would not have come here
	}
	if longest != kind {
		from = 0
	}
	for i := from; i < d.nuse; i++ {
		u := d.use[d.nuse-1-i] // longest boards first
		c := &d.cuts[u]
		if c.take[longest] == 0 {
			continue
		}
		if d.steps--; d.steps < 0 {
			return false
		}
		rest, worth := left, 0.0
		for t := longest; t < d.kinds; t++ {
			rest[t] -= min(rest[t], c.take[t])
			worth += float64(rest[t]) * d.worth[t]
		}
		price, has := cost+d.j.cost[c.stock], content+d.j.content[c.stock]
		bound := price + max(d.j.top.cost(d.j.least-has), int64(math.Ceil(worth-1e-6)))
		if bound > d.target {
			d.next = min(d.next, bound)
			continue
		}
		d.path[d.boards] = u
		d.boards++
		if d.deepen(rest, price, has, longest, i) {
			return true
		}
		d.boards--
	}
	return false
}
