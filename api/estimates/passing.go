package estimates

import (
	"math"

	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/passage"
)

// ReadWay reads the steps of a way.
func ReadWay(o *wire.Object, key string) []passage.Step {
	return wire.Each(o.Children(key), func(o *wire.Object) passage.Step {
		size := func(key string) (l measure.Length) {
			if o.Has(key) {
				l = o.Length(key)
			}
			return l
		}
		return passage.Step{
			Kind:       passage.Kind(o.Text("kind")),
			Width:      size("width"),
			Depth:      size("depth"),
			Height:     size("height"),
			First:      size("first"),
			Second:     size("second"),
			Angle:      measure.Angle(o.Number("angle")) * measure.Degree,
			DoorWidth:  size("door_width"),
			DoorHeight: size("door_height"),
		}
	})
}

// walkCarrying walks how a top gets to its place; nothing where no way was told.
func walkCarrying(f *wire.Fields, at **estimate.Carrying) {
	if !f.OpenIf("passage", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Carrying)
	}
	c := *at
	wire.Word(f, "advice", &c.Advice)
	wire.Word(f, "text", &c.Text)
	f.Length("clearance", &c.Clearance)
	wire.List(f, "pieces", &c.Pieces, func(f *wire.Fields, p *estimate.Carried) {
		f.Open()
		wire.Word(f, "run", &p.Run)
		walkCarried(f, p)
		f.MadeAll("splits", &p.Splits)
		f.Close()
	})
	if f.OpenOrNull("joined", c.Joined != nil) {
		if c.Joined == nil {
			c.Joined = new(estimate.Carried)
		}
		walkCarried(f, c.Joined)
		f.Close()
	}
	if f.OpenAt("vehicle") {
		f.Sized("longest_piece", &c.Vehicle.Longest, measure.Least)
		f.Sized("load_length", &c.Vehicle.Load, measure.Least)
		f.Sized("load_width", &c.Vehicle.Width, measure.Least)
		f.Close()
	}
	f.Close()
}

func walkCarried(f *wire.Fields, p *estimate.Carried) {
	f.Length("length", &p.Size.Length)
	f.Length("depth", &p.Size.Depth)
	f.Length("thickness", &p.Size.Thickness)
	f.Bool("passes", &p.Passes)
	wire.List(f, "way", &p.Way, WalkPassing)
}

// WalkPassing walks what a step of a way says of a piece. Greatest lengths are rounded down: a piece as long as is told
// passes.
func WalkPassing(f *wire.Fields, p *estimate.WayStep) {
	f.Open()
	wire.Word(f, "kind", &p.Kind)
	f.Bool("passes", &p.Passes)
	wire.WordOrNull(f, "hold", &p.Hold)
	wire.Word(f, "how", &p.How)
	greatest(f, "longest", &p.Longest, true)
	greatestIf(f, "end_up", &p.EndUp, p.Kind == passage.Turn && p.EndUp > 0)
	greatestIf(f, "straight_in", &p.Straight, p.Kind == passage.Lift)
	f.Close()
}

// greatest walks a greatest length; null when there is no bound.
func greatest(f *wire.Fields, name string, l *measure.Length, text bool) {
	w := f.Writer()
	switch {
	case w == nil:
		*l = passage.Unlimited
		f.Length(name, l)
	case *l == passage.Unlimited:
		w.Null(name)
		if text {
			w.Null(name + "_text")
		}
	case text:
		w.Sized(name, roundedDown(*l, w.Units), measure.Most)
	default:
		w.Length(name, roundedDown(*l, w.Units))
	}
}

// greatestIf is the same for what only some steps have; null elsewhere.
func greatestIf(f *wire.Fields, name string, l *measure.Length, has bool) {
	switch w := f.Writer(); {
	case w == nil:
		f.Length(name, l)
	case has:
		greatest(f, name, l, false)
	default:
		w.Null(name)
	}
}

// roundedDown is a length rounded down to the places that an answer has.
func roundedDown(l measure.Length, units measure.System) measure.Length {
	unit, places := measure.Inch, 1e4
	if units == measure.Millimetres {
		unit, places = measure.Millimetre, 100
	}
	return measure.Length(math.Floor(float64(l/unit)*places+1e-6)/places) * unit
}
