package takeoff

// effort is what the purchases for one top may still take, in thousands of the solver's steps. A chain of runs is
// reckoned with every way to make each corner, and each way buys other wood: without a bound for all of them a request
// of six runs costs hundreds of usual ones. It depends on nothing but what was bought before for the same top, so that
// the same request gets the same answer. A purchase that could not be proved to be the cheapest says so, with its
// bound.
type effort struct {
	left  int
	spent int
	begun bool // a purchase was made
}

// mostEffort is about a millisecond on one core of a small server. A corner of two runs takes some hundredths of it, a
// usual top of three runs a third. Half of it would make the joints that a usual top of three runs is compared with
// dearer than they are, as their wood is bought less well.
const mostEffort = 1000

// leastShare is what a purchase may take even when nothing is left: enough for a first plan and a bound.
const leastShare = 1

func newEffort() *effort { return &effort{left: mostEffort} }

// share is what the next purchase may take: half of all for the first, which is the likeliest to be made, and an eighth
// of what is left for each of those that it is held against. What one does not take is there for the others.
func (e *effort) share() int {
	if !e.begun {
		return e.left / 2
	}
	return max(leastShare, e.left/8)
}

func (e *effort) spend(steps int) {
	e.left, e.spent, e.begun = max(0, e.left-steps), e.spent+steps, true
}

func (e *effort) reset() { *e = *newEffort() }
