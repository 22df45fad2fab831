package plan

import (
	"seamwright/service/base"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// baseOf is what is told of run i's base; nil when nothing is.
func (s *sheet) baseOf(i int) *estimate.BaseRun {
	if s.est.Base == nil {
		return nil
	}
	for k := range s.est.Base.Runs {
		if b := &s.est.Base.Runs[k]; b.Run == s.est.Runs[i].Name {
			return b
		}
	}
	return nil
}

// stands draws what stands under run i, as seen through the slab: dashed what carries it, heavier what comes with the top, dotted an
// appliance, which only fills its bay. It reports whether there is anything.
func (s *sheet) stands(to *pen.Pen, i int) (any bool) {
	b := s.baseOf(i)
	if b == nil {
		return false
	}
	scale := 1 / float64(s.ratio)
	r, depth := &s.runs[i], s.est.Runs[i].Depth
	on := func(along, front measure.Length) pen.Point {
		return move(move(r.wall[0], r.along, float64(along)*scale), r.room, float64(depth-front)*scale)
	}
	for k := range b.Parts {
		part := &b.Parts[k]
		look := pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "3 1.2"}
		switch part.Kind {
		case base.Open:
			continue
		case base.Appliance:
			look.Dash = "0.4 1"
		case base.Cabinet, base.Legs, base.Bracket, base.Batten:
		}
		if part.Supplied {
			look.Width, look.Dash = 0.4, "1.8 0.8"
		}
		back := part.Front + part.Depth
		s.ring(to, []pen.Point{on(part.From, part.Front), on(part.To, part.Front), on(part.To, back), on(part.From, back)}, look)
		any = true
	}
	return any
}

// supplies reports whether something of the base comes with the top.
func (s *sheet) supplies() bool { return s.est.Base != nil && len(s.est.Base.Props) > 0 }

// below draws the base on the plan, and says what its lines mean.
func (s *sheet) below() {
	any := false
	for i := range s.runs {
		any = s.stands(&s.notes, i) || any
	}
	if any {
		s.legend = append(s.legend, s.belowText(s.say("Dashed: what carries the top, seen through it; dotted: an appliance, which carries nothing.")))
	}
}

func (s *sheet) belowText(text string) string {
	if s.supplies() {
		return text + " " + s.say("Heavy and dashed: what comes with the top.")
	}
	return text
}

// standsBelow draws what stands under the piece.
func (p *piece) standsBelow() {
	if p.sheet.stands(&p.sheet.notes, p.index) {
		p.out.Marks = append(p.out.Marks, p.sheet.belowText(p.sheet.say("Dashed: what carries the piece; dotted: an appliance, which carries nothing.")))
	}
}

// baseRows are the rows of what stands under the runs, the first naming the columns.
func (s *sheet) baseRows() [][]string {
	rows := [][]string{{s.say("run"), s.say("base"), s.say("from"), s.say("to"), s.say("behind the front"), s.say("depth")}}
	for i := range s.est.Runs {
		b := s.baseOf(i)
		if b == nil {
			continue
		}
		for k := range b.Parts {
			p := &b.Parts[k]
			kind, front, depth := s.say(baseWords[p.Kind]), "–", "–"
			if p.Kind != base.Open {
				front, depth = s.text(p.Front), s.text(p.Depth)
			}
			if p.Supplied {
				kind = s.say("%s, with the top", kind)
			}
			rows = append(rows, []string{b.Run, kind, s.text(p.From), s.text(p.To), front, depth})
		}
	}
	return rows
}

var baseWords = map[base.Kind]string{base.Cabinet: "cabinet", base.Open: "open bay", base.Appliance: "appliance", base.Legs: "legs",
	base.Bracket: "bracket", base.Batten: "batten"}
