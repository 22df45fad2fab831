package orderform

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Request is what a customer asks for, in the words of the form. Empty words take the form's first choice.
type Request struct {
	Units     measure.System
	Shape     string
	Sides     []Side
	Corners   []measure.Angle // none: all square
	TurnsLeft bool
	Wood      string
	Thickness string
	FrontEdge string
	Finish    string
	Room      string
	Openings  []Opening
	Below     []Below
}

// Side is one stretch along a wall.
type Side struct{ Long, Deep measure.Length }

// Opening is a hole for a sink or the like. FromFront nil puts it in the middle of the depth, one that has a front of its
// own at the front. Shape and Mount are words of the form; empty ones take the first.
type Opening struct {
	Shape, Mount string
	For          string
	Side         int // from 1
	Long         measure.Length
	Deep         measure.Length
	FromLeft     measure.Length // from the side's left end, as one who stands before it sees it
	FromFront    *measure.Length
}

// slack is how far a measure may be off a limit by the noise of conversion.
const slack = 1e-6 * measure.Millimetre

// Check holds a request against what is on offer. Its faults say what the form's schema says: a request that passes
// is one that the schema accepts.
func (f *Form) Check(r *Request) error {
	var wrong fault.List
	refuse := func(pointer, detail string) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: detail})
	}
	choose := func(pointer, word string, from []string, needed bool) {
		if word == "" && !needed {
			return
		}
		for _, w := range from {
			if w == word {
				return
			}
		}
		refuse(pointer, f.say("This is not on offer. Choose one of: %s.", strings.Join(from, ", ")))
	}
	choose("/shape", r.Shape, wordsOf(f.Shapes), true)
	choose("/wood", r.Wood, wordsOf(f.Woods), true)
	choose("/thickness", r.Thickness, f.thicknessWords(), true)
	choose("/front_edge", r.FrontEdge, wordsOf(f.Edges), false)
	choose("/finish", r.Finish, wordsOf(f.Finishes), false)
	choose("/room", r.Room, wordsOf(f.Rooms), false)
	sides := sidesOf(r.Shape)
	if sides > 0 && len(r.Sides) != sides {
		refuse("/sides", f.say("This shape has %s; %s given.", f.sides(sides), strconv.Itoa(len(r.Sides))))
	}
	if n := len(r.Corners); sides > 0 && n > 0 && n != sides-1 {
		refuse("/corners", f.say("This shape has %s; %s given. Leave corners out when they are square.",
			f.corners(sides-1), strconv.Itoa(n)))
	}
	for i, s := range r.Sides {
		f.within(refuse, fmt.Sprintf("/sides/%d/long", i), s.Long, f.LeastLength, f.MostLength)
		f.within(refuse, fmt.Sprintf("/sides/%d/deep", i), s.Deep, f.LeastDepth, f.MostDepth)
	}
	for i, o := range r.Openings {
		choose(fmt.Sprintf("/openings/%d/shape", i), o.Shape, wordsOf(openingShapes), false)
		choose(fmt.Sprintf("/openings/%d/mount", i), o.Mount, wordsOf(mounts), false)
		if sides > 0 && (o.Side < 1 || o.Side > sides) {
			refuse(fmt.Sprintf("/openings/%d/side", i), f.say("This shape has %s; name one of them by its number.",
				f.sides(sides)))
		}
	}
	for i, b := range r.Below {
		choose(fmt.Sprintf("/base/%d/kind", i), b.Kind, wordsOf(f.Below), true)
		if sides > 0 && (b.Side < 1 || b.Side > sides) {
			refuse(fmt.Sprintf("/base/%d/side", i), f.say("This shape has %s; name one of them by its number.",
				f.sides(sides)))
		}
	}
	return wrong.Err()
}

// Fits refuses, as Impossible, a side that is deeper than long, one that ends within its corners (then there is no front edge left, and
// no corner to speak of), and an opening or what stands below that does not lie within its side. From the corner of the walls to the inner corner it is, along a wall,
//
//	(d' + d·cos θ) / sin θ
//
// with the side's own depth d, its neighbour's d′ and the angle θ between them (plane trigonometry).
func (f *Form) Fits(r *Request) error {
	var wrong fault.List
	for i, s := range r.Sides {
		if s.Deep > s.Long+slack {
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/sides/%d/deep", i),
				Detail: f.say("This side is deeper (%s) than it is long (%s). Give the longer measure as its length.",
					f.phrase(s.Deep), f.phrase(s.Long))})
			continue
		}
		var taken measure.Length
		ends := 0                                // of the side that lie in a corner
		for _, corner := range []int{i - 1, i} { // before and behind the side
			if corner < 0 || corner >= len(r.Sides)-1 {
				continue
			}
			theta := 90 * measure.Degree
			if len(r.Corners) > corner {
				theta = r.Corners[corner]
			}
			other := r.Sides[2*corner+1-i]
			ends++
			taken += measure.Length((float64(other.Deep) + float64(s.Deep)*theta.Cos()) / theta.Sin())
		}
		if taken > 0 && s.Long <= taken+slack {
			detail := "This side is too short for its corner: it must be longer than %s, or nothing of its front is left."
			if ends > 1 {
				detail = "This side is too short for its two corners: it must be longer than %s, or nothing of its front is left."
			}
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/sides/%d/long", i),
				Detail: f.say(detail, f.phraseAs(taken, measure.Least))})
		}
	}
	return append(append(wrong, f.openingsFit(r)...), f.belowFits(r)...).Err()
}

func (f *Form) within(refuse func(pointer, detail string), pointer string, l, least, most measure.Length) {
	if l < least-slack || l > most+slack {
		refuse(pointer, f.say("%s is outside of what we make: %s to %s. Ask us about other sizes.", f.phrase(l),
			f.phrase(least), f.phrase(most)))
	}
}

func (f *Form) phrase(l measure.Length) string { return f.phraseAs(l, measure.Measured) }

func (f *Form) phraseAs(l measure.Length, size measure.Size) string {
	return f.speech.Phrase(l.TextAs(f.Units, size) + " " + f.Units.String())
}

func (f *Form) sides(n int) string {
	if n == 1 {
		return f.say("1 side")
	}
	return f.say("%s sides", strconv.Itoa(n))
}

func (f *Form) corners(n int) string {
	switch n {
	case 0:
		return f.say("no corner")
	case 1:
		return f.say("1 corner")
	}
	return f.say("%s corners", strconv.Itoa(n))
}

func sidesOf(shape string) int {
	for i := range shapes {
		if shapes[i].Word == shape {
			return i + 1
		}
	}
	return 0
}

func (f *Form) thicknessWords() []string {
	words := make([]string, len(f.Thicknesses))
	for i, t := range f.Thicknesses {
		words[i] = t.Word
	}
	return words
}

func orFirst(word string, choices []Choice) Choice {
	if c, ok := find(choices, word); ok {
		return c
	}
	return choices[0]
}

// chosen is a request with every word looked up.
type chosen struct {
	wood, edge, finish, room Choice
	thickness                Thickness
}

func (f *Form) chosen(r *Request) chosen {
	c := chosen{orFirst(r.Wood, f.Woods), orFirst(r.FrontEdge, f.Edges), orFirst(r.Finish, f.Finishes),
		orFirst(r.Room, f.Rooms), f.Thicknesses[0]}
	for _, t := range f.Thicknesses {
		if t.Word == r.Thickness {
			c.thickness = t
		}
	}
	return c
}

// Order returns the request for an estimate, in the form of POST /v1/estimates, that a checked request means.
func (f *Form) Order(r *Request) map[string]any {
	c := f.chosen(r)
	length := func(l measure.Length) float64 { return measure.Round(l.In(r.Units), 9) }
	runs := make([]any, len(r.Sides))
	corners := make([]any, 0, len(r.Sides))
	for i, s := range r.Sides {
		runs[i] = map[string]any{"name": runName(i), "length": length(s.Long), "depth": length(s.Deep)}
		if i > 0 {
			angle := 90.0
			if len(r.Corners) >= i {
				angle = measure.Round(r.Corners[i-1].Degrees(), 9)
			}
			corners = append(corners, map[string]any{"angle": angle})
		}
	}
	top := map[string]any{"species": c.wood.code, "thickness": length(c.thickness.exact), "hand": "right", "runs": runs,
		"edge": map[string]any{"profile": c.edge.code}}
	if len(corners) > 0 {
		top["corners"] = corners
	}
	from := "from_start"
	if r.TurnsLeft {
		top["hand"], from = "left", "from_end" // the plan is mirrored: the left end of a side is its run's end
	}
	if len(r.Openings) > 0 {
		cutouts := make([]any, len(r.Openings))
		for i, o := range r.Openings {
			front := (r.Sides[o.Side-1].Deep - o.Deep) / 2
			switch {
			case o.FromFront != nil:
				front = *o.FromFront
			case o.Mount == apron:
				front = 0
			}
			one := map[string]any{"run": runName(o.Side - 1), "kind": o.For, "length": length(o.Long),
				"depth": length(o.Deep), from: length(o.FromLeft), "from_front": length(max(front, 0))}
			if !o.plain() {
				one["shape"], one["mount"] = orFirst(o.Shape, openingShapes).Word, orFirst(o.Mount, mounts).Word
			}
			cutouts[i] = one
		}
		top["cutouts"] = cutouts
	}
	order := map[string]any{"units": r.Units.String(), "top": top, "finish": map[string]any{"system": c.finish.code},
		"moisture": map[string]any{"service": map[string]any{"profile": c.room.code}}}
	if len(r.Below) > 0 {
		order["base"], order["support"] = f.baseOf(r, length), map[string]any{"alternatives": false}
	}
	if f.Exact { // what is shown is what an offer of it costs
		order["pricing"] = map[string]any{"round_total_to": f.roundTo.String()}
	}
	return order
}

func runName(i int) string { return string(rune('A' + i)) }
