// Package estimates works tops out: one, many in a stream, their joints compared, what can be drawn and printed of them. It
// writes an estimate as JSON and reads back one that was kept.
package estimates

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
)

// Open adds the operations about estimates. What is kept answers every POST /v1/estimates once its request was read
// and checked; nil: they are worked out.
func Open(w *web.Server, kept *estimate.Estimate) {
	s := &room{w, kept, newBatchPlaces(w.Cores)}
	s.Serve("POST /v1/estimates", s.postEstimate, web.Way{Like: "POST /v1/estimates/:view", Prefer: s.preferred})
	s.Serve("POST /v1/estimates/:view", func(c *web.Call) error { return s.postView(c, c.Param("view")) })
	s.Serve("POST /v1/estimates/batch", s.postBatch, web.Way{Long: true})
	s.Serve("POST /v1/joint-comparisons", s.postJointComparison)
	s.Serve("POST /v1/movements", s.postMovement)
}

// preferred is the handler of a view when the caller's Accept asks for one instead of JSON.
func (s *room) preferred(c echo.Context) func(*web.Call) error {
	c.Response().Header().Add("Vary", "Accept")
	view := viewWanted(c.Request().Header.Values(echo.HeaderAccept))
	if view == "" {
		return nil
	}
	return func(c *web.Call) error { return s.postView(c, view) }
}

func (s *room) postEstimate(c *web.Call) error {
	order, err := web.Read(c, ReadOrder)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	est, err := s.estimate(c, order)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, shown(c, est))
}

// estimate works out an order, or has the answer that stands for all.
func (s *room) estimate(c *web.Call, order estimate.Order) (est *estimate.Estimate, err error) {
	if s.kept != nil {
		return s.kept, nil
	}
	now, err := web.InShop(s.Now(), c.Cat)
	if err != nil {
		return nil, err
	}
	err = s.InTurn(c.Ctx(), func() (err error) { est, err = Work(c.Ctx(), order, c.Cat, now); return err })
	return est, err
}

func (s *room) postJointComparison(c *web.Call) error {
	order, err := web.Read(c, ReadOrder)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	var comparison *estimate.Comparison
	err = s.InTurn(c.Ctx(), func() (err error) {
		comparison, err = compareJoints(c.Ctx(), order, c.Cat, s.Now())
		return err
	})
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *wire.Writer) { w.Units = comparison.Units; writeComparison(w, comparison) })
}

func (s *room) postMovement(c *web.Call) error {
	order, err := web.Read(c, readMovement)
	if err != nil {
		return err
	}
	order.Explain = c.Flag("explain")
	answer, err := estimate.Move(order, c.Cat)
	if err != nil {
		return err
	}
	answer.Assumptions = append(answer.Assumptions, builtIn(c.Cat)...)
	return c.Send(http.StatusOK, func(w *wire.Writer) { writeMovementAnswer(w, answer, order.Length > 0) })
}
