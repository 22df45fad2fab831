package api

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/orderform"
)

// counterRoom is where customers ask.
type counterRoom struct {
	*webServer
	draft keepDraft
}

// keepDraft keeps the draft of an offer for the shop, in the transaction of ctx.
type keepDraft func(ctx context.Context, id string, d *Draft, cat *catalogue.Snapshot) error

// Draft is what an offer is made of that a customer asked for.
type Draft struct {
	Reference, Note    string
	ValidDays          int
	Name, Email, Phone string
	Request            []byte // for the estimate
	Estimate           *estimate.Estimate
}

// openCounter adds the operations of the order form. Draft keeps what the shop sees of a customer's request.
func openCounter(w *webServer, draft keepDraft) {
	s := &counterRoom{w, draft}
	s.serve("GET /v1/order-form", s.getOrderForm)
	s.serve("POST /v1/order-form/estimates", s.postOrderFormEstimate)
	s.serve("POST /v1/order-form/requests", s.postOrderFormRequest)
	s.serve("GET /v1/order-form/requests", s.listOrderFormRequests)
}

func (s *counterRoom) getOrderForm(c *Call) error {
	form, err := orderform.New(c.Cat, c.Units())
	if err != nil {
		return err
	}
	schema, err := json.Marshal(form.Schema())
	if err != nil {
		return err
	}
	return c.Current(func(w *writer) { w.orderForm(form, schema) })
}

func (s *counterRoom) postOrderFormEstimate(c *Call) error {
	wanted, err := readBody(c, readCustomer)
	if err != nil {
		return err
	}
	done, err := customerEstimate(wanted, c.Cat, s.Now())
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *writer) { w.customerAnswer(&done.answer) })
}

// customerDone is a customer's request, worked out.
type customerDone struct {
	order  []byte // the request for an estimate
	answer orderform.Answer
	form   *orderform.Form
	est    *estimate.Estimate
}

// customerEstimate works out a customer's request by way of an ordinary request for an estimate, which goes through the
// same reading as one from outside. Its faults are in the customer's words.
func customerEstimate(wanted orderform.Request, cat *catalogue.Snapshot, now time.Time) (*customerDone, error) {
	form, err := orderform.New(cat, wanted.Units)
	if err != nil {
		return nil, err
	}
	if !form.Open() {
		return nil, &fault.Fault{Kind: fault.Unavailable, Detail: "The order form is closed at the moment.", Fix: "Ask the shop."}
	}
	if err := form.Check(&wanted); err != nil {
		return nil, err
	}
	if err := form.Fits(&wanted); err != nil {
		return nil, err
	}
	order, err := json.Marshal(form.Order(&wanted))
	if err != nil {
		return nil, err
	}
	est, err := MakeEstimate(order, cat, now, false)
	if err != nil {
		return nil, orderform.Refusal(err)
	}
	return &customerDone{order, form.Answer(&wanted, est), form, est}, nil
}

func readCustomer(o *object) orderform.Request {
	o.reader.units = measure.Inches
	if o.text("units") == "mm" {
		o.reader.units = measure.Millimetres
	}
	return orderform.Request{
		Units: o.reader.units,
		Shape: o.text("shape"),
		Sides: each(o.children("sides"), func(o *object) orderform.Side {
			return orderform.Side{Long: o.length("long"), Deep: o.length("deep")}
		}),
		Corners: each(o.children("corners"), func(o *object) measure.Angle {
			return measure.Angle(o.number("angle")) * measure.Degree
		}),
		TurnsLeft: o.text("turns") == "left",
		Wood:      o.text("wood"),
		Thickness: o.text("thickness"),
		FrontEdge: o.text("front_edge"),
		Finish:    o.text("finish"),
		Room:      o.text("room"),
		Openings: each(o.children("openings"), func(o *object) orderform.Opening {
			left, _ := o.distance("from_left")
			return orderform.Opening{For: o.text("for"), Side: int(o.number("side")), Long: o.length("long"), Deep: o.length("deep"),
				FromLeft: left, FromFront: readDistance(o, "from_front")}
		}),
	}
}

func (w *writer) orderForm(f *orderform.Form, schema []byte) {
	w.open()
	w.text("units", f.Units.String())
	w.text("currency", f.Currency)
	w.bool("prices_include_tax", f.TaxIncluded)
	w.text("shows", map[bool]string{true: "exact", false: "range"}[f.Exact])
	w.int("valid_days", int64(f.ValidDays))
	w.openAt("limits")
	w.length("least_length", f.LeastLength)
	w.length("most_length", f.MostLength)
	w.length("least_depth", f.LeastDepth)
	w.length("most_depth", f.MostDepth)
	w.int("most_sides", int64(len(f.Shapes)))
	w.int("most_openings", orderform.MostOpenings)
	w.int("least_angle", orderform.LeastCorner)
	w.int("most_angle", orderform.MostCorner)
	w.close()
	w.openAt("choices")
	thicknesses := make([]orderform.Choice, len(f.Thicknesses))
	for i, t := range f.Thicknesses {
		thicknesses[i] = orderform.Choice{Word: t.Word, Title: t.Word + " " + f.Units.String()}
	}
	w.choices("shapes", f.Shapes)
	w.choices("turns", orderform.Turns)
	w.choices("woods", f.Woods)
	w.choices("thicknesses", thicknesses)
	w.choices("front_edges", f.Edges)
	w.choices("finishes", f.Finishes)
	w.choices("rooms", f.Rooms)
	w.choices("openings", f.Openings)
	w.close()
	w.openAt("texts")
	w.text("intro", f.Intro)
	w.text("included", f.Included)
	w.text("site_visit", f.SiteNote)
	w.text("next", f.Next)
	w.close()
	w.key("schema")
	w.buf = append(w.buf, schema...)
	w.close()
}

func (w *writer) choices(name string, list []orderform.Choice) {
	w.list(name)
	for i := range list {
		w.open()
		w.text("value", list[i].Word)
		w.text("title", list[i].Title)
		w.close()
	}
	w.end()
}

// customerAnswer writes what a customer sees. What is not named here does not go out.
func (w *writer) customerAnswer(a *orderform.Answer) {
	w.units = a.Units
	w.open()
	w.text("units", a.Units.String())
	w.text("currency", a.Currency)
	w.text("summary", a.Summary)
	w.openAt("price")
	if a.Exact {
		w.amount("total", a.Total)
		w.amount("deposit", a.Deposit)
	} else {
		w.null("total")
		w.null("deposit")
	}
	w.amount("from", a.From)
	w.amount("to", a.To)
	w.bool("includes_tax", a.TaxIncluded)
	w.close()
	w.texts("includes", a.Includes)
	w.texts("corners", a.Corners)
	w.text("seasons", a.Seasons)
	w.days(a.WorkingDays, a.WorkingDays > 0)
	w.date("valid_until", a.ValidUntil)
	w.text("site_visit", a.SiteVisit)
	w.openAt("plan")
	w.outline("outline", a.Outline)
	w.list("pieces")
	for _, piece := range a.Pieces {
		w.item()
		w.points(piece)
		w.end()
	}
	w.end()
	w.close()
	w.texts("cautions", a.Cautions)
	w.close()
}
