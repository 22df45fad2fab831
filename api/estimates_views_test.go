package api_test

import (
	"net/http"
	"net/url"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/openapi"
)

// The spec names the views that there are, and no others; each is answered for an estimate and for a quote.
func TestTheViewsAreThoseOfTheSpec(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	for _, path := range []string{"/v1/estimates/{view}", "/v1/quotes/{id}/{view}"} {
		item := document.Paths.Value(path)
		operation := item.Post
		if operation == nil {
			operation = item.Get
		}
		var named []string
		for _, one := range operation.Parameters.GetByInAndName("path", "view").Schema.Value.Enum {
			named = append(named, one.(string))
		}
		slices.Sort(named)
		require.Equal(t, show.Names(), named, path)
	}
	for _, name := range show.Names() {
		a := s.bare(t, http.MethodPost, "/v1/estimates/"+name, deskPart)
		require.Equal(t, http.StatusOK, a.status, name)
		require.Equal(t, show.Media(name), a.header.Get("Content-Type"))
		kept := s.bare(t, http.MethodGet, "/v1/quotes/"+q["id"].(string)+"/"+name, "")
		require.Equal(t, http.StatusOK, kept.status, "%s: %.300s", name, kept.body)
		require.NotEmpty(t, kept.body)
	}
	for accept, media := range map[string]string{"image/svg+xml": "image/svg+xml",
		"application/pdf;q=0.9": "application/pdf", "text/csv, */*": "text/csv; charset=utf-8", "*/*": "application/json",
		"application/pdf;q=0": "application/json"} {
		require.Equal(t, media, s.bare(t, http.MethodPost, "/v1/estimates", deskPart, "Accept",
			accept).header.Get("Content-Type"), accept)
	}
	require.Equal(t, http.StatusNotFound, s.post(t, "/v1/estimates/nothing.svg", deskPart).problem(t).Status)
	kept := "/v1/quotes/" + q["id"].(string) + "/"
	face, under := s.bare(t, http.MethodGet, kept+"template.svg?corner=1&side=above", ""),
		s.bare(t, http.MethodGet, kept+"template.svg?corner=1&side=below&language=de", "")
	require.Equal(t, http.StatusOK, face.status)
	require.Equal(t, http.StatusOK, under.status)
	require.NotEqual(t, string(face.body), string(under.body))
	require.Contains(t, string(under.body), "Von unten gesehen")
	for query, status := range map[string]int{"?side=left": http.StatusBadRequest,
		"?run=1&corner=1": http.StatusBadRequest, "?run=6": http.StatusNotFound, "?run=7": http.StatusBadRequest} {
		require.Equal(t, status, s.get(t, kept+"template.svg"+query).problem(t).Status, query)
	}
	p := s.post(t, "/v1/estimates/offer.pdf?"+url.Values{"paper": {"A9"}}.Encode(), deskPart).problem(t)
	require.Equal(t, http.StatusBadRequest, p.Status)
}

// The documents of a quote show what was kept, not what the catalogue says now.
func TestAQuotesOfferShowsTheKeptPrice(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	at := "/v1/quotes/" + q["id"].(string) + "/bill.csv"
	before := s.bare(t, http.MethodGet, at, "")
	sheet := s.bare(t, http.MethodGet, "/v1/quotes/"+q["id"].(string)+"/offer.html", "")
	s.dearer(t, "96.00")
	require.Equal(t, string(before.body), string(s.bare(t, http.MethodGet, at, "").body))
	require.Equal(t, string(sheet.body),
		string(s.bare(t, http.MethodGet, "/v1/quotes/"+q["id"].(string)+"/offer.html", "").body))
}
