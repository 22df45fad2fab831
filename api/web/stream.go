package web

import (
	"errors"
	"io"
	"net/http"
	"time"

	"seamwright/service/fault"
)

const (
	// silence is how long a sender of a stream may say nothing.
	silence = 20 * time.Second
	// SlowReading is how long a reader of a stream may take for one piece, before its place goes to others.
	SlowReading = 15 * time.Second
	// Patience is how long a whole stream may take.
	Patience = 15 * time.Minute
)

// stream reads a body up to a limit. Its errors say what a sender can do.
type stream struct {
	from     io.Reader
	left     int64
	tooLarge error                    // of a body that has more
	control  *http.ResponseController // nil: no time limits
	now      func() time.Time
}

// NewStream reads at most limit bytes, else it fails with tooLarge. With a control, each piece has a time limit of its own.
func NewStream(from io.Reader, limit int64, tooLarge error, control *http.ResponseController) io.Reader {
	return &stream{from: from, left: limit, tooLarge: tooLarge, control: control, now: time.Now}
}

func (u *stream) Read(p []byte) (int, error) {
	if u.control != nil {
		// A server without time limits of its own, such as one in a test, has none to move.
		if err := u.control.SetReadDeadline(u.now().Add(silence)); err != nil && !errors.Is(err, http.ErrNotSupported) {
			return 0, err
		}
	}
	if int64(len(p)) > u.left+1 {
		p = p[:u.left+1]
	}
	n, err := u.from.Read(p)
	if u.left -= int64(n); u.left < 0 {
		return 0, u.tooLarge
	}
	if err != nil && !errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return n, AsBody(err, "The body ended before all of it had arrived, or its compression is damaged; nothing was changed.")
	}
	return n, err
}

// AsBody makes an error of reading the sender's, unless it says already what is wrong.
func AsBody(err error, detail string) error {
	var refused *refusal
	var known *fault.Fault
	if errors.As(err, &refused) || errors.As(err, &known) {
		return err
	}
	return &fault.Fault{Kind: fault.Invalid, Detail: detail}
}
