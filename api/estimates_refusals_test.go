package api_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/service/catalogue"
)

// smallest is the least that can be asked.
const smallest = `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":60,"depth":25}]}}`

// with puts another value into the smallest request, at a dotted path; nil takes it away.
func with(t *testing.T, pairs ...any) string {
	t.Helper()
	var tree map[string]any
	require.NoError(t, json.Unmarshal([]byte(smallest), &tree))
	for i := 0; i+1 < len(pairs); i += 2 {
		at, path := tree, strings.Split(pairs[i].(string), ".")
		for _, name := range path[:len(path)-1] {
			if at[name] == nil {
				at[name] = map[string]any{}
			}
			if list, isList := at[name].([]any); isList {
				at = list[0].(map[string]any)
			} else {
				at = at[name].(map[string]any)
			}
		}
		if name := path[len(path)-1]; pairs[i+1] == nil {
			delete(at, name)
		} else {
			at[name] = pairs[i+1]
		}
	}
	raw, err := json.Marshal(tree)
	require.NoError(t, err)
	return string(raw)
}

func TestABodyThatBreaksTheFormIsRefusedAtThePlaceInPlainWords(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	type object = map[string]any
	list := func(items ...any) []any { return append([]any{}, items...) }
	run := object{"length": 60, "depth": 25}
	corners := func(corner object) string {
		return with(t, "top.runs", list(object{"length": 60, "depth": 25}, object{"length": 60, "depth": 25}), "top.corners",
			list(corner))
	}
	for name, x := range map[string]struct{ body, pointer, says string }{
		"no units":          {with(t, "units", nil), "/units", `Required property "units" is missing.`},
		"unknown units":     {with(t, "units", "cm"), "/units", `"cm" is not one of in, mm`},
		"units in capitals": {with(t, "units", "MM"), "/units", `did you mean "mm"`},
		"a property spelled wrong": {with(t, "top.thicknes", 2), "/top/thicknes",
			`Unknown property "thicknes"; did you mean "thickness"?`},
		"a property in capitals": {with(t, "top.Thickness", 2), "/top/Thickness", `did you mean "thickness"?`},
		"a property of another world": {with(t, "zzzzzzzzzzzz", 2), "/zzzzzzzzzzzz",
			"known here: base, finish, loads, moisture, pricing"},
		"a name that must be escaped": {with(t, "top.a/b~c", 2), "/top/a~1b~0c", "Unknown property"},
		"a list for an object":        {with(t, "top", list()), "/top", "Must be an object, not a list."},
		"text for an object":          {with(t, "top", "x"), "/top", "Must be an object, not text."},
		"null":                        {`{"units":"in","top":{"species":"maple_sugar","thickness":null,"runs":[{"length":60,"depth":25}]}}`, "/top/thickness", "not null"},
		"null for an object": {`{"units":"in","top":null}`, "/top",
			"Must be an object, not null. Leave the property out instead."},
		"a number for a code": {with(t, "top.species", 7), "/top/species", "not 7."},
		"a code in capitals": {with(t, "top.species", "Maple"), "/top/species",
			"Must be a code of lower-case letters, digits and underscores, such as maple_sugar."},
		"a truth for a length": {with(t, "top.thickness", true), "/top/thickness",
			"Must be a number, or text such as 25-1/2"},
		"a length of zero":  {with(t, "top.thickness", 0), "/top/thickness", "Must be more than 0."},
		"a negative length": {with(t, "top.thickness", -1.5), "/top/thickness", "Must be more than 0."},
		"a huge length":     {with(t, "top.thickness", 1e300), "/top/thickness", "Must be at most 1000000."},
		"a length that is no float": {strings.Replace(smallest, "1.5", "1e400", 1), "/top/thickness",
			"too large to reckon with"},
		"a length of zero as text":    {with(t, "top.thickness", "0"), "/top/thickness", "Must be more than 0."},
		"a negative length as text":   {with(t, "top.thickness", "-3"), "/top/thickness", "negative"},
		"a text that is no length":    {with(t, "top.thickness", "thick"), "/top/thickness", "is not a length"},
		"a text with a decimal comma": {with(t, "top.thickness", "25,5"), "/top/thickness", "comma"},
		"an empty text":               {with(t, "top.thickness", ""), "/top/thickness", "Must not be empty."},
		"a text that is too long": {with(t, "top.thickness", strings.Repeat("1", 41)), "/top/thickness",
			"at most 40 characters"},
		"a length that is too long": {with(t, "top.thickness", "2 km"), "/top/thickness", "is not a length"},
		"no runs":                   {with(t, "top.runs", list()), "/top/runs", "at least 1"},
		"seven runs": {with(t, "top.runs", list(run, run, run, run, run, run, run)), "/top/runs",
			"at most 6"},
		"a run without depth": {with(t, "top.runs", list(object{"length": 60})), "/top/runs/0/depth",
			`Required property "depth" is missing.`},
		"an unknown joint":          {corners(object{"joint": "mitre"}), "/top/corners/0/joint", `did you mean "miter"`},
		"a straight angle and more": {corners(object{"angle": 360}), "/top/corners/0/angle", "Must be less than 360."},
		"an angle of zero":          {corners(object{"angle": 0}), "/top/corners/0/angle", "Must be more than 0."},
		"angle and tape": {corners(object{"angle": 90,
			"measured": object{"along_first": 1, "along_second": 1, "across": 1}}), "/top/corners/0",
			"either angle or measured, not both"},
		"a tape of one length": {corners(object{"measured": object{"along_first": 1, "along_second": 1}}),
			"/top/corners/0/measured/across", "missing"},
		"a cut-out placed twice": {with(t, "top.cutouts",
			list(object{"run": "A", "kind": "sink", "length": 1, "depth": 1, "from_front": 1, "from_start": 1, "from_end": 1})),
			"/top/cutouts/0", "exactly one of from_start and from_end"},
		"a cut-out placed nowhere": {with(t, "top.cutouts",
			list(object{"run": "A", "kind": "sink", "length": 1, "depth": 1, "from_front": 1})), "/top/cutouts/0",
			"exactly one of from_start and from_end"},
		"half a state of the air": {with(t, "moisture.making", object{"humidity": 30}), "/moisture/making/temperature",
			"missing"},
		"air and content": {with(t, "moisture.making",
			object{"humidity": 30, "temperature": 70, "content": 7}), "/moisture/making",
			"either content, or humidity and temperature"},
		"air misspelled": {with(t, "moisture.making", object{"humidty": 30, "temperature": 70}),
			"/moisture/making/humidty", `did you mean "humidity"`},
		"nothing about the air": {with(t, "moisture.making", object{}), "/moisture/making",
			"either content, or humidity and temperature"},
		"a number for the air": {with(t, "moisture.making", 7.5), "/moisture/making",
			"Must be either content, or humidity and temperature, not a number."},
		"humidity as a share": {with(t, "moisture.making", object{"humidity": 130, "temperature": 70}),
			"/moisture/making/humidity", "Must be less than 100."},
		"one season": {with(t, "moisture.service", object{"dry": object{"content": 6}}),
			"/moisture/service/humid", "missing"},
		"a season and a profile": {with(t, "moisture.service",
			object{"dry": object{"content": 6}, "profile": "heated_house"}), "/moisture/service",
			"either dry and humid, or profile"},
		"half a coat":            {with(t, "finish.coats", 1.5), "/finish/coats", "Must be a whole number, not 1.5."},
		"eleven coats":           {with(t, "finish.coats", 11), "/finish/coats", "Must be at most 10."},
		"a day that is none":     {with(t, "pricing.as_of", "2026-02-31"), "/pricing/as_of", "YYYY-MM-DD"},
		"a day in another order": {with(t, "pricing.as_of", "11/01/2026"), "/pricing/as_of", "YYYY-MM-DD"},
		"a currency in words":    {with(t, "pricing.currency", "usd"), "/pricing/currency", "three capital letters"},
		"a rate of 600":          {with(t, "pricing.rate", 600), "/pricing/rate", "Must be at most 500."},
		"a rate with an exponent": {strings.Replace(with(t, "pricing.rate", 7), ":7", ":7e0", 1), "/pricing/rate",
			"plain decimal"},
		"a rate with too many decimals": {strings.Replace(with(t, "pricing.rate", 7), ":7", ":7.00000000000001", 1),
			"/pricing/rate", "plain decimal"},
		"a reference that is too long": {with(t, "reference", strings.Repeat("x", 201)), "/reference",
			"at most 200 characters"},
		"a key that stands twice":  {`{"units":"in","units":"mm","top":{}}`, "/units", "stands twice"},
		"a body that is a list":    {`[]`, "", "Must be an object, not a list."},
		"a body that is no JSON":   {`{"units":`, "", "not valid JSON: line 1, column 10"},
		"an empty body":            {"", "", "empty"},
		"two values":               {smallest + smallest, "", "something behind"},
		"NaN":                      {strings.Replace(smallest, "1.5", "NaN", 1), "", "must be finite"},
		"a byte order mark":        {"\ufeff" + smallest, "", "byte order mark"},
		"bytes that are not UTF-8": {strings.Replace(smallest, "maple", "m\xe4ple", 1), "", "UTF-8"},
		"nesting without end": {strings.Repeat(`{"top":`, 40) + "1" + strings.Repeat("}", 40), "",
			"nested more than 32 deep"},
		"a hundred thousand values":      {`{"top":[` + strings.Repeat("1,", 100000) + `1]}`, "", "more than 10000 values"},
		"nesting that a stack would not": {strings.Repeat("[", 400000), "", "nested more than 32 deep"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := c.post(t, "/v1/estimates", x.body).problem(t)
			require.Equal(t, http.StatusBadRequest, p.Status)
			require.Equal(t, "/problems/invalid-request", p.Type)
			require.Len(t, p.Errors, 1, "%+v", p.Errors)
			require.Equal(t, x.pointer, p.Errors[0].Pointer)
			require.Contains(t, p.Errors[0].Detail, x.says)
			require.Equal(t, p.Detail, p.Errors[0].Detail)
			require.NotContains(t, strings.ToLower(p.Detail), "schema")
		})
	}
}

func TestAllThatIsWrongIsSaidAtOnceSortedByPlace(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	p := c.post(t, "/v1/estimates", `{"unit":"in","top":{"species":"X","thickness":"nope","runs":[{"length":"-1","depth":true},{"length":1,"depht":2,"depth":1}],
		"cutouts":[{"run":"A","kind":"?","length":"x","depth":1,"from_front":1}]},"pricing":{"rate":"a"}}`).problem(t)
	var at []string
	for _, e := range p.Errors {
		at = append(at, e.Pointer)
	}
	require.Equal(t, []string{"/pricing/rate", "/top/cutouts/0", "/top/cutouts/0/kind", "/top/cutouts/0/length",
		"/top/runs/0/depth", "/top/runs/0/length",
		"/top/runs/1/depht", "/top/species", "/top/thickness", "/unit", "/units"}, at)
	require.Equal(t, "11 things are wrong with the request.", p.Detail)
	require.Equal(t, "/v1/estimates#", p.Instance[:14])
}

func TestALongListOfViolationsIsCutAndSaysSo(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	var b strings.Builder
	for i := range 300 {
		fmt.Fprintf(&b, `,"x%03d":1`, i)
	}
	p := c.post(t, "/v1/estimates", strings.Replace(smallest, `"units":"in"`, `"units":"in"`+b.String(), 1)).problem(t)
	require.Len(t, p.Errors, 100)
	require.Equal(t, "300 things are wrong with the request; the first 100 are listed, 200 more are not.", p.Detail)
}

func TestABodyThatIsTooLargeIsRefusedWithoutReadingItAll(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	c := newClient(t, config)
	large := strings.Repeat(" ", 10<<20)
	p := c.post(t, "/v1/estimates", large).problem(t)
	require.Equal(t, http.StatusRequestEntityTooLarge, p.Status)
	require.Contains(t, p.Detail, "1048576 bytes")
	untold := c.do(t, http.MethodPost, "/v1/estimates", noLength{strings.NewReader(large)}, "Content-Type",
		"application/json")
	require.Equal(t, http.StatusRequestEntityTooLarge, untold.status, "and when its length is not told")

	config.BodyLimit = int64(len(smallest))
	require.Equal(t, http.StatusOK, newClient(t, config).post(t, "/v1/estimates", smallest).status,
		"the limit itself is allowed")
}

// noLength hides how long a body is.
type noLength struct{ *strings.Reader }

func TestABodyMustBeDeclaredAsPlainJSON(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for declared, status := range map[string]int{
		"application/json": 200, "application/json; charset=utf-8": 200, "application/json;charset=UTF-8": 200,
		"APPLICATION/JSON": 200,
		"":                 415, "text/plain": 415, "application/json; charset=iso-8859-1": 415,
		"application/x-www-form-urlencoded": 415, "application/vnd.x+json": 415, "application/json; ;": 415,
		"multipart/form-data; boundary=x": 415,
	} {
		a := c.post(t, "/v1/estimates", smallest, "Content-Type", declared)
		require.Equal(t, status, a.status, "%q: %s", declared, a.body)
	}
	a := c.post(t, "/v1/estimates", smallest, "Content-Encoding", "br")
	require.Equal(t, http.StatusUnsupportedMediaType, a.status)
}

func TestImpossibleTopsAreRefusedWith422AndThePlace(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	corner := func(text string) string {
		return `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":96,"depth":25.5},{"length":72,"depth":25.5}],"corners":[` + text + `]}}`
	}
	for name, x := range map[string]struct{ body, pointer string }{
		"an unknown species": {with(t, "top.species", "maple_sugr"), "/top/species"},
		"a corner too many": {strings.Replace(corner(`{},{}`), "}],\"corners", "}],\"corners", 1),
			"/top/corners"},
		"no corner":       {corner(""), "/top/corners"},
		"glue":            {corner(`{"glue":true}`), "/top/corners/0/glue"},
		"dowels to align": {corner(`{"alignment":"dowel"}`), "/top/corners/0/alignment"},
		"dowels to pull":  {corner(`{"pull":"dowel"}`), "/top/corners/0/pull"},
		"a triangle that cannot close": {corner(`{"measured":{"along_first":10,"along_second":10,"across":40}}`),
			"/top/corners/0/measured"},
		"a straight corner": {corner(`{"angle":180}`), "/top/corners/0/angle"},
		"a sharp corner":    {corner(`{"angle":20}`), "/top/corners/0/angle"},
		"another currency":  {with(t, "pricing.currency", "EUR"), "/pricing/currency"},
		"an unknown climate": {with(t, "moisture.service.profile", "heated_hous"),
			"/moisture/service/profile"},
		"an unknown finish": {with(t, "finish.system", "hardwax"), "/finish/system"},
		"seasons swapped": {with(t, "moisture.service.dry.content", 10, "moisture.service.humid.content",
			6), "/moisture/service"},
		"rigid fixing": {with(t, "top.fixing.kind", "rigid"), "/top/fixing/kind"},
		"a cut-out in no run": {with(t, "top.cutouts",
			[]any{map[string]any{"run": "Q", "kind": "sink", "length": 5, "depth": 5, "from_start": 20, "from_front": 5}}),
			"/top/cutouts/0/run"},
		"a cut-out wider than the run": {with(t, "top.cutouts",
			[]any{map[string]any{"run": "A", "kind": "sink", "length": 5, "depth": 50, "from_start": 20, "from_front": 5}}),
			"/top/cutouts/0"},
		"a margin that leaves no price":      {with(t, "pricing.basis", "margin", "pricing.rate", 100), "/pricing/rate"},
		"prices before there were any":       {with(t, "pricing.as_of", "1990-01-01"), "/pricing/as_of"},
		"a glue joint, asked to be compared": {corner(`{"glue":true}`), "/top/corners/0/glue"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			path := "/v1/estimates"
			if strings.Contains(name, "compare") {
				path = "/v1/joint-comparisons"
			}
			p := c.post(t, path, x.body).problem(t)
			require.Equal(t, http.StatusUnprocessableEntity, p.Status, "%+v", p)
			require.NotEmpty(t, p.Errors)
			require.True(t, strings.HasPrefix(p.Errors[0].Pointer, x.pointer), "%+v", p.Errors)
			require.NotEmpty(t, p.Errors[0].Detail)
		})
	}
}

func TestAnUnknownCodeGetsTheNearestOnes(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	require.Contains(t, c.post(t, "/v1/estimates", with(t, "top.species", "maple_sugr")).problem(t).Detail, "maple_sugar")
	p := c.get(t, "/v1/species/maple_sugr").problem(t)
	require.Equal(t, http.StatusNotFound, p.Status)
	require.Contains(t, p.Detail, `There is no species "maple_sugr". Did you mean "maple_sugar"`)
}

func TestQueriesAreHeldToTheSpecToo(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for path, parameter := range map[string]string{
		"/v1/species?limit=0": "limit", "/v1/species?limit=201": "limit", "/v1/species?limit=x": "limit",
		"/v1/species?limit=1&limit=2": "limit",
		"/v1/species?cursor=":         "cursor", "/v1/species?cursor=%21": "cursor",
		"/v1/species?cursor=bWF0ZXJpYWxzCng": "cursor",
		"/v1/species?units=in":               "units", "/v1/fasteners?units=cm": "units", "/v1/species?limt=3": "limt",
		"/v1/materials/glue_pva/prices?from=2026-13-01":               "from",
		"/v1/materials/glue_pva/prices?from=2026-02-01&to=2026-01-01": "to",
	} {
		p := c.get(t, path).problem(t)
		require.Equal(t, http.StatusBadRequest, p.Status, path)
		require.Equal(t, parameter, p.Errors[0].Parameter, path)
	}
	p := c.post(t, "/v1/estimates?explain=yes", smallest).problem(t)
	require.Equal(t, "explain", p.Errors[0].Parameter)
	require.Equal(t, http.StatusBadRequest, c.get(t, "/v1/species?a=%zz").problem(t).Status)
}

func TestUnknownPathsAndMethodsGetProblems(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	require.Equal(t, http.StatusNotFound, c.get(t, "/v1/estimate").problem(t).Status)
	require.Equal(t, http.StatusNotFound, c.get(t, "/nothing").problem(t).Status)
	require.Equal(t, http.StatusNotFound, c.get(t, "/assets/nothing.js").problem(t).Status)
	a := c.get(t, "/v1/estimates")
	require.Equal(t, http.StatusMethodNotAllowed, a.problem(t).Status)
	require.Contains(t, a.header.Get("Allow"), http.MethodPost)
	require.Equal(t, http.StatusMethodNotAllowed, c.do(t, http.MethodDelete, "/v1/movements", nil).problem(t).Status)
}

func TestEveryTypeOfProblemHasAPage(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, name := range []string{"internal-error", "invalid-request", "impossible-top", "not-found", "conflict",
		"unavailable", "too-large", "unsupported-media-type", "method-not-allowed", "precondition-failed",
		"precondition-required", "unfit-entry"} {
		a := c.get(t, "/problems/"+name)
		require.Equal(t, http.StatusOK, a.status, name)
		require.Equal(t, "/problems/"+name, a.tree(t)["type"])
	}
	require.Equal(t, http.StatusNotFound, c.get(t, "/problems/none").problem(t).Status)
}

func TestBeforeTheFirstCatalogueTheAnswerIs503(t *testing.T) {
	t.Parallel()
	c := newClient(t, api.Config{Snapshot: func() *catalogue.Snapshot { return nil },
		Status: func() web.Status { return web.Status{} }, NoAuth: true})
	for _, a := range []answer{c.post(t, "/v1/estimates", smallest), c.get(t, "/v1/species"), c.get(t, "/v1/species/x"),
		c.get(t, "/v1/materials/x/prices")} {
		require.Equal(t, http.StatusServiceUnavailable, a.problem(t).Status)
		require.Equal(t, "2", a.header.Get("Retry-After"))
	}
	require.Equal(t, http.StatusServiceUnavailable, c.get(t, "/readyz").status)
	require.Equal(t, http.StatusOK, c.get(t, "/healthz").status)
}

func TestAFailureIsA500ThatSaysNothingOfItsCause(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	var log strings.Builder
	config.Log = textLog(&log)
	config.Now = func() time.Time { panic("secret cause") }
	c := newClient(t, config)
	a := c.post(t, "/v1/estimates", smallest, "X-Request-ID", "case-17")
	p := a.problem(t)
	require.Equal(t, http.StatusInternalServerError, p.Status)
	require.Equal(t, "case-17", a.header.Get("X-Request-ID"))
	require.NotContains(t, string(a.body), "secret")
	require.NotContains(t, string(a.body), "goroutine")
	require.Contains(t, log.String(), "secret cause")
	require.Contains(t, log.String(), "case-17")
}

// A client that reads no answer before it has sent everything still gets the problem, not a broken connection.
func TestABodyFarTooLargeIsRefusedAfterItHasBeenSent(t *testing.T) {
	t.Parallel()
	service, err := api.New(healthy(t))
	require.NoError(t, err)
	server := httptest.NewServer(service.Handler())
	defer server.Close()
	conn, err := net.Dial("tcp", server.Listener.Addr().String())
	require.NoError(t, err)
	defer conn.Close()
	const size = 10 << 20
	_, err = fmt.Fprintf(conn, "POST /v1/estimates HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n", size)
	require.NoError(t, err)
	_, err = conn.Write(bytes.Repeat([]byte(" "), size))
	require.NoError(t, err)
	answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
	require.NoError(t, err)
	defer answer.Body.Close()
	require.Equal(t, http.StatusRequestEntityTooLarge, answer.StatusCode)
}
