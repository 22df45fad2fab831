package web

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

	"seamwright/api/wire"
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
	_, err := buf.ReadFrom(io.LimitReader(r.Body, s.BodyLimit+1))
	if int64(buf.Len()) > s.BodyLimit {
		return s.tooLarge(r)
	}
	if err != nil {
		return &fault.Fault{Kind: fault.Invalid, Detail: "The body ended before all of it had arrived."}
	}
	return use(buf.Bytes())
}

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
	if coding := header.Get(echo.HeaderContentEncoding); coding != "" && coding != "identity" {
		return Refuse(UnsupportedMedia, "Send the body uncompressed, without Content-Encoding.")
	}
	if declared == echo.MIMEApplicationJSON {
		return nil
	}
	if declared == "" {
		return Refuse(UnsupportedMedia, "The Content-Type is missing; send application/json.")
	}
	kind, parameters, err := mime.ParseMediaType(declared)
	if err != nil || kind != echo.MIMEApplicationJSON {
		return Refuse(UnsupportedMedia, fmt.Sprintf("The Content-Type is %q; send application/json.", wire.Cut(declared, 100)))
	}
	if charset, given := parameters["charset"]; given && !strings.EqualFold(charset, "utf-8") {
		return Refuse(UnsupportedMedia, fmt.Sprintf("The charset is %q; JSON is UTF-8.", wire.Cut(charset, 100)))
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
		return errors.Join(ErrNotSent, err)
	}
	return nil
}

// ErrNotSent marks an answer that the caller did not take; it is nobody's fault here.
var ErrNotSent = errors.New("answer not sent")

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
func (c *Call) Send(status int, write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error { return send(c, status, echo.MIMEApplicationJSON, w.Buf) })
}

// Current answers with a value and its ETag, or 304 when the caller holds it already.
func (c *Call) Current(write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error { return sendTagged(c, echo.MIMEApplicationJSON, tag(w.Buf)) })
}

// Version is like Current for a row of the database: the ETag begins with its version.
func (c *Call) Version(version int64, write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error {
		return sendTagged(c, echo.MIMEApplicationJSON, versioned(tag(w.Buf), version))
	})
}

// Saved answers a write with the row as it is now, and its ETag.
func (c *Call) Saved(status int, version int64, write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error {
		c.Tag(w.Buf, version)
		return send(c, status, echo.MIMEApplicationJSON, w.Buf)
	})
}

func (c *Call) written(write func(*wire.Writer), answer func(*wire.Writer) error) error {
	w := wire.NewWriter(c.Units())
	defer w.Free()
	write(w)
	if w.Wrong != nil {
		return w.Wrong
	}
	return answer(w)
}

// Made says where what was made can be read.
func (c *Call) Made(path string) { c.Response().Header().Set(echo.HeaderLocation, path) }

// Gone answers a write after which there is nothing to show.
func (c *Call) Gone() error { return c.NoContent(http.StatusNoContent) }

// Object is a value that is an object with what write writes.
func Object(write func(*wire.Writer)) func(*wire.Writer) {
	return func(w *wire.Writer) { w.Open(); write(w); w.Close() }
}

// Page is one page of a list, of which one item more than the page holds was looked for.
func Page[T any](c *Call, list []T, key func(*T) string, write func(*wire.Writer, *T)) func(*wire.Writer) {
	return Object(func(w *wire.Writer) { WritePage(w, c, list, key, write) })
}

// NextNumber writes the cursor of a list that is paged by a number; 0: it has ended.
func NextNumber(w *wire.Writer, c *Call, last int64) {
	if last == 0 {
		w.Null("next_cursor")
		return
	}
	w.Text("next_cursor", cursorAfter(c.list(), strconv.FormatInt(last, 10)))
}

// WritePage writes the items of a page and the cursor of the next one; see Page.
func WritePage[T any](w *wire.Writer, c *Call, list []T, key func(*T) string, write func(*wire.Writer, *T)) {
	limit, cursor := c.Limit(), ""
	if len(list) > limit {
		cursor = cursorAfter(c.list(), key(&list[limit-1]))
	}
	wire.All(w, "items", list[:min(limit, len(list))], write)
	w.TextOrNull("next_cursor", cursor)
}

// Whole answers with something that is no JSON.
func (c *Call) Whole(mediaType string, raw []byte) error {
	return send(c, http.StatusOK, mediaType, raw)
}

// WholeVersion is the same with the ETag of a row, or 304 when the caller holds it already.
func (c *Call) WholeVersion(mediaType string, raw []byte, version int64) error {
	return sendTagged(c, mediaType, versioned(tag(raw), version))
}

// Tag sets the ETag of what a write leaves.
func (c *Call) Tag(raw []byte, version int64) {
	c.Response().Header().Set("ETag", versioned(tag(raw), version).etag)
}
