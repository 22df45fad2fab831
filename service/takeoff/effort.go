package takeoff

// effort is what the purchases for one top may still take, in thousands of the solver's steps. A chain of runs is reckoned with every way to
// make each corner, and each way buys other wood: without a bound for all of them a request of six runs costs hundreds of usual ones. It
// depends on nothing but what was bought before for the same top, so that the same request gets the same answer. A purchase that could
// not be proved to be the cheapest says so, with its bound.
type effort struct{ left int }

// mostEffort is about a millisecond on one core of a small server. A corner of two runs takes some hundredths of it.
const mostEffort = 1000

// leastShare is what a purchase may take even when nothing is left: enough for a first plan and a bound.
const leastShare = 1

func newEffort() *effort { return &effort{mostEffort} }

// share is what the next purchase may take: a sixth of what is left. What it does not take is there for the others.
func (e *effort) share() int { return max(leastShare, e.left/6) }

func (e *effort) spend(steps int) { e.left = max(0, e.left-steps) }

func (e *effort) reset() { e.left = mostEffort }
