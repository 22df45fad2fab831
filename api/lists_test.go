package api_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// market is a server over a database of the test's own.
type market struct {
	*client
	cat    *shelf.Catalogue
	config api.Config
	url    string
}

func newMarket(t *testing.T, change ...func(*api.Config)) *market {
	t.Helper()
	url := storetest.New(t)
	config, cat := onDatabase(t, url)
	for _, c := range change {
		c(&config)
	}
	s := &market{client: newClient(t, config), cat: cat, config: config, url: url}
	s.exec(t, `UPDATE supplier SET missing_limit = 100, held_limit = 100 WHERE code = 'demo'`)
	return s
}

func (s *market) exec(t *testing.T, sql string) {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), s.url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	_, err = conn.Exec(context.Background(), sql)
	require.NoError(t, err)
}

const (
	toDemo   = "/v1/price-updates?supplier=demo&list_date=2026-11-20"
	smallCSV = "item,per,pack_of,price\nbiscuit_0,pack,100,9.90\nbiscuit_10,pack,100,99\nbiscit,pack,1,2\n"
)

func (s *market) send(t *testing.T, path, kind, list string, header ...string) answer {
	t.Helper()
	return s.do(t, http.MethodPost, path, strings.NewReader(list), append([]string{"Content-Type", kind}, header...)...)
}

func TestAPriceListIsTakenInAndUsedAtOnce(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	a := s.send(t, toDemo, "text/csv", smallCSV, "X-Actor", "night job", "Idempotency-Key", "n-1")
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	u := a.tree(t)
	require.Equal(t, "applied", u["status"])
	require.Equal(t, "night job", u["created_by"])
	require.Equal(t, map[string]any{"rows": 3.0, "new": 0.0, "changed": 1.0, "unchanged": 0.0, "duplicate": 0.0,
		"held": 1.0, "rejected": 1.0, "missing": u["counts"].(map[string]any)["missing"]}, u["counts"])
	require.Len(t, u["basket"], 3)
	require.Nil(t, u["basket"].([]any)[0].(map[string]any)["reason"])
	price, _ := s.cat.Snapshot().FastenerByCode("biscuit_0").Packs[0].PriceAsOf("2026-11-20")
	require.Equal(t, "9.9000", price.Amount.String(), "this instance has it at once")

	again := s.send(t, toDemo, "text/csv", smallCSV, "Idempotency-Key", "n-1")
	require.Equal(t, http.StatusOK, again.status)
	require.Equal(t, true, again.tree(t)["repeated"])
	require.Equal(t, u["id"], again.tree(t)["id"])

	id := u["id"].(string)
	require.Equal(t, "/v1/price-updates/"+id, a.header.Get("Location"))
	read := s.get(t, "/v1/price-updates/"+id)
	require.Equal(t, http.StatusOK, read.status)
	require.Equal(t, http.StatusNotModified, s.get(t, "/v1/price-updates/"+id, "If-None-Match",
		read.header.Get("ETag")).status)
	require.Len(t, s.get(t, "/v1/price-updates?supplier=demo&status=applied").tree(t)["items"], 1)
	require.Empty(t, s.get(t, "/v1/price-updates?status=held").tree(t)["items"])
	require.Len(t, s.get(t, "/v1/price-updates?status=held,applied").tree(t)["items"], 1)
	for states, rows := range map[string]int{"held": 1, "rejected,held": 2, "rejected": 1, "approved,dismissed": 0} {
		require.Len(t, s.get(t, "/v1/price-updates/"+id+"/rows?status="+states).tree(t)["items"], rows, states)
	}
	for _, wrong := range []string{"?status=held,lost", "/" + id + "/rows?status=held,lost", "?status=held,", "?status="} {
		refused := s.get(t, "/v1/price-updates"+wrong)
		require.Equal(t, http.StatusBadRequest, refused.status, wrong)
		require.Contains(t, string(refused.body), "or several joined by commas", wrong)
	}
	page := s.get(t, "/v1/price-updates/"+id+"/rows?limit=1").tree(t)
	require.Equal(t, "rejected", page["items"].([]any)[0].(map[string]any)["status"])
	page = s.get(t, "/v1/price-updates/"+id+"/rows?limit=1&cursor="+page["next_cursor"].(string)).tree(t)
	require.Equal(t, "held", page["items"].([]any)[0].(map[string]any)["status"])
	require.Nil(t, page["next_cursor"])

	require.Equal(t, http.StatusUnprocessableEntity, s.post(t, "/v1/price-updates/"+id+"/approve",
		`{"lines":[99]}`).status)
	done := s.post(t, "/v1/price-updates/"+id+"/approve", `{"lines":[3]}`, "X-Actor", "owner")
	require.Equal(t, http.StatusOK, done.status, string(done.body))
	require.Equal(t, 0.0, done.tree(t)["undecided"])
	require.Equal(t, "owner", done.tree(t)["decided_by"])
	require.Equal(t, done.tree(t), s.do(t, http.MethodPost, "/v1/price-updates/"+id+"/approve", http.NoBody).tree(t),
		"again, it changes nothing")
	require.Equal(t, http.StatusConflict, s.post(t, "/v1/price-updates/"+id+"/dismiss", `{"lines":[3]}`).status)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/price-updates/none").status)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/price-updates/none/rows").status)
}

func TestTheSameListMayComeInEveryFormAndCompressed(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	var zipped bytes.Buffer
	z := gzip.NewWriter(&zipped)
	_, err := io.WriteString(z, "item,per,pack_of,price\nbiscuit_0,pack,100,9.90\n")
	require.NoError(t, err)
	require.NoError(t, z.Close())
	for i, a := range []answer{
		s.send(t, toDemo, "text/csv; charset=utf-8", "item,per,pack_of,price\nbiscuit_0,pack,100,9.90\n"),
		s.send(t, toDemo, "text/csv", zipped.String(), "Content-Encoding", "gzip"),
		s.send(t, toDemo, "application/x-ndjson", `{"item":"biscuit_0","per":"pack","pack_of":100,"price":"9.90"}`+"\n"),
		s.send(t, "/v1/price-updates", "application/json",
			`{"supplier":"demo","list_date":"2026-11-20","rows":[{"item":"biscuit_0","per":"pack","pack_of":"100","price":9.90}]}`),
		s.send(t, toDemo, "application/json", `[{"item":"biscuit_0","per":"pack","pack_of":"100","price":"9.90"}]`),
	} {
		require.Less(t, a.status, 300, "%d: %s", i, a.body)
		require.Equal(t, i > 0, a.tree(t)["repeated"], "%d: the rows are the same", i)
	}
	dry := s.send(t, toDemo+"&dry_run=true&effective_from=2026-12-01&separator=comma&decimal_sign=point&unit=each&currency=USD&replace=false", "text/csv", "item,price,pack_of\nbiscuit_0,0.11,\n")
	require.Equal(t, http.StatusOK, dry.status, string(dry.body))
	require.Nil(t, dry.tree(t)["id"])
	require.Equal(t, "dry_run", dry.tree(t)["status"])
}

func TestADryRunShowsWhatTheReferenceTopsWouldCost(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	old, _ := s.cat.Snapshot().MaterialByCode("lumber_maple_sugar_8_4").Packs[0].PriceAsOf("2026-11-20")
	list := fmt.Sprintf("item,price\nlumber_maple_sugar_8_4,%.2f\n", old.Amount.Float()*1.2)
	dry := s.send(t, toDemo+"&dry_run=true", "text/csv", list).tree(t)
	desk := dry["basket"].([]any)[0].(map[string]any)
	require.Positive(t, desk["percent"])
	require.Equal(t, 0.0, dry["basket"].([]any)[1].(map[string]any)["percent"])
	require.Equal(t, 20.0, dry["largest_moves"].([]any)[0].(map[string]any)["percent"])
	require.Empty(t, s.get(t, "/v1/price-updates").tree(t)["items"])
}

func TestListsThatCannotBeReadAreRefused(t *testing.T) {
	t.Parallel()
	s := newMarket(t, func(c *api.Config) { c.PriceBodyLimit = 5000 })
	var bomb bytes.Buffer
	z := gzip.NewWriter(&bomb)
	_, err := z.Write([]byte("item,price\n" + strings.Repeat("biscuit_0,1\n", 1_000_000)))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	small := bomb.Bytes()[:3000]
	var short bytes.Buffer
	z = gzip.NewWriter(&short)
	_, err = z.Write([]byte(smallCSV))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	for name, c := range map[string]struct {
		path, kind, list string
		header           []string
		status           int
		says             string
	}{
		"no supplier":       {"/v1/price-updates", "text/csv", smallCSV, nil, 400, "supplier"},
		"unknown supplier":  {"/v1/price-updates?supplier=nobody", "text/csv", smallCSV, nil, 404, "nobody"},
		"no such parameter": {toDemo + "&dryrun=true", "text/csv", smallCSV, nil, 400, "dry_run"},
		"a day that is none": {"/v1/price-updates?supplier=demo&list_date=2026-02-30", "text/csv", smallCSV, nil, 400,
			"calendar"},
		"a day far ahead": {"/v1/price-updates?supplier=demo&list_date=2027-11-20", "text/csv", smallCSV, nil, 422,
			"31 days ahead"},
		"a word for a sign": {toDemo + "&decimal_sign=dot", "text/csv", smallCSV, nil, 400, "point or comma"},
		"no price column":   {toDemo, "text/csv", "item,cost\nbiscuit_0,1\n", nil, 400, "price"},
		"nothing":           {toDemo, "text/csv", "", nil, 400, ""},
		"another type":      {toDemo, "text/plain", smallCSV, nil, 415, "text/csv"},
		"another coding":    {toDemo, "text/csv", smallCSV, []string{"Content-Encoding", "br"}, 415, "gzip"},
		"not gzip":          {toDemo, "text/csv", smallCSV, []string{"Content-Encoding", "gzip"}, 400, "gzip"},
		"gzip that is cut": {toDemo, "text/csv", string(short.Bytes()[:short.Len()-12]),
			[]string{"Content-Encoding", "gzip"}, 400, "ended before"},
		"a gzip bomb": {toDemo, "text/csv", string(small), []string{"Content-Encoding", "gzip"}, 413, "5000 bytes"},
		"too large": {toDemo, "text/csv", "item,price\n" + strings.Repeat("biscuit_0,1\n", 1000), nil, 413,
			"5000 bytes"},
		"JSON without rows": {"/v1/price-updates", "application/json", `{"supplier":"demo"}`, nil, 400, "rows"},
		"JSON said twice":   {toDemo, "application/json", `{"supplier":"demo","rows":[]}`, nil, 400, "twice"},
		"JSON unknown": {"/v1/price-updates", "application/json", `{"suplier":"demo","rows":[]}`, nil, 400,
			"Unknown property"},
		"JSON cut off": {toDemo, "application/json", `[{"item":"biscuit_0","price":"1"}`, nil, 400, "cut off"},
		"no JSON":      {toDemo, "application/json", `"biscuit_0"`, nil, 400, "rows last"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a := s.send(t, c.path, c.kind, c.list, c.header...)
			require.Equal(t, c.status, a.status, string(a.body))
			require.Contains(t, string(a.body), c.says)
			a.problem(t)
		})
	}
}

func TestASenderWhoGoesAwayChangesNothing(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	server := httptest.NewServer(s.handler)
	defer server.Close()
	conn, err := net.Dial("tcp", server.Listener.Addr().String())
	require.NoError(t, err)
	_, err = fmt.Fprintf(conn, "POST %s HTTP/1.1\r\nHost: x\r\nContent-Type: text/csv\r\nContent-Length: 100000\r\n\r\n%s",
		toDemo, smallCSV)
	require.NoError(t, err)
	time.Sleep(100 * time.Millisecond)
	require.NoError(t, conn.Close()) // the rest never comes
	server.Close()                   // waits for the handler
	require.Empty(t, s.get(t, "/v1/price-updates").tree(t)["items"])
}

func TestSuppliersAndTheirArticleNumbers(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	put := func(path, text string, header ...string) answer {
		return s.do(t, http.MethodPut, path, strings.NewReader(text),
			append([]string{"Content-Type", "application/json"}, header...)...)
	}
	made := put("/v1/suppliers/mill", `{"name":"North mill (invented)","move_limit":12.5}`)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	require.Equal(t, http.StatusPreconditionRequired, put("/v1/suppliers/mill", `{"name":"x"}`).status)
	require.Equal(t, http.StatusPreconditionFailed, put("/v1/suppliers/mill", `{"name":"x"}`, "If-Match", `"9-x"`).status)
	got := s.get(t, "/v1/suppliers/mill")
	require.Equal(t, made.header.Get("ETag"), got.header.Get("ETag"))
	require.Equal(t, 12.5, got.tree(t)["move_limit"])
	changed := put("/v1/suppliers/mill", `{"name":"North mill (invented)","move_limit":null,"held_limit":50}`, "If-Match",
		got.header.Get("ETag"))
	require.Equal(t, http.StatusOK, changed.status, string(changed.body))
	require.Nil(t, changed.tree(t)["move_limit"])
	require.Equal(t, http.StatusUnprocessableEntity, put("/v1/suppliers/North-Mill", `{"name":"x"}`).status)
	require.Equal(t, http.StatusBadRequest, put("/v1/suppliers/x", `{"name":"x","move_limit":-1}`).status)
	page := s.get(t, "/v1/suppliers?limit=1").tree(t)
	require.Equal(t, "demo", page["items"].([]any)[0].(map[string]any)["code"])
	require.Equal(t, "mill", s.get(t, "/v1/suppliers?limit=1&cursor="+
		page["next_cursor"].(string)).tree(t)["items"].([]any)[0].(map[string]any)["code"])

	const articles = "/v1/suppliers/mill/articles"
	require.Equal(t, http.StatusOK,
		put(articles, `{"items":[{"article":"B/0 ä","item":"biscuit_0","pack_size":100},{"article":"C","item":"biscuit_0","pack_size":500}]}`).status)
	refused := put(articles, `{"items":[{"article":"D","item":"biscuit_0","pack_size":100},{"article":"E","item":"biscuit_0","pack_size":7},{"article":"F","item":"biscuit","pack_size":1}]}`)
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	require.Equal(t, "/items/1", refused.problem(t).Errors[0].Pointer)
	require.Equal(t, "biscuit_0 is not sold in a pack of 7; its packs: 100, 500.", refused.problem(t).Errors[0].Detail)
	require.Equal(t, "There is no item biscuit on sale.", refused.problem(t).Errors[1].Detail)
	require.Len(t, s.get(t, articles).tree(t)["items"], 2)
	u := s.send(t, "/v1/price-updates?supplier=mill", "text/csv", "article,per,price\nB/0 ä,each,0.10\n").tree(t)
	require.Equal(t, "applied", u["status"], u)
	require.Equal(t, http.StatusNoContent, s.do(t, http.MethodDelete, articles+"?article=B%2F0%20%C3%A4",
		http.NoBody).status)
	require.Equal(t, http.StatusNotFound, s.do(t, http.MethodDelete, articles+"?article=B%2F0%20%C3%A4",
		http.NoBody).status)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/suppliers/none/articles").status)
}

func TestWithoutADatabaseItIs503(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, a := range []answer{
		c.do(t, http.MethodPost, toDemo, strings.NewReader(smallCSV), "Content-Type", "text/csv"),
		c.get(t, "/v1/price-updates"), c.get(t, "/v1/price-updates/x"), c.get(t, "/v1/price-updates/x/rows"),
		c.get(t, "/v1/suppliers"),
		c.get(t, "/v1/suppliers/demo"), c.get(t, "/v1/suppliers/demo/articles"),
		c.do(t, http.MethodPost, "/v1/price-updates/x/approve", http.NoBody),
		c.do(t, http.MethodDelete, "/v1/suppliers/demo/articles?article=x", http.NoBody),
	} {
		require.Equal(t, http.StatusServiceUnavailable, a.status, string(a.body))
		require.NotEmpty(t, a.header.Get("Retry-After"))
	}
}

// A list that takes effect on the 1st holds from the shop's midnight on, not from that of UTC.
func TestAPriceHoldsFromMidnightInTheZoneOfTheShop(t *testing.T) {
	t.Parallel()
	var now time.Time
	s := newMarket(t, func(c *api.Config) { c.Now = func() time.Time { return now } })
	s.exec(t, `UPDATE setting SET value = 'Pacific/Auckland' WHERE key = 'time_zone'`) // 13 hours ahead in December
	require.Eventually(t, func() bool { return s.cat.Snapshot().Settings.TimeZone == "Pacific/Auckland" }, 20*time.Second,
		time.Millisecond)
	now = noon
	u := s.send(t, "/v1/price-updates?supplier=demo&list_date=2026-11-25&effective_from=2026-12-01", "text/csv",
		"item,per,price\nlumber_oak_white_6_4,board_foot,9.99\n").tree(t)
	require.Equal(t, "applied", u["status"], u)
	require.Eventually(t, func() bool { return s.cat.Snapshot().Revision == int64(u["revision"].(float64)) },
		20*time.Second, time.Millisecond)
	order := `{"units":"in","top":{"species":"oak_white","thickness":1.25,"runs":[{"length":87.5,"depth":25}]}}`
	for at, want := range map[string]bool{"2026-11-30T10:59:59Z": false, "2026-11-30T11:00:00Z": true} {
		var err error
		now, err = time.Parse(time.RFC3339, at)
		require.NoError(t, err)
		a := s.post(t, "/v1/estimates", order)
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		require.Equal(t, want, strings.Contains(string(a.body), `"unit_price":"9.9900"`), "%s: %s", at,
			a.tree(t)["bill_of_materials"])
		day := "2026-11-30"
		if want {
			day = "2026-12-01"
		}
		require.Equal(t, day, a.tree(t)["catalogue"].(map[string]any)["priced_as_of"])
	}
	require.Equal(t, http.StatusUnprocessableEntity, s.post(t, "/v1/estimates",
		strings.TrimSuffix(order, "}")+`,"pricing":{"as_of":"2020-01-01"}}`).status)
}

func TestAZoneThatDoesNotExistLeavesTheLastCatalogue(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	s.exec(t, `UPDATE setting SET value = 'Nowhere/Land' WHERE key = 'time_zone'`)
	require.Eventually(t, func() bool { return strings.Contains(s.cat.Status().LastError, "Nowhere/Land") },
		20*time.Second, time.Millisecond)
	require.Equal(t, "UTC", s.cat.Snapshot().Settings.TimeZone)
}

// What is pasted from a spreadsheet may carry a tab: it is refused with its place, wherever it stands on one line.
func TestControlCharactersOfSuppliersAreRefusedWithTheirPlace(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for _, c := range [][4]string{
		{http.MethodPut, "/v1/suppliers/x_y", `{"name":"a\tb"}`, "/name"},
		{http.MethodPut, "/v1/suppliers/demo/articles", `{"items":[{"article":"A\u0007","item":"glue_wood_water_resistant","pack_size":1}]}`, "/items/0/article"},
		{http.MethodPost, "/v1/webhook-endpoints", `{"url":"https://shop.example/h","description":"d\u0007"}`, "/description"},
	} {
		a := s.do(t, c[0], c[1], strings.NewReader(c[2]), "Content-Type", "application/json")
		require.Equal(t, http.StatusBadRequest, a.status, "%s: %s", c[1], a.body)
		require.Equal(t, c[3], a.problem(t).Errors[0].Pointer)
	}
	for _, supplier := range []string{`de\tmo`, `de\u0000mo`} {
		a := s.post(t, "/v1/price-updates", `{"supplier":"`+supplier+`","rows":[]}`)
		require.Equal(t, http.StatusBadRequest, a.status, string(a.body))
		require.Equal(t, "/supplier", a.problem(t).Errors[0].Pointer)
		require.Empty(t, a.problem(t).Errors[0].Parameter)
	}
	a := s.post(t, "/v1/price-updates", `{"supplier":"de\tmo","list_date":"2026-13-01","rows":[]}`)
	require.Equal(t, http.StatusBadRequest, a.status, string(a.body))
	wrong := a.problem(t).Errors
	require.Len(t, wrong, 2)
	require.Equal(t, []string{"/list_date", "/supplier"}, []string{wrong[0].Pointer, wrong[1].Pointer})
}

// A million rows that say the same take one place: what is said again is counted and not kept.
func TestAMillionIdenticalRowsAreOnePrice(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	// as gzip it would be no fair list
	body := "item,per,pack_of,price\n" + strings.Repeat("biscuit_0,pack,100,9.90\n", 1_000_000)
	a := s.send(t, toDemo, "text/csv", body)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	counts := a.tree(t)["counts"].(map[string]any)
	require.Equal(t, []any{1e6, 1.0, 999_999.0, 0.0, 0.0}, []any{counts["rows"], counts["changed"], counts["duplicate"],
		counts["held"], counts["rejected"]})
	again := s.send(t, toDemo, "text/csv", body)
	require.Equal(t, true, again.tree(t)["repeated"])
}

// A list without a date is of the shop's day, whatever the day is in UTC; clocks that go forward or back do not matter.
func TestAListWithoutADateIsOfTheDayInTheZoneOfTheShop(t *testing.T) {
	t.Parallel()
	var now time.Time
	s := newMarket(t, func(c *api.Config) { c.Now = func() time.Time { return now } })
	for _, c := range []struct{ zone, at, day string }{
		{"Pacific/Auckland", "2026-11-30T10:59:59Z", "2026-11-30"},
		{"Pacific/Auckland", "2026-11-30T11:00:00Z", "2026-12-01"},
		{"America/Los_Angeles", "2026-12-01T07:59:59Z", "2026-11-30"},
		{"America/Los_Angeles", "2026-12-01T08:00:00Z", "2026-12-01"},
		{"Europe/Vienna", "2026-03-28T22:59:59Z", "2026-03-28"}, // the night before clocks go forward
		{"Europe/Vienna", "2026-03-29T21:59:59Z", "2026-03-29"}, // and the one behind it
		{"Europe/Vienna", "2026-03-29T22:00:00Z", "2026-03-30"},
		{"Europe/Vienna", "2026-10-25T22:59:59Z", "2026-10-25"}, // back
		{"Europe/Vienna", "2026-10-25T23:00:00Z", "2026-10-26"},
		{"Asia/Kolkata", "2026-06-01T18:30:00Z", "2026-06-02"}, // half an hour off
	} {
		s.exec(t, `UPDATE setting SET value = '`+c.zone+`' WHERE key = 'time_zone'`)
		require.Eventually(t, func() bool { return s.cat.Snapshot().Settings.TimeZone == c.zone }, 5*time.Second,
			time.Millisecond)
		var err error
		now, err = time.Parse(time.RFC3339, c.at)
		require.NoError(t, err)
		u := s.send(t, "/v1/price-updates?supplier=demo&dry_run=true", "text/csv",
			"item,per,pack_of,price\nbiscuit_0,pack,100,9.90\n").tree(t)
		require.Equal(t, []any{c.day, c.day}, []any{u["list_date"], u["effective_from"]}, "%+v", c)
	}
}
