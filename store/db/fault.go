package db

import (
	"context"
	"errors"
	"io"
	"net"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"

	"seamwright/service/fault"
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
		return slices.ContainsFunc(away, func(start string) bool { return strings.HasPrefix(failed.Code, start) }) ||
			held(failed)
	case errors.As(err, &network):
		return true
	}
	return errors.Is(err, context.DeadlineExceeded) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, net.ErrClosed) ||
		pgconn.SafeToRetry(err)
}

// NotYet reports whether an error means that the database may still come: it is away, but lets us in as far as it says.
func NotYet(err error) bool {
	code, _ := codeOf(err)
	return Away(err) && !strings.HasPrefix(code, "28") && code != noSuchDatabase
}

// away are the beginnings of what the database says when it cannot answer now: the connection is lost (08), it lacks room,
// memory or connections (53), it shuts down or starts up (57P), it is read-only, as after a failover (25006).
var away = []string{"08", "53", "57P", readOnly}

// A transaction that goes on after one of its statements failed (25P02) is none of these. Only a program that passes over an
// error gets there: a fault of ours, and a 500 says so. The error before it is the one that callers are told.

// heldCodes is what it says when this session waited, or kept others waiting, for longer than the limits: for a lock
// (55P03), for a statement's end (57014), in a transaction (25P03, 25P04); or when two waited for each other and this one
// was told to begin again.
var heldCodes = []string{"55P03", "57014", "25P03", "25P04", serialization, deadlock}

func held(failed *pgconn.PgError) bool { return slices.Contains(heldCodes, failed.Code) }

// Held reports whether an error means that something was waited for that others have, rather than that the database is
// away.
func Held(err error) bool {
	code, failed := codeOf(err)
	return code != "" && held(failed)
}

// The classes and codes of errors that are told apart (appendix A of PostgreSQL's documentation, from memory).
const (
	readOnly        = "25006"
	noSuchDatabase  = "3D000"
	constraintClass = "23"
	foreignKey      = "23503"
	thereAlready    = "23505"
	serialization   = "40001"
	deadlock        = "40P01"
)

func codeOf(err error) (string, *pgconn.PgError) {
	var failed *pgconn.PgError
	if !errors.As(err, &failed) {
		return "", nil
	}
	return failed.Code, failed
}

// MustBeginAgain reports whether an error ended a whole transaction only because of another one.
func MustBeginAgain(err error) bool {
	code, _ := codeOf(err)
	return code == serialization || code == deadlock
}

// CameBetween reports whether a change failed only because another one came between: a row of the same key was made,
// or the two waited for each other.
func CameBetween(err error) bool {
	code, _ := codeOf(err)
	return code == thereAlready || MustBeginAgain(err)
}

// MostTries is how often a transaction is begun that others end.
const MostTries = 5

// Gone reports whether something that a row refers to is not there any more.
func Gone(err error) bool {
	code, _ := codeOf(err)
	return code == foreignKey
}

// Constraint is the name of the constraint that an error says was broken; empty: it says something else.
func Constraint(err error) string {
	if code, failed := codeOf(err); strings.HasPrefix(code, constraintClass) {
		return failed.ConstraintName
	}
	return ""
}

// Fault makes a fault of an error when it means that the database is away; any other error comes back as it is, and so
// does everything once the caller has gone.
func Fault(ctx context.Context, err error) error {
	if err == nil || errors.Is(ctx.Err(), context.Canceled) || !Away(err) {
		return err
	}
	return Unavailable(err)
}

// Unavailable is the fault that says that the database is away, or that others have what is needed.
func Unavailable(err error) error {
	if Held(err) {
		return &fault.Fault{Kind: fault.Unavailable,
			Detail: "Somebody else has what this needs, and did not let go of it in time.",
			Fix:    "Send it again in a moment; nothing of it was done."}
	}
	line, _, _ := strings.Cut(err.Error(), "\n")
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, or was while this was done: " +
		strings.TrimRight(line, ".") + ".",
		Fix: "Send it again in a moment; what has been done already is not done twice."}
}

// ErrKeyInUse says that a write with the same Idempotency-Key is under way, here or in another instance.
var ErrKeyInUse = errors.New("a write with the same key is under way")

// KeyReusedError says that an Idempotency-Key was sent with something else before.
type KeyReusedError struct{ Detail string }

// Error returns the detail.
func (e *KeyReusedError) Error() string { return e.Detail }
