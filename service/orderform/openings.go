package orderform

import (
	"fmt"

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
		refuse := func(field, detail string, values ...any) {
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/openings/%d/%s", i, field), Detail: fmt.Sprintf(detail, values...)})
		}
		switch {
		case o.Long > s.Long+slack:
			refuse("long", "This opening is longer than side %d, which is %s.", o.Side, f.phrase(s.Long))
		case o.FromLeft+o.Long > s.Long+slack:
			refuse("from_left", "This opening would end at %s, and side %d is %s long: it can begin at most %s from the left end.",
				f.phrase(o.FromLeft+o.Long), o.Side, f.phrase(s.Long), f.phraseAs(s.Long-o.Long, measure.Most))
		}
		switch {
		case o.Deep >= s.Deep-slack:
			refuse("deep", "This opening would cut side %d in two, which is %s deep.", o.Side, f.phrase(s.Deep))
		case o.FromFront != nil && *o.FromFront+o.Deep > s.Deep+slack:
			refuse("from_front", "This opening would reach %s back, and side %d is %s deep: it can begin at most %s from the front.",
				f.phrase(*o.FromFront+o.Deep), o.Side, f.phrase(s.Deep), f.phraseAs(s.Deep-o.Deep, measure.Most))
		}
	}
	return wrong
}
