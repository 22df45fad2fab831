package labour

import (
	"fmt"
	"slices"

	"seamwright/service/catalogue"
)

// picks are what each condition of a list of standards is about, worked out once for a job: many standards share one.
type picks struct {
	conditions []catalogue.Condition
	of         []int // the place of each standard's condition
	picked     []picked
	remedied   []int // the standards whose condition is about the corners' remedies
}

// newPicks collects the conditions of the standards.
func newPicks(standards []catalogue.LabourStandard) picks {
	p := picks{of: make([]int, len(standards)), conditions: make([]catalogue.Condition, 0, 24), remedied: make([]int, 0, 8)}
	for i := range standards {
		at := slices.Index(p.conditions, standards[i].When)
		if at < 0 {
			at = len(p.conditions)
			p.conditions = append(p.conditions, standards[i].When)
		}
		p.of[i] = at
		switch standards[i].When {
		case catalogue.IfProfileBefore, catalogue.IfProfileAfter, catalogue.IfCarvedCorner, catalogue.IfCopedCorner:
			p.remedied = append(p.remedied, i)
		default:
		}
	}
	p.picked = make([]picked, len(p.conditions))
	return p
}

// pick works all conditions out for a job. An unknown condition picks nothing here; units reports it.
func (p *picks) pick(j *Job) {
	for i, when := range p.conditions {
		p.picked[i] = j.pick(when)
	}
}

// pickFor works the condition of the i-th standard out for a job.
func (p *picks) pickFor(i int, j *Job) {
	at := p.of[i]
	p.picked[at] = j.pick(p.conditions[at])
}

// units returns how many driver units of the i-th standard the job has: a number of things, metres, square metres or
// hundreds of kilograms, as the driver says. Corners, seams, parts and edges are counted in the corners that the
// standard's condition fits. A job that has none does not need the step: no fixings, no fixing; nor what the customer does himself.
func (p *picks) units(j *Job, i int, s *catalogue.LabourStandard) (float64, error) {
	picked := &p.picked[p.of[i]]
	n, err := j.count(s.Driver, picked)
	if err == nil && picked.unknown {
		err = fmt.Errorf("unknown condition %q", s.When)
	}
	if err != nil {
		return 0, fmt.Errorf("labour standard %s: %w", s.Code, err)
	}
	if !picked.needed || j.Assembled && (s.Gives == catalogue.Joining || s.Gives == catalogue.Fitting) {
		return 0, nil
	}
	return n, nil
}

func (j *Job) count(d catalogue.Driver, p *picked) (float64, error) {
	switch d {
	case catalogue.PerTop:
		return 1, nil
	case catalogue.PerPiece:
		return float64(j.Pieces), nil
	case catalogue.PerCorner:
		return float64(p.corners), nil
	case catalogue.PerSeamMetre:
		return p.seam.Metres(), nil
	case catalogue.PerStave:
		return float64(j.Staves), nil
	case catalogue.PerStaveMetre:
		return j.StaveRun.Metres(), nil
	case catalogue.PerGlueMetre:
		return j.GlueRun.Metres(), nil
	case catalogue.PerSquareMetre:
		return j.Area.SquareMetres(), nil
	case catalogue.PerEdgeMetre:
		return j.EdgeRun.Metres() * p.edge, nil
	case catalogue.PerAlignment:
		return float64(p.alignments), nil
	case catalogue.PerPull:
		return float64(p.screws + p.bolts), nil
	case catalogue.PerFixing:
		return float64(j.Fixings), nil
	case catalogue.PerCutout:
		return float64(j.Cutouts), nil
	case catalogue.PerCoat:
		return float64(j.Coats), nil
	case catalogue.PerCoatSquare:
		return j.CoatArea.SquareMetres() * float64(j.Coats), nil
	case catalogue.PerHundredweight:
		return j.Mass.Kilograms() / 100, nil
	case catalogue.PerMouldingMetre:
		return j.Moulding.Metres(), nil
	case catalogue.PerClip:
		return float64(j.Clips), nil
	case catalogue.PerSealantLitre:
		return j.Sealant.Litres(), nil
	case catalogue.PerCoverMetre:
		return j.CoverStrip.Metres(), nil
	}
	return 0, fmt.Errorf("unknown driver %q", d)
}

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
	p := j.whole(true)
	return j.count(d, &p)
}
