package options

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/options"
	"seamwright/service/plan"
)

// body is a request for a set as it is sent.
type body struct {
	order estimate.Order
	lists options.Lists
	by    options.Criterion
}

// sent reads a request that holds the request for an estimate.
func (s *room) sent(c *web.Call) (asked, error) {
	b, err := web.Read(c, func(o *wire.Object) body {
		part := o.Child("estimate")
		o.MeasuredIn(part.Text("units"))
		return readLists(o, body{order: estimates.ReadOrder(part)})
	})
	if err != nil {
		return asked{}, err
	}
	return b.asked()
}

// ofQuote reads a request about an offer that is kept.
func (s *room) ofQuote(c *web.Call) (asked, error) {
	request, err := s.stored(c.Ctx(), c.Param("id"), c.Number("revision"))
	if err != nil {
		return asked{}, err
	}
	order, err := estimates.KeptOrder([]byte(request))
	if err != nil {
		return asked{}, fault.At("/estimate", err)
	}
	b, err := web.Read(c, func(o *wire.Object) body {
		o.MeasuredIn(order.Units.String())
		return readLists(o, body{order: order})
	})
	if err != nil {
		return asked{}, err
	}
	return b.asked()
}

func readLists(o *wire.Object, b body) body {
	for _, word := range o.Words("joints") {
		b.lists.Joints = append(b.lists.Joints, plan.JointKind(word))
	}
	b.lists.Species, b.lists.Thicknesses, b.lists.Finishes = o.Words(
		"species",
	), o.Lengths(
		"thicknesses",
	), o.Words(
		"finishes",
	)
	b.by = options.CriterionOf(o.Text("rank_by"))
	return b
}

func (b *body) asked() (asked, error) {
	wishes, err := options.Combine(&b.order, &b.lists)
	return asked{wishes, b.by}, err
}
