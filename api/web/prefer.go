package web

import (
	"net/http"
	"strings"
)

// Headers of RFC 7240, by which a caller says what answer it would rather have.
const (
	preferHeader  = "Prefer"
	appliedHeader = "Preference-Applied"
	returnMinimal = "return=minimal"
)

// prefersMinimal says whether a caller would rather have no more than the headers of a write's answer. What else it prefers
// is passed over, as RFC 7240 asks; of several returns the first counts.
func prefersMinimal(header http.Header) bool {
	for _, line := range header.Values(preferHeader) {
		for one := range strings.SplitSeq(line, ",") {
			one, _, _ = strings.Cut(one, ";")
			name, value, _ := strings.Cut(one, "=")
			if !strings.EqualFold(strings.TrimSpace(name), "return") {
				continue
			}
			return strings.EqualFold(strings.Trim(strings.TrimSpace(value), `"`), "minimal")
		}
	}
	return false
}

// minimal answers a write with its headers alone.
func (c *Call) minimal(status int) error {
	c.Response().Header().Set(appliedHeader, returnMinimal)
	if status == http.StatusOK {
		status = http.StatusNoContent
	}
	return c.NoContent(status)
}
