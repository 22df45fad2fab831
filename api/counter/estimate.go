package counter

import (
	"context"
	"encoding/json"
	"time"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/orderform"
)

// customerDone is a customer's request, worked out.
type customerDone struct {
	order  []byte // the request for an estimate
	answer orderform.Answer
	form   *orderform.Form
	est    *estimate.Estimate
}

// customerEstimate works out a customer's request by way of an ordinary request for an estimate, which goes through the
// same reading as one from outside. Its faults are in the customer's words.
func customerEstimate(ctx context.Context, wanted orderform.Request, cat *catalogue.Snapshot,
	now time.Time, speech pen.Speech) (*customerDone, error) {
	form, err := orderform.New(cat, wanted.Units, speech)
	if err != nil {
		return nil, err
	}
	if !form.Open() {
		return nil, &fault.Fault{Kind: fault.Unavailable, Detail: "The order form is closed at the moment.",
			Fix: "Ask the shop."}
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
	est, err := estimates.MakeFor(ctx, order, cat, now, false)
	if err != nil {
		return nil, form.Refusal(err)
	}
	return &customerDone{order, form.Answer(&wanted, est), form, est}, nil
}

// inTurn works a customer's top out when it is the call's turn.
func (s *room) inTurn(c *web.Call, wanted orderform.Request, speech pen.Speech) (done *customerDone, err error) {
	err = s.InTurn(c.Ctx(), func() (err error) {
		done, err = customerEstimate(c.Ctx(), wanted, c.Cat, s.Now(), speech)
		return err
	})
	return done, err
}

func readCustomer(o *wire.Object) orderform.Request {
	o.MeasuredIn(o.Text("units"))
	return orderform.Request{
		Units: o.Units(),
		Shape: o.Text("shape"),
		Sides: wire.Each(o.Children("sides"), func(o *wire.Object) orderform.Side {
			return orderform.Side{Long: o.Length("long"), Deep: o.Length("deep")}
		}),
		Corners: wire.Each(o.Children("corners"), func(o *wire.Object) measure.Angle {
			return measure.Angle(o.Number("angle")) * measure.Degree
		}),
		TurnsLeft: o.Text("turns") == "left",
		Wood:      o.Text("wood"),
		Thickness: o.Text("thickness"),
		FrontEdge: o.Text("front_edge"),
		Finish:    o.Text("finish"),
		Room:      o.Text("room"),
		Openings: wire.Each(o.Children("openings"), func(o *wire.Object) orderform.Opening {
			left, _ := o.Distance("from_left")
			return orderform.Opening{For: o.Text("for"), Side: int(o.Number("side")), Long: o.Length("long"),
				Deep:     o.Length("deep"),
				FromLeft: left, FromFront: o.DistanceIfThere("from_front"), Shape: o.Text("shape"), Mount: o.Text("mount")}
		}),
		Below: wire.Each(o.Children("base"), func(o *wire.Object) orderform.Below {
			from, _ := o.Distance("from")
			return orderform.Below{Side: int(o.Number("side")), Kind: o.Text("kind"), From: from, To: o.Length("to")}
		}),
	}
}

func writeCustomerPlan(w *wire.Writer, p *orderform.Plan) {
	estimates.WriteOutline(w, "outline", p.Outline)
	w.List("pieces")
	for _, piece := range p.Pieces {
		w.Item()
		estimates.WritePoints(w, piece)
		w.End()
	}
	w.End()
	wire.All(w, "sides", p.Sides, func(w *wire.Writer, s *orderform.SideDrawn) {
		w.Open()
		estimates.WriteOutline(w, "wall", s.Wall[:])
		w.Text("long", s.Long)
		w.Text("deep", s.Deep)
		w.Close()
	})
	estimates.WriteOutline(w, "front", p.Front)
	wire.All(w, "openings", p.Openings, func(w *wire.Writer, o *orderform.OpeningDrawn) {
		w.Open()
		w.Text("for", o.For)
		w.Int("side", int64(o.Side))
		estimates.WriteOutline(w, "outline", o.Outline)
		w.Close()
	})
	wire.All(w, "base", p.Below, func(w *wire.Writer, b *orderform.BelowDrawn) {
		w.Open()
		w.Text("kind", b.Kind)
		w.Int("side", int64(b.Side))
		estimates.WriteOutline(w, "outline", b.Outline)
		w.Close()
	})
}

// writeCustomerAnswer writes what a customer sees, the view as it was drawn: what is kept of an answer goes without. What is not named
// here does not go out.
func writeCustomerAnswer(w *wire.Writer, a *orderform.Answer, view string) {
	w.Units = a.Units
	w.Open()
	w.Text("units", a.Units.String())
	w.Text("currency", a.Currency)
	w.Text("summary", a.Summary)
	w.OpenAt("price")
	if a.Exact {
		w.Amount("total", a.Total)
		w.Amount("deposit", a.Deposit)
	} else {
		w.Null("total")
		w.Null("deposit")
	}
	w.Amount("from", a.From)
	w.Amount("to", a.To)
	w.Bool("includes_tax", a.TaxIncluded)
	w.Close()
	w.Texts("includes", a.Includes)
	w.Texts("corners", a.Corners)
	w.Text("seasons", a.Seasons)
	estimates.WriteDays(w, a.WorkingDays, a.WorkingDays > 0)
	w.Date("valid_until", a.ValidUntil)
	w.Text("site_visit", a.SiteVisit)
	w.OpenAt("plan")
	writeCustomerPlan(w, &a.Plan)
	w.Close()
	w.TextOrNull("view", view)
	w.Texts("cautions", a.Cautions)
	w.Close()
}
