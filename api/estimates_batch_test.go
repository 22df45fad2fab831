package api_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/openapi"
	"seamwright/store/keys"
)

const batchPath = "/v1/estimates/batch"

func oneTop(name string, length int) string {
	return fmt.Sprintf(`{"reference":%q,"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"name":"A","length":%d,"depth":25}]}}`, name, length)
}

func (c *client) batch(t testing.TB, query, body string) []map[string]any {
	t.Helper()
	a := c.do(t, http.MethodPost, batchPath+query, strings.NewReader(body), "Content-Type", "application/x-ndjson")
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	return readLines(t, string(a.body))
}

// readLines reads an answer and holds each line against the spec.
func readLines(t testing.TB, text string) (lines []map[string]any) {
	t.Helper()
	document, err := openapi.Document()
	require.NoError(t, err)
	for one := range strings.Lines(text) {
		var tree map[string]any
		require.NoError(t, json.Unmarshal([]byte(one), &tree), one)
		name := map[bool]string{true: "BatchEnd"}[tree["done"] != nil]
		switch {
		case name != "":
		case tree["estimate"] != nil:
			name = "BatchEstimate"
		default:
			name = "BatchProblem"
		}
		require.NoError(t, document.Components.Schemas[name].Value.VisitJSON(tree), one)
		lines = append(lines, tree)
	}
	return lines
}

func TestABatchAnswersEachLineInOrderAndABadOneStopsNothing(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	// no line feed at the end
	body := "\xef\xbb\xbf" + oneTop("first", 60) + "\r\n\n  \n{\"reference\":\"no top\"}\n{broken\n" + `{"a":1,"a":2}` +
		"\n" + oneTop("last", 70)
	lines := c.batch(t, "", body)
	require.Len(t, lines, 6)
	for i, want := range []struct{ line, status float64 }{{1, 200}, {4, 400}, {5, 400}, {6, 400}, {7, 200}} {
		require.Equal(t, want.line, lines[i]["line"])
		require.Equal(t, want.status, lines[i]["status"])
	}
	require.Equal(t, "no top", lines[1]["reference"])
	require.Equal(t, map[string]any{"done": true, "lines": 5., "failed": 3.}, lines[5])
	single := c.post(t, "/v1/estimates", oneTop("first", 60))
	require.Equal(t, single.tree(t), lines[0]["estimate"], "a line is answered as a call of its own")
	require.Equal(t, c.post(t, "/v1/estimates?explain=true", oneTop("first", 60)).tree(t),
		c.batch(t, "?explain=true", body)[0]["estimate"])

	summary := c.batch(t, "?fields=summary", body)[0]["estimate"].(map[string]any)
	require.Equal(t, single.tree(t)["price"].(map[string]any)["total"], summary["total"])
	require.Equal(t, single.tree(t)["price"].(map[string]any)["cost"], summary["cost"])
	require.Equal(t, single.tree(t)["labour"].(map[string]any)["working_days"], summary["working_days"])

	require.Equal(t, []map[string]any{{"done": true, "lines": 0., "failed": 0.}}, c.batch(t, "", ""))
}

func TestABatchIsRefusedWholeOnlyForWhatIsWrongWithAllOfIt(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for query, kind := range map[string]string{"": "application/json", "?fields=some": "application/x-ndjson",
		"?explain=true&fields=summary": "application/x-ndjson"} {
		a := c.do(t, http.MethodPost, batchPath+query, strings.NewReader("{}\n"), "Content-Type", kind)
		require.Contains(t, []int{http.StatusBadRequest, http.StatusUnsupportedMediaType}, a.problem(t).Status)
	}
}

func TestALineOfABatchIsAsLargeAsABodyAndNoLarger(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	config.BodyLimit = 200_000
	c := newClient(t, config)
	small := oneTop("x", 60)
	full := strings.Replace(oneTop("x", 60), "{", "{"+strings.Repeat(" ", 200_000-len(oneTop("x", 60))), 1)
	require.Len(t, full, 200_000)
	lines := c.batch(t, "?fields=summary", full+"\n"+strings.Replace(full, "{", "{ ", 1)+"\n"+small+"\n")
	require.Equal(t, []any{200., 413., 200.}, []any{lines[0]["status"], lines[1]["status"], lines[2]["status"]})
	require.Equal(t, map[string]any{"done": true, "lines": 3., "failed": 1.}, lines[3])
}

func TestABatchHasAtMostAHundredThousandLines(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.do(t, http.MethodPost, batchPath, strings.NewReader(strings.Repeat("1\n", 100_001)), "Content-Type",
		"application/x-ndjson")
	require.Equal(t, 100_001, strings.Count(string(a.body), "\n"))
	last := a.body[strings.LastIndex(strings.TrimSpace(string(a.body)), "\n")+1:]
	end := readLines(t, string(last))[0]
	require.Equal(t, false, end["done"])
	require.Equal(t, 100_000., end["lines"])
	require.Equal(t, 413., end["problem"].(map[string]any)["status"])
}

// feed makes lines as they are read, and counts them.
type feed struct {
	line  string
	left  int
	given atomic.Int64
	rest  string
}

func (f *feed) Read(p []byte) (int, error) {
	if f.rest == "" {
		if f.left == 0 {
			return 0, io.EOF
		}
		f.left--
		f.given.Add(1)
		f.rest = f.line + "\n"
	}
	n := copy(p, f.rest)
	f.rest = f.rest[n:]
	return n, nil
}

func serveBatches(t *testing.T) string {
	t.Helper()
	server, err := api.New(healthy(t))
	require.NoError(t, err)
	listening := httptest.NewUnstartedServer(nil)
	listening.Config = server.HTTPServer()
	listening.Start()
	t.Cleanup(listening.Close)
	return listening.URL + batchPath
}

func TestABatchOfFiftyThousandLinesTakesNoMoreMemoryThanOneOfFew(t *testing.T) {
	url := serveBatches(t)
	f := &feed{line: `{"reference":"x","units":"in"}`, left: 50_000}
	response, err := http.Post(url, "application/x-ndjson", f)
	require.NoError(t, err)
	defer func() { require.NoError(t, response.Body.Close()) }()
	scanner, lines, most := bufio.NewScanner(response.Body), 0, uint64(0)
	var base runtime.MemStats
	last := ""
	for scanner.Scan() {
		last = scanner.Text()
		if lines++; lines%5000 == 1 {
			var now runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&now)
			if base.HeapAlloc == 0 {
				base = now
			}
			most = max(most, now.HeapAlloc)
		}
	}
	require.NoError(t, scanner.Err())
	require.Equal(t, `{"done":true,"lines":50000,"failed":50000}`, last)
	require.Less(t, most, base.HeapAlloc+16<<20, "the heap stays flat")
}

func TestASlowReaderOfABatchSlowsTheReadingAndOneThatGoesStopsIt(t *testing.T) {
	url := serveBatches(t)
	const all = 50_000
	f := &feed{line: oneTop("x", 60), left: all}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, url, f)
	require.NoError(t, err)
	r.Header.Set("Content-Type", "application/x-ndjson")
	response, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	// Nothing more is read of the answer: what was sent fills the buffers on the way and then stands still.
	var before int64
	require.Eventually(t, func() bool {
		now := f.given.Load()
		still := now == before
		before = now
		return still && now > 0
	}, 20*time.Second, 500*time.Millisecond)
	require.Less(t, f.given.Load(), int64(all), "the answers were not read, and yet all lines were")
	cancel()
	require.NoError(t, response.Body.Close())
	require.Eventually(t, func() bool { return !strings.Contains(stacks(), "estimates.(*batch)") }, 20*time.Second,
		10*time.Millisecond, "the work ends with the caller")
}

func stacks() string {
	buf := make([]byte, 4<<20)
	return string(buf[:runtime.Stack(buf, true)])
}

// silence is a body that says nothing until it is let go.
type silence struct{ let chan struct{} }

func (s silence) Read([]byte) (int, error) {
	<-s.let
	return 0, io.EOF
}

// OWASP API4 Unrestricted Resource Consumption: so many batches at once, and no more.
func TestOWASP4BatchesAreBounded(t *testing.T) {
	url := serveBatches(t)
	s := silence{make(chan struct{})}
	ended := make(chan int, 8)
	for range 8 {
		go func() {
			response, err := http.Post(url, "application/x-ndjson", s)
			if err != nil {
				ended <- 0
				return
			}
			_, err = io.Copy(io.Discard, response.Body)
			if closing := response.Body.Close(); err != nil || closing != nil {
				ended <- 0
				return
			}
			ended <- response.StatusCode
		}()
	}
	call := func() int {
		response, err := http.Post(url, "application/x-ndjson", strings.NewReader(oneTop("x", 60)+"\n"))
		require.NoError(t, err)
		if response.StatusCode == http.StatusTooManyRequests {
			require.Equal(t, "5", response.Header.Get("Retry-After"))
		}
		require.NoError(t, response.Body.Close())
		return response.StatusCode
	}
	require.Eventually(t, func() bool { return strings.Count(stacks(), "estimates.(*batch).run(") == 8 }, 20*time.Second,
		10*time.Millisecond)
	require.Equal(t, http.StatusTooManyRequests, call())
	close(s.let)
	for range 8 {
		require.Equal(t, http.StatusOK, <-ended)
	}
	require.Equal(t, http.StatusOK, call(), "there is room again")
}

// OWASP API4: one key cannot take all the room that there is for batches.
func TestOWASP4OneKeyTakesHalfOfTheBatchesAtMost(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	one, _ := g.key(t, keys.Secret, "estimate")
	other, _ := g.key(t, keys.Secret, "estimate")
	slow := silence{make(chan struct{})}
	ended := make(chan int, 4)
	call := func(key string, body io.Reader) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodPost, batchPath, body)
		r.Header.Set("Content-Type", "application/x-ndjson")
		r.Header.Set("Authorization", "Bearer "+key)
		recorder := httptest.NewRecorder()
		g.handler.ServeHTTP(recorder, r)
		return recorder
	}
	for range 4 {
		go func() {
			code := http.StatusTooManyRequests
			for code == http.StatusTooManyRequests { // a call from below may have been there before it
				code = call(one, slow).Code
			}
			ended <- code
		}()
	}
	line := func() io.Reader { return strings.NewReader(oneTop("x", 60) + "\n") }
	var refused *httptest.ResponseRecorder
	require.Eventually(t, func() bool { refused = call(one, line()); return refused.Code == http.StatusTooManyRequests },
		20*time.Second, 10*time.Millisecond)
	require.Contains(t, refused.Body.String(), "4 batches of this access key")
	require.Equal(t, http.StatusOK, call(other, line()).Code)
	close(slow.let)
	for range 4 {
		require.Equal(t, http.StatusOK, <-ended)
	}
	require.Equal(t, http.StatusOK, call(one, line()).Code, "there is room again")
}
