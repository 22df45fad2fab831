package plan

import (
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// PieceSheet is what a bench sheet of one piece shows, by itself and true to scale: every length is from its own ends and edges.
type PieceSheet struct {
	// pictures: the piece from above with its dimensions, and from below with what is cut into its underside
	Above, Below []byte
	Marks        []string    // what the marks in them mean
	Corners      [][3]string // number, from the start's tip along the piece, from the front edge
	Diagonals    [2]string   // from the first corner at the wall to the front at the far end, and the other one
	VisibleFront string
	Ends         [2]string // what its ends are, from start to end
	Free         [2]bool   // and which of them are free
	Cutouts      []PieceCutout
	Fixings      []PieceRow
}

// Piece draws run i's piece for paper of a width; see Options.Width and Screen. Height is the most that the wood may take in each of
// the two pictures. It returns a NotFound fault when there is no such run.
func Piece(e *estimate.Estimate, i int, o Options) (*PieceSheet, error) {
	if i < 0 || i >= len(e.Runs) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no piece " + strconv.Itoa(i+1) + "; this top has " +
			strconv.Itoa(len(e.Runs)) + "."}
	}
	above, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	below, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	p := &PieceSheet{}
	one := piece{sheet: above, index: i, out: p}
	p.Above = one.draw(false)
	one.tell()
	other := piece{sheet: below, index: i, out: p}
	p.Below = other.draw(true) // it has no sizes, and no marks in their place
	p.Marks = append(above.legend, p.Marks...)
	return p, nil
}

// piece is one piece being drawn.
type piece struct {
	*sheet
	index int
	out   *PieceSheet
	holes []hole
	turn  float64 // 1: its start is at the left; −1: at the right
	local []local // its corners
}

// local is a place on a piece: along it from the tip at its start, and from its front edge.
type local struct{ along, front measure.Length }

const (
	pieceMargin = 24.0 // beside a piece, for its dimensions
	pieceHeight = 46.0 // that its wood may take, when nothing else is asked for
)

// draw puts the piece on the paper, its wall edge at the top, as it is seen from above by somebody who stands at its front, or
// from below after it was turned end over end.
func (p *piece) draw(below bool) []byte {
	s := p.sheet
	s.bare = true
	wall, front := s.est.Chain()
	a, b := wall[p.index], wall[p.index+1]
	l := a.Distance(b)
	ux, uy := (b.X-a.X)/l, (b.Y-a.Y)/l
	rx, ry := -uy, ux // into the room
	if (front[p.index].X-a.X)*rx+(front[p.index].Y-a.Y)*ry < 0 {
		rx, ry = -rx, -ry
	}
	// Whoever faces the wall looks along −r; to the right is (−r) turned clockwise.
	p.turn = 1
	if ux*-ry+uy*rx < 0 {
		p.turn = -1
	}
	if below {
		p.turn = -p.turn
	}
	e := extentOf(s.est.Runs[p.index].Piece.Outline, a, b)
	depth := s.est.Runs[p.index].Depth
	high := pieceHeight
	if s.o.Height > 0 {
		high = s.o.Height
	}
	s.ratio = pen.ChooseScale(s.inches(), float64(e.to-e.from), float64(depth), s.width-2*pieceMargin, high)
	k := 1 / float64(s.ratio)
	wide := float64(e.to-e.from) * k
	title, id := s.say("From above"), "piece-"+strconv.Itoa(p.index+1)
	if below {
		title, id = s.say("From below, turned end over end, at the same scale: what is cut into the underside"), id+"-below"
	}
	if s.o.Narrow {
		id += "-narrow"
	} else if s.o.Screen {
		id += "-screen"
	}
	top := s.Paragraph(s.frame, s.frame-pen.Head*0.3, s.width, title, pen.Letters{Size: pen.Head, Bold: true})
	s.ground.edge.y0 = top
	switch {
	case below:
		top += 4
	case e.to-e.wallTo > s.least64() || e.wallFrom-e.from > s.least64():
		top += 15 // a second line of dimensions
	default:
		top += 9
	}
	left := s.frame + (s.width-wide)/2
	s.at = func(px, py measure.Length) pen.Point {
		dx, dy := px-a.X, py-a.Y
		along := float64(dx*ux+dy*uy-e.from) * k
		if p.turn < 0 {
			along = wide - along
		}
		return pen.At(left+along, top+float64(dx*rx+dy*ry)*k)
	}
	s.ground.edge = box{s.frame, s.ground.edge.y0, s.frame + s.width, top + float64(depth)*k + 34}
	s.layOut()
	for _, q := range s.est.Runs[p.index].Piece.Outline {
		dx, dy := q.X-a.X, q.Y-a.Y
		p.local = append(p.local, local{dx*ux + dy*uy - e.from, depth - (dx*rx + dy*ry)})
	}
	p.find()
	if below {
		p.underside()
	} else {
		p.sizes()
	}
	y := s.ground.bottom() + 3
	s.grain(p.index)
	for _, h := range p.holes {
		look := pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White}
		s.Poly(h.outline, false, look)
	}
	r := &s.runs[p.index]
	s.Poly(r.outline, false, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	s.crooked(p.index)
	for n := range p.holes {
		s.openings(&p.holes[n])
	}
	if !below {
		y = s.ScaleBar(s.frame, y, s.width, s.ratio, s.inches(), !s.o.Narrow && !s.o.Screen, s.o.Speech)
	}
	s.Append(&s.notes)
	return s.Document(s.width+2*s.frame, y, id, s.say("Piece %s", s.name(p.index))+": "+title,
		s.say("Lengths in %s.", s.unit()))
}

// find puts the piece and its cut-outs on the ground.
func (p *piece) find() {
	s, r := p.sheet, &p.runs[p.index]
	s.Poly(r.outline, false, pen.Stroke{Fill: pen.Wood})
	for k, q := range r.outline {
		s.ground.line(q, r.outline[(k+1)%len(r.outline)])
	}
	for i := range s.est.Cutouts {
		h, ok := s.hole(&s.est.Cutouts[i])
		if !ok || h.run != p.index {
			continue
		}
		p.holes = append(p.holes, h)
	}
	s.void(p.holes)
}

// tip is the place on the wall's line over the piece's tip at its start or end.
func (p *piece) tip(end bool) pen.Point {
	r := &p.runs[p.index]
	if end {
		return move(r.wall[0], r.along, float64(r.piece.to)/float64(p.ratio))
	}
	return move(r.wall[0], r.along, float64(r.piece.from)/float64(p.ratio))
}
