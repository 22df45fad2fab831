package api_test

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const counterPart = `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":%d,"depth":24}]},"pricing":{"as_of":"2026-11-01"}}`

// reported makes so many offers and loads a report of each, in which the steps took a multiple of what was estimated, a
// little more in every second job and a little less in the others; all other steps took what was estimated. It returns
// the file.
func reported(t testing.TB, s *shop, n int, ratios map[string]float64) string {
	t.Helper()
	var file strings.Builder
	file.WriteString("quote,step,minutes,finished\n")
	for i := range n {
		q, _ := s.offer(t, `{"estimate":`+fmt.Sprintf(counterPart, 60+i)+`}`)
		for _, one := range q["estimate"].(map[string]any)["labour"].(map[string]any)["steps"].([]any) {
			step := one.(map[string]any)
			ratio := ratios[step["code"].(string)]
			if ratio == 0 {
				ratio = 1
			}
			ratio *= math.Exp(0.1 * float64(1-2*(i%2)))
			minutes := step["minutes"].(map[string]any)["expected"].(float64)
			fmt.Fprintf(
				&file,
				"%s,%s,%s,2026-11-%02d\n",
				q["id"],
				step["code"],
				strconv.FormatFloat(minutes*ratio, 'f', 3, 64),
				1+i%20,
			)
		}
	}
	a := s.do(t, http.MethodPost, "/v1/actuals", strings.NewReader(file.String()), "Content-Type", "text/csv")
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
	require.Equal(t, float64(n), a.tree(t)["jobs"])
	return file.String()
}

// learned is the proposal for a standard.
func learned(t testing.TB, s *shop, code string) map[string]any {
	t.Helper()
	a := s.get(t, "/v1/learnings")
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
	for _, p := range a.tree(t)["proposals"].([]any) {
		if p.(map[string]any)["code"] == code {
			return p.(map[string]any)
		}
	}
	require.Fail(t, "nothing is said of "+code)
	return nil
}

// seenOf says what was seen of a proposal.
func seenOf(t testing.TB, s *shop, code string) string {
	t.Helper()
	p := learned(t, s, code)
	return fmt.Sprintf(`{"jobs":%v,"factor":%v}`, p["evidence"].(map[string]any)["jobs"], p["factor"])
}

// Reports come in, proposals come of them, one is approved: the standard, the trail and the revision say so, the next
// estimate takes longer, and what was estimated before stays as it was.
func TestWhatJobsTookBecomesAProposalAndAnApprovalAStandard(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	first := s.get(t, "/v1/learnings").tree(t)
	require.Equal(t, 0.0, first["jobs"])
	require.Empty(t, first["proposals"])
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/learnings/calibration.svg").problem(t).Status)

	reported(t, s, 20, map[string]float64{"glue_up": 1.6})
	all := s.get(t, "/v1/learnings").tree(t)
	require.Equal(t, 20.0, all["jobs"])
	require.Equal(t, []any{"2026-11-01", "2026-11-20"}, []any{all["from"], all["to"]})
	require.Equal(t, 10.0, s.get(t, "/v1/learnings?since=2026-11-11").tree(t)["jobs"])
	glue := learned(t, s, "glue_up")
	require.Equal(t, "open", glue["status"], glue["why"])
	require.InDelta(t, 1.6, glue["factor"], 0.1)
	for _, e := range glue["effects"].([]any) {
		require.Nil(t, e.(map[string]any)["reason"])
	}
	require.Equal(t, "keep", learned(t, s, "flatten")["status"])
	calibration := all["calibration"].([]any)
	require.Equal(t, 20.0, calibration[1].(map[string]any)["of"])
	picture := s.bare(t, http.MethodGet, "/v1/learnings/calibration.svg", "")
	require.Contains(t, string(picture.body), "<svg")

	quote, _ := s.offer(t, `{"estimate":`+fmt.Sprintf(counterPart, 72)+`}`)
	before := s.get(t, "/v1/quotes/"+quote["id"].(string))
	minutes := func() float64 {
		for _, one := range s.post(t, "/v1/estimates", fmt.Sprintf(counterPart, 72)).tree(t)["labour"].(map[string]any)["steps"].([]any) {
			if step := one.(map[string]any); step["code"] == "glue_up" {
				return step["minutes"].(map[string]any)["expected"].(float64)
			}
		}
		return 0
	}
	was, revision := minutes(), all["catalogue"].(map[string]any)["revision"].(float64)
	for body, status := range map[string]int{`{"jobs":19,"factor":1.6}`: 409, `{"jobs":20,"factor":9}`: 409, `{"jobs":0,"factor":1}`: 400, `{}`: 400} {
		require.Equal(t, status, s.post(t, "/v1/learnings/glue_up/approve", body).problem(t).Status, body)
	}
	require.Equal(
		t,
		409,
		s.post(t, "/v1/learnings/flatten/approve", seenOf(t, s, "flatten")).problem(t).Status,
		"nothing is proposed",
	)
	require.Equal(t, 404, s.post(t, "/v1/learnings/nothing/approve", `{"jobs":1,"factor":1}`).problem(t).Status)
	done := s.post(t, "/v1/learnings/glue_up/approve", seenOf(t, s, "glue_up"), "X-Actor", "Anna")
	require.Equal(t, http.StatusOK, done.status, "%s", done.body)
	require.Greater(t, done.tree(t)["catalogue_revision"], revision)
	require.InDelta(t, was*glue["factor"].(float64), minutes(), 0.02*was)
	again := learned(t, s, "glue_up")
	require.Equal(t, "keep", again["status"], "what was taken is not proposed again: %s", again["why"])
	require.InDelta(t, 1, again["factor"], 0.03)
	require.Equal(t, "keep", learned(t, s, "flatten")["status"])
	require.Equal(t, calibration[1].(map[string]any)["estimated"],
		s.get(t, "/v1/learnings").tree(t)["calibration"].([]any)[1].(map[string]any)["estimated"], "the past stays as it was")
	standard := s.get(t, "/v1/labour-standards/glue_up").tree(t)
	require.Equal(t, glue["after"].(map[string]any)["each"], standard["each"])
	entries := s.get(t, "/v1/audit-entries?entity=labour-standards&code=glue_up").tree(t)["items"].([]any)
	require.Equal(t, "Anna", entries[0].(map[string]any)["actor"])
	after := s.get(t, "/v1/quotes/"+quote["id"].(string))
	require.Equal(t, before.tree(t)["estimate"], after.tree(t)["estimate"], "what was estimated stays")
}

// by is the item of a list of what was learned that has a code.
func by(t testing.TB, s *shop, list, code string) map[string]any {
	t.Helper()
	a := s.get(t, "/v1/learnings")
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
	for _, p := range a.tree(t)[list].([]any) {
		if p.(map[string]any)["code"] == code {
			return p.(map[string]any)
		}
	}
	require.Fail(t, "nothing is said of "+code, "%s", a.body)
	return nil
}

// decide answers a proposal for a setting or a price.
func decide(t testing.TB, s *shop, list, code, how string) answer {
	t.Helper()
	p, body := by(t, s, list, code), ""
	switch list {
	case "settings":
		body = fmt.Sprintf(`{"jobs":%v,"after":%v}`, p["jobs"], p["after"])
	default:
		body = fmt.Sprintf(`{"jobs":%v,"factor":%v}`, p["evidence"].(map[string]any)["jobs"], p["factor"])
	}
	return s.post(t, "/v1/learnings/"+code+"/"+how, body, "X-Actor", "Anna")
}

// Reports of what was used and paid become proposals for settings and prices; approved, they are the catalogue's, with
// an entry in the trail, and are not proposed again from the same jobs; dismissed, they stay away.
func TestWoodAndMoneyOfJobsBecomeProposals(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	// every job's steps take as much more or less: all of their spread is in common
	reported(t, s, 24, nil)
	const item, code = "lumber_maple_sugar_8_4", "price.lumber_maple_sugar_8_4.1"
	told := 0
	for i := range 60 {
		q, _ := s.offer(t, `{"estimate":`+fmt.Sprintf(counterPart, 58+i)+`}`)
		est := q["estimate"].(map[string]any)
		for _, one := range est["bill_of_materials"].([]any) {
			line := one.(map[string]any)
			if line["item"] != item {
				continue
			}
			price, err := strconv.ParseFloat(line["unit_price"].(string), 64)
			require.NoError(t, err)
			plan := est["lumber"].([]any)[0].(map[string]any)
			length, least := 0.0, math.Inf(1)
			for _, one := range plan["boards"].([]any) {
				b := one.(map[string]any)
				if n := b["buy"].(float64); n > 0 {
					length, least = length+n*b["length"].(float64), min(least, b["length"].(float64))
				}
			}
			if plan["buy_board_feet"].(float64)*(1-least/length) < plan["yield_board_feet"].(float64) {
				told++
			}
			// a quarter more than the yield promises, a tenth cheaper than listed
			off := math.Exp(0.02 * float64(1-2*(i%2)))
			body := fmt.Sprintf(`{"finished":"2026-11-20","materials":[{"item":%q,"used":"%.2f","bought":"100","paid":"%.2f"}]}`,
				item, plan["yield_board_feet"].(float64)*1.25*off, 100*price*0.9/off)
			put := s.put(t, "/v1/quotes/"+q["id"].(string)+"/actuals", body)
			require.Equal(t, http.StatusOK, put.status, "%s", put.body)
			require.Equal(t, "100", put.tree(t)["materials"].([]any)[0].(map[string]any)["bought"])
		}
	}
	require.Greater(t, told, 10, "jobs whose wood was bought by the yield")

	share := by(t, s, "settings", "setting.common_share")
	require.Equal(t, []any{"open", 0.4, 24.0, "p90"}, []any{share["status"], share["before"], share["jobs"], share["effects_on"]}, share["why"])
	require.Greater(t, share["after"], 0.6)
	yield := by(t, s, "settings", "setting.lumber_yield")
	require.Equal(t, []any{"open", 100.0, float64(told)}, []any{yield["status"], yield["before"], yield["jobs"]}, yield["why"])
	require.InDelta(t, 80, yield["after"], 0.5)
	require.Len(t, yield["effects"], 3)
	price := by(t, s, "prices", code)
	require.Equal(t, "open", price["status"], price["why"])
	require.InDelta(t, 0.9, price["factor"], 0.01)

	for body, status := range map[string]int{`{"jobs":1,"after":80}`: 409, `{"jobs":1}`: 400, `{"jobs":1,"after":80,"factor":1}`: 400} {
		require.Equal(t, status, s.post(t, "/v1/learnings/setting.lumber_yield/approve", body).problem(t).Status, body)
	}
	seen := fmt.Sprintf(`{"jobs":%v,"factor":%v}`, yield["jobs"], yield["after"])
	require.Equal(t, 409, s.post(t, "/v1/learnings/setting.lumber_yield/approve", seen).problem(t).Status, "after is what is seen of a setting")

	cost := func() float64 { // of the second reference top's kind: priced today, by the yield
		a := s.post(t, "/v1/estimates", strings.Replace(fmt.Sprintf(counterPart, 90), `"2026-11-01"`, `"2026-11-25"`, 1))
		require.Equal(t, http.StatusOK, a.status)
		x, err := strconv.ParseFloat(a.tree(t)["price"].(map[string]any)["materials"].(string), 64)
		require.NoError(t, err)
		return x
	}
	was := cost()
	require.Equal(t, http.StatusOK, decide(t, s, "settings", "setting.lumber_yield", "approve").status)
	require.Equal(t, yield["after"], mustFloat(t, s.get(t, "/v1/settings/lumber_yield").tree(t)["value"]))
	require.Greater(t, cost(), was, "more wood")
	again := by(t, s, "settings", "setting.lumber_yield")
	require.Equal(t, "keep", again["status"], again["why"])
	require.Equal(t, http.StatusOK, decide(t, s, "settings", "setting.common_share", "dismiss").status)
	require.Equal(t, "dismissed", by(t, s, "settings", "setting.common_share")["status"])

	more := cost()
	done := decide(t, s, "prices", code, "approve")
	require.Equal(t, http.StatusOK, done.status, "%s", done.body)
	require.Less(t, cost(), more, "cheaper wood")
	for _, p := range s.get(t, "/v1/learnings").tree(t)["prices"].([]any) {
		require.NotEqual(t, code, p.(map[string]any)["code"], "no job was estimated by the new price yet")
	}
	for _, entity := range []string{"settings", "prices"} {
		entries := s.get(t, "/v1/audit-entries?entity="+entity).tree(t)["items"].([]any)
		require.Equal(t, "Anna", entries[0].(map[string]any)["actor"], entity)
	}
}

func mustFloat(t testing.TB, v any) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(fmt.Sprint(v), 64)
	require.NoError(t, err)
	return x
}

// A dismissed proposal stays away until many more jobs tell of it.
func TestADismissedProposalStaysAwayUntilMoreJobsTellOfIt(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	reported(t, s, 12, map[string]float64{"glue_up": 1.5})
	require.Equal(t, http.StatusOK, s.post(t, "/v1/learnings/glue_up/dismiss", seenOf(t, s, "glue_up")).status)
	require.Equal(t, "dismissed", learned(t, s, "glue_up")["status"])
	reported(t, s, 19, map[string]float64{"glue_up": 1.5})
	require.Equal(t, "dismissed", learned(t, s, "glue_up")["status"])
	reported(t, s, 1, map[string]float64{"glue_up": 1.5})
	require.Equal(t, "open", learned(t, s, "glue_up")["status"])
}

// A report is read as it was told, beside what was estimated; what the estimate does not have is refused at its place.
func TestAReportStandsBesideWhatWasEstimated(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+fmt.Sprintf(counterPart, 72)+`}`)
	at := "/v1/quotes/" + q["id"].(string) + "/actuals"
	require.Equal(t, http.StatusNotFound, s.get(t, at).problem(t).Status)
	line := q["estimate"].(map[string]any)["bill_of_materials"].([]any)[0].(map[string]any)
	put := s.put(
		t,
		at,
		fmt.Sprintf(
			`{"finished":"2026-11-20","steps":[{"code":"glue_up","minutes":95.5}],"materials":[{"item":%q,"used":"70","paid":"640.00"},{"item":"other_thing"}],"defects":["a knot"],"note":"dry"}`,
			line["item"],
		),
	)
	require.Equal(t, http.StatusOK, put.status, "%s", put.body)
	got := s.get(t, at).tree(t)
	require.Equal(t, put.tree(t)["steps"], got["steps"])
	for _, one := range q["estimate"].(map[string]any)["labour"].(map[string]any)["steps"].([]any) {
		if step := one.(map[string]any); step["code"] == "glue_up" {
			expected := step["minutes"].(map[string]any)["expected"].(float64)
			require.Equal(t, map[string]any{"estimated": expected, "taken": 95.5}, got["minutes"])
			require.InDelta(t, 95.5/expected, got["steps"].([]any)[0].(map[string]any)["ratio"], 0.0005)
		}
	}
	materials := got["materials"].([]any)
	require.Equal(t, "640.00", materials[0].(map[string]any)["paid"])
	require.NotNil(t, materials[0].(map[string]any)["estimated"])
	require.Nil(t, materials[1].(map[string]any)["estimated"])
	for body, want := range map[string]string{
		`{"steps":[{"code":"glue_up","minutes":5},{"code":"glue_up","minutes":6},{"code":"fly","minutes":1}]}`: "422 /steps/1/code /steps/2/code",
		`{"materials":[{"item":"a","paid":"-1"},{"item":"b","used":"x"}]}`:                                     "400 /materials/0/paid /materials/1/used",
		`{"steps":[{"code":"glue_up","minutes":0}],"when":"now"}`:                                              "400 /steps/0/minutes /when",
		`{}`: "422",
		`{"revision":2,"steps":[{"code":"glue_up","minutes":5}]}`: "404",
	} {
		p := s.put(t, at, body).problem(t)
		said := strconv.Itoa(p.Status)
		for _, v := range p.Errors {
			said += " " + v.Pointer
		}
		require.Equal(t, want, said, body)
	}
	require.Equal(
		t,
		http.StatusNotFound,
		s.put(t, "/v1/quotes/quote_none/actuals", `{"defects":["x"]}`).problem(t).Status,
	)
}

func TestAFileOfReportsIsTakenWholeOrNotAtAll(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+fmt.Sprintf(counterPart, 72)+`}`)
	id := q["id"].(string)
	load := func(file string) answer {
		return s.do(t, http.MethodPost, "/v1/actuals", strings.NewReader(file), "Content-Type", "text/csv")
	}
	for file, want := range map[string]string{
		"quote,step,minutes\n" + id + ",glue_up,95\n" + id + ",fly,5\nquote_none,glue_up,3\n": "422 3step 4quote",
		"quote,step,minutes\n" + id + ",glue_up,none\n" + id + ",glue_up,5\n,glue_up,0\n":     "400 2minutes 3step 4minutes 4quote",
		"quote,step,minutes\n" + id + ",glue_up,none\n" + id + ",fly,5\n,glue_up,5\n":         "400 2minutes 3step 4quote",
		"quote,step,hours\n" + id + ",glue_up,1\n":                                            "400 1hours 1minutes",
		"quote,step,minutes\n": "400 1",
		"":                     "400 1",
		"quote,step,minutes\n\"" + id + ",glue_up,5\n":                   "400 2",
		"quote,step,minutes,finished\n" + id + ",glue_up,5,2026-13-01\n": "400 2finished",
	} {
		p := load(file).problem(t)
		said := strconv.Itoa(p.Status)
		for _, v := range p.Errors {
			said += fmt.Sprintf(" %d%s", v.Line, v.Column)
		}
		require.Equal(t, want, said, file)
	}
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/quotes/"+id+"/actuals").problem(t).Status, "nothing was taken")
	require.Equal(t, http.StatusUnsupportedMediaType, s.post(t, "/v1/actuals", `{}`).problem(t).Status)
	ok := load("\ufeffminutes,quote,step\n95," + id + ",glue_up\n")
	require.Equal(t, http.StatusOK, ok.status, "%s", ok.body)
	var got struct{ Steps []struct{ Minutes float64 } }
	require.NoError(t, json.Unmarshal(s.get(t, "/v1/quotes/"+id+"/actuals").body, &got))
	require.Equal(t, 95.0, got.Steps[0].Minutes)
}
