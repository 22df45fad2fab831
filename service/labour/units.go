package labour

import (
	"fmt"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// needs are what the standards of a list ask of a job. What many of them share, conditions and drivers, is looked at
// once for each job.
type needs struct {
	conditions []catalogue.Condition
	drivers    []catalogue.Driver // those that do not depend on the condition
	about      []about            // of each condition
	count      []driver           // of each driver
	of         []need             // of each standard

	corners []about   // of the job's corners
	whole   picked    // of the job
	picked  []picked  // of each condition about corners
	needed  []bool    // of each condition: the job has what it is about
	counts  []float64 // of each driver
	common  common    // of the job

	// Standards that a job asks otherwise of than the one before may be those with what it has otherwise.
	others      standardSet
	byCondition []standardSet
	byDriver    []standardSet
	byWhole     standardSet // those that count corners and what stands in them of the whole job
}

// common is what of a job any standard may depend on.
type common struct {
	coats            int
	dry, clamp, rest float64
	heaviest         int
	assembled        bool
	edge             measure.Length
}

func (j *Job) common() common {
	return common{j.Coats, j.DryHours, j.ClampHours, j.RestHours, j.Heaviest, j.Assembled, j.EdgeRun}
}

// need is what one standard asks.
type need struct {
	condition int
	driver    int // −1: it counts what the condition picks, or nothing that is known
	count     driver
	waits     waits
	lifts     bool
	given     bool // the customer may do it himself
}

// asked is what a standard asks of a job: driver units, a wait afterwards and people. Without units the job does not
// need it.
type asked struct {
	units, wait float64
	crew        int
}

// newNeeds collects what the standards ask.
func newNeeds(standards []catalogue.LabourStandard) *needs {
	n := &needs{of: make([]need, len(standards)), conditions: make([]catalogue.Condition, 0, 32),
		drivers: make([]catalogue.Driver, 0, 24)}
	for i := range standards {
		s := &standards[i]
		n.of[i] = need{condition: place(&n.conditions, s.When), driver: -1, count: driverOf(s.Driver), waits: waitsOf(s),
			lifts: s.Lifts,
			given: s.Gives == catalogue.Joining || s.Gives == catalogue.Fitting}
		switch s.Driver {
		case catalogue.PerCorner, catalogue.PerSeamMetre, catalogue.PerEdgeMetre, catalogue.PerAlignment, catalogue.PerPull:
		default:
			n.of[i].driver = place(&n.drivers, s.Driver)
		}
	}
	for _, when := range n.conditions {
		n.about = append(n.about, conditions[when])
	}
	for _, d := range n.drivers {
		n.count = append(n.count, driverOf(d))
	}
	n.picked, n.needed, n.counts = make([]picked, len(n.conditions)), make([]bool, len(n.conditions)),
		make([]float64, len(n.drivers))
	n.link()
	return n
}

// link notes which standards follow from which condition and which driver.
func (n *needs) link() {
	sets := newSets(len(n.conditions)+len(n.drivers)+2, len(n.of))
	n.byCondition, sets = sets[:len(n.conditions)], sets[len(n.conditions):]
	n.byDriver, sets = sets[:len(n.drivers)], sets[len(n.drivers):]
	n.byWhole, n.others = sets[0], sets[1]
	for i := range n.of {
		of := &n.of[i]
		n.byCondition[of.condition].add(i)
		switch {
		case of.driver >= 0:
			n.byDriver[of.driver].add(i)
		case n.about[of.condition]&ofTop != 0:
			n.byWhole.add(i)
		}
	}
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

// look works conditions and drivers out for a job, and which standards it may ask otherwise of than the job before.
func (n *needs) look(j *Job) {
	n.others.clear()
	top := j.top()
	n.corners = n.corners[:0]
	for i := range j.Corners {
		n.corners = append(n.corners, j.corner(&j.Corners[i]))
	}
	if whole := j.whole(); whole != n.whole {
		n.whole = whole
		n.others.join(n.byWhole)
	}
	any := top | anyOf(n.corners)
	for i, a := range n.about {
		switch {
		case a&(ofTop|any) == 0 || a&ofTop != 0: // nothing is picked
			if needed := a&any != 0; needed != n.needed[i] {
				n.needed[i], n.picked[i] = needed, picked{}
				n.others.join(n.byCondition[i])
			}
		default:
			var p picked
			if needed := j.pick(a, top, n.corners, &p); needed != n.needed[i] || p != n.picked[i] {
				n.needed[i], n.picked[i] = needed, p
				n.others.join(n.byCondition[i])
			}
		}
	}
	for i, d := range n.count {
		if units := j.count(d, nil); units != n.counts[i] {
			n.counts[i] = units
			n.others.join(n.byDriver[i])
		}
	}
	if c := j.common(); c != n.common {
		n.common = c
		n.others.all(len(n.of))
	}
}

// ask returns what the i-th standard asks of a job that was looked at. Its units are a number of things, metres, square
// metres or hundreds of kilograms, as the driver says. Corners, seams, parts and edges are counted in the corners that
// the standard's condition fits. A job that has none does not need the step: no fixings, no fixing; nor what the
// customer does himself.
func (n *needs) ask(j *Job, i int, s *catalogue.LabourStandard) (a asked, err error) {
	of := &n.of[i]
	switch about := n.about[of.condition]; {
	case of.count == perNothing:
		return a, fmt.Errorf("labour standard %s: %w", s.Code, unknownDriver(s.Driver))
	case about == 0:
		return a, fmt.Errorf("labour standard %s: unknown condition %q", s.Code, s.When)
	case !n.needed[of.condition] || of.given && j.Assembled:
		return a, nil
	case of.driver >= 0:
		a.units = n.counts[of.driver]
	case about&ofTop != 0:
		a.units = j.count(of.count, &n.whole)
	default:
		a.units = j.count(of.count, &n.picked[of.condition])
	}
	if a.units == 0 {
		return a, nil
	}
	a.wait, a.crew = j.wait(of.waits, s.WaitHours), s.Crew
	if of.lifts {
		a.crew = max(a.crew, j.Heaviest) // as many people as the heaviest piece needs
	}
	return a, nil
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
	perShapedCutout
	perCutEdgeMetre
	perShownEdgeMetre
	perLaminatedSquare
	perBuildUpPiece
	perEndJoint
	perScribedMetre
	perBracket
	perLeg
	perTimberMetre
)

// driverOf is a driver's number.
func driverOf(d catalogue.Driver) driver {
	switch d {
	case catalogue.PerTop:
		return perTop
	case catalogue.PerPiece:
		return perPiece
	case catalogue.PerCorner:
		return perCorner
	case catalogue.PerSeamMetre:
		return perSeamMetre
	case catalogue.PerStave:
		return perStave
	case catalogue.PerStaveMetre:
		return perStaveMetre
	case catalogue.PerGlueMetre:
		return perGlueMetre
	case catalogue.PerSquareMetre:
		return perSquareMetre
	case catalogue.PerEdgeMetre:
		return perEdgeMetre
	case catalogue.PerAlignment:
		return perAlignment
	case catalogue.PerPull:
		return perPull
	case catalogue.PerFixing:
		return perFixing
	case catalogue.PerCutout:
		return perCutout
	case catalogue.PerCoat:
		return perCoat
	case catalogue.PerCoatSquare:
		return perCoatSquare
	case catalogue.PerHundredweight:
		return perHundredweight
	case catalogue.PerMouldingMetre:
		return perMouldingMetre
	case catalogue.PerClip:
		return perClip
	case catalogue.PerSealantLitre:
		return perSealantLitre
	case catalogue.PerCoverMetre:
		return perCoverMetre
	case catalogue.PerShapedCutout:
		return perShapedCutout
	case catalogue.PerCutEdgeMetre:
		return perCutEdgeMetre
	case catalogue.PerShownEdgeMetre:
		return perShownEdgeMetre
	case catalogue.PerEndJoint:
		return perEndJoint
	case catalogue.PerLaminatedSquare:
		return perLaminatedSquare
	case catalogue.PerBuildUpPiece:
		return perBuildUpPiece
	case catalogue.PerScribedMetre:
		return perScribedMetre
	case catalogue.PerBracket:
		return perBracket
	case catalogue.PerLeg:
		return perLeg
	case catalogue.PerTimberMetre:
		return perTimberMetre
	}
	return perNothing
}

// count returns how many driver units a job has, with what is picked of it.
func (j *Job) count(d driver, p *picked) float64 {
	switch d {
	case perNothing:
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
		return float64(p.pulls)
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
	case perShapedCutout:
		return float64(j.Shaped)
	case perCutEdgeMetre:
		return j.CutEdge.Metres()
	case perShownEdgeMetre:
		return j.ShownEdge.Metres()
	case perEndJoint:
		return float64(j.EndJoints)
	case perLaminatedSquare:
		return j.Laminated.SquareMetres()
	case perBuildUpPiece:
		return float64(j.BuildUps)
	case perScribedMetre:
		return j.Scribed.Metres()
	case perBracket:
		return float64(j.Brackets)
	case perLeg:
		return float64(j.Legs)
	case perTimberMetre:
		return j.Timber.Metres()
	}
	return 0
}

func unknownDriver(d catalogue.Driver) error { return fmt.Errorf("unknown driver %q", d) }

// waits is what the wait after a step depends on beside its standard's own hours.
type waits uint8

const (
	waitsAlone waits = iota
	waitsForCoats
	waitsForGlue
	waitsForWood
)

// waitsOf is what the wait after a standard depends on:
//
//   - putting on the finish (driver coat_square_metre) waits for the finish to dry between its coats, and the
//     standard's own hours after the last;
//   - a glue-up (driver glue_line_metre or laminated_square_metre, with hours of its own) waits the longer of the standard's hours and
//     the glue's hours in clamps;
//   - resting the wood (driver hundred_kilograms, with hours of its own) waits the longer of the standard's hours
//     and the hours that the wood's moisture asks for;
//   - any other step waits the standard's own hours.
func waitsOf(s *catalogue.LabourStandard) waits {
	switch {
	case s.Driver == catalogue.PerCoatSquare:
		return waitsForCoats
	case (s.Driver == catalogue.PerGlueMetre || s.Driver == catalogue.PerLaminatedSquare) && s.WaitHours > 0:
		return waitsForGlue
	case s.Driver == catalogue.PerHundredweight && s.WaitHours > 0:
		return waitsForWood
	}
	return waitsAlone
}

// wait returns the clock hours to wait after a step of which the standard has so many hours of its own.
func (j *Job) wait(w waits, own float64) float64 {
	switch w {
	case waitsForCoats:
		if j.Coats > 1 {
			return own + j.DryHours*float64(j.Coats-1)
		}
	case waitsForGlue:
		return max(own, j.ClampHours)
	case waitsForWood:
		return max(own, j.RestHours)
	case waitsAlone:
	}
	return own
}

// Count returns how many driver units the whole job has: for what is used in proportion to it. A straight seam is a seam, but
// no corner.
func (j *Job) Count(d catalogue.Driver) (float64, error) {
	n := driverOf(d)
	switch n {
	case perNothing:
		return 0, unknownDriver(d)
	case perCorner, perSeamMetre, perEdgeMetre, perAlignment, perPull:
		p := j.whole()
		if n == perCorner {
			p.corners -= j.inLine()
		}
		return j.count(n, &p), nil
	default:
		return j.count(n, nil), nil
	}
}
