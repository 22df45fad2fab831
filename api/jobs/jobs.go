// Package jobs takes in what finished jobs took, and answers with what they say of the standards of work.
package jobs

import (
	"net/http"

	"seamwright/api/web"
)

// Open adds the operations about finished jobs. Kept finds what was estimated of them.
func Open(w *web.Server, kept Kept) {
	s := &room{Server: w, kept: kept}
	s.Serve("GET /v1/quotes/:id/actuals", s.getActuals)
	s.Serve("PUT /v1/quotes/:id/actuals", s.putActuals)
	s.Serve("POST /v1/actuals", s.postActuals)
	s.Serve("GET /v1/learnings", s.getLearnings)
	s.Serve("GET /v1/learnings/calibration.svg", s.getCalibration)
	s.Serve("POST /v1/learnings/:code/approve", s.postApproval)
	s.Serve("POST /v1/learnings/:code/dismiss", s.postDismissal)
}

func (s *room) getActuals(c *web.Call) error {
	r, err := s.Store.Jobs.Report(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Current(web.Value(shownReport(&r)))
}

// putActuals keeps what a job took, in the place of what was told of it before.
func (s *room) putActuals(c *web.Call) error {
	entry, err := web.Read(c, readActuals)
	if err != nil {
		return err
	}
	r, err := s.report(c, c.Param("id"), &entry)
	if err != nil {
		return err
	}
	if err := s.Store.Jobs.Put(c.Ctx(), r); err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(shownReport(r)))
}
