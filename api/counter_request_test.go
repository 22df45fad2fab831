package api_test

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store/counter"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

const requestsPath = "/v1/order-form/requests"

// orderedBy is a good request for an offer, with a name.
func orderedBy(name string) tree {
	return tree{"top": deskOf("in", "l"), "contact": tree{"name": name, "email": "robin@example.com"},
		"message": "First line.\nSecond line.", "consent": true}
}

func TestACustomersRequestIsKeptWithWhatWasShown(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s := shopOn(t, url)
	a := s.post(t, requestsPath, text(t, orderedBy("Robin Example")))
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	receipt := a.tree(t)
	require.Len(t, receipt, 2)
	again := s.post(t, requestsPath, text(t, orderedBy("Robin Example")))
	require.Equal(t, http.StatusCreated, again.status)
	require.Equal(t, receipt, again.tree(t), "the same again is kept once")
	other := s.post(t, requestsPath, text(t, orderedBy("Kim Example")))
	require.NotEqual(t, receipt["reference"], other.tree(t)["reference"])

	conn, err := pgx.Connect(t.Context(), url)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
	var name, email, message, wood, species, total string
	var phone *string
	require.NoError(t, conn.QueryRow(t.Context(), `
SELECT name, email, phone, message, request->>'wood', estimate->'top'->>'species', shown->'price'->>'total'
FROM order_form_request WHERE reference = $1`, receipt["reference"]).Scan(&name, &email, &phone, &message, &wood, &species, &total))
	require.Equal(t, []string{"Robin Example", "robin@example.com", "First line.\nSecond line.", "maple_sugar",
		"maple_sugar"}, []string{name, email, message, wood, species})
	require.Nil(t, phone)
	shown := s.post(t, "/v1/order-form/estimates", text(t, deskOf("in", "l"))).tree(t)
	require.Equal(t, shown["price"].(tree)["total"], total)
	var rows int
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT count(*) FROM order_form_request`).Scan(&rows))
	require.Equal(t, 2, rows)

	// the kept request for an estimate is one, and gives the price that was shown
	var estimate string
	require.NoError(t, conn.QueryRow(t.Context(), `SELECT estimate FROM order_form_request WHERE reference = $1`,
		receipt["reference"]).Scan(&estimate))
	full := s.post(t, "/v1/estimates", estimate)
	require.Equal(t, http.StatusOK, full.status, string(full.body))

	// it is a draft of a quote, with the price that was shown and the contact data, once however often it is sent
	drafts := s.get(t, "/v1/quotes?reference="+receipt["reference"].(string)).tree(t)["items"].([]any)
	require.Len(t, drafts, 1)
	draft := drafts[0].(tree)
	require.Equal(t, "draft", draft["status"])
	require.Equal(t, "order_form", draft["origin"])
	require.Equal(t, total, draft["total"], "what was shown, rounded by the form's step, is what is kept")
	require.Equal(t, total, full.tree(t)["price"].(tree)["total"])
	require.Zero(t, amountOf(t, total).Cmp(amountOf(t, total).RoundToStep(amountOf(t, "5.00"))))
	require.Contains(t, draft["note"], "First line.")
	require.NotContains(t, draft["note"], "showed", "there is no other price")
	require.NotEmpty(t, draft["customer"].(tree)["name"])

	// the shop sees it, the newest first, a page at a time
	var seen []any
	for cursor := ""; ; {
		page := s.get(t, requestsPath+"?limit=1"+cursor)
		require.Equal(t, http.StatusOK, page.status, string(page.body))
		seen = append(seen, page.tree(t)["items"].([]any)...)
		next, more := page.tree(t)["next_cursor"].(string)
		if !more {
			break
		}
		cursor = "&cursor=" + next
	}
	require.Len(t, seen, 2)
	references := []any{seen[0].(tree)["reference"], seen[1].(tree)["reference"]}
	require.ElementsMatch(t, []any{receipt["reference"], other.tree(t)["reference"]}, references)
	require.Equal(t, seen[0].(tree)["shown"].(tree)["price"], shown["price"])
	require.Equal(t, http.StatusBadRequest, s.get(t, requestsPath+"?cursor=x").status)
}

func TestWhatIsWrongWithARequestForAnOfferIsSaid(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for name, test := range map[string]struct {
		change  func(tree)
		status  int
		pointer string
	}{
		"no consent":       {func(o tree) { o["consent"] = false }, 400, "/consent"},
		"consent left out": {func(o tree) { delete(o, "consent") }, 400, "/consent"},
		"no way to answer": {func(o tree) { o["contact"] = tree{"name": "x"} }, 400, "/contact"},
		"no name":          {func(o tree) { o["contact"].(tree)["name"] = "  " }, 400, "/contact/name"},
		"two lines of name": {func(o tree) { o["contact"].(tree)["name"] = "x\r\nBcc: y@example.com" }, 400,
			"/contact/name"},
		"no address": {func(o tree) { o["contact"].(tree)["email"] = "robin" }, 400, "/contact/email"},
		"no host": {func(o tree) { o["contact"].(tree)["email"] = "robin@localhost" }, 400,
			"/contact/email"},
		"address and name": {func(o tree) { o["contact"].(tree)["email"] = "Robin <robin@example.com>" }, 400,
			"/contact/email"},
		"two addresses": {func(o tree) { o["contact"].(tree)["email"] = "a@example.com,b@example.com" }, 400,
			"/contact/email"},
		"a header in the address":       {func(o tree) { o["contact"].(tree)["email"] = "a@example.com\r\nBcc: b@example.com" }, 400, "/contact/email"},
		"a telephone number of letters": {func(o tree) { o["contact"].(tree)["phone"] = "call me" }, 400, "/contact/phone"},
		"the trap":                      {func(o tree) { o["leave_empty"] = "https://example.com" }, 400, "/leave_empty"},
		"a long message":                {func(o tree) { o["message"] = strings.Repeat("x", 2001) }, 400, "/message"},
		"a bell":                        {func(o tree) { o["message"] = "\a" }, 400, "/message"},
		"a bad top":                     {func(o tree) { o["top"].(tree)["wood"] = "teak" }, 400, "/top/wood"},
		"an impossible top": {func(o tree) { o["top"].(tree)["sides"].([]any)[1].(tree)["long"] = 25.5 }, 422,
			"/top/sides/1/long"},
	} {
		order := orderedBy("Robin Example")
		test.change(order)
		a := s.post(t, requestsPath, text(t, order))
		require.Equal(t, test.status, a.status, "%s: %s", name, a.body)
		var at []string
		for _, v := range a.problem(t).Errors {
			at = append(at, v.Pointer)
		}
		require.Contains(t, at, test.pointer, "%s: %s", name, a.body)
	}
}

// OWASP API6 Unrestricted Access to Sensitive Business Flows: a program that fills the form over and over is stopped at
// the limit of the day, also when its calls come at once; the next day the form takes requests again.
func TestOWASP6TheOrderFormCannotBeFlooded(t *testing.T) {
	t.Parallel()
	clock := &clock{at: noon}
	s := newShop(t)
	cat := *s.cat.Snapshot()
	cat.Settings.FormDayLimit, cat.Settings.FormDayTotal = 5, 7
	config := healthy(t)
	config.Snapshot, config.Store, config.Now = snapshotOf(&cat), s.store, clock.now
	c := newClient(t, config)
	statuses := make([]int, 12)
	var all sync.WaitGroup
	for i := range statuses {
		all.Go(func() {
			a := c.post(t, requestsPath, text(t, orderedBy(fmt.Sprintf("Robin %d", i))))
			statuses[i] = a.status
			if a.status == http.StatusTooManyRequests && a.header.Get("Retry-After") == "" {
				statuses[i] = 0
			}
		})
	}
	all.Wait()
	counted := map[int]int{}
	for _, status := range statuses {
		counted[status]++
	}
	require.Equal(t, map[int]int{http.StatusCreated: 5, http.StatusTooManyRequests: 7}, counted)
	require.Equal(t, http.StatusOK, c.post(t, "/v1/order-form/estimates", text(t, deskOf("in", "l"))).status,
		"prices are still shown")

	// from everybody: the day takes seven, whoever sends them
	drafted := func(n byte) counter.Request {
		r := elsewhere(n)
		q, _ := s.offer(t, `{"estimate":`+smallest+`}`)
		r.Quote = q["id"].(string)
		return r
	}
	nothing := func(context.Context) error { return nil }
	_, err := s.store.Counter.Keep(t.Context(), drafted(1), counter.Limits{SameSince: noon,
		DayStart: noon.Truncate(24 * time.Hour), FromSender: 5, FromAll: 7}, nothing)
	require.NoError(t, err)
	_, err = s.store.Counter.Keep(t.Context(), drafted(2), counter.Limits{SameSince: noon,
		DayStart: noon.Truncate(24 * time.Hour), FromSender: 5, FromAll: 7}, nothing)
	require.NoError(t, err)
	_, err = s.store.Counter.Keep(t.Context(), drafted(3), counter.Limits{SameSince: noon,
		DayStart: noon.Truncate(24 * time.Hour), FromSender: 5, FromAll: 7}, nothing)
	require.ErrorIs(t, err, counter.ErrFull)

	clock.at = noon.AddDate(0, 0, 1)
	require.Equal(t, http.StatusCreated, c.post(t, requestsPath, text(t, orderedBy("Robin tomorrow"))).status)
}

// elsewhere is a request from another address.
func elsewhere(n byte) counter.Request {
	hash := make([]byte, 32)
	hash[0] = n
	return counter.Request{Reference: fmt.Sprintf("form_%d", n), CreatedAt: noon, Content: hash, Sender: hash, Name: "x",
		Phone:   "012345",
		Request: []byte(`{}`), Estimate: []byte(`{}`), Shown: []byte(`{}`), Revision: 1}
}

func TestTheOrderFormTakesPublishableKeysAndThePagesTheyAreBoundTo(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	public, _ := g.key(t, keys.Publishable, "https://shop.example")
	from := func(origin string) []string { return append(bearer(public), "Origin", origin) }
	require.Equal(t, http.StatusOK, g.get(t, "/v1/order-form", from("https://shop.example")...).status)
	a := g.post(t, "/v1/order-form/estimates", text(t, deskOf("in", "l")), from("https://shop.example")...)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, "https://shop.example", a.header.Get("Access-Control-Allow-Origin"))
	require.Equal(t, http.StatusCreated, g.post(t, requestsPath, text(t, orderedBy("Robin Example")),
		from("https://shop.example")...).status)
	require.Equal(t, http.StatusForbidden, g.get(t, "/v1/order-form", from("https://evil.example")...).status)
	require.Equal(t, http.StatusForbidden, g.get(t, requestsPath, from("https://shop.example")...).status,
		"customers read nothing back")
	require.NotContains(t, g.log.String(), "robin@example.com", "no customer in the log")
}

// A form's script reads why it is refused: its browser lets it ask, whatever page it is, and the refusal carries the headers
// without which it would see a broken line. Only the page that a key is bound to reads an answer.
func TestAPageReadsWhyItIsRefused(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	public, id := g.key(t, keys.Publishable, "https://shop.example")
	admin, _ := g.key(t, keys.Secret, "keys:admin")
	read := func(key, origin string, status int) {
		p := g.do(t, http.MethodOptions, "/v1/order-form/estimates", nil, "Origin", origin,
			"Access-Control-Request-Method", "POST", "Access-Control-Request-Headers", "authorization,content-type")
		require.Equal(t, http.StatusNoContent, p.status)
		require.Equal(t, origin, p.header.Get("Access-Control-Allow-Origin"))
		require.Empty(t, p.header.Get("Access-Control-Allow-Credentials"))
		a := g.post(t, "/v1/order-form/estimates", text(t, deskOf("in", "l")), append(bearer(key), "Origin", origin)...)
		require.Equal(t, status, a.status, string(a.body))
		require.Equal(t, origin, a.header.Get("Access-Control-Allow-Origin"))
		require.Contains(t, a.header.Get("Access-Control-Expose-Headers"), "Idempotency-Replayed")
		require.Contains(t, a.header.Values("Vary"), "Origin")
		if status != http.StatusOK {
			require.NotEmpty(t, a.problem(t).Detail)
		}
	}
	read(public, "https://shop.example", http.StatusOK)
	read(public, "https://evil.example", http.StatusForbidden)
	read("seam_public_unknown", "https://shop.example", http.StatusUnauthorized)
	require.Equal(t, http.StatusNoContent, g.do(t, http.MethodDelete, "/v1/keys/"+id, nil, bearer(admin)...).status)
	g.await(t, g.ring, public, false)
	read(public, "https://shop.example", http.StatusUnauthorized)
	wrong := g.post(t, "/v1/order-form/estimates", "{", append(bearer(public), "Origin", "https://shop.example")...)
	require.Equal(t, "https://shop.example", wrong.header.Get("Access-Control-Allow-Origin"))
	elsewhere := g.post(t, "/v1/estimates", smallest, append(bearer(public), "Origin", "https://shop.example")...)
	require.Empty(t, elsewhere.header.Get("Access-Control-Allow-Origin"), "of the order form alone")
}

func TestARequestForAnOfferWithoutADatabaseIsTriedAgainLater(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	a := newClient(t, config).post(t, requestsPath, text(t, orderedBy("Robin Example")))
	require.Equal(t, http.StatusServiceUnavailable, a.status)
}
