package web

import (
	"context"
	"errors"
	"log/slog"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Reached turns the error of a database that is away into the fault that says so, and logs its cause.
func (s *Server) Reached(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, ErrNotSent) || !db.Away(err) {
		return err
	}
	s.Log.Warn("database away", slog.String("cause", err.Error()))
	return noDatabase()
}

func noDatabase() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, and this needs it.", Fix: "Try again in a moment."}
}

func notLoaded() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The catalogue has not been loaded yet.", Fix: "Try again in a moment."}
}
