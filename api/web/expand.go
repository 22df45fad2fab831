package web

import (
	"compress/gzip"
	"fmt"
	"io"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

const (
	// mostExpanded is how many times larger a body may become. Prices shrink to a tenth or a thirtieth; what shrinks to a
	// hundredth is no list, and would cost the time of a large one.
	mostExpanded = 100
	// fairUntil is how many bytes are expanded before that counts.
	fairUntil = 1 << 20
)

// Expand makes the body of a request readable that may have been sent with gzip. What it expands to is read up to a limit, else
// reading fails with tooLarge, and only in proportion to what was sent. Another coding is refused.
func Expand(c echo.Context, body io.Reader, limit int64, tooLarge error) (plain io.Reader, closing func(), err error) {
	switch coding := c.Request().Header.Get(echo.HeaderContentEncoding); coding {
	case "", "identity":
		return body, func() {}, nil
	case "gzip", "x-gzip":
		packed := &counted{from: body}
		expanded, err := gzip.NewReader(packed)
		if err != nil {
			return nil, nil, AsBody(err, "The body is declared as gzip, and it is none.")
		}
		// What closing could say, reading has said.
		return NewStream(&fair{from: expanded, packed: packed}, limit, tooLarge, nil), func() { _ = expanded.Close() }, nil
	default:
		c.Response().Header().Set(echo.HeaderAcceptEncoding, "gzip") // RFC 9110, section 12.5.3
		return nil, nil, Refuse(UnsupportedMedia,
			fmt.Sprintf("The Content-Encoding is %q; send the body as it is or compressed with gzip.", fault.Cut(coding, 40)))
	}
}

// counted counts what is read.
type counted struct {
	from io.Reader
	n    int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.from.Read(p)
	c.n += int64(n)
	return n, err
}

// fair reads what was compressed, as long as it is in proportion to what was sent.
type fair struct {
	from   io.Reader
	packed *counted
	n      int64
}

func (f *fair) Read(p []byte) (int, error) {
	n, err := f.from.Read(p)
	if f.n += int64(n); f.n > fairUntil && f.n > mostExpanded*f.packed.n {
		return 0, Refuse(TooLarge,
			fmt.Sprintf("The body expands to more than %d times of what was sent, as no honest one does. Send it as it is.", mostExpanded))
	}
	return n, err
}
