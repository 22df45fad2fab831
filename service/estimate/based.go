package estimate

import (
	"fmt"
	"slices"

	"seamwright/service/base"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/service/support"
)

// BaseResult is what stands under a top, and whether it carries it.
type BaseResult struct {
	Loads Loads
	Holds bool // every strip does
	Runs  []BaseRun
	Seams []Blocking
	Props []Props       // that come with the top
	Ways  []Alternative // else to carry it; none where it is carried as it was told
}

// BaseRun is what stands under a run's piece, and the strips of the piece that carry themselves.
type BaseRun struct {
	Run       string
	OwnWeight measure.Pressure
	Parts     []base.Part // along the piece, without a gap, then battens, then brackets and legs under its front overhang
	Strips    []StripResult

	Appliances []ApplianceAir // below the piece
}

// StripResult is a strip under its load.
type StripResult struct {
	base.Strip
	Stiffness measure.Pressure
	Strength  measure.Pressure // 0: no source gives it
	support.Verdict
}

// baseLine is what stands along run i's piece in the middle of its depth, where strips along it are judged.
func (w *work) baseLine(i int, l *plan.Layout) base.Line {
	for k := range w.stood {
		if known := &w.stood[k]; known.layout == l && known.run == i {
			return known.line
		}
	}
	from, to := l.Span(i, w.runs[i].Depth/2)
	line := w.lay(i, from, to, frontEdge(i, l))
	w.stood = append(w.stood, lineOn{l, i, line})
	return line
}

// lineOn is what stands along a run's piece in one layout; candidates that differ in hardware alone share it.
type lineOn struct {
	layout *plan.Layout
	run    int
	line   base.Line
}

// underPiece is what stands under run i's piece anywhere: a slanting end reaches further at one edge than in the middle, and
// what it reaches over carries it and takes its fixings.
func (w *work) underPiece(i int, l *plan.Layout) []base.Part {
	from, to := l.Span(i, 0)
	for _, at := range []measure.Length{w.runs[i].Depth / 2, w.runs[i].Depth} {
		a, b := l.Span(i, at)
		from, to = min(from, a), max(to, b)
	}
	defer w.drawn.Release(w.drawn.Mark())
	line := w.lay(i, from, to, frontEdge(i, l))
	return slices.Concat(line.Parts, line.Battens, line.Props)
}

// lay is what stands along run i's piece, good as long as the bench.
func (w *work) lay(i int, from, to measure.Length, edge [2]measure.Length) base.Line {
	l := w.drawn.Lay(w.base.parts[i], from, to, w.runs[i].Depth, w.seamsOf(i))
	l.Edge = edge
	return l
}

// seamsOf reports whether run i's piece starts and ends at a seam.
func (w *work) seamsOf(i int) [2]bool { return [2]bool{i > 0, i < len(w.runs)-1} }

// frontEdge is from where to where the front edge of run i's piece goes.
func frontEdge(i int, l *plan.Layout) [2]measure.Length {
	from, to := l.Span(i, 0)
	return [2]measure.Length{from, to}
}

// stripsOn is what run i's strips depend on beside its line.
func (w *work) stripsOn(i int) base.Slab {
	return base.Slab{Spread: w.base.woods[i].spread, Rail: w.set.BaseRail, Hold: w.set.SeamHold, Holes: w.base.holes[i]}
}

// beam is a strip of run i under the loads, as POST /v1/deflections reckons it.
func (w *work) beam(i int, s *base.Strip) support.Beam {
	return support.Beam{Section: support.Section{Width: s.Width, Thickness: w.slabThickness()}, Wood: *w.woodOf(i, s),
		Kind: s.Support, Lengths: s.Lengths, Back: s.Back,
		Load: support.Load{Lasting: w.base.loads.Uniform + w.base.woods[i].own, Point: w.base.loads.Point}}
}

// woodOf is run i's wood as a strip bends it.
func (w *work) woodOf(i int, s *base.Strip) *support.Wood {
	if s.Direction == support.Across {
		return &w.base.woods[i].across
	}
	return &w.base.woods[i].along
}

// judgeStrip works a strip of run i out. Of a cabinet the stiffer way is the one that carries.
func (w *work) judgeStrip(i int, s *base.Way) (StripResult, *base.Way) {
	beam := w.beam(i, &s.Strip)
	r := StripResult{Strip: s.Strip, Stiffness: beam.Wood.Stiffness, Strength: beam.Wood.Strength, Verdict: w.bends.assess(beam, support.RulesOf(w.set))}
	if s.Instead != nil {
		if other, way := w.judgeStrip(i, s.Instead); other.Use() < r.Use() {
			return other, way
		}
	}
	return r, s
}

// holds reports whether a strip of run i does. A cabinet's slab does so in either way.
func (w *work) holds(i int, s *base.Way) bool {
	beam, rules := w.beam(i, &s.Strip), support.RulesOf(w.set)
	return w.bends.holds(&beam, &rules) || s.Instead != nil && w.holds(i, s.Instead)
}

// greatest is the longest length of a strip of run i that holds, on the width that goes with it; 0: beyond support.Longest.
func (w *work) greatest(i int, s *base.Way) measure.Length {
	longest := slices.Max(s.Lengths)
	rules, high := support.RulesOf(w.set), float64(support.Longest/longest)
	scale := 0.0
	if len(s.Lengths) == 1 {
		scale = w.greatestAlone(i, s, high, &rules)
	} else {
		scale = w.greatestOfSpans(i, s, high, rules)
	}
	if scale == high {
		return 0
	}
	return longest * measure.Length(scale)
}

// greatestAlone is the greatest scale, up to high, at which an overhang or a single span of run i holds.
func (w *work) greatestAlone(i int, s *base.Way, high float64, rules *support.Rules) float64 {
	beam := w.beam(i, &s.Strip)
	return support.Greatest(high, func(scale float64) float64 {
		w.bends.glance()
		length := s.Lengths[0] * measure.Length(scale)
		return beam.UseOf(length, s.WidthFor(length), rules)
	})
}

// greatestOfSpans is the same of several spans.
func (w *work) greatestOfSpans(i int, s *base.Way, high float64, rules support.Rules) float64 {
	var store [8]measure.Length
	lengths, beam := store[:0], w.beam(i, &s.Strip)
	return support.Greatest(high, func(scale float64) float64 {
		scaled := s.Scaled(scale, lengths)
		lengths, beam.Lengths, beam.Width = scaled.Lengths, scaled.Lengths, scaled.Width
		v := w.bends.assess(beam, rules)
		return v.Use()
	})
}

// based judges every strip of the top. A strip that would break is refused.
func (w *work) based(c *chosen) (*BaseResult, error) {
	if w.base == nil {
		return nil, nil
	}
	l := c.layout
	var wrong fault.List
	out := &BaseResult{Loads: w.base.loads, Holds: true}
	for i := range w.runs {
		if w.base.parts[i] == nil {
			continue
		}
		line := w.baseLine(i, l)
		if err := w.stands(i, &line); err != nil {
			wrong.Add("", err)
			continue
		}
		r := BaseRun{Run: w.runs[i].Name, OwnWeight: w.base.woods[i].own, Parts: w.underPiece(i, l)}
		w.assumeOpen(i, &line)
		slab := w.stripsOn(i)
		mark := w.drawn.Mark()
		strips := line.StripsIn(&w.drawn, &slab)
		r.Strips = make([]StripResult, len(strips))
		lengths := make([]measure.Length, 0, 2*len(strips)) // of the answer's own
		for k := range strips {
			s := &r.Strips[k]
			var way *base.Way
			*s, way = w.judgeStrip(i, &strips[k])
			lengths = append(lengths, s.Lengths...)
			s.Lengths = slices.Clip(lengths[len(lengths)-len(s.Lengths):])
			s.Greatest = w.greatest(i, way)
			out.Holds = out.Holds && s.Holds
			wrong.Add("", w.warnOfStrip(i, s, l))
			w.cite(w.woodOf(i, &s.Strip).Sources...)
		}
		w.drawn.Release(mark)
		w.warnUnknownStrength(i, r.Strips)
		r.Appliances = w.appliances(i, r.Parts)
		out.Runs = append(out.Runs, r)
	}
	out.Seams = w.blockings(l)
	out.Props = w.base.props
	w.warnProps()
	w.cite(source.BeamFormulas, source.WoodDensity, source.WoodEMC)
	return out, wrong.Err()
}

// stands refuses a piece that nothing carries, or one narrow carrier alone, on which it would tip.
func (w *work) stands(i int, line *base.Line) error {
	switch why := w.notCarried(i, line); {
	case why == "":
		return nil
	case line.Hangs():
		return impossible("/base", why, "Add the cabinets, legs or brackets that do.")
	default:
		return impossible("/base", why, "Add what carries its other end.")
	}
}

// notCarried says why run i's piece does not stand on its line; empty where it does.
func (w *work) notCarried(i int, line *base.Line) string {
	switch {
	case line.Hangs():
		return fmt.Sprintf("Nothing that is told carries the piece of run %s.", w.runs[i].Name)
	case line.Tips():
		return fmt.Sprintf("The piece of run %s would tip on the one narrow support that is told.", w.runs[i].Name)
	}
	return ""
}

// notCarriedWith says which piece at corner k stands on nothing as a layout has it; empty where both stand. One between two corners
// lies on its neighbours.
func (w *work) notCarriedWith(k int, l *plan.Layout) string {
	for i := k; i <= k+1; i++ {
		if !w.toldBase(i) || i > 0 && i < len(w.runs)-1 {
			continue
		}
		line := w.baseLine(i, l)
		if why := w.notCarried(i, &line); why != "" {
			return why
		}
	}
	return ""
}

// assumeOpen notes the stretches of a piece of which nothing is told.
func (w *work) assumeOpen(i int, line *base.Line) {
	for k := range line.Parts {
		if p := &line.Parts[k]; p.Place < 0 && p.Kind == base.Open && p.To-p.From > w.set.BaseRail {
			w.assume("/base", string(base.Open), fmt.Sprintf("nothing is said of what stands under run %s from %s to %s",
				w.runs[i].Name, w.phrase(p.From), w.phrase(p.To)))
		}
	}
}

// warnOfStrip warns of a strip that sags too far, and refuses one that would break.
func (w *work) warnOfStrip(i int, s *StripResult, l *plan.Layout) error {
	if s.Holds {
		return nil
	}
	at := "/base"
	if s.Place >= 0 {
		at = numbered("/base/", s.Place)
	}
	name := w.stripName(i, s)
	if s.StressLimit > 0 && s.Stress > s.StressLimit {
		return impossible(at, fmt.Sprintf("%s is dangerous: its bending stress would be %.0f %% of what is allowed. The greatest length that holds is %s.",
			name, 100*float64(s.Stress/s.StressLimit), w.phraseDown(s.Greatest)),
			w.wayOut(l))
	}
	w.warnOnce("support_sags", Serious, at, fmt.Sprintf("%s does not hold: it sags by %s in time, where %s is the most. The greatest length that holds is %s.",
		name, w.phraseUp(s.LongTerm), w.phraseDown(s.Limit), w.phraseDown(s.Greatest)))
	return nil
}

// wayOut says what would carry a top that is refused, in the layout at hand.
func (w *work) wayOut(l *plan.Layout) string {
	if w.carried != "" {
		return w.carried // several strips ask for the same
	}
	fix := "Carry the top more closely, or choose a stiffer wood."
	told := w.asTold()
	if thick, found := told.thickEnough(told.holdsOn(l)); found {
		if thick, found = w.onSale(thick); found {
			joined := ""
			if len(w.corners) > 0 { // at another thickness others may be better
				joined = " and these joints"
			}
			fix = "Carry the top more closely, make it thicker, or choose a stiffer wood."
			fix += fmt.Sprintf(" With what is told below it%s, %s of this wood would hold.", joined, w.phrase(thick))
		}
	}
	if w.order.Support.Add == AddNothing {
		fix += " Or let brackets or legs be added (support.add)."
	}
	w.carried = fix
	return fix
}

// stripName names a strip at the head of a sentence.
func (w *work) stripName(i int, s *StripResult) string {
	run, length := w.runs[i].Name, w.phrase(s.Lengths[s.Worst])
	switch {
	case s.Props && s.Side == base.AtFront:
		return fmt.Sprintf("The overhang of %s past the brackets or legs under the front of run %s", length, run)
	case s.Props && s.Side != "":
		return fmt.Sprintf("The overhang of %s beside the brackets or legs under the front of run %s", length, run)
	case s.Props:
		return fmt.Sprintf("The span of %s between the brackets or legs under the front of run %s", length, run)
	case s.Side == base.AtFront:
		return fmt.Sprintf("The overhang of %s past the front of run %s's base", length, run)
	case s.Side == base.AtWall:
		return fmt.Sprintf("The overhang of %s behind run %s's base", length, run)
	case s.Side == base.AtStart:
		return fmt.Sprintf("The overhang of %s past the base at the start of run %s", length, run)
	case s.Side == base.AtEnd:
		return fmt.Sprintf("The overhang of %s past the base at the end of run %s", length, run)
	case s.Direction == support.Across:
		return fmt.Sprintf("The span of %s across run %s", length, run)
	}
	return fmt.Sprintf("The span of %s along run %s", length, run)
}

// warnUnknownStrength says where only the sag was judged.
func (w *work) warnUnknownStrength(i int, strips []StripResult) {
	for k := range strips {
		s := &strips[k]
		if s.StressLimit <= 0 {
			w.warn("strength_unknown", Serious, numbered("/top/runs/", i),
				"No source here says how strong "+w.runs[i].species.Name+" is "+string(s.Direction)+
					" the grain: only its sag is judged. Keep well below the greatest length.")
			return
		}
	}
}
