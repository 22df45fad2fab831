package estimate

import (
	"fmt"
	"math"

	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/seamgap"
)

// Tolerances are how far the seam of a corner will gape, by how the corner comes to the wood, and which way pays.
type Tolerances struct {
	Reckoned ToleranceWay // that the estimate is made with
	Best     ToleranceWay // the least of labour and likely recut together
	Limit    measure.Length
	Recut    money.Amount // labour of cutting the seam once more, at rates
	Ways     []WayTolerance
	Text     string
}

// ToleranceWay is a way in which a corner comes to the wood.
type ToleranceWay string

// The ways.
const (
	NominalAngle ToleranceWay = "nominal_angle"
	ThreeTapes   ToleranceWay = "three_tapes"
	BySite       ToleranceWay = "site_template"
	ByScribe     ToleranceWay = "scribe"
)

// toleranceWays are the ways in the order in which answers list them, with how they are called and what the plan of work
// calls them.
var toleranceWays = [...]struct {
	way   ToleranceWay
	name  string
	carry CarryToWood
}{{NominalAngle, "the nominal angle", CarryNone}, {ThreeTapes, "three tapes", CarryNone},
	{BySite, "a site template", CarryTemplate}, {ByScribe, "scribing", CarryScribe}}

// Name is how a way is called in a sentence.
func (t ToleranceWay) Name() string {
	for i := range toleranceWays {
		if toleranceWays[i].way == t {
			return toleranceWays[i].name
		}
	}
	return string(t)
}

// WayTolerance is what one way leaves and costs.
type WayTolerance struct {
	Way         ToleranceWay
	Front, Wall seamgap.Band // gap at each end with both pieces laid along their walls
	Drawn       seamgap.Band // gap at one end when the pieces are drawn together until the other touches
	Dominant    SeamError
	Errors      []ErrorShare
	Minutes     float64 // of people, more than the nominal angle takes
	Labour      money.Amount
	Chance      float64      // that Drawn is over the limit, 0 to 1
	Likely      money.Amount // the recut's cost times the chance
	Total       money.Amount
}

// SeamError is a kind of error.
type SeamError string

// The errors.
const (
	ErrorKnown    SeamError = "known_angle" // the corner is not the nominal one, and that is known
	ErrorWalls    SeamError = "walls"
	ErrorBase     SeamError = "base"
	ErrorTape     SeamError = "tape"
	ErrorTemplate SeamError = "template"
	ErrorScribe   SeamError = "scribe"
	ErrorGuide    SeamError = "guide"
	ErrorSkim     SeamError = "skim"
)

// errorNames are how errors are called on papers.
var errorNames = map[SeamError]string{ErrorKnown: "the corner's own angle", ErrorWalls: "walls out of square",
	ErrorBase: "base out of square", ErrorTape: "the tape", ErrorTemplate: "marks of the template", ErrorScribe: "the scribed line",
	ErrorGuide: "the saw's guide", ErrorSkim: "the skim cut"}

// Name is how an error is called on papers.
func (e SeamError) Name() string { return errorNames[e] }

// ErrorShare is what all errors of a kind do together when they are at their limits: the root of their sum of squares.
type ErrorShare struct {
	Error              SeamError
	Front, Wall, Drawn measure.Length
}

// addTolerances works the tolerances of every corner out, where the order asks for them.
func (w *work) addTolerances(c *chosen, job *labour.Job) error {
	if !w.order.Site.Tolerances {
		return nil
	}
	for k := range c.corners {
		if w.corners[k].inLine != nil {
			continue // there is no angle that could be missed
		}
		t, err := w.tolerances(c, k, job)
		if err != nil {
			return err
		}
		c.corners[k].Tolerances = t
	}
	return nil
}

func (w *work) tolerances(c *chosen, k int, job *labour.Job) (*Tolerances, error) {
	t := &Tolerances{Limit: w.set.VisibleGap, Reckoned: w.reckonedWay(k), Ways: make([]WayTolerance, 0, len(toleranceWays))}
	var err error
	if t.Recut, err = w.recut(c, k, job); err != nil {
		return nil, err
	}
	seam := seamgap.Of(c.layout, &w.top, k)
	plain, hours, err := w.carriedCost(job, k, CarryNone)
	if err != nil {
		return nil, err
	}
	shares := make([]ErrorShare, mostShares*len(toleranceWays))
	for i := range toleranceWays {
		at := &toleranceWays[i]
		x := WayTolerance{Way: at.way, Errors: shares[mostShares*i : mostShares*i : mostShares*(i+1)]}
		w.stack(&x, &seam, c, k)
		cost, took := plain, hours
		if at.carry != CarryNone {
			if cost, took, err = w.carriedCost(job, k, at.carry); err != nil {
				return nil, err
			}
		}
		x.Labour, x.Minutes = cost.Minus(plain), 60*(took-hours)
		x.Chance = x.Drawn.Beyond(t.Limit)
		x.Likely = money.RoundAmount(t.Recut.Float() * x.Chance)
		x.Total = x.Labour.Plus(x.Likely)
		t.Ways = append(t.Ways, x)
	}
	best, next := t.ranked()
	t.Best = best.Way
	t.Text = "Best carried by " + best.Way.Name() + ": with its labour (" + best.Labour.String() + ") and the likely recut (" +
		best.Likely.String() + ") it costs " + best.Total.String() + "; with " + next.Way.Name() + ", the next best, it would be " +
		next.Total.String() + "."
	return t, nil
}

// ranked are the cheapest way, the first of equals, and the cheapest of the others.
func (t *Tolerances) ranked() (best, next *WayTolerance) {
	for i := range t.Ways {
		x := &t.Ways[i]
		switch {
		case best == nil || x.Total.Cmp(best.Total) < 0:
			best, next = x, best
		case next == nil || x.Total.Cmp(next.Total) < 0:
			next = x
		}
	}
	return best, next
}

// reckonedWay is how the order carries corner k to the wood.
func (w *work) reckonedWay(k int) ToleranceWay {
	switch w.carry(k) {
	case CarryTemplate:
		return BySite
	case CarryScribe:
		return ByScribe
	default:
		if w.corners[k].Measured != nil {
			return ThreeTapes
		}
		return NominalAngle
	}
}

// stack adds up what goes wrong at a seam in one of the ways.
func (w *work) stack(x *WayTolerance, seam *seamgap.Seam, c *chosen, k int) {
	store := &w.errors
	s := errorStack{seam: seam, front: store[0][:0], wall: store[1][:0], drawn: store[2][:0], shares: x.Errors}
	var known measure.Angle
	switch x.Way {
	case NominalAngle:
		if known = w.departure(c, k); known != 0 {
			s.angle(ErrorKnown, known)
		}
		if w.corners[k].Measured != nil {
			s.angle(ErrorTape, w.tapes(k)...)
		} else {
			s.angle(ErrorWalls, w.set.ToleranceWalls)
		}
		s.angle(ErrorBase, w.set.ToleranceBase)
	case ThreeTapes:
		s.angle(ErrorTape, w.tapes(k)...)
		s.angle(ErrorBase, w.set.ToleranceBase)
	case BySite: // made on the base itself
		s.ends(ErrorTemplate, w.set.ToleranceTemplate, sawn(c.options[k].Joint))
	case ByScribe: // one slab to the other
		s.ends(ErrorScribe, w.set.ToleranceScribe, 1)
	}
	guide := w.set.ToleranceGuide
	if w.order.Shop.SeamCut == HandSaw {
		guide = w.set.ToleranceHandSaw
	}
	s.ends(ErrorGuide, guide, sawn(c.options[k].Joint))
	s.ends(ErrorSkim, w.set.ToleranceSkim, 2)

	var front, wall, drawn measure.Length // known
	if known != 0 {
		off := seamgap.Errors{Angle: known}
		front, wall = seam.Gap(seamgap.Front, &off), seam.Gap(seamgap.Wall, &off)
		drawn = seam.Drawn(front, wall)
		e := &s.shares[0]
		e.Front, e.Wall, e.Drawn = magnitude(front), magnitude(wall), magnitude(drawn)
	}
	x.Front, x.Wall, x.Drawn = seamgap.Stack(front, s.front...), seamgap.Stack(wall, s.wall...),
		seamgap.Stack(drawn, s.drawn...)
	x.Errors = s.shares
	most := &s.shares[0]
	for i := range s.shares {
		if e := &s.shares[i]; e.Drawn > most.Drawn {
			most = e
		}
	}
	x.Dominant = most.Error
}

// sawn is how many faces of a seam are sawn: a run that goes through meets the other with its own edge, unless the seam
// turns into it.
func sawn(j plan.Joint) int {
	if j.RunsThrough() && !j.Kind.Turns() {
		return 1
	}
	return 2
}

// departure is by how much a corner is known to be wider than the usual one that it would be taken for; 0 for one that
// nobody takes for another.
func (w *work) departure(c *chosen, k int) measure.Angle {
	off := w.corners[k].angle - c.options[k].Geometry.NominalAngle
	if !plan.MayPassForNominal(w.corners[k].angle) || math.Abs(off.Degrees()) < 1e-9 {
		return 0
	}
	return off
}

// tapes are what three tapes do to corner k's angle, each reading at its limit: those that were taken, else between marks
// along both walls.
func (w *work) tapes(k int) []measure.Angle {
	c := &w.corners[k]
	a, b := min(w.runs[k].Length, w.set.ToleranceTapeMark), min(w.runs[k+1].Length, w.set.ToleranceTapeMark)
	across := measure.Length(math.Sqrt(float64(a*a+b*b) - 2*float64(a*b)*c.angle.Cos())) // law of cosines
	if m := c.Measured; m != nil {
		a, b, across = m.AlongFirst, m.AlongSecond, m.Across
	}
	first, second, third := plan.TapedDerivatives(a, b, across)
	step := float64(w.set.ToleranceTape)
	return []measure.Angle{measure.Angle(first * step), measure.Angle(second * step), measure.Angle(third * step)}
}

// mostErrors is how many errors of a seam are stacked without more room: three tapes, the base, and each end of up to five faces.
const mostErrors = 16

// mostShares is how many kinds of errors a way has without more room.
const mostShares = 5

// errorStack collects what errors do at their limits.
type errorStack struct {
	seam               *seamgap.Seam
	front, wall, drawn []measure.Length // of each that is not known
	shares             []ErrorShare
}

// angle adds errors of the angle; one that is known is told but not added.
func (s *errorStack) angle(kind SeamError, each ...measure.Angle) {
	s.open(kind)
	front, wall := s.seam.Lever(seamgap.Front), s.seam.Lever(seamgap.Wall)
	for _, a := range each {
		s.add(front*measure.Length(a), wall*measure.Length(a))
	}
}

// ends adds an error at each end of so many faces.
func (s *errorStack) ends(kind SeamError, limit measure.Length, faces int) {
	s.open(kind)
	for range faces {
		s.add(limit, 0)
		s.add(0, limit)
	}
}

func (s *errorStack) open(kind SeamError) { s.shares = append(s.shares, ErrorShare{Error: kind}) }

func (s *errorStack) add(front, wall measure.Length) {
	e, drawn := &s.shares[len(s.shares)-1], s.seam.Drawn(front, wall)
	join := func(a, b measure.Length) measure.Length { return measure.Length(math.Hypot(float64(a), float64(b))) }
	e.Front, e.Wall, e.Drawn = join(e.Front, front), join(e.Wall, wall), join(e.Drawn, drawn)
	if e.Error == ErrorKnown {
		return
	}
	s.front, s.wall, s.drawn = append(s.front, front), append(s.wall, wall), append(s.drawn, drawn)
}

// carriedCost is what all labour costs, and the people's hours, when corner k is carried to the wood in a way.
func (w *work) carriedCost(job *labour.Job, k int, by CarryToWood) (money.Amount, float64, error) {
	other := *job
	other.Corners = append([]labour.Corner(nil), job.Corners...)
	other.Corners[k].Carry = string(by)
	return w.labourOf(&other)
}

// recut is what labour costs when corner k's seam is cut once more: everything that is done once for a seam, the parts in
// it and the edges aside. It is done on site, with the wood that is there.
func (w *work) recut(c *chosen, k int, job *labour.Job) (money.Amount, error) {
	without := *job
	without.Profiled, without.Corners = false, nil
	before, _, err := w.labourOf(&without)
	if err != nil {
		return before, err
	}
	o := c.options[k]
	without.Corners = []labour.Corner{{Joint: o.Joint.Kind, Seam: o.Geometry.SeamLength, Carry: string(CarryNone)}}
	after, _, err := w.labourOf(&without)
	return after.Minus(before), err
}

func (w *work) labourOf(job *labour.Job) (money.Amount, float64, error) {
	cost, hours, err := w.tally.Cost(job)
	if err != nil {
		return cost, 0, fmt.Errorf("labour: %w", err)
	}
	return cost, hours, nil
}

// assumeTapes says between which marks a corner is taken to be taped that was not.
func (w *work) assumeTapes() {
	if !w.order.Site.Tolerances {
		return
	}
	for k := range w.corners {
		if w.corners[k].Measured == nil {
			w.assume(numbered("/top/corners/", k)+"/measured", w.set.ToleranceTapeMark,
				"tolerances of three tapes count marks so far along each wall, or at a shorter run's end")
		}
	}
}
