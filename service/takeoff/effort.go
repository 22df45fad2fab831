package takeoff

// effort is what the purchases for one top may still take, in thousands of the solver's steps. A chain of runs is
// reckoned with every way to make each corner, and each way buys other wood: without a bound for all of them a request
// of six runs costs hundreds of usual ones. It depends on nothing but what was bought before for the same top, so that
// the same request gets the same answer. A purchase that could not be proved to be the cheapest says so, with its
// bound.
type effort struct {
	left     int
	spent    int
	unproved bool // something was bought that may not be the cheapest
	last     bool // what is bought now is of the top that is made
	cheaper  bool // and costs less than when it was bought before
}

// mostEffort is about a millisecond on one core of a small server. A corner of two runs takes some hundredths of it, a
// usual top of three runs a third. Half of it would make the joints that a usual top of three runs is compared with
// dearer than they are, as their wood is bought less well. With an eighth of what is left for each, a purchase of 49 drawn tops of three
// and four runs was 1.0 % dearer than the best known, with a quarter 0.4 %.
const mostEffort = 1000

// leastShare is what a purchase may take even when nothing is left: enough for a first plan and a bound.
const leastShare = 1

func newEffort() *effort { return &effort{left: mostEffort} }

// lastShare is what is kept beside for the purchase that is made, where it was not proved the cheapest.
const lastShare = 500

// share is what the next purchase may take: a quarter of what is left. What one does not take is there for the others.
func (e *effort) share() int { return max(leastShare, e.left/4) }

// lastly is what the last purchase may take.
func (e *effort) lastly() int { return e.left + lastShare }

func (e *effort) spend(steps int) { e.left, e.spent = max(0, e.left-steps), e.spent+steps }

func (e *effort) reset() { *e = *newEffort() }
