package web

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

// bodies holds buffers for reading. Nothing of a request stays in them: the parser copies the text.
var bodies = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// withBody reads the body of a request once, under the limit, and hands it to use. The bytes are valid during use.
func (s *Server) withBody(c echo.Context, use func(raw []byte) error) error {
	r := c.Request()
	if err := isJSON(r.Header); err != nil {
		return err
	}
	if r.ContentLength > s.BodyLimit {
		return s.tooLarge(r)
	}
	buf := bodies.Get().(*bytes.Buffer)
	defer bodies.Put(buf)
	buf.Reset()
	body, closing, err := s.plainBody(c)
	if err != nil {
		return err
	}
	defer closing()
	_, err = buf.ReadFrom(io.LimitReader(body, s.BodyLimit+1))
	if int64(buf.Len()) > s.BodyLimit || errors.Is(err, errTooLarge) {
		return s.tooLarge(r)
	}
	if err != nil {
		return AsBody(err, "The body ended before all of it had arrived.")
	}
	return use(buf.Bytes())
}

// plainBody is the body of a request, expanded when it was sent with gzip.
func (s *Server) plainBody(c echo.Context) (io.Reader, func(), error) {
	r := c.Request()
	if r.Header.Get(echo.HeaderContentEncoding) == "" {
		return r.Body, func() {}, nil
	}
	return Expand(c, io.LimitReader(r.Body, s.BodyLimit+1), s.BodyLimit, errTooLarge)
}

// errTooLarge marks a body that expands to more than the limit.
var errTooLarge = errors.New("body too large")

// Drain reads a part of a body that is refused: most clients read no answer while they are still sending and would see a broken
// connection instead. One that asked before sending is told at once.
func Drain(r *http.Request) {
	if r.Header.Get("Expect") == "" {
		_, _ = io.CopyN(io.Discard, r.Body, mostDrained) // whatever goes wrong here, the answer is the same
	}
}

// mostDrained bounds what is read of a body that is refused for its size.
const mostDrained = 32 << 20

// tooLarge refuses a body for its size.
func (s *Server) tooLarge(r *http.Request) error {
	Drain(r)
	return Refuse(TooLarge, fmt.Sprintf("The body may be at most %d bytes.", s.BodyLimit))
}

// isJSON refuses a body that is not declared as plain JSON in UTF-8.
func isJSON(header http.Header) error {
	declared := header.Get(echo.HeaderContentType)
	if declared == echo.MIMEApplicationJSON {
		return nil
	}
	if declared == "" {
		return Refuse(UnsupportedMedia, "The Content-Type is missing; send application/json.")
	}
	kind, parameters, err := mime.ParseMediaType(declared)
	if err != nil || kind != echo.MIMEApplicationJSON {
		return Refuse(UnsupportedMedia, fmt.Sprintf("The Content-Type is %q; send application/json.",
			fault.Cut(declared, 100)))
	}
	if charset, given := parameters["charset"]; given && !strings.EqualFold(charset, "utf-8") {
		return Refuse(UnsupportedMedia, fmt.Sprintf("The charset is %q; JSON is UTF-8.", fault.Cut(charset, 100)))
	}
	return nil
}
