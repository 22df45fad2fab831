// Package seam draws the workbench sheet of one corner's seam: the seam seen from below and along it, every slot,
// pocket, recess and bolt with its distance from one reference end, which way each slides in either season, sections
// of what is cut, the order of work and the cautions. A maker can lay the seam out with a tape from the sheet alone.
//
// It is pure: the same estimate and options give the same bytes.
package seam

import (
	"fmt"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Options say how a seam is drawn. The zero value draws the chosen joint for paper.
type Options struct {
	Joint  *plan.Joint // draw this candidate; nil: the chosen one
	Narrow bool        // one column, for a phone; otherwise for a sheet of A4 or letter paper, upright
	Speech pen.Speech
}

// Draw returns the sheet of a corner's seam as an SVG document; corners count from 0. It returns a NotFound fault when
// there is no such corner or candidate, and an Impossible one when that candidate has no seam to draw. A candidate
// whose hardware was found wanting is drawn with the reason and without parts.
func Draw(e *estimate.Estimate, corner int, o Options) ([]byte, error) {
	s, err := newSheet(e, corner, o)
	if err != nil {
		return nil, err
	}
	return s.draw(), nil
}

// sheet is one seam with what is to be said about it.
type sheet struct {
	pen.Pen
	est    *estimate.Estimate
	units  measure.System
	index  int // of the corner
	corner *estimate.CornerResult
	c      *estimate.Candidate
	chosen bool

	first, second string // the runs' names
	thickness     measure.Length
	layers        int // that the slabs are glued up from at the seam; 0: none
	marks         []mark
	held          measure.Length
	turn          measure.Length // where a mason's miter turns, along the seam; 0 for other joints
	side          float64        // of the first run in the view from below: 1 below the seam, −1 above
	narrow        bool
	screen        bool // shown at whatever size a screen gives it: its bar alone tells the scale
	speech        pen.Speech
}

// say says a text in the drawing's language.
func (s *sheet) say(english string, values ...any) string { return s.speech.Say(english, values...) }

func newSheet(e *estimate.Estimate, corner int, o Options) (*sheet, error) {
	if corner < 0 || corner >= len(e.Corners) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no corner %d; this top has %d.",
			corner+1, len(e.Corners))}
	}
	s := &sheet{est: e, units: e.Units, index: corner, corner: &e.Corners[corner], narrow: o.Narrow, speech: o.Speech,
		first: pen.Short(e.Runs[corner].Name, nameLength), second: pen.Short(e.Runs[corner+1].Name, nameLength),
		thickness: e.Made.Thickness, layers: e.Made.Layers}
	joint := s.corner.Chosen
	if o.Joint != nil {
		joint = *o.Joint
	}
	s.chosen = joint == s.corner.Chosen
	for i := range s.corner.Candidates {
		if s.corner.Candidates[i].Joint == joint {
			s.c = &s.corner.Candidates[i]
		}
	}
	if s.c == nil {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("Corner %d was not worked out as a %s.", corner+1,
			jointName(pen.Speech{}, joint, s.first, s.second))}
	}
	if len(s.c.Geometry.SeamPath) < 2 {
		return nil, &fault.Fault{Kind: fault.Impossible,
			Detail: fmt.Sprintf("Corner %d cannot be made as a %s, so there is no seam to draw.", corner+1,
				jointName(pen.Speech{}, joint, s.first, s.second))}
	}
	s.held, s.turn, s.side = heldAt(s.c), turnAt(s.c), sideOfFirst(e, corner)
	if s.c.Hardware.Feasible {
		s.marks = marksOf(s.c)
	}
	return s, nil
}

// nameLength is how many letters of a run's name a sentence carries.
const nameLength = 24

// through and stopping are the runs' names of a butt or mason's miter.
func (s *sheet) through() string {
	if s.c.Joint.Through == plan.First {
		return s.first
	}
	return s.second
}

func (s *sheet) stopping() string {
	if s.c.Joint.Through == plan.First {
		return s.second
	}
	return s.first
}

// moving and resting are the pieces between which a slide is told: of a butt the stopping run moves, of a miter the first.
func (s *sheet) moving() (moving, resting string) {
	if !s.c.Joint.Kind.RunsThrough() {
		return s.first, s.second
	}
	return s.stopping(), s.through()
}
