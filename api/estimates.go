package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
)

// estimateRoom works out estimates and what is made of them.
type estimateRoom struct {
	*webServer
	kept    *estimate.Estimate // stands for every answer; nil: they are worked out
	batches *batchRoom
}

// openEstimates adds the operations about estimates. What is kept answers every POST /v1/estimates once its request was read
// and checked; nil: they are worked out.
func openEstimates(w *webServer, kept *estimate.Estimate) {
	s := &estimateRoom{w, kept, newBatchRoom()}
	s.serve("POST /v1/estimates", s.postEstimate, way{like: "POST /v1/estimates/:view", prefer: s.preferred})
	s.serve("POST /v1/estimates/:view", func(c *Call) error { return s.postView(c, c.Param("view")) })
	s.serve("POST /v1/estimates/batch", s.postBatch)
	s.serve("POST /v1/joint-comparisons", s.postJointComparison)
	s.serve("POST /v1/movements", s.postMovement)
}

// preferred is the handler of a view when the caller's Accept asks for one instead of JSON.
func (s *estimateRoom) preferred(c echo.Context) func(*Call) error {
	c.Response().Header().Add("Vary", "Accept")
	view := viewWanted(c.Request().Header.Values(echo.HeaderAccept))
	if view == "" {
		return nil
	}
	return func(c *Call) error { return s.postView(c, view) }
}

func (s *estimateRoom) postEstimate(c *Call) error {
	order, err := readBody(c, readOrder)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	est, err := s.estimate(order, c.Cat)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *writer) { w.units = est.Units; w.estimate(est) })
}

// estimate works out an order, or has the answer that stands for all.
func (s *estimateRoom) estimate(order estimate.Order, cat *catalogue.Snapshot) (*estimate.Estimate, error) {
	if s.kept != nil {
		return s.kept, nil
	}
	now, err := inShop(s.Now(), cat)
	if err != nil {
		return nil, err
	}
	return makeEstimate(order, cat, now)
}

func (s *estimateRoom) postJointComparison(c *Call) error {
	order, err := readBody(c, readOrder)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	comparison, err := compareJoints(order, c.Cat, s.Now())
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *writer) { w.units = comparison.Units; w.comparison(comparison) })
}

func (s *estimateRoom) postMovement(c *Call) error {
	order, err := readBody(c, readMovement)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	answer, err := estimate.Move(order, c.Cat)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *writer) { w.units = answer.Units; w.movementAnswer(answer, order.Length > 0) })
}
