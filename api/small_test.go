package api_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/klauspost/compress/zstd"
	"github.com/stretchr/testify/require"

	"seamwright/store/keys"
)

// mostOfASummary is what a summary stays under.
const mostOfASummary = 4096

// A summary says what the whole answer says, in less than 4 kB, wherever an estimate or a quote is answered with.
func TestASummaryAgreesWithTheWholeAnswer(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	whole := s.post(t, "/v1/estimates", deskPart).tree(t)
	small := s.post(t, "/v1/estimates?fields=summary", deskPart)
	require.Less(t, len(small.body), mostOfASummary)
	agrees := func(summary map[string]any) {
		price, labour := whole["price"].(map[string]any), whole["labour"].(map[string]any)
		require.Equal(t, price["total"], summary["total"])
		require.Equal(t, price["cost"], summary["cost"])
		require.Equal(t, labour["hours"], summary["hours"])
		require.Equal(t, labour["working_days"], summary["working_days"])
		require.Equal(t, whole["catalogue"], summary["catalogue"])
		require.Equal(t, whole["corners"].([]any)[0].(map[string]any)["chosen"], summary["joints"].([]any)[0])
	}
	agrees(small.tree(t))

	long := strings.Repeat("Ärmel<\\ ", 25) // 200 characters, some of which take more than a byte
	entry, err := json.Marshal(map[string]any{"reference": long, "note": strings.Repeat("n", 4000), "terms": strings.Repeat("t", 8000),
		"customer": map[string]string{"name": "Ada Example", "email": "ada@example.com"}, "estimate": json.RawMessage(deskPart)})
	require.NoError(t, err)
	made := s.post(t, "/v1/quotes?fields=summary", string(entry))
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	path := made.header.Get("Location")
	etag := func() string { return s.get(t, path).header.Get("ETag") }
	for name, a := range map[string]answer{
		"made":     made,
		"read":     s.get(t, path+"?fields=summary"),
		"revision": s.get(t, path+"/revisions/1?fields=summary"),
		"tried":    s.post(t, path+"/reprice?fields=summary&dry_run=true", ""),
		"revised":  s.post(t, path+"/revisions?fields=summary", `{"estimate":`+deskPart+`}`, "If-Match", etag()),
		"repriced": s.post(t, path+"/reprice?fields=summary", "", "If-Match", etag()),
		"moved":    s.post(t, path+"/status?fields=summary", `{"status":"sent"}`, "If-Match", etag()),
		"listed":   s.get(t, "/v1/quotes?fields=summary"),
	} {
		require.Less(t, a.status, 300, "%s: %s", name, a.body)
		require.Less(t, len(a.body), mostOfASummary, name)
		require.NotContains(t, string(a.body), "Ada", "%s tells nobody who it is for", name)
		tree := a.tree(t)
		if name != "moved" && name != "listed" { // neither has an estimate
			agrees(tree["estimate"].(map[string]any))
		}
	}
	full, brief := s.get(t, path).tree(t), s.get(t, path+"?fields=summary").tree(t)
	delete(brief, "estimate")
	for field, value := range brief {
		require.Equal(t, full[field], value, field)
	}
	require.NotEqual(t, s.get(t, path).header.Get("ETag"), s.get(t, path+"?fields=summary").header.Get("ETag"))
	p := s.post(t, "/v1/estimates?fields=summary&explain=true", deskPart).problem(t)
	require.Equal(t, "explain", p.Errors[0].Parameter)
	require.Equal(t, http.StatusBadRequest, s.get(t, path+"?fields=little").status)
}

// RFC 7240: a write is done, and answered with its headers alone.
func TestAMinimalAnswerIsDoneAndHasItsHeaders(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	minimal := []string{"Prefer", "respond-async, return=minimal; x=1", "Idempotency-Key", "m1"}
	made := s.post(t, "/v1/quotes", `{"reference":"M-1","estimate":`+deskPart+`}`, minimal...)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	require.Empty(t, made.body)
	require.Equal(t, "return=minimal", made.header.Get("Preference-Applied"))
	path := made.header.Get("Location")
	again := s.post(t, "/v1/quotes", `{"reference":"M-1","estimate":`+deskPart+`}`, minimal...)
	require.Equal(t, "true", again.header.Get("Idempotency-Replayed"))
	require.Equal(t, "return=minimal", again.header.Get("Preference-Applied"))
	require.Equal(t, path, again.header.Get("Location"))

	sent := s.post(t, path+"/status", `{"status":"sent"}`, "If-Match", made.header.Get("ETag"), "Prefer", `Return="minimal"`)
	require.Equal(t, http.StatusNoContent, sent.status)
	require.Empty(t, sent.body)
	require.Equal(t, "sent", s.get(t, path).tree(t)["status"])
	tried := s.post(t, path+"/reprice?dry_run=true", "", "Prefer", "return=minimal")
	require.Equal(t, http.StatusOK, tried.status)
	require.NotEmpty(t, tried.body, "what is only tried is wanted for its answer")
	require.Empty(t, tried.header.Get("Preference-Applied"))

	role := s.get(t, "/v1/labour-roles/maker")
	changed := s.put(t, "/v1/labour-roles/maker", `{"name":"Maker","rate":"52.00"}`, "If-Match", role.header.Get("ETag"), "Prefer", "return=minimal")
	require.Equal(t, http.StatusNoContent, changed.status)
	require.NotEmpty(t, changed.header.Get("ETag"))
	require.NotEmpty(t, s.post(t, "/v1/estimates", smallest, "Prefer", "return=minimal").body, "what stores nothing is its answer")
	require.NotEmpty(t, s.post(t, "/v1/quotes", `{"estimate":`+smallest+`}`, "Prefer", "return=representation, return=minimal").body)
	refused := s.post(t, path+"/status", `{"status":"sent"}`, "If-Match", sent.header.Get("ETag"), "Prefer", "return=minimal")
	require.NotEmpty(t, refused.problem(t).Detail, "a refusal says why")
}

// A page leads to itself and to the next one, as RFC 8288 has it; whoever follows the links sees every item once.
func TestListsAreWalkedByTheirLinks(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	want := map[string]bool{}
	for _, item := range s.get(t, "/v1/fasteners?limit=200").tree(t)["items"].([]any) {
		want[item.(map[string]any)["code"].(string)] = true
	}
	require.Greater(t, len(want), 14)
	link := regexp.MustCompile(`^<([^<>]+)>; rel="(self|next)"$`)
	seen, next, pages := map[string]bool{}, "/v1/fasteners?limit=7&units=in", 0
	for next != "" {
		a := s.get(t, next)
		links := map[string]string{}
		for _, one := range a.header.Values("Link") {
			m := link.FindStringSubmatch(one)
			require.NotNil(t, m, one)
			links[m[2]] = m[1]
		}
		require.Equal(t, next, links["self"])
		for _, item := range a.tree(t)["items"].([]any) {
			code := item.(map[string]any)["code"].(string)
			require.False(t, seen[code], code)
			seen[code] = true
		}
		if cursor := a.tree(t)["next_cursor"]; cursor != nil {
			u, err := url.Parse(links["next"])
			require.NoError(t, err)
			require.Equal(t, cursor, u.Query().Get("cursor"))
			require.Equal(t, "in", u.Query().Get("units"), "the call is otherwise the same")
		}
		next = links["next"]
		pages++
	}
	require.Equal(t, want, seen)
	require.Greater(t, pages, 2)
	q, _ := s.offer(t, `{"estimate":`+smallest+`}`)
	path := "/v1/quotes/" + q["id"].(string) + "?fields=summary"
	require.Equal(t, "<"+path+`>; rel="self"`, s.get(t, path).header.Get("Link"))
	odd := s.get(t, `/v1/quotes?reference=a%3E%22b`)
	require.Equal(t, `</v1/quotes?reference=a%3E%22b>; rel="self"`, odd.header.Get("Link"))
}

// squeezed asks with an Accept-Encoding and returns the answer expanded, with the bytes that came.
func squeezed(t *testing.T, service *httptest.Server, accept, method, path, body string, header ...string) (a answer, came int) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, service.URL+path, strings.NewReader(body))
	require.NoError(t, err)
	r.Header.Set("Accept-Encoding", accept)
	r.Header.Set("Content-Type", "application/json")
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	response, err := service.Client().Do(r)
	require.NoError(t, err)
	defer func() { require.NoError(t, response.Body.Close()) }()
	raw, err := io.ReadAll(response.Body)
	require.NoError(t, err)
	return answer{response.StatusCode, response.Header, expanded(t, response.Header.Get("Content-Encoding"), raw)}, len(raw)
}

func expanded(t *testing.T, coding string, raw []byte) []byte {
	t.Helper()
	var from io.Reader = bytes.NewReader(raw)
	switch coding {
	case "gzip":
		z, err := gzip.NewReader(from)
		require.NoError(t, err)
		from = z
	case "zstd":
		z, err := zstd.NewReader(from)
		require.NoError(t, err)
		defer z.Close()
		from = z
	default:
		require.Empty(t, coding)
	}
	plain, err := io.ReadAll(from)
	require.NoError(t, err)
	return plain
}

// The same answer to the byte, in a quarter of the bytes, to those who take it.
func TestLargeAnswersAreCompressedForThoseWhoTakeIt(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	service := httptest.NewServer(s.handler)
	defer service.Close()
	plain, size := squeezed(t, service, "identity", http.MethodPost, "/v1/estimates", deskPart)
	require.Empty(t, plain.header.Get("Content-Encoding"))
	require.Contains(t, plain.header.Values("Vary"), "Accept-Encoding")
	for accept, coding := range map[string]string{"gzip": "gzip", "zstd": "zstd", "gzip, deflate, br, zstd": "gzip", "zstd, gzip;q=0.5": "zstd",
		"gzip;q=0": "", "br": "", "gzip;q=0, zstd;q=0, *": ""} {
		a, came := squeezed(t, service, accept, http.MethodPost, "/v1/estimates", deskPart)
		require.Equal(t, coding, a.header.Get("Content-Encoding"), accept)
		require.Equal(t, string(plain.body), string(a.body), accept)
		if coding != "" {
			require.Less(t, came, size/3, accept)
		}
	}
	tiny, _ := squeezed(t, service, "gzip", http.MethodPost, "/v1/estimates?fields=summary", deskPart)
	require.Empty(t, tiny.header.Get("Content-Encoding"), "what fits into one packet gains nothing")
	picture, _ := squeezed(t, service, "gzip", http.MethodPost, "/v1/estimates/offer.pdf", deskPart)
	require.Empty(t, picture.header.Get("Content-Encoding"), "a PDF is compressed by itself")
	drawing, _ := squeezed(t, service, "gzip", http.MethodPost, "/v1/estimates/plan.svg", deskPart)
	require.Equal(t, "gzip", drawing.header.Get("Content-Encoding"))
	lines, _ := squeezed(t, service, "gzip", http.MethodPost, "/v1/estimates/batch", smallest+"\n"+smallest+"\n", "Content-Type", "application/x-ndjson")
	require.Equal(t, "gzip", lines.header.Get("Content-Encoding"))
	require.Len(t, readLines(t, string(lines.body)), 3)
}

// RFC 9110, section 8.8.3.3: other bytes have another tag; each is good for asking again and for a change.
func TestACompressedAnswersTagIsGoodWhereverATagIs(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	service := httptest.NewServer(s.handler)
	defer service.Close()
	path := "/v1/quotes/" + q["id"].(string)
	plain, _ := squeezed(t, service, "identity", http.MethodGet, path, "")
	for _, coding := range []string{"gzip", "zstd"} {
		a, _ := squeezed(t, service, coding, http.MethodGet, path, "")
		tag := a.header.Get("ETag")
		require.Equal(t, strings.TrimSuffix(plain.header.Get("ETag"), `"`)+"-"+coding+`"`, tag)
		for _, accept := range []string{coding, "identity"} {
			same, _ := squeezed(t, service, accept, http.MethodGet, path, "", "If-None-Match", tag)
			require.Equal(t, http.StatusNotModified, same.status)
			require.Equal(t, tag, same.header.Get("ETag"), "the tag of the answer that is held")
		}
		head, _ := squeezed(t, service, coding, http.MethodHead, path, "")
		require.Equal(t, http.StatusOK, head.status)
	}
	zipped, _ := squeezed(t, service, "gzip", http.MethodGet, path, "")
	moved := s.move(t, q["id"].(string), zipped.header.Get("ETag"), "sent")
	require.Equal(t, http.StatusOK, moved.status, string(moved.body))
}

// What shows a secret has a length that nobody can compare (BREACH).
func TestAnswersWithSecretsAreNotCompressed(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	admin, _ := g.key(t, keys.Secret, "keys:admin")
	service := httptest.NewServer(g.handler)
	defer service.Close()
	scopes := `["estimate","catalogue:read","catalogue:write","prices:write","quotes:read","quotes:write","keys:admin"]`
	for range 10 {
		a, _ := squeezed(t, service, "identity", http.MethodPost, "/v1/keys", `{"kind":"secret","name":"`+strings.Repeat("n", 60)+`","scopes":`+scopes+`}`, bearer(admin)...)
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
	}
	list, came := squeezed(t, service, "gzip, zstd", http.MethodGet, "/v1/keys", "", bearer(admin)...)
	require.Greater(t, came, 2000)
	require.Empty(t, list.header.Get("Content-Encoding"))
	require.Empty(t, list.header.Get("No-Gzip-Compression"), "the mark is for the inside")
}

func zipped(t *testing.T, plain []byte) string {
	t.Helper()
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	_, err := z.Write(plain)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return packed.String()
}

// A request may come with gzip: read as if it had come plain, within the same limits.
func TestRequestsMayBeCompressed(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	plain := s.post(t, "/v1/estimates", deskPart)
	a := s.post(t, "/v1/estimates", zipped(t, []byte(deskPart)), "Content-Encoding", "gzip")
	require.Equal(t, string(plain.body), string(a.body))
	body := zipped(t, []byte(`{"estimate":`+deskPart+`}`))
	made := s.post(t, "/v1/quotes", body, "Content-Encoding", "gzip", "Idempotency-Key", "z1")
	require.Equal(t, http.StatusCreated, made.status)
	again := s.post(t, "/v1/quotes", body, "Content-Encoding", "gzip", "Idempotency-Key", "z1")
	require.Equal(t, string(made.body), string(again.body))
	lines := s.bare(t, http.MethodPost, "/v1/estimates/batch", zipped(t, []byte(smallest+"\n")), "Content-Type", "application/x-ndjson", "Content-Encoding", "gzip")
	require.Equal(t, http.StatusOK, lines.status)
	require.Len(t, readLines(t, string(lines.body)), 2)

	large := make([]byte, 0, 2<<20)
	for i := range 200_000 {
		large = strconv.AppendInt(large, int64(i)*7919, 10)
	}
	for name, c := range map[string]struct {
		body, coding string
		status       int
		says         string
	}{
		"no gzip":           {deskPart, "gzip", http.StatusBadRequest, "is none"},
		"a torn one":        {zipped(t, []byte(deskPart))[:100], "gzip", http.StatusBadRequest, "damaged"},
		"too large within":  {zipped(t, large), "gzip", http.StatusRequestEntityTooLarge, "at most 1048576 bytes"},
		"a bomb":            {zipped(t, make([]byte, 64<<20)), "gzip", http.StatusRequestEntityTooLarge, "100 times"},
		"another coding":    {deskPart, "br", http.StatusUnsupportedMediaType, "gzip"},
		"two codings":       {deskPart, "gzip, gzip", http.StatusUnsupportedMediaType, "gzip"},
		"wrong once opened": {zipped(t, []byte(`{"units":"ell"}`)), "gzip", http.StatusBadRequest, "wrong"},
	} {
		a := s.post(t, "/v1/estimates", c.body, "Content-Encoding", c.coding)
		require.Equal(t, c.status, a.status, "%s: %s", name, a.body)
		require.Contains(t, a.problem(t).Detail, c.says, name)
		if c.status == http.StatusUnsupportedMediaType {
			require.Equal(t, "gzip", a.header.Get("Accept-Encoding"), name)
		}
	}
}
