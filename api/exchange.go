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
func (s *webServer) withBody(c echo.Context, use func(raw []byte) error) error {
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
	_, err := buf.ReadFrom(io.LimitReader(r.Body, s.BodyLimit+1))
	if int64(buf.Len()) > s.BodyLimit {
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
func (s *webServer) tooLarge(r *http.Request) error {
	if r.Header.Get("Expect") == "" {
		_, _ = io.CopyN(io.Discard, r.Body, mostDrained) // whatever goes wrong here, the answer is the same
	}
	return &refusal{kind: tooLarge, detail: fmt.Sprintf("The body may be at most %d bytes.", s.BodyLimit)}
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

// Send answers with a value.
func (c *Call) Send(status int, write func(*writer)) error {
	return c.written(write, func(w *writer) error { return send(c, status, echo.MIMEApplicationJSON, w.buf) })
}

// Current answers with a value and its ETag, or 304 when the caller holds it already.
func (c *Call) Current(write func(*writer)) error {
	return c.written(write, func(w *writer) error { return sendTagged(c, echo.MIMEApplicationJSON, tag(w.buf)) })
}

// Version is like Current for a row of the database: the ETag begins with its version.
func (c *Call) Version(version int64, write func(*writer)) error {
	return c.written(write, func(w *writer) error {
		return sendTagged(c, echo.MIMEApplicationJSON, versioned(tag(w.buf), version))
	})
}

// Saved answers a write with the row as it is now, and its ETag.
func (c *Call) Saved(status int, version int64, write func(*writer)) error {
	return c.written(write, func(w *writer) error {
		c.Response().Header().Set("ETag", versioned(tag(w.buf), version).etag)
		return send(c, status, echo.MIMEApplicationJSON, w.buf)
	})
}

func (c *Call) written(write func(*writer), answer func(*writer) error) error {
	w := newWriter(c.Units())
	defer w.free()
	write(w)
	if w.wrong != nil {
		return w.wrong
	}
	return answer(w)
}

// Made says where what was made can be read.
func (c *Call) Made(path string) { c.Response().Header().Set(echo.HeaderLocation, path) }

// Gone answers a write after which there is nothing to show.
func (c *Call) Gone() error { return c.NoContent(http.StatusNoContent) }

// asObject is a value that is an object with what write writes.
func asObject(write func(*writer)) func(*writer) {
	return func(w *writer) { w.open(); write(w); w.close() }
}

// page is one page of a list, of which one item more than the page holds was looked for.
func page[T any](c *Call, list []T, key func(*T) string, write func(*writer, *T)) func(*writer) {
	return asObject(func(w *writer) { writePage(w, c, list, key, write) })
}

// nextNumber writes the cursor of a list that is paged by a number; 0: it has ended.
func nextNumber(w *writer, c *Call, last int64) {
	if last == 0 {
		w.null("next_cursor")
		return
	}
	w.text("next_cursor", cursorAfter(c.list(), strconv.FormatInt(last, 10)))
}

func writePage[T any](w *writer, c *Call, list []T, key func(*T) string, write func(*writer, *T)) {
	limit, cursor := c.Limit(), ""
	if len(list) > limit {
		cursor = cursorAfter(c.list(), key(&list[limit-1]))
	}
	writeAll(w, "items", list[:min(limit, len(list))], write)
	w.textOrNull("next_cursor", cursor)
}
