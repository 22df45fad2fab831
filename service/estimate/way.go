package estimate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
)

// Carrying is how a top gets to its place along the way that the site has.
type Carrying struct {
	Advice    Advice
	Text      string
	Clearance measure.Length
	Pieces    []Carried
	Joined    *Carried // the top joined in the shop; nil of one run
	Vehicle   Vehicle
}

// Advice is what follows from the way.
type Advice string

// The advices.
const (
	CarryJoined Advice = "carry_joined"  // the joined top passes: it may be joined in the shop
	CarryPieces Advice = "join_on_site"  // the pieces pass, the joined top does not
	CarryWhole  Advice = "carry_whole"   // a straight top's one piece passes
	CarrySplit  Advice = "split"         // a piece is too long: it passes in parts
	CarryCannot Advice = "does_not_pass" // too deep or too thick, or nowhere to be split
)

// mostParts is into how many parts a piece is split.
const mostParts = 8

// Carried is what the way says of a piece, or of the joined top, as the box that holds it.
type Carried struct {
	Run    string // empty: the joined top
	Size   passage.Piece
	Passes bool
	Way    []WayStep
	// Splits are where to split a piece that is too long, along the run from its start; none when that does not help.
	Splits []measure.Length
}

// Vehicle is what the load takes: the longest and the deepest thing carried.
type Vehicle struct {
	Longest measure.Length // of the pieces
	Load    measure.Length // length of what is loaded: the joined top when it is joined in the shop
	Width   measure.Length // its depth
}

// resolveWay looks at the way before any joint is chosen: a joined top that does not pass is joined on site.
func (w *work) resolveWay() error {
	s := &w.order.Site
	if len(s.Way) == 0 {
		return nil
	}
	if err := passage.Check(s.Way, w.units); err != nil {
		return err
	}
	if w.walk == nil {
		w.walk = &passage.Walk{Steps: w.wayOf(s.Way, s.Clearance, "/site/way", "/site/clearance")}
	}
	if len(w.corners) == 0 || s.MustComeApart {
		return nil
	}
	w.joints = w.joints[:0]
	for i := range w.corners {
		w.joints = append(w.joints, w.jointAt(i, plan.Joint{Kind: plan.Butt, Through: plan.First}))
	}
	l, err := w.layouts.lay(w)
	if err != nil {
		return nil // what cannot be laid out is refused when its corners are chosen
	}
	if joined := w.joined(l); !joined.Passes {
		s.MustComeApart = true
		w.assume("/site/must_come_apart", true, "joined, the top does not pass "+firstStop(joined.Way)+
			": its pieces are joined on site")
	}
	return nil
}

// firstStop names the first step that stops something.
func firstStop(way []WayStep) string {
	for i := range way {
		if !way[i].Passes {
			return nameOfStep(way[i].Kind, i)
		}
	}
	return "the way"
}

func nameOfStep(kind passage.Kind, i int) string {
	return numbered("step ", i+1) + " of the way (" + string(kind) + ")"
}

// joined is the whole top, joined, on its way: as the box round it that passes, or else the least one. Through a door a top
// of two runs may also go flat, one leg after the other, turned about its inner corner.
//
// The outline is the same whatever the joints, so it is looked at once.
func (w *work) joined(l *plan.Layout) Carried {
	if w.together != nil {
		return *w.together
	}
	var best Carried
	var seen []passage.Piece
	least := measure.Area(math.Inf(1))
	around := w.beforeScribing(l)
	for i := range l.Outline {
		length, depth := plan.Extents(around, l.Outline[i], l.Outline[(i+1)%len(l.Outline)])
		c := Carried{Size: passage.Piece{Length: max(length, depth), Depth: min(length, depth), Thickness: w.order.Top.Thickness}}
		if slices.ContainsFunc(seen, func(p passage.Piece) bool { return p.Length.Near(c.Size.Length) && p.Depth.Near(c.Size.Depth) }) {
			continue // edges that lie along each other have one box
		}
		seen = append(seen, c.Size)
		c.Way, c.Passes = w.verdicts(c.Size, w.walk)
		w.turnedThroughDoors(&c, l)
		if area := measure.Area(length) * measure.Area(depth); c.Passes && !best.Passes ||
			c.Passes == best.Passes && area < least-1 {
			best, least = c, area
		}
	}
	if !w.quiet {
		best.tell(w.walk, w.units)
	}
	w.together = &best
	return best
}

// beforeScribing are the points of the whole top with what will be scribed off it.
func (w *work) beforeScribing(l *plan.Layout) []plan.Point {
	if w.crooked == nil {
		return l.Outline
	}
	points := slices.Clone(l.Outline)
	for i := range w.runs {
		c, depth := &w.crooked[i], w.runs[i].Depth
		for _, in := range [2]measure.Length{0, depth} {
			from, to := l.Span(i, in)
			if in > 0 {
				in += greatest(c.wall)
			}
			points = append(points, l.Place(i, from-greatest(c.start), in), l.Place(i, to+greatest(c.end), in))
		}
	}
	return points
}

// turnedThroughDoors lets a top of two runs pass doors flat, one leg after the other: turned about its inner corner, beside
// the frame, no line through the wood from there is longer than the one to the outer corner.
//
// Source: plane geometry (of the points of two straight edges, their common end lies furthest from a point between their
// perpendiculars).
func (w *work) turnedThroughDoors(c *Carried, l *plan.Layout) {
	if c.Passes || len(w.runs) != 2 || w.corners[0].inLine != nil {
		return
	}
	across := l.Outline[1].Distance(l.Front[1]) // wall corner to front corner
	if w.crooked != nil {
		across += greatest(w.crooked[0].wall) + greatest(w.crooked[1].wall)
	}
	c.Passes = true
	for i := range c.Way {
		door := &w.walk.Steps[i]
		if s := &c.Way[i]; !s.Passes && door.Kind == passage.Door && across <= door.Width && c.Size.Thickness <= door.Height {
			s.Passes, s.Hold, s.Longest = true, passage.Turned, passage.Unlimited
			s.How = "Flat, one leg after the other, turned about its inner corner it passes the door, if there is room for its legs on both sides."
		}
		c.Passes = c.Passes && c.Way[i].Passes
	}
}

// carriedBox is the box of run i's piece on its way: it is scribed where it will lie, and carried there before.
func (w *work) carriedBox(i int, l *plan.Layout) passage.Piece {
	return passage.Piece{Length: w.shapeOf(i, l).long, Depth: w.blankDepth(i), Thickness: w.order.Top.Thickness}
}

// carrying says how the chosen top gets to its place; nil when no way is known.
func (w *work) carrying(l *plan.Layout) *Carrying {
	if w.walk == nil {
		return nil
	}
	c := &Carrying{Clearance: w.order.Site.Clearance}
	all := true
	for i := range w.runs {
		p := Carried{Run: w.runs[i].Name, Size: w.carriedBox(i, l)}
		p.Way, p.Passes = w.through(p.Size, w.walk)
		if !p.Passes {
			p.Splits = w.splits(i, longestOf(p.Way)-(p.Size.Length-l.Pieces[i].Extent), l)
			w.warnOfPiece(&p)
		}
		w.warnTight(&p)
		all = all && p.Passes
		c.Pieces = append(c.Pieces, p)
		c.Vehicle.Longest = max(c.Vehicle.Longest, p.Size.Length)
		c.Vehicle.Width = max(c.Vehicle.Width, p.Size.Depth)
	}
	c.Vehicle.Load = c.Vehicle.Longest
	if len(w.runs) > 1 {
		joined := w.joined(l)
		c.Joined = &joined
	}
	w.advise(c, all)
	return c
}

// advise says what follows from the way, in plain sentences.
func (w *work) advise(c *Carrying, all bool) {
	switch {
	case !all:
		c.Advice, c.Text = CarrySplit, "Not every piece passes the way."
		for i := range c.Pieces {
			p := &c.Pieces[i]
			if p.Passes {
				continue
			}
			if p.Splits == nil {
				c.Advice = CarryCannot
			}
			c.Text += " " + w.splitText(p)
		}
		return
	case c.Joined == nil:
		c.Advice, c.Text = CarryWhole, "The top passes the way in one piece."
	case c.Joined.Passes && !w.order.Site.MustComeApart:
		c.Advice, c.Text = CarryJoined, "The joined top passes the way, so it may be joined in the shop."
		c.Vehicle.Load, c.Vehicle.Width = c.Joined.Size.Length, c.Joined.Size.Depth
	case c.Joined.Passes:
		c.Advice = CarryPieces
		c.Text = "The pieces pass the way and are joined on site, as the order says; joined, the top would pass too."
	default:
		c.Advice = CarryPieces
		c.Text = "Join it on site: every piece passes the way, but the joined top does not pass " +
			firstStop(c.Joined.Way) + "."
	}
	c.Text += " The vehicle must take " + w.phraseUp(c.Vehicle.Load) + " × " + w.phraseUp(c.Vehicle.Width) + "."
}

// splitText says what becomes of a piece that does not pass.
func (w *work) splitText(p *Carried) string {
	longest := longestOf(p.Way)
	if longest <= 0 {
		return "Run " + p.Run + " is too deep or too thick for the way, whatever its length."
	}
	text := "Run " + p.Run + " (" + w.phrase(p.Size.Length) + ") is too long: at most " + w.phraseDown(longest) + " passes."
	if p.Splits == nil {
		return text + " There is no place to split it."
	}
	at := make([]string, len(p.Splits))
	for i, s := range p.Splits {
		at[i] = w.phrase(s)
	}
	text += " Split it at " + strings.Join(at, " and ") + " from its start."
	if passesRaised(p) {
		text += " With one end raised at the turn it passes in one piece; try that with a batten first."
	}
	return text
}

// passesRaised reports whether every step that a piece does not pass level is a turn that it passes with one end raised.
func passesRaised(p *Carried) bool {
	for i := range p.Way {
		if s := &p.Way[i]; !s.Passes && (s.Kind != passage.Turn || s.EndUp < p.Size.Length) {
			return false
		}
	}
	return true
}

// longestOf is the longest piece that passes all steps.
func longestOf(way []WayStep) measure.Length {
	longest := passage.Unlimited
	for i := range way {
		longest = min(longest, way[i].Longest)
	}
	return longest
}

func (w *work) warnOfPiece(p *Carried) {
	w.warn(doesNotPass, Serious, "/site/way", w.splitText(p)+orderInParts)
}

// tightest is how much shorter than the longest a piece is to be, so that the tape and hands have room. Common practice.
const tightest = measure.Inch

// warnTight says where a piece passes, but only just, or only with a turn in a door.
func (w *work) warnTight(p *Carried) {
	for i := range p.Way {
		s := &p.Way[i]
		switch {
		case !s.Passes:
		case s.Longest-p.Size.Length < tightest:
			w.warn("tight_passage", Caution, numbered("/site/way/", i), fmt.Sprintf("Run %s passes %s with only %s to spare. Measure again, and try it with a batten of %s.",
				p.Run, nameOfStep(s.Kind, i), w.phraseDown(max(0, s.Longest-p.Size.Length)), w.phrase(p.Size.Length)))
		case s.Kind == passage.Lift && p.Size.Length > s.Straight:
			w.warn("turned_into_lift", Caution, numbered("/site/way/", i), fmt.Sprintf("Run %s passes %s only when it is turned up on its way through the door; straight in, %s does. Measure again, and try it with a batten of %s.",
				p.Run, nameOfStep(s.Kind, i), w.phraseDown(s.Straight), w.phrase(p.Size.Length)))
		}
	}
}

// splits are the places at which run i's piece is divided so that no part is longer than a length: as few as may be, as
// near to equal parts as may be, clear of cut-outs by the rail that they need, and of corners: a cut there would run into
// the seam. They count along the run from its start; nil when no places are found.
func (w *work) splits(i int, longest measure.Length, l *plan.Layout) []measure.Length {
	from, to := l.Tips(i)
	if longest <= 0 || longest == passage.Unlimited {
		return nil
	}
	far, near := w.splitPlaces(i, besideCorner, l), w.splitPlaces(i, w.set.RailLeast, l)
	for n := int(math.Ceil(float64((to - from) / longest))); n <= mostParts; n++ {
		for _, places := range [2][]measure.Length{far, near} {
			if at := divide(places, from, to, longest, n); at != nil {
				return at
			}
		}
	}
	return nil
}

// splitPlaces are where run i's piece may be split: where it has its whole depth, so far beside a corner.
func (w *work) splitPlaces(i int, beside measure.Length, l *plan.Layout) (places []measure.Length) {
	const grid = 5 * measure.Millimetre
	from, to := l.Tips(i)
	first, last := from+w.set.RailLeast, to-w.set.RailLeast
	inner, outer := w.fullDepth(i, l)
	if i > 0 {
		first = max(first, inner+beside)
	}
	if i < len(w.corners) {
		last = min(last, outer-beside)
	}
	for at := first; at <= last; at += grid {
		if w.clearOfCutouts(i, at) {
			places = append(places, at)
		}
	}
	return places
}

// clearOfCutouts reports whether a cut across run i keeps the rail beside each of its cut-outs.
func (w *work) clearOfCutouts(i int, at measure.Length) bool {
	for k := range w.cutouts {
		if c := &w.cutouts[k]; c.run == i && at > c.from-w.set.RailLeast && at < c.to+w.set.RailLeast {
			return false
		}
	}
	return true
}

// divide divides a stretch into n parts at some of the places, each no longer than a length; of all such, each place is the
// one nearest to equal parts that the ones before and what is left allow. Nil when there is none.
func divide(places []measure.Length, from, to, longest measure.Length, n int) []measure.Length {
	if n < 2 {
		return nil
	}
	// From the end: the least place from which k parts reach the end, for each k.
	reach := make([]measure.Length, n)
	reach[1] = to - longest
	for k := 2; k < n; k++ {
		reach[k] = measure.Length(math.Inf(1))
		for _, p := range places {
			if p >= reach[k-1] {
				reach[k] = p - longest
				break
			}
		}
	}
	at, last := make([]measure.Length, 0, n-1), from
	for k := n - 1; k >= 1; k-- {
		ideal := last + (to-last)/measure.Length(k+1)
		best := measure.Length(math.Inf(1))
		for _, p := range places {
			if p > last && p <= last+longest && p >= reach[k] && magnitude(p-ideal) < magnitude(best-ideal) {
				best = p
			}
		}
		if math.IsInf(float64(best), 1) {
			return nil
		}
		at, last = append(at, best), best
	}
	return at
}
