package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

func (s *Server) postEstimate(c echo.Context) error {
	c.Response().Header().Add("Vary", "Accept")
	if view := viewWanted(c.Request().Header.Values(echo.HeaderAccept)); view != "" {
		return s.estimateView(c, view)
	}
	return s.calculate(c, func(raw []byte, cat *catalogue.Snapshot, explain bool, w *writer) error {
		order, now, err := readEstimate(raw, cat, s.config.Now(), explain)
		if err != nil {
			return err
		}
		est := s.config.Kept
		if est == nil {
			if est, err = makeEstimate(order, cat, now); err != nil {
				return err
			}
		}
		w.units = est.Units
		w.estimate(est)
		return nil
	})
}

func (s *Server) postJointComparison(c echo.Context) error {
	return s.calculate(c, func(raw []byte, cat *catalogue.Snapshot, explain bool, w *writer) error {
		comparison, err := compareJoints(raw, cat, s.config.Now(), explain)
		if err != nil {
			return err
		}
		w.units = comparison.Units
		w.comparison(comparison)
		return nil
	})
}

func (s *Server) postMovement(c echo.Context) error {
	return s.calculate(c, func(raw []byte, cat *catalogue.Snapshot, explain bool, w *writer) error {
		order, answer, err := move(raw, cat, explain)
		if err != nil {
			return err
		}
		w.units = answer.Units
		w.movementAnswer(answer, order.Length > 0)
		return nil
	})
}

// calculate reads a body, has it worked out and written, and sends it.
func (s *Server) calculate(c echo.Context, work func(raw []byte, cat *catalogue.Snapshot, explain bool, w *writer) error) error {
	q := queryOf(c, "explain")
	explain := q.flag("explain")
	if err := q.faults.Err(); err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	w := newWriter(measure.Inches)
	defer w.free()
	err = s.withBody(c, func(raw []byte) error { return work(raw, cat, explain, w) })
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}
