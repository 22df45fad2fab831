package store

import (
	"context"
	"errors"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"

	"seamwright/service/sheet"
)

// Away reports whether an error means that the database cannot be reached or does not answer, so that trying later
// may help.
func Away(err error) bool {
	var failed *pgconn.PgError
	var connect *pgconn.ConnectError
	var network net.Error
	switch {
	case err == nil:
		return false
	case errors.As(err, &connect):
		return true // whatever the server said, it lets nobody in
	case errors.As(err, &failed):
		return strings.HasPrefix(failed.Code, "08") || strings.HasPrefix(failed.Code, "57P") || failed.Code == "53300"
	case errors.As(err, &network):
		return true
	}
	return errors.Is(err, context.DeadlineExceeded) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, net.ErrClosed) ||
		pgconn.SafeToRetry(err)
}

// cameBetween reports whether an edit failed only because another one came between: a row of the same key was made,
// or the two waited for each other.
func cameBetween(err error) bool {
	var failed *pgconn.PgError
	if !errors.As(err, &failed) {
		return false
	}
	switch failed.Code {
	case "23505", "40001", "40P01": // unique violation, serialization failure, deadlock
		return true
	}
	return false
}

// refusedByDatabase makes a refusal of the breach of a constraint: the checks before it should have found it, and
// the database did.
func refusedByDatabase(err error) error {
	var failed *pgconn.PgError
	if errors.As(err, &failed) && strings.HasPrefix(failed.Code, "23") && failed.ConstraintName != "" {
		return &RefusedError{[]sheet.Wrong{{Detail: "The database refuses it by its rule " + failed.ConstraintName + "."}}}
	}
	return err
}
