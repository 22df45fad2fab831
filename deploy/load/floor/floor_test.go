package main

import (
	"net/http"
	"net/http/httptest"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

const requestFile = "../../../testdata/requests/l_desk.json"

// realAnswer is what the service answers to the request.
func realAnswer(t *testing.T, request string) []byte {
	t.Helper()
	snapshot := storetest.Demo(t)
	server, err := api.New(api.Config{Snapshot: func() *catalogue.Snapshot { return snapshot },
		Status: func() web.Status { return web.Status{} }, NoAuth: true})
	require.NoError(t, err)
	w := post(server.Handler(), request)
	require.Equal(t, http.StatusOK, w.Code, w.Body)
	return w.Body.Bytes()
}

func post(to http.Handler, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, "/v1/estimates", strings.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	to.ServeHTTP(w, r)
	return w
}

func TestTheFloorGivesTheServicesAnswerAndRefusesWhatTheSpecRefuses(t *testing.T) {
	t.Parallel()
	request, err := os.ReadFile(requestFile)
	require.NoError(t, err)
	answer := realAnswer(t, string(request))
	floor, err := newFloor(answer)
	require.NoError(t, err)

	same := post(floor, string(request))
	require.Equal(t, http.StatusOK, same.Code, same.Body)
	require.JSONEq(t, string(answer), same.Body.String())
	require.InEpsilon(t, len(answer), same.Body.Len(), 0.02, "an answer of the same size")

	require.Equal(t, http.StatusBadRequest, post(floor, `{"units":"in"}`).Code, "the top is missing")
	require.Equal(t, http.StatusBadRequest, post(floor, `{"units":"in"`).Code, "not JSON")
}

func TestAnAnswerThatTheStructsDoNotHoldIsRefused(t *testing.T) {
	t.Parallel()
	_, err := newFloor([]byte(`{"units":"in","no_such_property":1}`))
	require.ErrorContains(t, err, "do not hold the whole answer")
	_, err = newFloor([]byte(`{"units":1}`))
	require.ErrorContains(t, err, "does not fit the spec")
}

func TestTypesAreThoseThatAGeneratorMakes(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	made := typeOf(document.Components.Schemas["EstimateRequest"].Value)
	units, _ := made.FieldByName("F_units")
	require.Equal(t, reflect.String, units.Type.Kind(), "required: no pointer")
	require.Equal(t, `json:"units"`, string(units.Tag))
	reference, _ := made.FieldByName("F_reference")
	require.Equal(t, reflect.TypeFor[*string](), reference.Type, "may be missing: a pointer")
	require.Equal(t, `json:"reference,omitempty"`, string(reference.Tag))

	numbers := openapi3.NewArraySchema().WithItems(openapi3.NewFloat64Schema())
	require.Equal(t, reflect.TypeFor[[]float64](), typeOf(numbers))
	require.Equal(t, reflect.TypeFor[*[]float64](), typeOf(numbers.WithNullable()))
}
