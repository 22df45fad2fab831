package api_test

import (
	"net/http"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every page and every file that a page names is served, and as what it is.
func TestPagesAndWhatTheyLoadAreServed(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	names := regexp.MustCompile(`"(/assets/[^"]+)"`)
	for _, path := range []string{"/", "/docs", "/order"} {
		page := c.get(t, path)
		require.Equal(t, http.StatusOK, page.status, path)
		require.Contains(t, page.header.Get("Content-Type"), "text/html")
		require.Contains(t, page.header.Get("Content-Security-Policy"), "default-src 'none'")
		files := names.FindAllStringSubmatch(string(page.body), -1)
		require.NotEmpty(t, files)
		for _, file := range files {
			require.Equal(t, http.StatusOK, c.get(t, file[1]).status, file[1])
		}
		require.Equal(t, http.StatusNotModified, c.get(t, path, "If-None-Match", page.header.Get("ETag")).status)
	}
}
