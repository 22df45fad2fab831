// Package template lays out at true size what is cut and bored: the finished outline of a piece, or both pieces round a corner, with
// the seam, the cut-outs, what is bored from below and the blank, sorted into layers. The drawings and tables at true size are made
// of it.
//
// Places are in millimetres of wood. A piece is seen from above by one who stands before its front edge: x from its leftmost point to
// the right, y from the front edge towards the wall. Seen from below it is turned over sideways: left and right change places.
//
// It is pure: the same estimate gives the same template.
package template

import (
	"fmt"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Layer is what a shape is for; its value is the layer's name wherever one is written.
type Layer string

// The layers.
const (
	Outline Layer = "outline"         // of the finished piece: what is cut to
	Seam    Layer = "seam"            // where the outline meets another piece
	Front   Layer = "front"           // edges that show and take the profile
	Cutouts Layer = "cut-outs"        // holes and notches
	Centres Layer = "cut-out-centres" // centre marks of the cut-outs
	// cut from below beside a seam: recesses, channels, pockets; slots in the seam's face
	Hardware Layer = "hardware-below"
	Fixings  Layer = "fixings-below" // screwed from below, through slots
	Blank    Layer = "blank"         // what the piece is cut from, with its allowances
)

// Layers are all layers, in the order in which they are drawn.
var Layers = [...]Layer{Blank, Outline, Front, Seam, Cutouts, Centres, Hardware, Fixings}

// Feature is what a shape is.
type Feature string

// The features, besides those of hardware.Feature.
const (
	PieceEdge    Feature = "piece"
	SeamLine     Feature = "seam"
	FrontLine    Feature = "front"
	Cutout       Feature = "cut_out"
	CentreMark   Feature = "centre"
	Fixing       Feature = "fixing"
	BlankOutline Feature = "blank"
)

// Shape is one thing on a layer: a polygon, a line, or a circle round its only point.
type Shape struct {
	Layer   Layer
	Feature Feature
	Number  int // of a cut-out, mark on the seam or fixing, from 1; 0: there is only one
	Corner  int // that a seam and its hardware belong to, from 1; else 0
	Piece   int // of the run, from 0
	Points  []plan.Point
	Open    bool           // a line, not a polygon
	Radius  measure.Length // of a circle
	Hidden  bool           // within the wood: a slot in the seam's face
}

// Template is a piece, or what lies round a corner.
type Template struct {
	Estimate *estimate.Estimate
	Run      int // of a piece; −1 for a corner
	Corner   int // −1 for a piece
	Below    bool
	Shapes   []Shape
	Lo, Hi   plan.Point // what the shapes reach
}

// Side says from which side a template is seen.
type Side bool

// The sides.
const (
	Above Side = false
	Below Side = true
)

// OfRun returns the template of run's piece, from 0, or a NotFound fault.
func OfRun(e *estimate.Estimate, run int, side Side) (*Template, error) {
	if run < 0 || run >= len(e.Runs) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no run %d; this top has %d.", run+1,
			len(e.Runs))}
	}
	if err := drawable(e); err != nil {
		return nil, err
	}
	t := &Template{Estimate: e, Run: run, Corner: -1, Below: bool(side)}
	f := frameOf(e, run)
	t.addPiece(run)
	t.addBlank(run, &f)
	t.settle(&f)
	return t, nil
}

// OfCorner returns the template of a corner, from 0, or a NotFound fault: both pieces from the seam on as far as Reach beyond it, seen
// by one who stands before the first of them.
func OfCorner(e *estimate.Estimate, corner int, side Side) (*Template, error) {
	if corner < 0 || corner >= len(e.Corners) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no corner %d; this top has %d.",
			corner+1, len(e.Corners))}
	}
	if err := drawable(e); err != nil {
		return nil, err
	}
	t := &Template{Estimate: e, Run: -1, Corner: corner, Below: bool(side)}
	f := frameOf(e, corner)
	for run := corner; run <= corner+1; run++ {
		from := len(t.Shapes)
		t.addPiece(run)
		t.keepNear(from, run)
	}
	t.settle(&f)
	return t, nil
}

// drawable refuses answers that hold no outline.
func drawable(e *estimate.Estimate) error {
	if n := len(e.Runs); n == 0 || len(e.Outline) != 2*n+2 {
		return &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no outline to draw."}
	}
	return nil
}

// addPiece adds everything of a piece, in the plan's coordinates.
func (t *Template) addPiece(run int) {
	e := t.Estimate
	r := &e.Runs[run]
	t.add(Shape{Layer: Outline, Feature: PieceEdge, Piece: run, Points: r.Piece.Finished()})
	t.addFront(run)
	for k := run - 1; k <= run; k++ {
		if k < 0 || k >= len(e.Corners) {
			continue
		}
		if c := e.Corners[k].ChosenCandidate(); c != nil && len(c.Geometry.SeamPath) > 1 {
			t.add(Shape{Layer: Seam, Feature: SeamLine, Corner: k + 1, Piece: run, Points: c.Geometry.SeamPath, Open: true})
			t.addHardware(run, k, c)
		}
	}
	t.addCutouts(run)
	t.addFixings(run)
}

func (t *Template) add(s Shape) { t.Shapes = append(t.Shapes, s) }

// addCutouts adds the holes of a piece with the crosses of their centres.
func (t *Template) addCutouts(run int) {
	for i := range t.Estimate.Cutouts {
		c := &t.Estimate.Cutouts[i]
		if c.Run != t.Estimate.Runs[run].Name {
			continue
		}
		t.add(Shape{Layer: Cutouts, Feature: Cutout, Number: i + 1, Piece: run, Points: c.Outline})
		if m := centreOf(c); len(c.Outline) > 2 {
			f := frameOf(t.Estimate, run)
			const arm = 10 * measure.Millimetre
			for _, v := range [2]plan.Point{f.along, f.room} {
				t.add(Shape{Layer: Centres, Feature: CentreMark, Number: i + 1, Piece: run, Open: true,
					Points: []plan.Point{step(m, v, -arm), step(m, v, arm)}})
			}
		}
	}
}

// addFixings adds the places of a piece's fixings with the slots that they need.
func (t *Template) addFixings(run int) {
	e := t.Estimate
	f := frameOf(e, run)
	for i := range e.Fixing.Runs {
		if e.Fixing.Runs[i].Run != e.Runs[run].Name {
			continue
		}
		for n, p := range e.Fixing.Runs[i].Places {
			at := f.place(p.Along, p.FromFront)
			if p.SlotAcross > 0 || p.SlotAlong > 0 {
				t.add(Shape{Layer: Fixings, Feature: Fixing, Number: n + 1, Piece: run,
					Points: f.rectangle(at, p.SlotAlong/2, p.SlotAcross/2)})
			}
			const arm = 6 * measure.Millimetre
			for _, v := range [2]plan.Point{f.along, f.room} {
				t.add(Shape{Layer: Fixings, Feature: CentreMark, Number: n + 1, Piece: run, Open: true,
					Points: []plan.Point{step(at, v, -arm), step(at, v, arm)}})
			}
		}
	}
}

// addBlank adds the blank round a piece: its allowances are shared out evenly to both ends and both edges.
func (t *Template) addBlank(run int, f *frame) {
	r := &t.Estimate.Runs[run]
	if r.Blank.Length <= 0 || r.Blank.Width <= 0 {
		return
	}
	from, to := f.tips(r.Piece.Finished())
	deep := r.Depth
	for i := range r.Walls {
		if w := &r.Walls[i]; w.Edge == estimate.AtWall {
			deep += w.Greatest
		}
	}
	middle := f.place((from+to)/2, deep/2)
	t.add(Shape{Layer: Blank, Feature: BlankOutline, Piece: run,
		Points: f.rectangle(middle, r.Blank.Length/2, r.Blank.Width/2)})
}

// addFront adds the stretches of a piece's outline that show: those on the front of the whole top, which at an outer corner may be its
// neighbour's, and, where they take the profile, its free ends.
func (t *Template) addFront(run int) {
	e := t.Estimate
	wall, front := e.Chain()
	show := make([][2]plan.Point, 0, len(e.Runs)+2)
	for i := range e.Runs {
		show = append(show, [2]plan.Point{front[i], front[i+1]})
	}
	if !e.Made.SquareEnds {
		if run == 0 {
			show = append(show, [2]plan.Point{wall[0], front[0]})
		}
		if n := len(e.Runs); run == n-1 {
			show = append(show, [2]plan.Point{wall[n], front[n]})
		}
	}
	o := e.Runs[run].Piece.Outline
	for i, p := range o {
		q := o[(i+1)%len(o)]
		for _, s := range show {
			if a, b, ok := shared(p, q, s[0], s[1]); ok {
				t.add(Shape{Layer: Front, Feature: FrontLine, Piece: run, Open: true, Points: []plan.Point{a, b}})
			}
		}
	}
}
