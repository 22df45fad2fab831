package lists

import (
	"fmt"
	"io"

	"seamwright/api/web"
)

const (
	// mostExpanded is how many times larger a list may become. Prices shrink to a tenth or a thirtieth; what shrinks to a
	// hundredth is no list, and would cost the time of a large one.
	mostExpanded = 100
	// fairUntil is how many bytes are expanded before that counts.
	fairUntil = 1 << 20
)

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
		return 0, web.Refuse(web.TooLarge, fmt.Sprintf("The list expands to more than %d times of what was sent, as no price list does. Send it as it is.", mostExpanded))
	}
	return n, err
}
