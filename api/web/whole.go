package web

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"
)

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
	if held := holds(c.Request().Header.Values("If-None-Match"), t.etag); held != "" {
		c.Response().Header().Set("ETag", held) // as the answer has it that the caller holds
		return c.NoContent(http.StatusNotModified)
	}
	return send(c, http.StatusOK, mediaType, t.body)
}

// holds returns the tag that an If-None-Match names (RFC 9110, section 13.1.2: weak comparison), of the answer as it is or
// compressed; empty when it names none.
func holds(headers []string, etag string) string {
	for _, header := range headers {
		for one := range strings.SplitSeq(header, ",") {
			switch one = strings.TrimPrefix(strings.TrimSpace(one), "W/"); {
			case one == "*":
				return etag
			case uncoded(one) == etag:
				return one
			}
		}
	}
	return ""
}

// versioned puts the version of a row into the tag of an answer that shows it.
func versioned(t tagged, version int64) tagged {
	return tagged{t.body, `"` + strconv.FormatInt(version, 10) + "-" + t.etag[1:]}
}
