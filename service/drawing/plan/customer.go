package plan

import (
	"math"
	"slices"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
)

// ForCustomer returns the plan that a customer looks at and signs: the top with its walls, fronts, openings and overall lengths in
// large letters, without anything that only its maker needs. What finds no room in the picture is said in words under it. It
// returns an Impossible fault when the estimate holds no run.
func ForCustomer(e *estimate.Estimate, o Options) ([]byte, error) {
	first, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	first.take()
	defer first.leave()
	doc := first.forCustomer()
	again, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	again.take()
	defer again.leave()
	again.pad = first.taken() // the top is drawn larger where nothing stands beside it
	if better := again.forCustomer(); again.ratio < first.ratio && len(again.legend) <= len(first.legend) {
		return better, nil
	}
	return doc, nil
}

// Sizes of a customer's plan, in millimetres: it stands beside others on a page.
const (
	customerWidth  = 112.0
	customerHeight = 92.0
	customerMargin = 16.0 // for the walls, their lengths and what names them
)

func (s *sheet) forCustomer() []byte {
	s.customer, s.bare = true, true
	if s.o.Width == 0 {
		s.frame, s.width = 0.5, customerWidth-1
		if s.o.Narrow {
			s.width = phoneWidth
		}
	}
	if s.o.Height == 0 {
		s.o.Height = customerHeight
	}
	if s.pad == (border{}) {
		s.pad = border{customerMargin, customerMargin, customerMargin, customerMargin}
	}
	s.setUp(s.frame, s.frame, s.width)
	var holes []hole
	for i := range s.est.Cutouts {
		if h, ok := s.hole(&s.est.Cutouts[i]); ok {
			holes = append(holes, h)
		}
	}
	s.fixed(holes)
	s.overall()
	s.openingNames(holes)
	s.letters(holes)
	s.widths()
	s.bends()
	s.sideNames()
	s.wood(holes)
	y := s.reach().y1 + 0.5
	if len(s.legend) > 0 {
		y = s.Paragraph(s.frame, y+0.5, s.width, strings.Join(s.legend, "; ")+".", pen.Letters{Size: pen.Body})
	}
	s.Append(&s.notes)
	id := "top"
	if s.o.Narrow {
		id = "top-narrow" // both may stand in one page
	}
	return s.Document(s.width+2*s.frame, y+s.frame, id, s.heading(), s.description())
}

// reach is the part of the paper that the picture takes.
func (s *sheet) reach() box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	take := func(o *box) {
		b = box{min(b.x0, o.x0), min(b.y0, o.y0), max(b.x1, o.x1), max(b.y1, o.y1)}
	}
	for i := range s.ground.lines {
		take(&s.ground.lines[i].round)
	}
	for i := range s.ground.boxes {
		take(&s.ground.boxes[i])
	}
	return b
}

// taken is what stands round the pieces, and a little more.
func (s *sheet) taken() border {
	top := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range s.runs {
		for _, p := range s.runs[i].outline {
			top = box{min(top.x0, p.X), min(top.y0, p.Y), max(top.x1, p.X), max(top.y1, p.Y)}
		}
	}
	const more = 0.8
	all := s.reach()
	return border{top.x0 - all.x0 + more, top.y0 - all.y0 + more, all.x1 - top.x1 + more, all.y1 - top.y1 + more}
}

// overall are the lengths along the walls, so far from them that the word for them has room between.
func (s *sheet) overall() {
	for i := range s.runs {
		r := &s.runs[i]
		out := pen.At(-r.room.X, -r.room.Y)
		figure := s.text(r.length + s.est.MouldedEnd(i))
		w, h := size([]string{s.say("wall")}, sideLetters) // stands between the wall and the line
		word := math.Abs(out.X)*w + math.Abs(out.Y)*h
		first := max(s.beside(figure, out)+wallBand+5.5, wallBand+word+1.4)
		if s.dimension(r.wall[0], r.wall[1], out, figure, []float64{first, first + 2, first - 3.5, first + 5}) {
			continue
		}
		// Two walls that stand back to back leave no room for both lines: the figure alone stands at the wall.
		if !s.tryAt(s.along(r.wall, out, wallBand, []float64{0.7, 2, 4}, []string{figure}, s.figures()), []string{figure},
			s.figures(), nil) {
			s.under("Wall length of run %s: %s", s.name(i), figure)
		}
	}
}

// under says under the picture what found no room in it.
func (s *sheet) under(english string, values ...any) {
	s.legend = append(s.legend, s.say(english, values...))
}

// openingNames writes in each cut-out what it is for, with its size, or beside it with a thin line.
func (s *sheet) openingNames(holes []hole) {
	for i := range holes {
		h := &holes[i]
		name, sizes := s.holeName(i), s.holeSize(h)
		c := middle(h.corners[0], h.corners[2])
		l := pen.Letters{Size: pen.Head}
		if s.tryAt([]pen.Point{c}, []string{name, sizes}, l, nil) || s.tryAt([]pen.Point{c}, []string{name}, l, nil) ||
			s.leader(c, []string{name, sizes}, l, 40) {
			continue
		}
		s.under("Cut-out %s: %s", name, sizes)
	}
}

// letters writes each piece's name in its wood.
func (s *sheet) letters(holes []hole) {
	for i := range s.runs {
		on := func(b box) bool {
			c := pen.At((b.x0+b.x1)/2, (b.y0+b.y1)/2)
			return inside(s.runs[i].outline, c) && !slices.ContainsFunc(holes, func(h hole) bool { return inside(h.corners, c) })
		}
		done := false
		for _, size := range []float64{pen.Title, pen.Head} {
			l := pen.Letters{Size: size, Bold: true}
			done = done || s.tryAmong(s.spots(i), []string{fitted(s.est.Runs[i].Name, s.width/3, l)}, l, on)
		}
		if !done && !s.leader(s.heart(i), []string{s.name(i)}, pen.Letters{Size: pen.Head, Bold: true}, 30) {
			s.under("Run %s", s.name(i))
		}
	}
}

// widths are the runs' depths: at a free end, or in the wood.
func (s *sheet) widths() {
	var told []string // a depth that all have need not stand at each
	for i := range s.runs {
		r := &s.runs[i]
		figure := s.text(s.est.FinishedDepth(i))
		done := false
		if i == 0 {
			back := pen.At(-r.along.X, -r.along.Y)
			first := s.beside(figure, back) + 0.6
			done = s.dimension(r.front[0], r.wall[0], back, figure, []float64{first, first + 2, first + 4})
		}
		if !done && i == len(s.runs)-1 {
			first := s.beside(figure, r.along) + 0.6
			done = s.dimension(r.front[1], r.wall[1], r.along, figure, []float64{first, first + 2, first + 4})
		}
		l, depth := distance(r.wall[0], r.wall[1]), s.depth(i)
		for _, share := range []float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65} {
			top := move(r.wall[0], r.along, l*share)
			if !done && inside(r.outline, move(top, r.room, depth/2)) {
				done = s.dimension(move(top, r.room, depth), top, r.along, figure, []float64{0})
			}
		}
		if !done && !slices.Contains(told, figure) {
			s.under("Depth of run %s: %s", s.name(i), figure)
		}
		told = append(told, figure)
	}
}

// bends are the corners that are not square, written in the room before them.
func (s *sheet) bends() {
	for k := range s.est.Corners {
		angle := s.est.Corners[k].Angle
		if math.Abs(angle.Degrees()-90) < 0.05 || s.est.Corners[k].InLine != nil {
			continue
		}
		a, b := &s.runs[k], &s.runs[k+1]
		toRoom := unit(pen.At(0, 0), pen.At(a.room.X+b.room.X, a.room.Y+b.room.Y))
		text := s.degrees(angle)
		l := pen.Letters{Size: pen.Head}
		w, h := size([]string{text}, l)
		var places []pen.Point
		for _, more := range []float64{1, 3, 5, 8} {
			places = append(places, move(a.front[1], toRoom, more+math.Abs(toRoom.X)*w/2+math.Abs(toRoom.Y)*h/2))
		}
		if !s.tryAt(places, []string{text}, l, nil) {
			s.under("Corner %s and %s: %s", s.name(k), s.name(k+1), text)
		}
	}
}

// sideLetters are those of the words wall and front.
var sideLetters = pen.Letters{Size: pen.Body}

// sideDistances are how far the words may stand from their edge: further away one does not see which edge they mean.
var sideDistances = []float64{0.7, 1.6}

// sideNames says once for each run, where there is room, which side is the wall and which the front.
func (s *sheet) sideNames() {
	l := sideLetters
	for i := range s.runs {
		r := &s.runs[i]
		for _, side := range []struct {
			word string
			line [2]pen.Point
			out  pen.Point
			off  float64
		}{{s.say("wall"), r.wall, pen.At(-r.room.X, -r.room.Y), wallBand}, {s.say("front"), r.front, r.room, 0}} {
			s.tryAt(s.along(side.line, side.out, side.off, sideDistances, []string{side.word}, l), []string{side.word},
				l, nil)
		}
	}
}

// along are places for a label beside a line, the nearest first and of these the middle: on the side out of it, beyond off by
// each of the distances.
func (s *sheet) along(line [2]pen.Point, out pen.Point, off float64, distances []float64, label []string,
	l pen.Letters) (places []pen.Point) {
	w, h := size(label, l)
	for _, more := range distances {
		for _, share := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			at := pen.At(line[0].X+(line[1].X-line[0].X)*share, line[0].Y+(line[1].Y-line[0].Y)*share)
			places = append(places, move(at, out, off+more+math.Abs(out.X)*w/2+math.Abs(out.Y)*h/2))
		}
	}
	return places
}
