package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const setTop = `"units":"in","reference":"Option desk","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5},{"length":72,"depth":24}],"corners":[{"angle":90}]},
	"moisture":{"making":{"content":7.5},"service":{"dry":{"humidity":30,"temperature":70},"humid":{"humidity":55,"temperature":72}}},"pricing":{"as_of":"2026-11-01"}`

// items are the options of an answer.
func items(t testing.TB, a answer) (list []map[string]any) {
	t.Helper()
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
	for _, item := range a.tree(t)["items"].([]any) {
		list = append(list, item.(map[string]any))
	}
	return list
}

// Every option is the estimate that one gets alone; what is dominated is so by the figures that the answer shows.
func TestAnOptionIsTheEstimateThatOneGetsAlone(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(
		t,
		"/v1/option-sets",
		`{"estimate":{`+setTop+`},"species":["maple_sugar","walnut_black","teak","oak_white"],"thicknesses":["1-1/4","1-1/2"],"joints":["auto","butt","miter"],"finishes":["none","hardwax_oil"]}`,
	)
	list := items(t, a)
	require.Len(t, list, 48)
	require.Empty(t, a.tree(t)["impossible"])
	var figures [][5]float64
	dominated := 0
	for i, o := range list {
		alone := strings.NewReplacer("maple_sugar", o["species"].(string), `"1-1/2"`, fmt.Sprint(o["thickness"]), `"angle":90`, `"angle":90,"joint":"`+o["joint_asked"].(string)+`"`).
			Replace(setTop)
		e := c.post(t, "/v1/estimates", `{`+alone+`,"finish":{"system":"`+o["finish"].(string)+`"}}`).tree(t)
		require.Equal(t, e["price"].(map[string]any)["total"], o["total"])
		require.Equal(t, e["weight"], o["weight"])
		require.Equal(t, e["labour"].(map[string]any)["working_days"], o["working_days"])
		require.Equal(t, e["labour"].(map[string]any)["hours"], o["hours"])
		require.Equal(t, e["corners"].([]any)[0].(map[string]any)["chosen"], o["joint"])
		widest := 0.0
		for _, r := range e["runs"].([]any) {
			widest = max(widest, r.(map[string]any)["movement"].(map[string]any)["range"].(float64))
		}
		require.Equal(t, widest, o["movement"])
		var total float64
		require.NoError(t, json.Unmarshal([]byte(o["total"].(string)), &total))
		figures = append(
			figures,
			[5]float64{total, widest, o["weight"].(float64), o["working_days"].(float64), -o["strength"].(float64)},
		)
		if i > 0 {
			require.LessOrEqual(t, figures[i-1][0], total, "ranked by price")
		}
	}
	for i, o := range list {
		beaten := false
		for k := range list {
			worse, better := false, false
			for x := range figures[i] {
				worse, better = worse || figures[k][x] > figures[i][x], better || figures[k][x] < figures[i][x]
			}
			beaten = beaten || !worse && better
		}
		require.Equal(t, beaten, o["dominated"], "option %d", i+1)
		if beaten {
			dominated++
		}
	}
	require.Positive(t, dominated)
	require.Less(t, dominated, len(list))
}

// What is asked for in other units, or in another order, gets the same options.
func TestOptionsDoNotDependOnHowTheyAreAsked(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	ask := func(lists string) string {
		var key []string
		for _, o := range items(t, c.post(t, "/v1/option-sets", `{"estimate":{`+setTop+`},`+lists+`}`)) {
			key = append(
				key,
				fmt.Sprint(o["species"], o["thickness"], o["total"], o["movement"], o["dominated"], o["ranks"]),
			)
		}
		return strings.Join(key, "\n")
	}
	first := ask(`"species":["oak_white","teak","cherry_black"],"thicknesses":["1-1/4","1-1/2"]`)
	require.Equal(t, first, ask(`"thicknesses":[1.5,"31.75 mm"],"species":["cherry_black","oak_white","teak"]`))
	one := items(t, c.post(t, "/v1/option-sets", `{"estimate":{`+setTop+`}}`))
	require.Len(t, one, 1)
	require.Equal(
		t,
		[]any{"maple_sugar", 1.5, "hardwax_oil", false, "auto"},
		[]any{one[0]["species"], one[0]["thickness"], one[0]["finish"], one[0]["dominated"], one[0]["joint_asked"]},
	)
}

func TestOptionsThatCannotBeMadeAreListedWithTheirReason(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(
		t,
		"/v1/option-sets",
		`{"estimate":{`+setTop+`},"species":["maple_sugar","no_such_wood"],"thicknesses":[1.5,9]}`,
	)
	require.Len(t, items(t, a), 1)
	var at []string
	for _, one := range a.tree(t)["impossible"].([]any) {
		for _, r := range one.(map[string]any)["reasons"].([]any) {
			at = append(at, r.(map[string]any)["pointer"].(string))
		}
	}
	require.Equal(
		t,
		[]string{"/thicknesses/1", "/species/1", "/species/1", "/thicknesses/1"},
		at,
		"all of what is wrong with each",
	)
	for name, one := range map[string]struct {
		body   string
		status int
		at     []string
	}{
		"nothing can be made":      {`{"estimate":{` + setTop + `},"species":["no_such_wood","nor_this"]}`, 422, []string{"/species/0", "/species/1"}},
		"the same wood twice":      {`{"estimate":{` + setTop + `},"species":["teak","teak"]}`, 400, []string{"/species/1"}},
		"no length, no joint":      {`{"estimate":{` + setTop + `},"thicknesses":[-1,"two"],"joints":["dovetail"]}`, 400, []string{"/joints/0", "/thicknesses/0", "/thicknesses/1"}},
		"unknown property":         {`{"estimate":{` + setTop + `},"wood":["teak"]}`, 400, []string{"/wood"}},
		"a fault of the estimate":  {`{"estimate":{"units":"in","top":{"species":"teak","runs":[{"length":96,"depth":25}]}}}`, 400, []string{"/estimate/top/thickness"}},
		"a fault whatever is made": {strings.Replace(`{"estimate":{`+setTop+`},"joints":["butt","miter"]}`, `"angle":90`, `"angle":178`, 1), 422, []string{"/estimate/top/corners/0/angle"}},
	} {
		p := c.post(t, "/v1/option-sets", one.body).problem(t)
		require.Equal(t, one.status, p.Status, name)
		var at []string
		for _, v := range p.Errors {
			at = append(at, v.Pointer)
		}
		require.Equal(t, one.at, at, name)
	}
	lists := `"species":["maple_sugar","teak","oak_white","ash_white","hickory","cherry_black"],"joints":["auto","butt","miter"],"thicknesses":[1,2,3,4,5,6,7,8,9,10,11,12]`
	p := c.post(t, "/v1/option-sets", `{"estimate":{`+setTop+`},`+lists+`}`).problem(t)
	require.Equal(t, 422, p.Status)
	require.Contains(t, p.Detail, "216 combinations; at most 200")
}

func TestOptionsOfAQuoteAndTheirViews(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":{`+setTop+`}}`)
	at := "/v1/quotes/" + q["id"].(string) + "/option-sets"
	lists := `"species":["maple_sugar","cherry_black"],"thicknesses":["1-1/4",9],"rank_by":"weight"`
	kept := s.post(t, at, `{`+lists+`}`)
	sent := s.post(t, "/v1/option-sets", `{"estimate":{`+setTop+`},`+lists+`}`)
	require.Equal(t, string(sent.body), string(kept.body))
	require.Equal(t, "cherry_black", items(t, kept)[0]["species"])
	require.Equal(t, http.StatusNotFound, s.post(t, "/v1/quotes/quote_none/option-sets", `{}`).problem(t).Status)
	require.Equal(t, http.StatusNotFound, s.post(t, at+"?revision=2", `{}`).problem(t).Status)
	for view, holds := range map[string]string{"options.csv": "cherry_black", "options.svg": "<svg", "options.html": "Black cherry", "options.pdf": "%PDF"} {
		for path, body := range map[string]string{at: `{` + lists + `}`, "/v1/option-sets": `{"estimate":{` + setTop + `},` + lists + `}`} {
			a := s.bare(t, http.MethodPost, path+"/"+view, body)
			require.Equal(t, http.StatusOK, a.status, "%s: %.300s", view, a.body)
			require.Contains(t, strings.ToLower(string(a.body)), strings.ToLower(holds), view)
		}
	}
	e := s.post(t, "/v1/estimates", strings.NewReplacer("maple_sugar", "cherry_black", `"1-1/2"`, "1.25").Replace("{"+setTop+"}")).tree(t)["price"].(map[string]any)
	page := strings.ReplaceAll(string(s.bare(t, http.MethodPost, at+"/options.html", `{`+lists+`}`).body), ",", "")
	require.Contains(t, page, e["total"])
	for _, secret := range []string{"cost", "margin", "overhead"} {
		require.NotContains(t, page, e[secret], secret)
	}
	csv := string(s.bare(t, http.MethodPost, at+"/options.csv", `{`+lists+`}`).body)
	require.Equal(t, 5, strings.Count(csv, "\r\n"), "a head, two that can be made, two that cannot")
	german := s.bare(t, http.MethodPost, at+"/options.html?language=de", `{`+lists+`}`)
	require.Contains(t, string(german.body), "Ihre Platte, auf mehrere Arten")
	require.Equal(t, http.StatusNotFound, s.post(t, at+"/nothing.svg", `{}`).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.post(t, at+"/options.svg?language=xx", `{}`).problem(t).Status)
}
