package saw

import (
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
)

// Sizes of a blank on the paper, in millimetres.
const (
	across  = 7.0  // of a stave, whatever its width
	narrow  = 4.2  // of one, at least, for its number
	allOver = 50.0 // of all staves of a blank, where they have room in it: two blanks stand on a page
	endView = 16.0 // for the view of the staves' ends
	endGap  = 5.0
	under   = 11.0 // for the edges' names
	gutter  = 6.5  // for the staves' numbers
)

// Rings says how the staves' growth rings may be turned. Which way is the shop's choice: the answer does not say.
func (s *Plan) Rings() (list []string) {
	list = append(list, s.say("Staves are numbered from the front edge, in the order in which they come from the boards. Change places for looks before you glue, and the numbers with them."))
	has := map[catalogue.Sawn]bool{}
	for i := range s.est.Runs {
		if s.est.Runs[i].Blank.Staves > 0 {
			has[s.est.Runs[i].Sawn] = true
		}
	}
	if has[catalogue.FlatSawn] || has[catalogue.MixedSawn] {
		list = append(list, s.say("Growth rings, flat-sawn: drawn crown up and crown down by turns, so that each stave undoes what its neighbours cup. All with the bark side up is as usual where fixings hold the slab flat (common practice; nothing here reckons with either)."))
	}
	if has[catalogue.RiftSawn] {
		list = append(list, s.say("Growth rings, rift-sawn: leaning one way from stave to stave."))
	}
	if has[catalogue.QuarterSawn] {
		list = append(list, s.say("Growth rings, quarter-sawn: upright, either way up."))
	}
	return list
}

// drawnAcross is how high each of that many staves is drawn.
func drawnAcross(staves int) float64 { return max(narrow, min(across, allOver/float64(staves))) }

// blank draws a run's blank from above, its front edge below: the staves with their numbers, the finished piece in it, and their ends.
func (s *Plan) blank(run int) Part {
	r := &s.est.Runs[run]
	b := &r.Blank
	title := s.speech.Count(b.Staves, "Blank %s: %s × %s, %s stave, ripped %s, finished %s, %s long",
		"Blank %s: %s × %s, %s staves, ripped %s, finished %s, %s long", pen.Short(r.Name, nameLength),
		s.text(b.Length), s.phrase(b.Width, measure.Measured), strconv.Itoa(b.Staves),
		s.text(b.StaveRip), s.text(b.StaveWidth), s.text(b.StaveLength))
	switch {
	case b.BuiltUp():
		title += "; " + s.say("one slab of %s, built up below: staves %s to %s are its strips, %s to %s its blocks", s.text(b.Layer), strconv.Itoa(b.LayerStaves()+1), strconv.Itoa(b.Staves),
			strconv.Itoa(b.Parts()+1), strconv.Itoa(b.Parts()+b.BlockCount()))
	case b.Layers > 0:
		title += "; " + s.say("%s layers, each %s", strconv.Itoa(b.Layers), s.text(b.Layer))
	}
	if b.Joined.Count > 0 {
		title += "; " + s.say("each stave of %s pieces, finger-jointed", strconv.Itoa(b.Joined.Count))
	}
	wide := Width - gutter - endView - endGap - 1
	k := wide / float64(b.StaveLength)
	layers := max(1, b.Layers)
	if b.BuiltUp() {
		layers = 2 // what lies below it: each layer there is alike
	}
	across := drawnAcross(b.LayerStaves() * layers)
	high := across * float64(b.LayerStaves())
	const apart = under + 3
	lines := pen.Wrap(title, Width, pen.Letters{Size: pen.Body, Bold: true})
	top := 1.0 + float64(len(lines))*pen.Body*1.35 + 4.5
	height := top + high + under + float64(layers-1)*(high+apart)
	return finish(title, "blank-"+strconv.Itoa(run+1), height, func(p *pen.Pen, y float64) {
		for i, line := range lines {
			p.Text(0, y+pen.Body*(1+1.35*float64(i)), line, pen.Letters{Size: pen.Body, Bold: true})
		}
		y += top
		small := pen.Letters{Size: pen.Small}
		x := gutter
		p.Text(x, y-1.2, s.say("wall edge"), small)
		p.Text(x, y+high+pen.Small+0.9, s.say("front edge"), small)
		p.Text(x+wide+endGap, y-1.2, s.say("ends"), small)
		for layer := range layers {
			if layer > 0 && b.BuiltUp() {
				s.builtUp(p, run, pen.At(x, y), k, across/float64(b.StaveWidth), wide, high)
			} else {
				s.layer(p, run, layer, pen.At(x, y), wide, high)
			}
			s.piece(p, run, pen.At(x, y), k, across/float64(b.StaveWidth), high)
			if layer < layers-1 {
				y += high + apart
				p.Text(x, y-1.2, s.say("the layer below it"), small)
			}
		}
		p.Text(x+wide, y+high+pen.Small+0.9, s.say("dashed: the finished piece; true to scale along the grain only"),
			pen.Letters{Size: pen.Small, At: pen.Right})
	})
}

// halved reports whether a layer of so many staves is shifted by half of one, so that its last is ripped in two.
func halved(layer, staves int) bool { return layer%2 == 1 && staves > 1 }

// layer draws the staves of a layer, numbered on from the one above it. Every other layer is shifted by half a stave: its
// last one is ripped in two, whose halves lie outside.
func (s *Plan) layer(p *pen.Pen, run, layer int, at pen.Point, wide, high float64) {
	r := &s.est.Runs[run]
	n := r.Blank.LayerStaves()
	across := high / float64(n)
	put := func(stave int, from, deep float64) {
		p.Rect(at.X, from, wide, deep, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.Wood})
		if r.Blank.Joined.Count > 0 { // its pieces have numbers of their own
			s.fingers(p, &r.Blank, stave%2 == 1, pen.At(at.X, from), wide, deep)
		} else {
			p.Text(at.X-1.5, from+deep/2+1.15, strconv.Itoa(layer*n+stave+1),
				pen.Letters{Size: pen.Body, Bold: true, At: pen.Right})
		}
		s.end(p, r.Sawn, stave, at.X+wide+endGap, from, endView, deep)
	}
	bottom := at.Y + high // the front
	if !halved(layer, n) {
		for i := range n {
			put(i, bottom-float64(i+1)*across, across)
		}
		return
	}
	put(n-1, bottom-across/2, across/2)
	for i := range n - 1 {
		put(i, bottom-(float64(i)+1.5)*across, across)
	}
	put(n-1, bottom-high, across/2)
}

// builtUp draws what lies below a slab with a built-up edge: its strips and blocks, and where it is hollow.
func (s *Plan) builtUp(p *pen.Pen, run int, at pen.Point, k, ky, wide, high float64) {
	p.Rect(at.X, at.Y, wide, high, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.Wood})
	t, err := template.OfRun(s.est, run, template.Above)
	if err != nil {
		return // an answer that holds no outline has none to draw
	}
	b := &s.est.Runs[run].Blank
	ends := (b.StaveLength - b.Length) / 2
	lo, low := blankCorner(t)
	for _, h := range s.est.Runs[run].Piece.Hollows {
		left, right := template.OnPiece(s.est, run, h.From, h.To)
		x, y := at.X+float64(left-lo+ends)*k, at.Y+high-float64(h.Back-low)*ky
		w, deep := float64(right-left)*k, float64(h.Back-h.Front)*ky
		p.Rect(x, y, w, deep, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.White})
		l := pen.Letters{Size: pen.Small, At: pen.Middle}
		if text := s.say("hollow"); pen.Width(text, l) < w-1 && deep > pen.Small {
			p.Text(x+w/2, y+deep/2+0.36*pen.Small, text, l)
		}
	}
}

// fingers draws where a stave is joined end to end, and how long its pieces are: any of that length belongs there. Every other
// stave is turned end for end.
func (s *Plan) fingers(p *pen.Pen, b *estimate.Blank, turned bool, at pen.Point, wide, deep float64) {
	l := pen.Letters{Size: pen.Small, At: pen.Middle}
	var before measure.Length
	for i, part := range b.Joined.Parts[:b.Joined.Count] {
		x, middle := float64(before/b.StaveLength)*wide, float64((before+part/2)/b.StaveLength)*wide
		if turned {
			x, middle = wide-x, wide-middle
		}
		if i > 0 {
			p.Line(at.X+x, at.Y, at.X+x, at.Y+deep, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
		}
		p.Text(at.X+middle, at.Y+deep/2+0.36*pen.Small, s.text(part), l)
		before += part
	}
}

// piece draws the finished piece in its blank, the blank's allowances shared out evenly.
func (s *Plan) piece(p *pen.Pen, run int, at pen.Point, k, ky, high float64) {
	t, err := template.OfRun(s.est, run, template.Above)
	if err != nil {
		return // an answer that holds no outline has none to draw
	}
	b := &s.est.Runs[run].Blank
	ends := (b.StaveLength - b.Length) / 2
	for i := range t.Shapes {
		shape := &t.Shapes[i]
		if shape.Layer != template.Outline && shape.Layer != template.Cutouts {
			continue
		}
		lo, low := blankCorner(t)
		points := make([]pen.Point, len(shape.Points))
		for n, q := range shape.Points {
			points[n] = pen.At(at.X+float64(q.X-lo+ends)*k, at.Y+high-float64(q.Y-low)*ky)
		}
		p.Poly(points, false, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Dash: "1.6 0.8"})
	}
}

// blankCorner is the blank's corner at the left of the front edge.
func blankCorner(t *template.Template) (x, y measure.Length) {
	for i := range t.Shapes {
		if t.Shapes[i].Layer == template.Blank {
			lo := t.Shapes[i].Points[0]
			for _, q := range t.Shapes[i].Points {
				lo = plan.Point{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
			}
			return lo.X, lo.Y
		}
	}
	return 0, 0
}

// end draws the end of a stave with its growth rings.
func (s *Plan) end(p *pen.Pen, sawn catalogue.Sawn, index int, x, y, w, h float64) {
	p.Rect(x, y, w, h, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.White})
	k := pen.Stroke{Ink: pen.Ink, Width: pen.Thin}
	switch sawn {
	case catalogue.QuarterSawn:
		for i := 1.0; i < 6; i++ {
			p.Line(x+w*i/6, y, x+w*i/6, y+h, k)
		}
	case catalogue.RiftSawn:
		for i := 0.0; i < 5; i++ {
			p.Line(x+w*i/6, y+h, x+w*(i+1.2)/6, y, k)
		}
	default:
		for i := 1.0; i <= 3; i++ {
			Arc(p, x, y, w, h, i/4, index%2 == 1, k)
		}
	}
}

// Arc draws one growth ring of a flat-sawn stave across its end: its crown is up, or down.
func Arc(p *pen.Pen, x, y, w, h, depth float64, down bool, k pen.Stroke) {
	const sides = 12
	points := make([]pen.Point, 0, sides+1)
	for i := range sides + 1 {
		u := 2*float64(i)/sides - 1 // −1 … 1
		v := (1-u*u)*0.45 + depth*0.5
		if down {
			v = 1 - v
		}
		points = append(points, pen.At(x+w*(u+1)/2, y+h*(1-v)))
	}
	p.Poly(points, true, k)
}
