package api_test

import (
	"bytes"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/summary"
	"seamwright/service/drawing/view"
	"seamwright/store/storetest"
)

// The first page shows an answer of the service itself: the pictures are its drawings of the example, and every figure in the text
// stands in its summary. UPDATE_GOLDEN draws the pictures anew.
func TestTheFirstPageShowsWhatTheServiceSays(t *testing.T) {
	t.Parallel()
	request, err := os.ReadFile("../testdata/requests/l_desk.json")
	require.NoError(t, err)
	est, err := estimates.Make(request, storetest.Demo(t), noon, false)
	require.NoError(t, err)
	drawn, err := view.Draw(est, view.Options{})
	require.NoError(t, err)
	laidOut, err := show.Make("plan-customer.svg", &show.Subject{Estimate: est,
		Shop: &storetest.Demo(t).Settings.ShopSettings}, show.Options{})
	require.NoError(t, err)
	c := newClient(t, healthy(t))
	for name, picture := range map[string][]byte{"desk-view.svg": drawn, "desk-plan.svg": laidOut} {
		if os.Getenv("UPDATE_GOLDEN") != "" {
			require.NoError(t, os.WriteFile("pages/assets/"+name, picture, 0o644))
			continue
		}
		require.Equal(t, string(picture), string(c.bare(t, http.MethodGet, "/assets/"+name, "").body),
			"%s: run UPDATE_GOLDEN=1 go test ./api -run FirstPage", name)
	}
	var printed bytes.Buffer
	require.NoError(t, summary.Write(&printed, est, summary.Screen{Columns: 120}))
	figures := regexp.MustCompile(`<span class="figure">([^<]*)</span>`).FindAllStringSubmatch(string(c.get(t, "/").body),
		-1)
	require.Greater(t, len(figures), 12)
	for _, figure := range figures {
		require.NotContains(t, figure[1], "-", "a hyphen is no minus")
		number, _, _ := strings.Cut(strings.Replace(figure[1], "−", "-", 1), " ") // a terminal has the hyphen
		require.Regexp(t, `(^|[^0-9.])`+regexp.QuoteMeta(number)+`([^0-9]|$)`, printed.String(), "the page says %s",
			figure[1])
	}
}

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
