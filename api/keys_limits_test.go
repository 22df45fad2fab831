package api_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/store/keys"
)

func TestFailedCallsOfAnAddressAreLimited(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	good, _ := g.key(t, keys.Secret, "catalogue:read")
	limited := 0
	for range 100 {
		if a := g.get(t, "/v1/species", bearer("seam_secret_guess")...); a.status == http.StatusTooManyRequests {
			require.NotEmpty(t, a.header.Get("Retry-After"))
			limited++
		}
	}
	require.InDelta(t, 40, limited, 2)
	require.Equal(t, http.StatusOK, g.get(t, "/v1/species", bearer(good)...).status,
		"a good key of the same address is never locked out")
	require.Equal(t, http.StatusTooManyRequests, g.get(t, "/v1/species", bearer("seam_secret_guess")...).status)
	g.clock.pass(time.Minute)
	require.Equal(t, http.StatusUnauthorized, g.get(t, "/v1/species", bearer("seam_secret_guess")...).status)
}

// Whoever has an IPv6 connection has 2^64 addresses.
func TestAddressesOfOneConnectionAreOneCaller(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	guess := func(address string) int {
		r := httptest.NewRequest(http.MethodGet, "/v1/species", nil)
		r.RemoteAddr = address
		recorder := httptest.NewRecorder()
		g.handler.ServeHTTP(recorder, r)
		return recorder.Code
	}
	for i := range 60 {
		require.Equal(t, http.StatusUnauthorized, guess(fmt.Sprintf("[2001:db8:0:1::%x]:4000", i+1)))
	}
	require.Equal(t, http.StatusTooManyRequests, guess("[2001:db8:0:1:ffff::1]:4000"))
	require.Equal(t, http.StatusUnauthorized, guess("[2001:db8:0:2::1]:4000"), "another connection")
	require.Equal(t, http.StatusUnauthorized, guess("192.0.2.1:4000"))
}

func TestCallsOfAKeyAreLimitedAndTheLimitIsSaid(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 5 })
	one, _ := g.key(t, keys.Secret, "catalogue:read")
	other, _ := g.key(t, keys.Secret, "catalogue:read")
	for left := 4; left >= 0; left-- {
		a := g.get(t, "/v1/labour-roles", bearer(one)...)
		require.Equal(t, http.StatusOK, a.status)
		require.Equal(t, `"key";q=5;w=60`, a.header.Get("RateLimit-Policy"))
		require.Contains(t, a.header.Get("RateLimit"), `"key";r=`+string(rune('0'+left))+`;t=`)
	}
	a := g.get(t, "/v1/labour-roles", bearer(one)...)
	require.Equal(t, http.StatusTooManyRequests, a.problem(t).Status)
	require.Equal(t, "12", a.header.Get("Retry-After"))
	require.Equal(t, http.StatusOK, g.get(t, "/v1/labour-roles", bearer(other)...).status, "each key has its own")
	g.clock.pass(12 * time.Second)
	require.Equal(t, http.StatusOK, g.get(t, "/v1/labour-roles", bearer(one)...).status)
}

// Two instances on one database allow twice the limit, of calls and of failures, and not one more; each tells its own count.
func TestEachInstanceCountsForItself(t *testing.T) {
	t.Parallel()
	five := func(c *api.Config) { c.KeyLimit = 5 }
	g := newGuarded(t, five)
	second, _, ring := another(t, g, five)
	key, _ := g.key(t, keys.Secret, "catalogue:read")
	g.await(t, ring, key, true)
	taken, tried := 0, 0
	for turn := range 200 {
		at := []*client{g.client, second}[turn%2]
		if turn < 20 {
			a := at.get(t, "/v1/labour-roles", bearer(key)...)
			require.Equal(t, `"key";q=5;w=60`, a.header.Get("RateLimit-Policy"))
			require.Contains(t, a.header.Get("RateLimit"), fmt.Sprintf(`"key";r=%d;t=`, max(0, 4-turn/2)))
			if a.status == http.StatusOK {
				taken++
			}
		}
		if at.get(t, "/v1/labour-roles", bearer("seam_secret_guess")...).status == http.StatusUnauthorized {
			tried++
		}
	}
	require.Equal(t, 2*5, taken)
	require.Equal(t, 2*60, tried)
}

// dearest is where the dearest orders known are kept. Timed on one core, the three kept ones take as long as 27 to 30, 48 to 52 and 55
// to 58 usual tops: a call stands for four to seven (deploy/load/RESULTS.md).
const dearest = "../deploy/load/dearest/found/"

// dearRequest is one that deploy/load/dearest found: six runs, no two alike.
const dearRequest = `{"units":"in","top":{"species":"ash_white","thickness":1.75,"sawn":"rift","runs":[{"depth":6,"length":188,"name":"A","sawn":"flat"},
{"depth":12,"length":116.0335,"name":"B","sawn":"rift"},
{"depth":25.5,"length":55.1083,"name":"C"},
{"depth":10.446,"length":117.6303,"name":"D"},
{"depth":36,"length":188,"name":"E"},
{"depth":7,"length":72,"name":"F"}],
"corners":[{"angle":120},{"angle":270},{"angle":90},{"angle":90},{"angle":60}],"edge":{"profile":"square"}}}`

// A call that takes as much as many usual ones counts as several of its key, and every line of a batch counts.
func TestWhatACallTakesCountsAgainstTheKey(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 100 })
	left := func(a answer) string {
		t.Helper()
		require.Equal(t, http.StatusOK, a.status)
		state, _, _ := strings.Cut(a.header.Get("RateLimit"), ";t=")
		return state
	}
	uCounter, err := os.ReadFile("../testdata/requests/u_counter.json")
	require.NoError(t, err)
	usual, _ := g.key(t, keys.Secret, "estimate")
	require.Equal(t, `"key";r=99`, left(g.post(t, "/v1/estimates", oneTop("usual", 60), bearer(usual)...)))
	require.Equal(t, `"key";r=98`, left(g.post(t, "/v1/estimates", string(uCounter), bearer(usual)...)))

	dear, _ := g.key(t, keys.Secret, "estimate")
	require.Equal(t, `"key";r=98`, left(g.post(t, "/v1/estimates", dearRequest, bearer(dear)...)))
	a := g.post(t, "/v1/joint-comparisons", dearRequest, bearer(dear)...)
	require.Equal(t, `"key";r=96`, left(a))

	for name, count := range map[string]int{"../testdata/tops/10_six.json": 3, dearest + "plain.json": 5, dearest + "ground.json": 5,
		dearest + "pieces.json": 7, dearest + "strips.json": 6, dearest + "holes.json": 4, dearest + "tops.json": 6, dearest + "staves.json": 9} {
		raw, err := os.ReadFile(name)
		require.NoError(t, err)
		key, _ := g.key(t, keys.Secret, "estimate")
		require.Equal(t, fmt.Sprintf(`"key";r=%d`, 100-count), left(g.post(t, "/v1/estimates", string(raw), bearer(key)...)), name)
	}

	lines, _ := g.key(t, keys.Secret, "estimate")
	batch := strings.Repeat(oneTop("line", 60)+"\n", 20) + "{}\n"
	g.do(t, http.MethodPost, batchPath, strings.NewReader(batch), append(bearer(lines), "Content-Type", "application/x-ndjson")...)
	require.Equal(t, `"key";r=78`, left(g.post(t, "/v1/estimates", oneTop("after", 60), bearer(lines)...)), "21 lines and this one")
}
