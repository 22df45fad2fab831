// Package season draws a year in the life of a slab or a seam: how wide a run is, or how far a seam opens or slides, in
// the dry and in the humid season, against what it was when made. A customer sees why the seam is not glued.
//
// It is pure: the same estimate and options give the same bytes.
package season

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Options say how a chart is drawn. The zero value is for paper.
type Options struct {
	Narrow  bool        // for a phone
	Width   float64     // of the drawing, in millimetres; 0: that of paper or a phone
	Picture bool        // the chart and the sketches alone, for a document that has its own words
	Low     bool        // with sketches as small as can be read, for a page that has little room
	Joint   *plan.Joint // DrawSeam: of this candidate; nil: of the chosen one
	Speech  pen.Speech  // the language
}

// Draw returns the chart of a run's width as an SVG document; runs count from 0. It returns a NotFound fault when there
// is no such run.
func Draw(e *estimate.Estimate, run int, o Options) ([]byte, error) {
	c, err := ofRun(e, run, o.Speech)
	if err != nil {
		return nil, err
	}
	return c.draw(o), nil
}

func ofRun(e *estimate.Estimate, run int, in pen.Speech) (*chart, error) {
	if run < 0 || run >= len(e.Runs) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no run %d; this top has %d.", run+1,
			len(e.Runs))}
	}
	r := &e.Runs[run]
	m := &r.Movement
	name := pen.Short(r.Name, nameLength)
	wide := func(change measure.Length) string {
		return in.Say("%s wide", spoken(in, width(r.Depth+change, e.Units), e.Units))
	}
	wet := func(m measure.Moisture) string { return in.Number(moisture(m)) }
	phrase := func(l measure.Length) string {
		return spoken(in, strings.Replace(l.Phrase(e.Units), "less than", in.Say("less than"), 1), e.Units)
	}
	c := &chart{in: in, units: e.Units, title: in.Say("Run %s through the year: how wide it is", name),
		up: in.Say("wider"), down: in.Say("narrower"),
		about: in.Say("%s, %s, %s deep as made.", capital(in.Name(r.Wood)), in.Say(sawnName(r.Sawn)),
			spoken(in, width(r.Depth, e.Units), e.Units)),
		made:  state{word: "as made", figure: wide(0), wet: wet(r.Moisture.Making)},
		dry:   state{word: "dry season", change: m.ToDry, figure: wide(m.ToDry), wet: wet(r.Moisture.Dry)},
		humid: state{word: "humid season", change: m.ToHumid, figure: wide(m.ToHumid), wet: wet(r.Moisture.Humid)}}
	swing := spoken(in, measure.Span(m.ToDry, m.ToHumid, e.Units, measure.FinePlaces(e.Units)).Fine(e.Units), e.Units)
	c.why = in.Say("Over the year this slab changes its width by %s, and its length by only %s. Wood cannot be kept from it: glued across its width to a piece that does not move with it, it would split, or the seam would tear open. So the seam is not glued, and its parts let the wood slide.",
		swing, phrase(m.AlongGrain))
	if len(e.Corners) == 0 {
		c.why = in.Say("Over the year this slab changes its width by %s, and its length by only %s. Wood cannot be kept from it: held fast along both edges, it would split. So its fixings and the gap at the wall leave it room.",
			swing, phrase(m.AlongGrain))
	}
	c.sketch = sketchOf(e, min(run, max(len(e.Corners)-1, 0)))
	if c.year = yearOf(r.Seasonal); c.year != nil {
		c.lag = in.Number(strconv.FormatFloat(measure.Round(r.Seasonal.Lag, 0), 'f', 0, 64))
		c.damping = in.Number(percent(r.Seasonal.Damping))
	}
	if m.Range == 0 {
		c.why = in.Say("With these moistures this slab keeps its width.")
	}
	return c, nil
}

// DrawSeam returns the chart of how far a corner's seam opens or would open, or where it stays shut how far it slides, at its
// far end from the held point; corners count from 0. It returns a NotFound fault when there is no such corner or
// candidate, and an Impossible one when that candidate has no seam.
func DrawSeam(e *estimate.Estimate, corner int, o Options) ([]byte, error) {
	c, err := ofSeam(e, corner, o.Joint, o.Speech)
	if err != nil {
		return nil, err
	}
	return c.draw(o), nil
}

func ofSeam(e *estimate.Estimate, corner int, named *plan.Joint, in pen.Speech) (*chart, error) {
	if corner < 0 || corner >= len(e.Corners) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no corner %d; this top has %d.",
			corner+1, len(e.Corners))}
	}
	joint := e.Corners[corner].Chosen
	if named != nil {
		joint = *named
	}
	var s *estimate.Candidate
	for i := range e.Corners[corner].Candidates {
		if k := &e.Corners[corner].Candidates[i]; k.Joint == joint {
			s = k
		}
	}
	if s == nil {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("Corner %d was not worked out with this joint.",
			corner+1)}
	}
	if len(s.Geometry.SeamPath) < 2 {
		return nil, &fault.Fault{Kind: fault.Impossible,
			Detail: fmt.Sprintf("Corner %d cannot be made with this joint, so it has no seam.", corner+1)}
	}
	a, b := &e.Runs[corner], &e.Runs[corner+1]
	first, second := pen.Short(a.Name, nameLength), pen.Short(b.Name, nameLength)
	wet := func(of func(*estimate.Moistures) measure.Moisture) string {
		one, other := in.Number(moisture(of(&a.Moisture))), in.Number(moisture(of(&b.Moisture)))
		if one == other {
			return one
		}
		return first + " " + one + ", " + second + " " + other
	}
	c := &chart{in: in, units: e.Units,
		about: in.Say("Seam %s long between %s and %s: %s.", in.Phrase(s.Geometry.SeamLength.Phrase(e.Units)), first, second,
			strings.ReplaceAll(in.Say(joint.Kind.Name()), "'", "’")),
		made: state{word: "as made", figure: in.Say("shut"),
			wet: wet(func(m *estimate.Moistures) measure.Moisture { return m.Making })},
		dry: state{word: "dry season", change: s.Movement.Dry.Gap(s.Movement.HoldAt),
			wet: wet(func(m *estimate.Moistures) measure.Moisture { return m.Dry })},
		humid: state{word: "humid season", change: s.Movement.Humid.Gap(s.Movement.HoldAt),
			wet: wet(func(m *estimate.Moistures) measure.Moisture { return m.Humid })}}
	if joint == e.Corners[corner].Chosen { // the pieces are those of the chosen joint
		c.sketch = sketchOf(e, corner)
	}
	if c.dry.change != 0 || c.humid.change != 0 {
		c.opens(corner, s)
	} else {
		c.slides(corner, s)
	}
	if e.InLine(corner) {
		c.title = in.Say("Straight seam %s through the year", strconv.Itoa(corner+1))
	}
	return c, nil
}

// opens makes it the chart of a seam that opens, or would if its legs could not swing.
func (c *chart) opens(corner int, s *estimate.Candidate) {
	c.title = c.in.Say("The seam at corner %s through the year: how far it would open", strconv.Itoa(corner+1))
	if s.Movement.Restrained {
		c.title = c.in.Say("The seam at corner %s through the year: how far it opens", strconv.Itoa(corner+1))
	}
	c.up, c.down, c.unsigned = c.in.Say("at the wall"), c.in.Say("at the front"), true
	for _, st := range []*state{&c.dry, &c.humid} {
		switch {
		case st.change > 0:
			st.figure = c.in.Say("opens at the wall end")
		case st.change < 0:
			st.figure = c.in.Say("opens at the front end")
		default:
			st.figure = c.in.Say("shut")
		}
	}
	turn := max(magnitude(s.Movement.Dry.AngleChange), magnitude(s.Movement.Humid.AngleChange))
	if s.Movement.Restrained {
		c.why = c.in.Say("By this much the seam opens, as its legs cannot swing.")
	} else {
		c.why = c.in.Say("By this much the seam would open if the corner could not turn. Free to swing, the legs turn by up to %s° instead and the seam stays shut.",
			c.in.Number(strconv.FormatFloat(max(leastTurn, measure.Round(turn.Degrees(), 2)), 'f', -1, 64)))
	}
	c.why += " " + c.in.Say("Glue cannot hold this back: it would fail, or the wood would split. So the seam is drawn together by its hardware and not glued.")
}

// leastTurn is the least turn that is told, in degrees: "up to 0°" would say that nothing turns.
const leastTurn = 0.01

// slides makes it the chart of a seam that slides and stays shut.
func (c *chart) slides(corner int, s *estimate.Candidate) {
	c.title = c.in.Say("The seam at corner %s through the year: how far it slides", strconv.Itoa(corner+1))
	c.up, c.down = c.in.Say("outwards"), c.in.Say("inwards")
	c.made.figure = c.in.Say("flush")
	c.dry.change, c.humid.change = s.Movement.Dry.MaxSlip, s.Movement.Humid.MaxSlip
	for _, st := range []*state{&c.dry, &c.humid} {
		st.figure = c.in.Say("slides along the seam")
		if st.change == 0 {
			st.figure = c.in.Say("flush")
		}
	}
	c.why = c.in.Say("The seam stays shut and one piece slides along the other, by this much at the far end from where they are held flush. Glue would hold it fast, and the wood would split. So the seam is drawn together by its hardware and not glued.")
	if c.dry.change == 0 && c.humid.change == 0 {
		c.why = c.in.Say("With these moistures the seam neither opens nor slides.")
	}
}

// spoken is a length that ends with its unit, in the drawing's language.
func spoken(in pen.Speech, length string, units measure.System) string {
	figure := strings.TrimSuffix(length, " "+units.String())
	return in.Number(figure) + " " + in.Say(units.String())
}

func magnitude(a measure.Angle) measure.Angle { return max(a, -a) }

// width is a run's width: inches to 1/32, millimetres to a tenth, as the change beside it is told finely.
func width(l measure.Length, units measure.System) string {
	if units == measure.Millimetres {
		return strconv.FormatFloat(measure.Round(l.Millimetres(), 1), 'f', -1, 64) + " mm"
	}
	return l.Phrase(units)
}

// nameLength is how many letters of a run's name a sentence carries.
const nameLength = 24

// moisture is a moisture content as a reader sees it.
func moisture(m measure.Moisture) string {
	return strconv.FormatFloat(measure.Round(float64(m), 1), 'f', 1, 64) + " %"
}

func sawnName(s catalogue.Sawn) string {
	switch s {
	case catalogue.FlatSawn:
		return "flat-sawn"
	case catalogue.QuarterSawn:
		return "quarter-sawn"
	default:
		return string(s)
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
