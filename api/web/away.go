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
	return noDatabase()
}

// reaching refuses at once what needs a database that is known to be lost, instead of letting callers wait for it.
func (s *Server) reaching(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if s.Store != nil && !s.Status().DatabaseReachable {
			return noDatabase()
		}
		return next(c)
	}
}

func noDatabase() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, and this needs it.", Fix: "Try again in a moment."}
}

func notLoaded() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The catalogue has not been loaded yet.", Fix: "Try again in a moment."}
}
