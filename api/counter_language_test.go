package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// The order form speaks the language of the call, or else the shop's; a language that there is none of is refused.
func TestTheOrderFormSpeaksTheLanguageOfTheCallOrTheShops(t *testing.T) {
	t.Parallel()
	cat := *storetest.Demo(t)
	cat.Settings.ShopLanguage = "de"
	config := healthy(t)
	config.Snapshot = snapshotOf(&cat)
	usual, german := newClient(t, healthy(t)), newClient(t, config)
	top := deskOf("mm", "l")
	wrong := deskOf("mm", "l")
	wrong["sides"].([]any)[1].(tree)["deep"] = 1200.5
	tapes := text(t, tree{"units": "mm", "along_first": 900, "along_second": 1200, "across": 1500})
	noTriangle := text(t, tree{"units": "mm", "along_first": 900, "along_second": 1200, "across": 5000})
	for path, want := range map[string]struct {
		body         string
		status       int
		english, own string
	}{
		"/v1/order-form":           {"", 200, "Sugar maple", "Zuckerahorn"},
		"/v1/order-form/estimates": {text(t, top), 200, "Solid wood throughout", "Durchgehend Massivholz"},
		"/v1/order-form/angles":    {tapes, 200, "The corner is 90", "Die Ecke hat 90"},
		"/v1/order-form/estimates?": {text(t, wrong), 400, "1200.5 mm is outside of what we make",
			"1200,5 mm liegt außerhalb dessen, was wir fertigen"},
		"/v1/order-form/angles?": {noTriangle, 422, "cannot form a triangle", "wird kein Dreieck"},
	} {
		asked := func(c *client, language string) answer {
			at := strings.TrimSuffix(path, "?") + language
			if want.body == "" {
				return c.get(t, at)
			}
			return c.post(t, at, want.body)
		}
		for _, one := range []struct {
			c              *client
			language, says string
		}{{usual, "", want.english}, {usual, "?language=de", want.own}, {german, "", want.own}, {german, "?language=en", want.english}} {
			a := asked(one.c, one.language)
			require.Equal(t, want.status, a.status, string(a.body))
			require.Contains(t, string(a.body), one.says, "%s%s", path, one.language)
		}
		a := asked(usual, "?language=xx")
		require.Equal(t, http.StatusBadRequest, a.status)
		require.Equal(t, "language", a.problem(t).Errors[0].Parameter)
	}
}

// So does the shop's counter: what is wrong with a request, and what comes next.
func TestARequestForAnOfferIsAnsweredInItsLanguage(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	order := orderedBy("Robin Example")
	a := s.post(t, requestsPath+"?language=de", text(t, order))
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	require.Contains(t, string(a.body), "Bestellt ist damit noch nichts.")
	order["contact"].(tree)["email"] = "robin"
	a = s.post(t, requestsPath+"?language=de", text(t, order))
	require.Equal(t, http.StatusBadRequest, a.status)
	require.Contains(t, string(a.body), "Das ist keine E-Mail-Adresse")
}
