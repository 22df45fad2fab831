package api_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/service/money"
)

const deskPart = `{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5},{"length":72,"depth":25.5}],"corners":[{"angle":90}],"edge":{"profile":"roundover","size":0.25}}}`

// offer stores a quote and returns it with its ETag.
func (s *shop) offer(t testing.TB, body string) (map[string]any, string) {
	t.Helper()
	a := s.post(t, "/v1/quotes", body)
	require.Equal(t, http.StatusCreated, a.status, "%.800s", a.body)
	q := a.tree(t)
	require.Equal(t, "/v1/quotes/"+q["id"].(string), a.header.Get("Location"))
	return q, a.header.Get("ETag")
}

func (s *shop) move(t testing.TB, id, etag, status string) answer {
	t.Helper()
	return s.post(t, "/v1/quotes/"+id+"/status", `{"status":"`+status+`"}`, "If-Match", etag)
}

// dearer raises the rate of a role and waits until it holds.
func (s *shop) dearer(t testing.TB, rate string) {
	t.Helper()
	at := "/v1/labour-roles/maker"
	a := s.put(t, at, `{"name":"Maker","rate":"`+rate+`"}`, "If-Match", s.get(t, at).header.Get("ETag"))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	s.seen(t, a)
}

func TestAQuoteIsKeptAndReadToTheLetter(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"reference":"H-2041","customer":{"reference":"C-17","name":"Ada <script>","email":"ada@example.com"},"valid_days":21,"estimate":`+deskPart+`}`)
	require.Equal(t, "draft", q["status"])
	require.Equal(t, "2026-12-16", q["valid_until"])
	require.EqualValues(t, 1, q["revision"])
	require.NotEmpty(t, q["terms"])

	direct := s.post(t, "/v1/estimates", deskPart)
	var made struct{ Estimate json.RawMessage }
	path := "/v1/quotes/" + q["id"].(string)
	kept := s.get(t, path)
	require.NoError(t, json.Unmarshal(kept.body, &made))
	require.Equal(t, string(direct.body), string(made.Estimate), "byte for byte")
	require.Equal(t, http.StatusNotModified, s.get(t, path, "If-None-Match", kept.header.Get("ETag")).status)
	require.Equal(t, q["total"], direct.tree(t)["price"].(map[string]any)["total"])

	s.dearer(t, "96.00") // the catalogue moves away
	again := s.get(t, path+"/revisions/1")
	var frozen struct{ Request, Estimate json.RawMessage }
	require.NoError(t, json.Unmarshal(again.body, &frozen))
	require.Equal(t, string(direct.body), string(frozen.Estimate), "what was kept does not move with the catalogue")
	require.True(t, bytes.Equal([]byte(deskPart), frozen.Request))
	require.Equal(t, http.StatusNotFound, s.get(t, path+"/revisions/2").status)
	require.NotEmpty(t, etag)
}

// A repriced offer says line by line why it moved, and the parts add up to the cent.
func TestRepricingExplainsEveryLine(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	s.dearer(t, "60.00")
	dry := s.post(t, path+"/reprice?dry_run=true", "")
	require.Equal(t, http.StatusOK, dry.status, string(dry.body))
	require.Equal(t, false, dry.tree(t)["stored"])
	require.EqualValues(t, 1, s.get(t, path).tree(t)["revision"], "nothing is kept")

	etag := s.get(t, path).header.Get("ETag")
	require.Equal(t, http.StatusPreconditionRequired, s.post(t, path+"/reprice", "").status)
	a := s.post(t, path+"/reprice", "", "If-Match", etag)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	require.Equal(t, path+"/revisions/2", a.header.Get("Location"))
	d := a.tree(t)["difference"].(map[string]any)
	parts := money.Amount{}
	steps := 0
	for _, part := range []struct{ list, rate string }{{"materials", "by_price"}, {"labour", "by_rate"}} {
		for _, line := range d[part.list].([]any) {
			l := line.(map[string]any)
			change := amountOf(t, l["by_quantity"]).Plus(amountOf(t, l[part.rate]))
			require.Equal(t, amountOf(t, l["after"]).Minus(amountOf(t, l["before"])).String(), change.String())
			parts = parts.Plus(change)
			if part.list == "labour" {
				require.Equal(t, "0.00", l["by_quantity"], "only the rate moved")
				steps++
			}
		}
	}
	require.Greater(t, steps, 5)
	changes := map[string]money.Amount{}
	for _, line := range d["price"].([]any) {
		l := line.(map[string]any)
		changes[l["line"].(string)] = amountOf(t, l["change"])
	}
	require.Equal(t, changes["labour"].String(), parts.String())
	cost := parts.Plus(changes["overhead"]).Plus(changes["contingency"])
	require.Equal(t, changes["cost"].String(), cost.String())
	require.Equal(t, changes["total"].String(), changes["cost"].Plus(changes["margin"]).Plus(changes["tax"]).String())
	inputs := d["inputs"].([]any)
	require.Equal(t, "/pricing", inputs[0].(map[string]any)["pointer"])

	same := s.get(t, path+"/revisions/2/difference").tree(t)
	require.Equal(t, d["labour"], same["labour"])
	none := s.get(t, path+"/revisions/2/difference?from=2").tree(t)
	require.Empty(t, none["labour"])
	require.Empty(t, s.get(t, path+"/revisions/1/difference").tree(t)["inputs"])
	require.Equal(t, http.StatusNotFound, s.get(t, path+"/revisions/3/difference").status)
	require.Len(t, s.get(t, path+"/revisions").tree(t)["items"], 2)
}

func amountOf(t testing.TB, value any) money.Amount {
	t.Helper()
	a, err := money.ParseAmount(value.(string))
	require.NoError(t, err)
	return a
}

func TestARevisionShowsWhatWasChanged(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"estimate":`+deskPart+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	longer := `{"estimate":{"units":"in","top":{"species":"walnut_black","thickness":"1-1/2","runs":[{"length":100,"depth":25.5},{"length":72,"depth":25.5}],"corners":[{"angle":90}],"edge":{"profile":"roundover","size":0.25}}}}`
	require.Equal(t, http.StatusOK, s.move(t, q["id"].(string), etag, "sent").status)
	a := s.post(t, path+"/revisions", longer, "If-Match", s.get(t, path).header.Get("ETag"))
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	answered := a.tree(t)
	require.Equal(t, "draft", answered["quote"].(map[string]any)["status"], "the customer has not seen it")
	found := map[string][2]any{}
	for _, one := range answered["difference"].(map[string]any)["inputs"].([]any) {
		x := one.(map[string]any)
		found[x["pointer"].(string)] = [2]any{x["before"], x["after"]}
	}
	require.Equal(t, map[string][2]any{"/top/species": {"maple_sugar", "walnut_black"},
		"/top/runs/0/length": {"96", "100"}}, found)
	moves := s.get(t, path).tree(t)["moves"].([]any)
	require.Len(t, moves, 2)
	require.Equal(t, "draft", moves[1].(map[string]any)["after"])
	require.Equal(t, []any{"walnut_black", "walnut_black"}, s.get(t, path).tree(t)["species"])
}

func TestOffersGoOnlyTheirWays(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"estimate":`+smallest+`}`)
	id := q["id"].(string)
	require.Equal(t, http.StatusPreconditionRequired, s.post(t, "/v1/quotes/"+id+"/status", `{"status":"sent"}`).status)
	p := s.move(t, id, etag, "accepted").problem(t)
	require.Equal(t, http.StatusUnprocessableEntity, p.Status)
	require.Equal(t, "/problems/impossible-move", p.Type)
	require.Contains(t, p.Detail, "sent or withdrawn")
	a := s.move(t, id, etag, "sent")
	require.Equal(t, http.StatusOK, a.status)
	require.Equal(t, http.StatusPreconditionFailed, s.move(t, id, etag, "accepted").status, "an old ETag")
	a = s.move(t, id, a.header.Get("ETag"), "accepted")
	require.Equal(t, http.StatusOK, a.status)
	require.Empty(t, a.tree(t)["may_become"])
	require.Nil(t, a.tree(t)["today"], "an accepted offer does not drift")
	etag = a.header.Get("ETag")
	require.Equal(t, http.StatusUnprocessableEntity, s.post(t, "/v1/quotes/"+id+"/revisions", `{"estimate":`+smallest+`}`,
		"If-Match", etag).problem(t).Status)
	require.Equal(t, http.StatusUnprocessableEntity, s.put(t, "/v1/quotes/"+id, `{}`, "If-Match", etag).problem(t).Status)
}

func TestOfTwoMovesWithOneETagOneWins(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"estimate":`+smallest+`}`)
	var group sync.WaitGroup
	statuses := make([]int, 8)
	for i := range statuses {
		group.Go(func() { statuses[i] = s.move(t, q["id"].(string), etag, []string{"sent", "withdrawn"}[i%2]).status })
	}
	group.Wait()
	won := 0
	for _, status := range statuses {
		require.Contains(t, []int{http.StatusOK, http.StatusPreconditionFailed}, status)
		if status == http.StatusOK {
			won++
		}
	}
	require.Equal(t, 1, won)
}

// Revisions have no gaps, whoever makes them at the same time.
func TestRevisionsMadeTogetherAreNumberedWithoutGaps(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+smallest+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	var group sync.WaitGroup
	for range 20 {
		group.Go(func() {
			a := s.post(t, path+"/reprice", "", "If-Match", "*")
			require.Equal(t, http.StatusCreated, a.status, string(a.body))
		})
	}
	group.Wait()
	items := s.get(t, path+"/revisions?limit=100").tree(t)["items"].([]any)
	require.Len(t, items, 21)
	for i, item := range items {
		require.EqualValues(t, i+1, item.(map[string]any)["number"])
	}
}

func TestValidityRunsOutByTheShopsDay(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	at := noon
	config := healthy(t)
	config.Snapshot, config.Store, config.Now = s.cat.Snapshot, s.store, func() time.Time { return at }
	server, err := api.New(config)
	require.NoError(t, err)
	s.handler = server.Handler()
	q, etag := s.offer(t, `{"valid_until":"2026-11-25","estimate":`+smallest+`}`)
	id := q["id"].(string)
	require.Equal(t, http.StatusOK, s.move(t, id, etag, "sent").status)
	at = noon.AddDate(0, 0, 1)
	read := s.get(t, "/v1/quotes/"+id)
	require.Equal(t, "expired", read.tree(t)["status"], "also before it has been moved")
	require.Len(t, s.get(t, "/v1/quotes?status=expired").tree(t)["items"], 1)
	require.Empty(t, s.get(t, "/v1/quotes?status=sent,draft").tree(t)["items"])
	require.Equal(t, http.StatusUnprocessableEntity, s.move(t, id, read.header.Get("ETag"), "accepted").status)
	n, err := server.ExpireQuotes(t.Context())
	require.NoError(t, err)
	require.Equal(t, 1, n)
	read = s.get(t, "/v1/quotes/"+id)
	require.Equal(t, "expired", read.tree(t)["status"])
	require.Len(t, read.tree(t)["moves"], 2)
	last := s.get(t, "/v1/audit-entries?entity=quotes&limit=1").tree(t)["items"].([]any)[0].(map[string]any)
	require.Equal(t, []any{"validity", id, "sent", "expired", read.tree(t)["total"]}, []any{last["actor"], last["code"],
		last["before"].(map[string]any)["status"], last["after"].(map[string]any)["what"], last["after"].(map[string]any)["total"]})
	n, err = server.ExpireQuotes(t.Context())
	require.NoError(t, err)
	require.Zero(t, n)
	a := s.move(t, id, read.header.Get("ETag"), "draft")
	require.Equal(t, http.StatusOK, a.status)
	p := s.move(t, id, a.header.Get("ETag"), "sent").problem(t)
	require.Contains(t, p.Detail, "ended on 2026-11-25")
}

func TestQuotesThatMakeNoSenseAreRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for body, pointer := range map[string]string{
		`{}`: "/estimate",
		`{"estimate":{"units":"in","top":{"species":"maple_suger","thickness":1.5,"runs":[{"length":60,"depth":25}]}}}`: "/estimate/top/species",
		`{"estimate":{"units":"in","top":{"species":"maple_sugar","thickness":"x","runs":[{"length":60,"depth":25}]}}}`: "/estimate/top/thickness",
		`{"customer":{"email":"Ada <ada@example.com>"},"estimate":` + smallest +
			`}`: "/customer/email",
		`{"customer":{"email":"a@b.example\r\nBcc: c@d.example"},"estimate":` + smallest + `}`: "/customer/email",
		`{"valid_until":"2026-11-24","estimate":` + smallest + `}`:                             "/valid_until",
		`{"valid_until":"2026-02-30","estimate":` + smallest + `}`:                             "/valid_until",
		`{"valid_until":"2026-12-30","valid_days":3,"estimate":` + smallest + `}`:              "/valid_days",
		`{"status":"accepted","estimate":` + smallest + `}`:                                    "/status",
		`{"customer":{"colour":"red"},"estimate":` + smallest + `}`:                            "/customer/colour",
	} {
		p := s.post(t, "/v1/quotes", body).problem(t)
		require.Contains(t, []int{http.StatusBadRequest, http.StatusUnprocessableEntity}, p.Status, body)
		require.Equal(t, pointer, p.Errors[0].Pointer, body)
	}
	for _, id := range []string{"x", "quote_aaaaaaaaaaaaaaaaaaaaaaaaaa", "..", "quote_%00"} {
		require.Equal(t, http.StatusNotFound, s.get(t, "/v1/quotes/"+url.PathEscape(id)).problem(t).Status, id)
	}
	require.Empty(t, s.get(t, "/v1/quotes").tree(t)["items"], "nothing was kept")
}

// A reference or a name stands on one line of papers: what cannot be seen is refused with its place.
func TestAnOffersLinesHaveNoControlCharacters(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	refused := s.post(t, "/v1/quotes", `{"reference":"K\u0007","customer":{"reference":"C\t1","name":"Ada\u0007","phone":"1\u001b"},
		"estimate":`+strings.Replace(deskPart, `"units"`, `"reference":"a\u0085b","units"`, 1)+`}`)
	require.Equal(t, http.StatusBadRequest, refused.status, "%s", refused.body)
	at := map[string]bool{}
	for _, e := range refused.problem(t).Errors {
		at[e.Pointer] = true
	}
	for _, pointer := range []string{"/reference", "/customer/reference", "/customer/name", "/customer/phone", "/estimate/reference"} {
		require.True(t, at[pointer], "%s: %v", pointer, at)
	}
}
