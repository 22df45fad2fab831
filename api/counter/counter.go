// Package counter is the order form: what a customer may ask, what a customer is told, what the shop gets.
package counter

import (
	"net/http"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/orderform"
)

// Open adds the operations of the order form. Draft keeps what the shop sees of a customer's request.
func Open(w *web.Server, draft KeepDraft) {
	s := &room{w, draft}
	s.Serve("GET /v1/order-form", s.getOrderForm, told)
	s.Serve("POST /v1/order-form/estimates", s.postOrderFormEstimate, told)
	s.Serve("POST /v1/order-form/comparisons", s.postOrderFormComparison, told)
	s.Serve("POST /v1/order-form/angles", s.postOrderFormAngle, told)
	s.Serve("POST /v1/order-form/requests", s.postOrderFormRequest, told)
	s.Serve("GET /v1/order-form/requests", s.listOrderFormRequests)
}

func (s *room) getOrderForm(c *web.Call) error {
	speech, err := speech(c)
	if err != nil {
		return err
	}
	form, err := orderform.New(c.Cat, c.Units(), speech)
	if err != nil {
		return err
	}
	shown, err := showForm(form)
	if err != nil {
		return err
	}
	return c.Current(web.Value(shown))
}

func (s *room) postOrderFormEstimate(c *web.Call) error {
	speech, wanted, err := asked(c, readCustomer)
	if err != nil {
		return err
	}
	done, err := s.inTurn(c, wanted, speech)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *wire.Writer) { writeCustomerAnswer(w, &done.answer, viewOf(done.est, speech)) })
}
