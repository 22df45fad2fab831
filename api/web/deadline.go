package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

const (
	// writeWithin is how long an answer may take from the request's header on; the connection breaks then.
	writeWithin = 30 * time.Second
	// answerWithin is how long a call may take, its body and its wait for a revision counted in: what is refused then still
	// reaches the caller.
	answerWithin = 25 * time.Second
	// readWithin is what of that a call has that only reads or removes: it has no body to wait for.
	readWithin = 10 * time.Second
	// keyedWithin is what a write under an Idempotency-Key has once its body is there, but for large ones: on a connection
	// that is dead and does not know it, it would wait for all of its time.
	keyedWithin = 10 * time.Second
)

// timed gives a call its time, around what waits for a revision of the catalogue. What streams has as long as a stream may
// take.
func timed(op *operation, long bool, next echo.HandlerFunc) echo.HandlerFunc {
	if long || op.streams {
		return streaming(within(Patience, next))
	}
	return within(answerWithin, next)
}

// read gives a call that only reads or removes its time.
func read(op *operation, next echo.HandlerFunc) echo.HandlerFunc {
	if op.method == http.MethodGet || op.method == http.MethodDelete {
		return within(readWithin, next)
	}
	return next
}

// within ends a call's context after that time. What breaks off for it is refused as what may be asked again.
func within(most time.Duration, next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		asked := c.Request()
		ctx, cancel := context.WithTimeout(asked.Context(), most)
		defer cancel()
		c.SetRequest(asked.WithContext(ctx))
		defer func() { c.SetRequest(asked) }()
		err := next(c)
		if errors.Is(err, context.DeadlineExceeded) && ctx.Err() != nil && asked.Context().Err() == nil {
			return &fault.Fault{Kind: fault.Unavailable, Detail: fmt.Sprintf("This took longer than the %s that it has.", most),
				Fix: "Try again in a moment."}
		}
		return err
	}
}

// streaming moves the time limit of the connection for what takes longer than an answer.
func streaming(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		err := http.NewResponseController(c.Response()).SetWriteDeadline(time.Now().Add(Patience))
		// a server without time limits of its own, such as one in a test
		if err != nil && !errors.Is(err, http.ErrNotSupported) {
			return fmt.Errorf("set the time limit of a stream: %w", err)
		}
		return next(c)
	}
}
