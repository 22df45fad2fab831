package web

import (
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
)

// Send answers with a value; a write that the caller would rather have no more of is answered with its headers alone.
func (c *Call) Send(status int, write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error { return c.sent(status, w) })
}

func (c *Call) sent(status int, w *wire.Writer) error {
	if c.op.prefers && prefersMinimal(c.Request().Header) {
		return c.minimal(status)
	}
	return send(c, status, echo.MIMEApplicationJSON, w.Buf)
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
		return c.sent(status, w)
	})
}

// Unsaved answers a write that was only tried with what it would leave, and the ETag of what there is.
func (c *Call) Unsaved(version int64, write func(*wire.Writer)) error {
	return c.written(write, func(w *wire.Writer) error {
		c.Tag(w.Buf, version)
		return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.Buf)
	})
}

func (c *Call) written(write func(*wire.Writer), answer func(*wire.Writer) error) error {
	if c.op.method == http.MethodGet && c.op.scope != "" {
		c.linkSelf()
	}
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

// Value is a value of a type with tags for JSON.
func Value(v any) func(*wire.Writer) { return func(w *wire.Writer) { w.Tagged(v) } }

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
	cursor := cursorAfter(c.list(), strconv.FormatInt(last, 10))
	c.linkNext(cursor)
	w.Text("next_cursor", cursor)
}

// WritePage writes the items of a page and the cursor of the next one; see Page.
func WritePage[T any](w *wire.Writer, c *Call, list []T, key func(*T) string, write func(*wire.Writer, *T)) {
	limit, cursor := c.Limit(), ""
	if len(list) > limit {
		cursor = cursorAfter(c.list(), key(&list[limit-1]))
		c.linkNext(cursor)
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
