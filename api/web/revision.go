package web

import (
	"context"
	"fmt"
	"log/slog"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

// atLeast lets a call that asks for a revision of the catalogue wait until this instance has it, or a later one; not for
// longer than the settings say.
func (s *Server) atLeast(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		asked := c.Request().URL
		if !strings.Contains(asked.RawQuery, revisionParameter) {
			return next(c)
		}
		values, err := url.ParseQuery(asked.RawQuery)
		if err != nil || !values.Has(revisionParameter) {
			return next(c) // which refuses it
		}
		revision, err := strconv.ParseInt(values.Get(revisionParameter), 10, 64)
		if err != nil || revision < 0 || len(values[revisionParameter]) > 1 {
			return &fault.Fault{Kind: fault.Invalid, Parameter: revisionParameter,
				Detail: "Must be a whole number from 0 on, once: a revision of the catalogue, as answers tell it."}
		}
		if now, ok := s.reach(c.Request().Context(), revision); !ok {
			return &fault.Fault{Kind: fault.Unavailable,
				Detail: fmt.Sprintf("This instance has revision %d of the catalogue; revision %d or later did not come within %s.",
					now, revision, s.RevisionWait),
				Fix: "Try again in a moment."}
		}
		values.Del(revisionParameter) // it is no part of what is asked
		asked.RawQuery = values.Encode()
		return next(c)
	}
}

// reach waits until this instance has a revision of the catalogue, or a later one, and says which one it has.
func (s *Server) reach(ctx context.Context, revision int64) (now int64, ok bool) {
	has := func() bool {
		if cat := s.Snapshot(); cat != nil {
			now = cat.Revision
		}
		return now >= revision
	}
	if has() || s.Reach == nil {
		return now, has()
	}
	ctx, cancel := context.WithTimeout(ctx, s.RevisionWait)
	defer cancel()
	s.Reach(ctx, revision)
	return now, has()
}

// settled holds back the answer to a change of the catalogue, or of the keys, until this instance goes by what was changed: whoever
// has the answer reads what was written. It waits for a bounded time only: the change is made.
func (s *Server) settled(next echo.HandlerFunc, catchUp func(context.Context)) echo.HandlerFunc {
	return func(c echo.Context) error {
		answer := c.Response()
		sender := answer.Writer
		kept := &unsent{ResponseWriter: sender}
		answer.Writer = kept
		defer func() { answer.Writer = sender }()
		err := next(c)
		if kept.status == 0 {
			return err
		}
		if kept.status <= 299 {
			catchUp(c.Request().Context())
		}
		sender.WriteHeader(kept.status)
		if _, failed := sender.Write(kept.body); failed != nil {
			s.Log.Debug("answer not sent", slog.String("cause", failed.Error()))
		}
		return err
	}
}

// catchUp waits until this instance has the catalogue as the database has it now, as long as the settings say.
func (s *Server) catchUp(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, s.RevisionWait)
	defer cancel()
	revision, err := s.Store.Shelf.Revision(ctx)
	if err != nil {
		s.Log.Warn("a change is answered before this instance has it", slog.String("cause", err.Error()))
		return
	}
	if now, ok := s.reach(ctx, revision); !ok {
		s.Log.Warn("a change is answered before this instance has it", slog.Int64("revision", revision),
			slog.Int64("in_use", now))
	}
}
