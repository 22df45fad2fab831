package api_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// logoOf draws a picture: a red mark on white.
func logoOf(t testing.TB, w, h int, as string) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			m.Set(x, y, color.White)
			if x > w/4 && x < w/2 {
				m.Set(x, y, color.RGBA{200, 30, 30, 255})
			}
		}
	}
	var out bytes.Buffer
	if as == "png" {
		require.NoError(t, png.Encode(&out, m))
	} else {
		require.NoError(t, jpeg.Encode(&out, m, nil))
	}
	return out.String()
}

func TestTheShopsLogoStandsOnItsPapers(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const path = "/v1/letterhead/logo"
	put := func(media, body string, header ...string) answer {
		return s.do(t, http.MethodPut, path, strings.NewReader(body),
			append([]string{"Content-Type", media, "X-Actor", "office"}, header...)...)
	}
	require.Equal(t, http.StatusNotFound, s.get(t, path).status)
	require.Equal(t, http.StatusNotFound, s.do(t, http.MethodDelete, path, nil, "If-Match", "*").status)
	plain := s.bare(t, http.MethodPost, "/v1/estimates/offer.html", deskPart)
	require.NotContains(t, string(plain.body), "data:image/png")

	picture := logoOf(t, 300, 80, "png")
	for name, c := range map[string]struct {
		media, body string
		status      int
	}{
		"another type":   {"image/gif", picture, http.StatusUnsupportedMediaType},
		"a script":       {"image/svg+xml", "<svg/>", http.StatusUnsupportedMediaType},
		"none":           {"image/png", "not a picture", http.StatusBadRequest},
		"empty":          {"image/png", "", http.StatusBadRequest},
		"cut off":        {"image/png", picture[:len(picture)-40], http.StatusBadRequest},
		"said otherwise": {"image/jpeg", picture, http.StatusBadRequest},
		"too many bytes": {"image/png", picture + strings.Repeat("x", 300_000), http.StatusRequestEntityTooLarge},
		"too wide":       {"image/png", logoOf(t, 4001, 1, "png"), http.StatusBadRequest},
	} {
		require.Equal(t, c.status, put(c.media, c.body).problem(t).Status, name)
	}
	first := put("image/png", picture)
	require.Equal(t, http.StatusCreated, first.status, string(first.body))
	got := s.bare(t, http.MethodGet, path, "")
	require.Equal(t, picture, string(got.body), "byte for byte")
	require.Equal(t, first.header.Get("ETag"), got.header.Get("ETag"))
	require.Equal(t, http.StatusNotModified, s.get(t, path, "If-None-Match", got.header.Get("ETag")).status)
	shown := s.bare(t, http.MethodPost, "/v1/estimates/offer.html", deskPart)
	require.Contains(t, string(shown.body), "data:image/png")
	pdf := s.bare(t, http.MethodPost, "/v1/estimates/offer.pdf", deskPart)
	require.Contains(t, string(pdf.body), "/Subtype /Image")

	photo := logoOf(t, 200, 200, "jpeg")
	require.Equal(t, http.StatusPreconditionRequired, put("image/jpeg", photo).status)
	second := put("image/jpeg", photo, "If-Match", first.header.Get("ETag"))
	require.Equal(t, http.StatusNoContent, second.status, string(second.body))
	require.Equal(t, http.StatusPreconditionFailed, put("image/jpeg", photo, "If-Match", first.header.Get("ETag")).status)
	q, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	require.Contains(t, string(s.bare(t, http.MethodGet, "/v1/quotes/"+q["id"].(string)+"/offer.html", "").body),
		"data:image/png")
	require.Equal(t, http.StatusNoContent, s.do(t, http.MethodDelete, path, nil, "If-Match",
		second.header.Get("ETag")).status)
	require.Equal(t, http.StatusNotFound, s.get(t, path).status)
	entries := s.get(t, "/v1/audit-entries?entity=letterhead").tree(t)["items"].([]any)
	require.Len(t, entries, 3)
	require.Equal(t, "retire", entries[0].(map[string]any)["action"])
	require.EqualValues(t, len(photo), entries[0].(map[string]any)["before"].(map[string]any)["bytes"])
}
