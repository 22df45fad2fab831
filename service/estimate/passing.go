package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/source"
)

// PassageOrder asks whether a piece passes a way.
type PassageOrder struct {
	Units     measure.System
	Piece     passage.Piece
	Way       []passage.Step
	Clearance measure.Length // what the way's clear sizes are lessened by
	Explain   bool
}

// PassageAnswer says of each step whether the piece passes.
type PassageAnswer struct {
	Units     measure.System
	Piece     passage.Piece
	Clearance measure.Length
	Passes    bool // all of the way
	Way       []WayStep
	Cautions  []string
	Grounds
}

// WayStep is what a step of the way says of a piece.
type WayStep struct {
	Kind passage.Kind
	passage.Verdict
	How string // one plain sentence
}

// Pass says whether a piece can be carried along a way.
func Pass(order PassageOrder, cat *catalogue.Snapshot) (*PassageAnswer, error) {
	w := alone(order.Units, order.Explain, cat)
	var wrong fault.List
	wrong.Add("/way", passage.Check(order.Way, order.Units))
	if p := order.Piece; p.Thickness > p.Depth && p.Thickness > p.Length {
		wrong.Add("", impossible("/piece/thickness", "A slab is not thicker than it is long and deep.", ""))
	}
	if err := wrong.Err(); err != nil {
		return nil, err
	}
	way := &passage.Walk{Steps: w.wayOf(order.Way, order.Clearance, "/way", "/clearance")}
	a := &PassageAnswer{Units: order.Units, Piece: order.Piece, Clearance: order.Clearance,
		Cautions: []string{carryingCaution}}
	a.Way, a.Passes = w.through(order.Piece, way)
	a.Grounds = w.grounds()
	return a, nil
}

// carryingCaution goes with every answer about carrying.
const carryingCaution = "Sizes alone are checked, each step by itself: weight, grip, steps between the places and what stands in the way " +
	"are not. Carry with enough people, gloves and shoes; keep fingers from between slab and frame."

// wayOf is a way with its defaults taken and noted, and the clearance off.
func (w *work) wayOf(asked []passage.Step, clearance measure.Length, at, clearanceAt string) []passage.Step {
	w.cite(source.PlaneTrigonometry, source.PlaneRectangles, source.CommonPractice)
	if clearance == 0 {
		w.assume(clearanceAt, measure.Length(0),
			"the way's clear sizes are used whole: take off what hands and blankets need")
	}
	way := make([]passage.Step, len(asked))
	for i, s := range asked {
		here := func(field string) string { return numbered(at+"/", i) + "/" + field }
		if s.Kind == passage.Turn && s.Angle == 0 {
			s.Angle = 90 * measure.Degree
			w.assume(here("angle"), s.Angle, "the usual turn is square")
		}
		if s.Kind == passage.Turn && s.Height == 0 {
			w.assume(here("height"), "none", "without a height the ceiling stops nothing, and nothing is raised")
		}
		if s.Kind == passage.Lift && s.DoorWidth == 0 {
			s.DoorWidth = s.Width
			w.assume(here("door_width"), s.DoorWidth, "as wide as the car")
		}
		if s.Kind == passage.Lift && s.DoorHeight == 0 {
			s.DoorHeight = s.Height
			w.assume(here("door_height"), s.DoorHeight, "as high as the car")
		}
		way[i] = s.Lessened(clearance)
	}
	return way
}

// through holds a piece against a way, and says how it passes.
func (w *work) through(p passage.Piece, walk *passage.Walk) (steps []WayStep, passes bool) {
	steps, passes = w.verdicts(p, walk)
	c := Carried{Way: steps}
	c.tell(walk, w.units)
	return steps, passes
}

// verdicts is through without a word.
func (w *work) verdicts(p passage.Piece, walk *passage.Walk) (steps []WayStep, passes bool) {
	passes = true
	steps = make([]WayStep, len(walk.Steps))
	for i := range steps {
		v := walk.Step(i, p)
		steps[i] = WayStep{Kind: walk.Steps[i].Kind, Verdict: v}
		passes = passes && v.Passes
		w.explainStep(&walk.Steps[i], &v)
	}
	return steps, passes
}

// tell says how a piece passes each step of which nothing is said yet.
func (c *Carried) tell(walk *passage.Walk, units measure.System) {
	for i := range c.Way {
		if s := &c.Way[i]; s.How == "" {
			s.How = passage.How(&walk.Steps[i], &s.Verdict, units)
		}
	}
}

// explainStep notes the longest piece that passes a step.
func (w *work) explainStep(s *passage.Step, v *passage.Verdict) {
	if !w.order.Explain || v.Longest == passage.Unlimited {
		return
	}
	formula := map[passage.Kind]string{
		passage.Door: "the longest p with p × thickness in width × height",
		passage.Turn: "min over φ of the length clear of the inner corner; (a^⅔ + b^⅔)^1½ for a rod at 90°",
		passage.Lift: "the longest box in the car; √(w² + d² + h²) for a rod",
	}[s.Kind]
	w.explain("longest_"+string(s.Kind), formula, v.Longest.In(w.units), w.units.String(), source.PlaneTrigonometry)
}
