package api_test

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

func TestProblemOfPutsEveryKindOfErrorIntoItsStatus(t *testing.T) {
	t.Parallel()
	at := func(kind fault.Kind, pointer string) *fault.Fault {
		return &fault.Fault{Kind: kind, Pointer: pointer, Detail: "Detail of " + pointer + ".", Fix: "Fix it."}
	}
	for name, c := range map[string]struct {
		err    error
		status int
		listed int
	}{
		"a breach of the form":                   {at(fault.Invalid, "/a"), 400, 1},
		"a breach of the form by the whole body": {at(fault.Invalid, ""), 400, 1},
		"an impossible top":                      {at(fault.Impossible, "/a"), 422, 1},
		"a code in the body that nothing has":    {at(fault.NotFound, "/top/species"), 422, 1},
		"a path that nothing has":                {at(fault.NotFound, ""), 404, 0},
		"a conflict":                             {at(fault.Conflict, ""), 409, 0},
		"something away":                         {at(fault.Unavailable, ""), 503, 0},
		"faults of several kinds": {fault.List{at(fault.Impossible, "/b"), at(fault.Invalid, "/a"),
			at(fault.NotFound, "/c")}, 400, 3},
		"a fault wrapped on the way":             {fmt.Errorf("estimate: %w", at(fault.Impossible, "/a")), 422, 1},
		"an error that is nobody's fault":        {errors.New("secret"), 500, 0},
		"a fault beside an error":                {errors.Join(at(fault.Invalid, "/a"), errors.New("secret")), 500, 0},
		"a path that the router does not know":   {echo.ErrNotFound, 404, 0},
		"a method that the router does not know": {echo.ErrMethodNotAllowed, 405, 0},
		"another word of the router":             {echo.ErrTeapot, 500, 0},
	} {
		p := web.ProblemOf(c.err)
		require.Equal(t, c.status, p.Status, name)
		require.Len(t, p.Errors, c.listed, name)
		require.NotEmpty(t, p.Title, name)
		require.NotEmpty(t, p.Detail, name)
		require.NotContains(t, p.Detail, "secret", name)
	}
	p := web.ProblemOf(fault.List{at(fault.Invalid, "/b"), {Kind: fault.Invalid, Parameter: "limit",
		Detail: "Detail of limit.", Fix: "Fix it."}, at(fault.Invalid, "/a"),
		{Kind: fault.Invalid, Line: 7, Column: "price", Detail: "Detail of a line."}})
	require.Equal(t, []web.Violation{
		{Line: 7, Column: "price", Detail: "Detail of a line."}, {Pointer: "/a", Detail: "Detail of /a. Fix it."}, {Pointer: "/b", Detail: "Detail of /b. Fix it."},
		{Parameter: "limit", Detail: "Detail of limit. Fix it."},
	}, p.Errors)
	require.LessOrEqual(t, len(web.ProblemOf(at(fault.Impossible, "/"+strings.Repeat("ä", 5000))).Errors[0].Pointer), 2000)
}

// broken ends with an error after some bytes.
type broken struct{ io.Reader }

func (b broken) Read(p []byte) (int, error) {
	n, err := b.Reader.Read(p)
	if err == io.EOF {
		err = io.ErrUnexpectedEOF
	}
	return n, err
}

func TestABodyThatEndsTooEarlyIsTheSendersTrouble(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	p := c.do(t, http.MethodPost, "/v1/estimates", broken{strings.NewReader(`{"units":`)}, "Content-Type",
		"application/json").problem(t)
	require.Equal(t, http.StatusBadRequest, p.Status)
	require.Contains(t, p.Detail, "before all of it had arrived")
}

func TestMovementsAndComparisonsRefuseLikeEstimates(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	require.Equal(t, http.StatusBadRequest, c.post(t, "/v1/movements",
		`{"units":"in","species":"maple_sugar"}`).problem(t).Status)
	require.Equal(t, http.StatusUnprocessableEntity, c.post(t, "/v1/movements",
		`{"units":"in","species":"maple","width":20}`).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, c.post(t, "/v1/joint-comparisons", `{"units":"in"}`).problem(t).Status)
	require.Empty(t, c.post(t, "/v1/joint-comparisons", smallest).tree(t)["corners"])
	require.Nil(t, c.post(t, "/v1/movements",
		`{"units":"in","species":"maple_sugar","width":20}`).tree(t)["movement"].(map[string]any)["along_grain_range"],
		"no length was given")
}

func TestMetricsBeforeTheFirstCatalogue(t *testing.T) {
	t.Parallel()
	c := newClient(t, api.Config{Snapshot: func() *catalogue.Snapshot { return nil },
		Status: func() web.Status { return web.Status{} }, NoAuth: true})
	text := string(c.get(t, "/metrics").body)
	require.Contains(t, text, "seamwright_catalogue_revision 0")
	require.Contains(t, text, "seamwright_database_up 0")
}
