package api

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strconv"
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
	if r.ContentLength > s.config.BodyLimit {
		return s.tooLarge(r)
	}
	buf := bodies.Get().(*bytes.Buffer)
	defer bodies.Put(buf)
	buf.Reset()
	_, err := buf.ReadFrom(io.LimitReader(r.Body, s.config.BodyLimit+1))
	if int64(buf.Len()) > s.config.BodyLimit {
		return s.tooLarge(r)
	}
	if err != nil {
		return &fault.Fault{Kind: fault.Invalid, Detail: "The body ended before all of it had arrived."}
	}
	return use(buf.Bytes())
}

// mostDrained bounds what is read of a body that is refused for its size.
const mostDrained = 32 << 20

// tooLarge refuses a body for its size. Most clients read no answer while they are still sending and would see a broken connection
// instead, so the rest is read first, within reason; one that asked before sending is told at once.
func (s *Server) tooLarge(r *http.Request) error {
	if r.Header.Get("Expect") == "" {
		_, _ = io.CopyN(io.Discard, r.Body, mostDrained) // whatever goes wrong here, the answer is the same
	}
	return &refusal{kind: tooLarge, detail: fmt.Sprintf("The body may be at most %d bytes.", s.config.BodyLimit)}
}

// isJSON refuses a body that is not declared as plain JSON in UTF-8.
func isJSON(header http.Header) error {
	declared := header.Get(echo.HeaderContentType)
	if coding := header.Get(echo.HeaderContentEncoding); coding != "" && coding != "identity" {
		return &refusal{kind: unsupportedMedia, detail: "Send the body uncompressed, without Content-Encoding."}
	}
	if declared == echo.MIMEApplicationJSON {
		return nil
	}
	if declared == "" {
		return &refusal{kind: unsupportedMedia, detail: "The Content-Type is missing; send application/json."}
	}
	kind, parameters, err := mime.ParseMediaType(declared)
	if err != nil || kind != echo.MIMEApplicationJSON {
		return &refusal{kind: unsupportedMedia, detail: fmt.Sprintf("The Content-Type is %q; send application/json.", cut(declared, 100))}
	}
	if charset, given := parameters["charset"]; given && !strings.EqualFold(charset, "utf-8") {
		return &refusal{kind: unsupportedMedia, detail: fmt.Sprintf("The charset is %q; JSON is UTF-8.", cut(charset, 100))}
	}
	return nil
}

// send writes a whole answer at once, with its length.
func send(c echo.Context, status int, mediaType string, raw []byte) error {
	header := c.Response().Header()
	header.Set(echo.HeaderContentType, mediaType)
	header.Set(echo.HeaderContentLength, strconv.Itoa(len(raw)))
	c.Response().WriteHeader(status)
	_, err := c.Response().Write(raw)
	if err != nil {
		return errors.Join(errNotSent, err)
	}
	return nil
}

// errNotSent marks an answer that the caller did not take; it is nobody's fault here.
var errNotSent = errors.New("answer not sent")

// tagged is an answer and its ETag.
type tagged struct {
	body []byte
	etag string
}

func tag(raw []byte) tagged {
	sum := sha256.Sum256(raw)
	return tagged{raw, `"` + hex.EncodeToString(sum[:16]) + `"`}
}

// sendTagged writes an answer with its ETag, or 304 when the caller holds it already.
func sendTagged(c echo.Context, mediaType string, t tagged) error {
	c.Response().Header().Set("ETag", t.etag)
	c.Response().Header().Set("Cache-Control", "private, no-cache") // to be kept, and asked for again
	if holds(c.Request().Header.Values("If-None-Match"), t.etag) {
		return c.NoContent(http.StatusNotModified)
	}
	return send(c, http.StatusOK, mediaType, t.body)
}

// holds says whether an If-None-Match names the tag (RFC 9110, section 13.1.2: weak comparison).
func holds(headers []string, etag string) bool {
	for _, header := range headers {
		for one := range strings.SplitSeq(header, ",") {
			if one = strings.TrimPrefix(strings.TrimSpace(one), "W/"); one == etag || one == "*" {
				return true
			}
		}
	}
	return false
}
