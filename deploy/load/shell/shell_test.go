package main

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/store/storetest"
)

// The shell gives the kept answer to whoever may call and sends what the service would take, and refuses all else as the
// service does.
func TestTheShellAnswersAsTheServiceButWorksNothingOut(t *testing.T) {
	t.Parallel()
	request, err := os.ReadFile("../../../testdata/requests/l_desk.json")
	require.NoError(t, err)
	est, err := estimates.Make(request, storetest.Demo(t), time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC), false)
	require.NoError(t, err)
	answer := estimates.Encode(est)
	key, server, err := newShell(answer)
	require.NoError(t, err)
	post := func(body, key string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodPost, "/v1/estimates", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+key)
		w := httptest.NewRecorder()
		server.Handler.ServeHTTP(w, r)
		return w
	}
	same := post(string(request), key)
	require.Equal(t, http.StatusOK, same.Code, same.Body)
	require.InEpsilon(t, len(answer), same.Body.Len(), 0.05, "an answer of about the same size: assumptions are not kept")
	var tree map[string]any
	require.NoError(t, json.Unmarshal(same.Body.Bytes(), &tree))
	require.Equal(t, est.Price.Total.String(), tree["price"].(map[string]any)["total"])
	other := post(strings.Replace(string(request), `"length": 96`, `"length": 80`, 1), key)
	require.Equal(t, same.Body.String(), other.Body.String(), "nothing is worked out")
	require.Equal(t, http.StatusBadRequest, post(strings.Replace(string(request), `"units"`, `"unit"`, 1), key).Code)
	require.Equal(t, http.StatusUnauthorized, post(string(request), key+"x").Code)
}
