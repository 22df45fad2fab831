package labour

import (
	"fmt"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// needs are what the standards of a list ask about a job, worked out once for it: many standards share a condition or a driver. They tell
// in which of it a job differs from the one looked at before.
type needs struct {
	conditions []catalogue.Condition
	drivers    []catalogue.Driver // those that do not depend on the condition
	about      []about            // of each condition
	count      []driver           // of each driver
	of         []need             // of each standard

	corners []about   // of the job's corners
	picked  []picked  // of each condition
	fresh   []bool    // of each condition: it is about something else than before
	counts  []float64 // of each driver
	moved   []bool    // of each driver: it counts something else than before
	own     own       // what else the job says
	other   uses      // in what of it the job differs
}

// need is what one standard asks.
type need struct {
	condition int
	driver    int // −1: it counts what the condition picks, or nothing that is known
	count     driver
	uses      uses
}

// uses are what some standards ask beside condition and driver.
type uses uint8

const (
	useDryTime uses = 1 << iota
	useClampTime
	useRestTime
	useLifting
	useAssembled
	useEdge
)

// own is what a job says beside conditions and drivers.
type own struct {
	coats            int
	dry, clamp, rest float64
	heaviest         int
	assembled        bool
	edge             measure.Length
}

// differs returns in which uses two jobs differ.
func (o *own) differs(from *own) (u uses) {
	if o.coats != from.coats || o.dry != from.dry {
		u |= useDryTime
	}
	if o.clamp != from.clamp {
		u |= useClampTime
	}
	if o.rest != from.rest {
		u |= useRestTime
	}
	if o.heaviest != from.heaviest {
		u |= useLifting
	}
	if o.assembled != from.assembled {
		u |= useAssembled
	}
	if o.edge != from.edge {
		u |= useEdge
	}
	return u
}

// newNeeds collects what the standards ask.
func newNeeds(standards []catalogue.LabourStandard) needs {
	n := needs{of: make([]need, len(standards)), conditions: make([]catalogue.Condition, 0, 32), drivers: make([]catalogue.Driver, 0, 24)}
	for i := range standards {
		s := &standards[i]
		n.of[i] = need{condition: place(&n.conditions, s.When), driver: -1, count: drivers[s.Driver], uses: usesOf(s)}
		switch s.Driver {
		case catalogue.PerCorner, catalogue.PerSeamMetre, catalogue.PerEdgeMetre, catalogue.PerAlignment, catalogue.PerPull:
		default:
			if n.of[i].count != perNothing {
				n.of[i].driver = place(&n.drivers, s.Driver)
			}
		}
	}
	for _, when := range n.conditions {
		n.about = append(n.about, conditions[when])
	}
	for _, d := range n.drivers {
		n.count = append(n.count, drivers[d])
	}
	n.picked, n.counts = make([]picked, len(n.conditions)), make([]float64, len(n.drivers))
	marks := make([]bool, len(n.conditions)+len(n.drivers))
	n.fresh, n.moved = marks[:len(n.conditions)], marks[len(n.conditions):]
	return n
}

// place is where a value stands in a list, to which it is added when it is missing.
func place[T comparable](list *[]T, value T) int {
	at := slices.Index(*list, value)
	if at < 0 {
		at = len(*list)
		*list = append(*list, value)
	}
	return at
}

// usesOf is what a standard asks beside condition and driver.
func usesOf(s *catalogue.LabourStandard) (u uses) {
	switch s.Driver {
	case catalogue.PerCoatSquare:
		u |= useDryTime
	case catalogue.PerGlueMetre:
		u |= useClampTime
	case catalogue.PerHundredweight:
		u |= useRestTime
	case catalogue.PerEdgeMetre:
		u |= useEdge
	default:
	}
	if s.Lifts {
		u |= useLifting
	}
	if s.Gives == catalogue.Joining || s.Gives == catalogue.Fitting {
		u |= useAssembled
	}
	return u
}

// look works conditions and drivers out for a job. An unknown condition picks nothing here; units reports it.
func (n *needs) look(j *Job) {
	top := j.top()
	n.corners = n.corners[:0]
	for i := range j.Corners {
		n.corners = append(n.corners, j.corner(&j.Corners[i]))
	}
	for i, a := range n.about {
		p := j.pick(a, top, n.corners)
		n.fresh[i] = p != n.picked[i]
		n.picked[i] = p
	}
	for i, d := range n.count {
		count := j.count(d, nil)
		n.moved[i] = count != n.counts[i]
		n.counts[i] = count
	}
	o := own{coats: j.Coats, dry: j.DryHours, clamp: j.ClampHours, rest: j.RestHours, heaviest: j.Heaviest, assembled: j.Assembled, edge: j.EdgeRun}
	n.other, n.own = o.differs(&n.own), o
}

// changed reports whether the i-th standard asks for something in which the job differs from the one before.
func (n *needs) changed(i int) bool {
	of := &n.of[i]
	return n.fresh[of.condition] || of.driver >= 0 && n.moved[of.driver] || of.uses&n.other != 0
}

// units returns how many driver units of the i-th standard the job has: a number of things, metres, square metres or
// hundreds of kilograms, as the driver says. Corners, seams, parts and edges are counted in the corners that the
// standard's condition fits. A job that has none does not need the step: no fixings, no fixing; nor what the customer does himself.
func (n *needs) units(j *Job, i int, s *catalogue.LabourStandard) (float64, error) {
	d, picked := n.of[i].count, &n.picked[n.of[i].condition]
	switch {
	case d == perNothing:
		return 0, fmt.Errorf("labour standard %s: %w", s.Code, unknownDriver(s.Driver))
	case picked.unknown:
		return 0, fmt.Errorf("labour standard %s: unknown condition %q", s.Code, s.When)
	}
	if !picked.needed || j.Assembled && (s.Gives == catalogue.Joining || s.Gives == catalogue.Fitting) {
		return 0, nil
	}
	return j.count(d, picked), nil
}

// driver is a driver by number: to tell names apart takes longer than to count.
type driver uint8

const (
	perNothing driver = iota // unknown
	perTop
	perPiece
	perCorner
	perSeamMetre
	perStave
	perStaveMetre
	perGlueMetre
	perSquareMetre
	perEdgeMetre
	perAlignment
	perPull
	perFixing
	perCutout
	perCoat
	perCoatSquare
	perHundredweight
	perMouldingMetre
	perClip
	perSealantLitre
	perCoverMetre
)

// drivers are their numbers.
var drivers = map[catalogue.Driver]driver{
	catalogue.PerTop: perTop, catalogue.PerPiece: perPiece, catalogue.PerCorner: perCorner, catalogue.PerSeamMetre: perSeamMetre,
	catalogue.PerStave: perStave, catalogue.PerStaveMetre: perStaveMetre, catalogue.PerGlueMetre: perGlueMetre, catalogue.PerSquareMetre: perSquareMetre,
	catalogue.PerEdgeMetre: perEdgeMetre, catalogue.PerAlignment: perAlignment, catalogue.PerPull: perPull, catalogue.PerFixing: perFixing,
	catalogue.PerCutout: perCutout, catalogue.PerCoat: perCoat, catalogue.PerCoatSquare: perCoatSquare, catalogue.PerHundredweight: perHundredweight,
	catalogue.PerMouldingMetre: perMouldingMetre, catalogue.PerClip: perClip, catalogue.PerSealantLitre: perSealantLitre, catalogue.PerCoverMetre: perCoverMetre,
}

// count returns how many driver units a job has, with what is picked of it.
func (j *Job) count(d driver, p *picked) float64 {
	switch d {
	case perNothing:
		return 0
	case perTop:
		return 1
	case perPiece:
		return float64(j.Pieces)
	case perCorner:
		return float64(p.corners)
	case perSeamMetre:
		return p.seam.Metres()
	case perStave:
		return float64(j.Staves)
	case perStaveMetre:
		return j.StaveRun.Metres()
	case perGlueMetre:
		return j.GlueRun.Metres()
	case perSquareMetre:
		return j.Area.SquareMetres()
	case perEdgeMetre:
		return j.EdgeRun.Metres() * p.edge
	case perAlignment:
		return float64(p.alignments)
	case perPull:
		return float64(p.screws + p.bolts)
	case perFixing:
		return float64(j.Fixings)
	case perCutout:
		return float64(j.Cutouts)
	case perCoat:
		return float64(j.Coats)
	case perCoatSquare:
		return j.CoatArea.SquareMetres() * float64(j.Coats)
	case perHundredweight:
		return j.Mass.Kilograms() / 100
	case perMouldingMetre:
		return j.Moulding.Metres()
	case perClip:
		return float64(j.Clips)
	case perSealantLitre:
		return j.Sealant.Litres()
	case perCoverMetre:
		return j.CoverStrip.Metres()
	}
	return 0
}

func unknownDriver(d catalogue.Driver) error { return fmt.Errorf("unknown driver %q", d) }

// waitHours returns the clock hours to wait after a step:
//
//   - putting on the finish (driver coat_square_metre) waits for the finish to dry between its coats, and the
//     standard's own hours after the last;
//   - a glue-up (driver glue_line_metre, with hours of its own) waits the longer of the standard's hours and
//     the glue's hours in clamps;
//   - resting the wood (driver hundred_kilograms, with hours of its own) waits the longer of the standard's hours
//     and the hours that the wood's moisture asks for;
//   - any other step waits the standard's own hours.
func (j *Job) waitHours(s *catalogue.LabourStandard) float64 {
	switch {
	case s.Driver == catalogue.PerCoatSquare && j.Coats > 1:
		return s.WaitHours + j.DryHours*float64(j.Coats-1)
	case s.Driver == catalogue.PerGlueMetre && s.WaitHours > 0:
		return max(s.WaitHours, j.ClampHours)
	case s.Driver == catalogue.PerHundredweight && s.WaitHours > 0:
		return max(s.WaitHours, j.RestHours)
	}
	return s.WaitHours
}

// Count returns how many driver units the whole job has: for what is used in proportion to it.
func (j *Job) Count(d catalogue.Driver) (float64, error) {
	n, ok := drivers[d]
	if !ok {
		return 0, unknownDriver(d)
	}
	p := j.whole(true)
	return j.count(n, &p), nil
}
