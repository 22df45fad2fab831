package pages_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/pages"
)

func load(t *testing.T) *pages.Site {
	t.Helper()
	site, err := pages.Load(pages.Order{})
	require.NoError(t, err)
	return site
}

func get(p *pages.Page, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodGet, "/", nil)
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w
}

func TestAFileIsTheSameShrunkAndPlain(t *testing.T) {
	t.Parallel()
	site := load(t)
	require.GreaterOrEqual(t, len(site.Names()), 6)
	for _, name := range site.Names() {
		plain := get(site.File(name))
		require.Equal(t, http.StatusOK, plain.Code)
		require.Empty(t, plain.Header().Get("Content-Encoding"))
		require.NotEmpty(t, plain.Header().Get("Content-Type"), name)
		text := plain.Body.Bytes()
		require.NotEmpty(t, text, name)
		for _, accept := range []string{"gzip", "br, gzip;q=0.5", "GZIP"} {
			packed := get(site.File(name), "Accept-Encoding", accept)
			if packed.Header().Get("Content-Encoding") == "" { // too small to gain by it
				require.Equal(t, text, packed.Body.Bytes())
				continue
			}
			r, err := gzip.NewReader(packed.Body)
			require.NoError(t, err)
			again, err := io.ReadAll(r)
			require.NoError(t, err)
			require.True(t, bytes.Equal(text, again), name)
			require.NotEqual(t, plain.Header().Get("ETag"), packed.Header().Get("ETag"))
		}
		refused := get(site.File(name), "Accept-Encoding", "gzip;q=0, br")
		require.Empty(t, refused.Header().Get("Content-Encoding"))
	}
}

func TestAPageHeldAlreadyIsNotSentAgain(t *testing.T) {
	t.Parallel()
	page := load(t).Page("index")
	again := get(page, "If-None-Match", get(page).Header().Get("ETag"))
	require.Equal(t, http.StatusNotModified, again.Code)
	require.Empty(t, again.Body.Bytes())
	require.Equal(t, http.StatusOK, get(page, "If-None-Match", `"other"`).Code)
}

// What a page loads must be here: names in href and src begin with a slash, and those under /assets/ exist.
func TestPagesLoadNothingFromOutsideAndNothingThatIsMissing(t *testing.T) {
	t.Parallel()
	site := load(t)
	loads := regexp.MustCompile(`(?:src|href)="([^"]*)"`)
	for _, name := range []string{"index", "docs", "order"} {
		page := site.Page(name)
		require.NotNil(t, page, name)
		html := get(page).Body.String()
		found := 0
		for _, match := range loads.FindAllStringSubmatch(html, -1) {
			require.Regexp(t, `^[/#]`, match[1], "%s in %s", match[1], name)
			if file, isAsset := strings.CutPrefix(match[1], "/assets/"); isAsset {
				require.NotNil(t, site.File(file), "%s in %s", match[1], name)
				found++
			}
		}
		require.Positive(t, found)
		require.NotRegexp(t, `<script(?:[^>]*)>[^<]|<style| style=| on[a-z]+=`, html,
			"%s: the policy forbids what stands in the page itself", name)
	}
}

func TestPoliciesAllowOnlyThisService(t *testing.T) {
	t.Parallel()
	site := load(t)
	strict := get(site.Page("index")).Header().Get("Content-Security-Policy")
	require.Contains(t, strict, "default-src 'none'")
	require.NotContains(t, strict, "unsafe")
	docs := get(site.Page("docs")).Header().Get("Content-Security-Policy")
	require.Contains(t, docs, "script-src 'self';")
	for _, policy := range []string{strict, docs} {
		require.NotContains(t, policy, "http")
		require.NotContains(t, policy, "*")
		require.NotContains(t, policy, "unsafe-eval")
	}
}

// Pages stay under 200 kB as they are sent, the documentation's console apart.
func TestPagesAreLight(t *testing.T) {
	t.Parallel()
	site := load(t)
	total := len(get(site.Page("index"), "Accept-Encoding", "gzip").Body.Bytes())
	for _, name := range site.Names() {
		if !strings.HasPrefix(name, "console.") {
			total += len(get(site.File(name), "Accept-Encoding", "gzip").Body.Bytes())
		}
	}
	require.Less(t, total, 200_000)
}
