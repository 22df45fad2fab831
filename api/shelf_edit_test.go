package api_test

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/store"
	"seamwright/store/storetest"
)

// What GET gives can be sent back as it is, in either units, and changes nothing: no value, no revision, no entry in the
// audit trail. For everything in the catalogue.
func TestWhatGetGivesCanBePutBackAndChangesNothing(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	revision := s.cat.Snapshot().Revision
	put := 0
	for path, want := range collections(s.cat.Snapshot()) {
		units := []string{""}
		if path == "/v1/fasteners" || path == "/v1/materials" || path == "/v1/climate-profiles" {
			units = []string{"?units=in", "?units=mm"}
		}
		for i, item := range s.allItems(t, path) {
			if i%eachOf != 0 {
				continue
			}
			for _, unit := range units {
				one := path + "/" + item[want.code].(string) + unit
				before := s.get(t, one)
				a := s.put(t, one, string(before.body), "If-Match", before.header.Get("ETag"))
				require.Equal(t, http.StatusOK, a.status, "%s: %s", one, a.body)
				require.Equal(t, before.header.Get("ETag"), a.header.Get("ETag"), one)
				require.Equal(t, before.tree(t), a.tree(t)["item"], one)
				put++
			}
		}
	}
	require.Greater(t, put, 1000/eachOf)
	require.Empty(t, s.get(t, "/v1/audit-entries").tree(t)["items"])
	now, err := s.store.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.Equal(t, revision, now.Revision)
}

// A number that is shown rounded keeps its exact value when something else is changed.
func TestAChangeOfOneThingKeepsTheExactValuesOfTheOthers(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for _, one := range []string{"/v1/materials/lumber_alder_red_4_4?units=mm",
		"/v1/materials/lumber_alder_red_4_4?units=in", "/v1/fasteners/pocket_screw_8_32?units=mm"} {
		before := s.get(t, one)
		a := s.put(t, one, changed(t, before.tree(t), "name", "Another name "+one), "If-Match", before.header.Get("ETag"))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		s.seen(t, a)
		require.Equal(t, a.header.Get("ETag"), s.get(t, one).header.Get("ETag"), "the ETag of PUT is that of GET")
	}
	require.Equal(t, 20.6375, s.cat.Snapshot().MaterialByCode("lumber_alder_red_4_4").Lumber.SurfacedThickness.Millimetres())
	require.Equal(t, 4.1656, s.cat.Snapshot().FastenerByCode("pocket_screw_8_32").ThreadDiameter.Millimetres())
}

// Every example of a body that the spec has for a PUT is taken.
func TestEveryExampleOfAnEntryIsTaken(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	s := newShop(t)
	taken := 0
	for path, item := range document.Paths.Map() {
		list, _, _ := strings.Cut(path, "/{")
		if _, ours := collections(s.cat.Snapshot())[list]; !ours || item.Put == nil {
			continue
		}
		for name, example := range item.Put.RequestBody.Value.Content["application/json"].Examples {
			raw, err := json.Marshal(example.Value.Value)
			require.NoError(t, err)
			one, header := strings.NewReplacer("{code}", name, "{key}", name).Replace(path), []string{}
			if got := s.get(t, one); got.status == http.StatusOK {
				header = []string{"If-Match", got.header.Get("ETag")}
			}
			a := s.put(t, one, string(raw), header...)
			require.Less(t, a.status, 300, "%s %s: %s", one, raw, a.body)
			s.seen(t, a)
			require.Equal(t, a.header.Get("ETag"), s.get(t, one+unitsOf(string(raw))).header.Get("ETag"), one)
			taken++
		}
	}
	require.GreaterOrEqual(t, taken, 8)
}

func unitsOf(body string) string {
	if strings.Contains(body, `"units":"in"`) {
		return "?units=in"
	}
	return ""
}

func TestPreconditionsAreHeldAgainstTheDatabase(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const one = "/v1/labour-roles/maker"
	before := s.get(t, one)
	etag := before.header.Get("ETag")
	body := changed(t, before.tree(t), "rate", "51.50")

	require.Equal(t, http.StatusPreconditionRequired, s.put(t, one, body).problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.put(t, one, body, "If-None-Match", "*").problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.put(t, one, body, "If-Match", `"2-00"`).problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.put(t, one, body, "If-Match", "W/"+etag).problem(t).Status,
		"a weak tag never matches here")
	require.Equal(t, http.StatusBadRequest, s.put(t, one, body, "If-None-Match", etag).problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.put(t, "/v1/labour-roles/carver", `{"name":"Carver","rate":"60"}`,
		"If-Match", "*").problem(t).Status)

	a := s.put(t, one, body, "If-Match", `"9-00", `+etag)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, "51.50", a.tree(t)["item"].(map[string]any)["rate"])
	require.NotEqual(t, etag, a.header.Get("ETag"))
	// The instance may still show the old state: what counts is the database.
	require.Equal(t, http.StatusPreconditionFailed, s.put(t, one, body, "If-Match", etag).problem(t).Status)
	require.Equal(t, http.StatusOK, s.put(t, one, changed(t, before.tree(t), "rate", "52"), "If-Match",
		a.header.Get("ETag")).status)
	require.Equal(t, http.StatusPreconditionRequired, s.do(t, http.MethodDelete, one, nil).problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.do(t, http.MethodDelete, one, nil, "If-Match",
		etag).problem(t).Status)

	created := s.put(t, "/v1/labour-roles/carver", `{"name":"Carver","rate":"60"}`, "If-None-Match", "*",
		"Idempotency-Key", "abc")
	require.Equal(t, http.StatusCreated, created.status, string(created.body))
	require.Equal(t, "abc", created.header.Get("Idempotency-Key"))
	require.Equal(t, "/v1/labour-roles/carver", created.header.Get("Location"))
}

func TestOfTwoPutsWithOneETagOneWins(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for _, one := range []string{"/v1/species/teak", "/v1/materials/glue_wood_water_resistant", "/v1/settings/kerf",
		"/v1/labour-roles/new_one"} {
		header, bodies := []string{"If-None-Match", "*"}, []string{`{"name":"A","rate":"1"}`, `{"name":"B","rate":"2"}`}
		if got := s.get(t, one); got.status == http.StatusOK {
			header = []string{"If-Match", got.header.Get("ETag")}
			field, values := "name", []string{"A", "B"}
			if strings.Contains(one, "settings") {
				field, values = "value", []string{"2", "3"}
			}
			bodies = []string{changed(t, got.tree(t), field, values[0]), changed(t, got.tree(t), field, values[1])}
		}
		statuses := make(chan int, len(bodies))
		for _, body := range bodies {
			r := httptest.NewRequest(http.MethodPut, one, strings.NewReader(body))
			r.Header.Set("Content-Type", "application/json")
			r.Header.Set(header[0], header[1])
			go func() {
				recorder := httptest.NewRecorder()
				s.handler.ServeHTTP(recorder, r)
				statuses <- recorder.Code
			}()
		}
		got := map[int]int{<-statuses: 1}
		got[<-statuses]++
		require.Equal(t, 1, got[http.StatusPreconditionFailed], "%s: %v", one, got)
		require.Equal(t, 1, got[http.StatusOK]+got[http.StatusCreated], "%s: %v", one, got)
	}
}

// Many edits while the catalogue is read again and again: every reading is good, and the last one has the last edit.
func TestEditsAndReadingsDoNotDisturbEachOther(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	done := make(chan error, 1)
	stop := make(chan struct{})
	go func() {
		for {
			select {
			case <-stop:
				done <- nil
				return
			default:
			}
			if _, err := s.store.Shelf.Load(context.Background()); err != nil {
				done <- err
				return
			}
		}
	}()
	var last answer
	for i := range 30 {
		got := s.get(t, "/v1/materials/finish_tung_oil")
		packs := []any{map[string]any{"size": 0.375}, map[string]any{"size": 1 + float64(i)/8}}
		etag := got.header.Get("ETag")
		if i > 0 {
			etag = last.header.Get("ETag")
		}
		last = s.put(t, "/v1/materials/finish_tung_oil", changed(t, got.tree(t), "packs", packs), "If-Match", etag)
		require.Equal(t, http.StatusOK, last.status, string(last.body))
	}
	close(stop)
	require.NoError(t, <-done)
	s.seen(t, last)
	require.Equal(t, last.header.Get("ETag"), s.get(t, "/v1/materials/finish_tung_oil").header.Get("ETag"))
}

func TestDeletingASettingPutsItsDefaultBack(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const path = "/v1/settings/kerf"
	first := s.get(t, path)
	changed := s.put(t, path, `{"value":"4"}`, "If-Match", first.header.Get("ETag"))
	require.Equal(t, http.StatusOK, changed.status, string(changed.body))
	require.Equal(t, http.StatusPreconditionRequired, s.do(t, http.MethodDelete, path, nil).problem(t).Status)
	require.Equal(t, http.StatusPreconditionFailed, s.do(t, http.MethodDelete, path, nil, "If-Match",
		first.header.Get("ETag")).problem(t).Status)
	back := s.do(t, http.MethodDelete, path, nil, "If-Match", changed.header.Get("ETag"), "X-Actor", "office")
	require.Equal(t, http.StatusOK, back.status, string(back.body))
	s.seen(t, back)
	require.Equal(t, first.tree(t)["value"], s.get(t, path).tree(t)["value"])
	entry := s.get(t, "/v1/audit-entries?entity=settings&limit=1").tree(t)["items"].([]any)[0].(map[string]any)
	require.Equal(t, []any{"replace", "office", "4"}, []any{entry["action"], entry["actor"],
		entry["before"].(map[string]any)["value"]})
	require.Equal(t, http.StatusNotFound, s.do(t, http.MethodDelete, "/v1/settings/kerfs", nil, "If-Match",
		"*").problem(t).Status)
	climate := s.do(t, http.MethodDelete, "/v1/settings/default_climate", nil, "If-Match", "*")
	require.Equal(t, http.StatusOK, climate.status, string(climate.body))
}

func TestARetiredThingIsGoneFromListsAndEstimatesButNotFromHistory(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	require.Equal(t, http.StatusCreated, s.put(t, "/v1/species/plum", `{"name":"Plum","group":"hardwood"}`).status)
	conflict := s.do(t, http.MethodDelete, "/v1/species/maple_sugar", nil, "If-Match", "*").problem(t)
	require.Equal(t, http.StatusConflict, conflict.Status)
	require.Contains(t, conflict.Detail, "material lumber_maple_sugar_")
	for one, user := range map[string]string{
		"/v1/labour-roles/maker": "labour standard", "/v1/labour-standards/glue_up": "labour standard",
		"/v1/climate-profiles/heated_house": "setting default_climate",
		"/v1/materials/finish_hardwax_oil":  "material sundry_oil_cloth",
	} {
		p := s.do(t, http.MethodDelete, one, nil, "If-Match", "*").problem(t)
		require.Equal(t, http.StatusConflict, p.Status, one)
		require.Contains(t, p.Detail, user, one)
	}
	require.Equal(t, http.StatusNotFound, s.do(t, http.MethodDelete, "/v1/species/none", nil, "If-Match",
		"*").problem(t).Status)

	var last answer
	for _, m := range s.allItems(t, "/v1/materials") {
		for _, kind := range []string{"lumber", "panel"} {
			if data, is := m[kind].(map[string]any); is && data["species"] == "teak" {
				last = s.do(t, http.MethodDelete, "/v1/materials/"+m["code"].(string), nil, "If-Match", "*", "X-Actor", "office")
				require.Equal(t, http.StatusOK, last.status, string(last.body))
			}
		}
	}
	before := s.get(t, "/v1/species/teak")
	gone := s.do(t, http.MethodDelete, "/v1/species/teak", nil, "If-Match", before.header.Get("ETag"), "X-Actor", "office")
	require.Equal(t, http.StatusOK, gone.status, string(gone.body))
	s.seen(t, gone)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/species/teak").problem(t).Status)
	for _, item := range s.allItems(t, "/v1/species") {
		require.NotEqual(t, "teak", item["code"])
	}
	refused := s.post(t, "/v1/estimates", with(t, "top.species", "teak")).problem(t)
	require.Equal(t, http.StatusUnprocessableEntity, refused.Status)
	require.Equal(t, http.StatusNotFound, s.do(t, http.MethodDelete, "/v1/species/teak", nil, "If-Match",
		"*").problem(t).Status)

	trail := s.get(t, "/v1/audit-entries?entity=species&code=teak").tree(t)["items"].([]any)
	require.Len(t, trail, 1)
	entry := trail[0].(map[string]any)
	require.Equal(t, "retire", entry["action"])
	require.Equal(t, "office", entry["actor"])
	require.Equal(t, "Teak", entry["before"].(map[string]any)["name"])
	require.Nil(t, entry["after"])

	again := s.put(t, "/v1/species/teak", string(before.body), "If-None-Match", "*")
	require.Equal(t, http.StatusCreated, again.status, string(again.body))
	require.Equal(t, before.tree(t), again.tree(t)["item"], "it comes back as it was")
	require.Equal(t, "restore", s.get(t,
		"/v1/audit-entries?limit=1").tree(t)["items"].([]any)[0].(map[string]any)["action"])
}

// A pack that is no longer sold keeps its prices for the day when it is sold again.
func TestAPackTakenAwayAndPutBackHasItsPrices(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const one = "/v1/fasteners/biscuit_20"
	before := s.get(t, one)
	a := s.put(t, one, changed(t, before.tree(t), "packs", []any{map[string]any{"size": 100},
		map[string]any{"size": 250}}), "If-Match", before.header.Get("ETag"))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	packs := a.tree(t)["item"].(map[string]any)["packs"].([]any)
	require.Len(t, packs, 2)
	require.Nil(t, packs[1].(map[string]any)["price"], "nobody has named a price of the new pack")
	s.seen(t, a)
	back := s.put(t, one, string(before.body), "If-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusBadRequest, back.status, "the price of the pack that is not sold is none that GET shows")
	back = s.put(t, one, changed(t, before.tree(t), "packs", []any{map[string]any{"size": 100},
		map[string]any{"size": 500}}), "If-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusOK, back.status, string(back.body))
	require.Equal(t, before.tree(t), back.tree(t)["item"])
}

func TestASpeciesWithItsCoefficientsExchangedIsTakenWithAWarning(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	got := s.get(t, "/v1/species/teak")
	radial := got.tree(t)["radial_coefficient"].(map[string]any)["value"]
	a := s.put(t, "/v1/species/teak", changed(t, got.tree(t), "tangential_coefficient.value", radial.(float64)/2),
		"If-Match", got.header.Get("ETag"))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	warnings := a.tree(t)["warnings"].([]any)
	require.Len(t, warnings, 1)
	require.Equal(t, "/tangential_coefficient/value", warnings[0].(map[string]any)["pointer"])
}

func TestWithoutADatabaseNothingIsWritten(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	url := storetest.New(t)
	st, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	lock(t, url)
	for name, from := range map[string]*store.Store{"none": nil, "away": st} {
		config.Store = from
		c := newClient(t, config)
		for _, r := range []struct{ method, path, kind, body string }{
			{http.MethodPut, "/v1/labour-roles/x", "application/json", `{"name":"X","rate":"1"}`}, {http.MethodDelete, "/v1/labour-roles/maker", "", ""},
			{http.MethodPut, "/v1/imports/labour-roles", "text/csv", "code,name,rate,source,version\nx,X,1,demo,\n"},
			{http.MethodGet, "/v1/audit-entries", "", ""}, {http.MethodGet, "/v1/exports/species.csv", "", ""},
		} {
			a := c.do(t, r.method, r.path, strings.NewReader(r.body), "Content-Type", r.kind, "If-Match",
				map[bool]string{true: "*"}[r.method == http.MethodDelete])
			require.Equal(t, http.StatusServiceUnavailable, a.problem(t).Status, "%s %s %s: %s", name, r.method, r.path, a.body)
			require.Equal(t, "2", a.header.Get("Retry-After"))
		}
	}
}

func TestTheAuditTrailIsPagedAndNarrowed(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for i := range 7 {
		a := s.put(t, fmt.Sprintf("/v1/labour-roles/role_%d", i), `{"name":"Role","rate":"10"}`, "X-Actor",
			fmt.Sprintf("person %d", i))
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
	}
	var codes []string
	for cursor := ""; ; {
		page := s.get(t, "/v1/audit-entries?limit=3"+cursor).tree(t)
		for _, item := range page["items"].([]any) {
			entry := item.(map[string]any)
			codes = append(codes, entry["code"].(string))
			require.Nil(t, entry["before"])
			require.Equal(t, "10.00", entry["after"].(map[string]any)["rate"])
		}
		if page["next_cursor"] == nil {
			break
		}
		cursor = "&cursor=" + page["next_cursor"].(string)
	}
	require.Equal(t, []string{"role_6", "role_5", "role_4", "role_3", "role_2", "role_1", "role_0"}, codes)
	require.Len(t, s.get(t, "/v1/audit-entries?entity=labour-roles&code=role_3").tree(t)["items"], 1)
	require.Empty(t, s.get(t, "/v1/audit-entries?entity=species").tree(t)["items"])
	today, tomorrow := time.Now().UTC().Format(time.DateOnly), time.Now().UTC().AddDate(0, 0, 1).Format(time.DateOnly)
	require.Len(t, s.get(t, "/v1/audit-entries?from="+today).tree(t)["items"], 7)
	require.Empty(t, s.get(t, "/v1/audit-entries?from="+tomorrow).tree(t)["items"])
	require.Empty(t, s.get(t, "/v1/audit-entries?to=2020-01-01").tree(t)["items"])
	for _, query := range []string{"?entity=nails", "?from=2026-02-30", "?from=2026-02-02&to=2026-02-01", "?cursor=x",
		"?limit=0", "?who=me"} {
		require.Equal(t, http.StatusBadRequest, s.get(t, "/v1/audit-entries"+query).problem(t).Status, query)
	}
}

// lock ends all connections of a database and lets no new ones in.
func lock(t testing.TB, url string) {
	t.Helper()
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	name := config.Database
	config.Database = "postgres"
	conn, err := pgx.ConnectConfig(context.Background(), config)
	require.NoError(t, err)
	_, err = conn.Exec(context.Background(), "ALTER DATABASE "+pgx.Identifier{name}.Sanitize()+" ALLOW_CONNECTIONS false")
	require.NoError(t, err)
	_, err = conn.Exec(context.Background(), "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1",
		name)
	require.NoError(t, err)
	require.NoError(t, conn.Close(context.Background()))
}
