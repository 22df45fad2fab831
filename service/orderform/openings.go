package orderform

import (
	"fmt"
	"strconv"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// openingsFit refuses, as Impossible, an opening that does not lie within its side, with the measures that would do. Whether it keeps
// clear of where the sides meet is seen when the top is laid out.
func (f *Form) openingsFit(r *Request) (wrong fault.List) {
	for i := range r.Openings {
		o := &r.Openings[i]
		if o.Side < 1 || o.Side > len(r.Sides) {
			continue // Check says so
		}
		s := &r.Sides[o.Side-1]
		side := strconv.Itoa(o.Side)
		refuse := func(field, detail string) {
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/openings/%d/%s", i, field),
				Detail: detail})
		}
		switch {
		case o.Long > s.Long+slack:
			refuse("long", f.say("This opening is longer than side %s, which is %s.", side, f.phrase(s.Long)))
		case o.FromLeft+o.Long > s.Long+slack:
			refuse("from_left", f.say("This opening would end at %s, and side %s is %s long: it can begin at most %s from the left end.",
				f.phrase(o.FromLeft+o.Long), side, f.phrase(s.Long), f.phraseAs(s.Long-o.Long, measure.Most)))
		}
		if o.Shape == round && (o.Deep-o.Long > slack || o.Long-o.Deep > slack) {
			refuse("deep", f.say("A round opening is as deep as it is long: give its width twice."))
		}
		if o.Mount == apron && o.Shape != "" && o.Shape != rectangle {
			refuse("shape", f.say("What has a front of its own stands in a rectangular opening."))
		}
		switch {
		case o.Deep >= s.Deep-slack:
			refuse("deep", f.say("This opening would cut side %s in two, which is %s deep.", side, f.phrase(s.Deep)))
		case o.FromFront != nil && *o.FromFront+o.Deep > s.Deep+slack:
			refuse("from_front", f.say("This opening would reach %s back, and side %s is %s deep: it can begin at most %s from the front.",
				f.phrase(*o.FromFront+o.Deep), side, f.phrase(s.Deep), f.phraseAs(s.Deep-o.Deep, measure.Most)))
		}
	}
	return wrong
}

// Words of the form that ask for more than a look at the catalogue.
const (
	rectangle = "rectangle"
	round     = "round"
	apron     = "apron"
)

// plain reports whether an opening is one of which nothing is said: a rectangle under a rim.
func (o *Opening) plain() bool {
	return (o.Shape == "" || o.Shape == openingShapes[0].Word) && (o.Mount == "" || o.Mount == mounts[0].Word)
}
