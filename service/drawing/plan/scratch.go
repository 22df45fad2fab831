package plan

import (
	"sync"

	"seamwright/service/drawing/pen"
)

// scratch is the paper that plans are drawn on, before they are written out: it is used again and again.
type scratch struct {
	wood, notes pen.Pen
	ground      ground
}

var scratches = sync.Pool{New: func() any {
	s := &scratch{}
	s.wood.Grow(64 << 10) // more than usual tops take
	s.notes.Grow(32 << 10)
	return s
}}

// take gives the sheet an empty paper.
func (s *sheet) take() {
	s.from = scratches.Get().(*scratch) //nolint:forcetypeassert // nothing else is put there
	s.from.wood.Reset()
	s.from.notes.Reset()
	g := &s.from.ground
	s.Pen, s.notes = s.from.wood, s.from.notes
	s.ground = ground{lines: g.lines[:0], boxes: g.boxes[:0], sizes: g.sizes[:0], cells: cells{list: g.cells.list[:0]}}
}

// leave gives the paper back, when nothing looks at it any more.
func (s *sheet) leave() {
	s.from.wood, s.from.notes, s.from.ground = s.Pen, s.notes, s.ground
	scratches.Put(s.from)
	s.from = nil
}
