package web

import (
	"context"
	"errors"
	"log/slog"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Reached turns the error of a database that is away into the fault that says so, and logs its cause.
func (s *Server) Reached(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, ErrNotSent) || !db.Away(err) {
		return err
	}
	s.Log.Warn("database away", slog.String("cause", err.Error()))
	if db.Held(err) {
		return db.Unavailable(err)
	}
	return s.noDatabase()
}

// errLost ends the context of a call that waits for a database which is gone.
var errLost = errors.New("the database was lost meanwhile")

// reaching refuses at once what needs a database that is known to be lost, instead of letting callers wait for it, and gives
// up what has begun when the loss lasts. Whether a write that was given up was done is not known then, as always when no
// answer comes: the refusal says to try again, and an Idempotency-Key makes that safe.
func (s *Server) reaching(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if s.Store != nil && !s.Status().DatabaseReachable {
			return s.noDatabase()
		}
		if s.Presence == nil {
			return next(c)
		}
		asked := c.Request()
		ctx, giveUp := context.WithCancelCause(asked.Context())
		defer giveUp(nil)
		defer context.AfterFunc(s.Presence(), func() { giveUp(errLost) })()
		c.SetRequest(asked.WithContext(ctx))
		err := next(c)
		c.SetRequest(asked)
		if err != nil && errors.Is(context.Cause(ctx), errLost) {
			s.Log.Warn("database away", slog.String("cause", errors.Join(errLost, err).Error()))
			return s.noDatabase()
		}
		return err
	}
}

func (s *Server) noDatabase() error {
	if s.Lacking != "" {
		return &fault.Fault{Kind: fault.Unavailable, Detail: "This service runs without a database and keeps nothing.", Fix: s.Lacking}
	}
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, and this needs it.",
		Fix: "Try again in a moment."}
}

func notLoaded() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The catalogue has not been loaded yet.",
		Fix: "Try again in a moment."}
}
