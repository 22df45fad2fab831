package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"strings"
	"sync"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"

	"seamwright/deploy/faults/calls"
	"seamwright/openapi"
)

// tally is what came of requests made at random.
type tally struct {
	mu      sync.Mutex
	n       int
	classes map[int]int // by hundreds
	wrong   []string
	slowest time.Duration
	slowed  string
}

const (
	randomCallers = 4
	mostWrong     = 10 // that are shown
)

// callsAtRandom sends requests made at random to both instances. None may be answered as a failure of the service, all must be
// answered, each as the specification says.
func callsAtRandom(ctx context.Context, s *stage, r *report) {
	document, err := openapi.Document()
	if err != nil {
		r.broken("%v", err)
		return
	}
	router, err := legacy.NewRouter(document, openapi3.DisableExamplesValidation())
	if err != nil {
		r.broken("%v", err)
		return
	}
	soon, cancel := context.WithTimeout(ctx, s.options.calls)
	defer cancel()
	t := &tally{classes: map[int]int{}}
	own := strings.Split(s.key, "_")
	var callers sync.WaitGroup
	for n := range randomCallers {
		callers.Go(func() {
			i, m := s.both[n%2], calls.New(document, s.options.seed+uint64(n), own...) //nolint:gosec // not negative
			line := &rawLine{address: i.address}
			defer line.close()
			for soon.Err() == nil {
				t.send(line, i, m, router)
			}
		})
	}
	callers.Wait()
	r.say("seed %d: %d requests of all operations; answers %v; slowest %.2f s (%s)", s.options.seed, t.n, t.classes,
		t.slowest.Seconds(), t.slowed)
	if t.n < 100 {
		r.broken("only %d requests were sent", t.n)
	}
	for _, one := range t.wrong {
		fmt.Fprintln(os.Stderr, one)
	}
	if len(t.wrong) > 0 {
		r.broken("%d answers that must not be (see above)", len(t.wrong))
	}
	for _, i := range s.both {
		i.log.mu.Lock()
		if bytes.Contains(i.log.b.Bytes(), []byte("panic")) {
			r.broken("instance %s panicked", i.name)
		}
		i.log.mu.Unlock()
	}
}

// rawLine is a connection on which anything can be sent, which a client library would refuse.
type rawLine struct {
	address string
	conn    net.Conn
	reader  *bufio.Reader
}

func (l *rawLine) close() {
	if l.conn != nil {
		l.conn.Close()
		l.conn = nil
	}
}

func (l *rawLine) send(q *calls.Request, key string) (status int, header http.Header, body []byte, err error) {
	if l.conn == nil {
		if l.conn, err = net.Dial("tcp", l.address); err != nil {
			return 0, nil, nil, err
		}
		l.reader = bufio.NewReader(l.conn)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\nContent-Length: %d\r\n", q.Method, q.Target,
		key, len(q.Body))
	for name, values := range q.Header {
		for _, value := range values {
			fmt.Fprintf(&b, "%s: %s\r\n", name, strings.NewReplacer("\r", "", "\n", "").Replace(value))
		}
	}
	b.WriteString("\r\n" + q.Body)
	if err := l.conn.SetDeadline(time.Now().Add(tooSlow)); err != nil {
		return 0, nil, nil, err
	}
	// What is refused before all of it was sent is answered all the same.
	_, unsent := io.WriteString(l.conn, b.String())
	answer, err := http.ReadResponse(l.reader, &http.Request{Method: q.Method}) //nolint:bodyclose // it is read to its end, or its connection closed
	for err == nil && answer.StatusCode == http.StatusContinue {
		answer, err = http.ReadResponse(l.reader, &http.Request{Method: q.Method}) //nolint:bodyclose // see above
	}
	if err != nil {
		l.close()
		return 0, nil, nil, err
	}
	body, err = io.ReadAll(answer.Body)
	if err != nil || answer.Close || unsent != nil {
		l.close()
	}
	return answer.StatusCode, answer.Header, body, err
}

func (t *tally) send(line *rawLine, i *instance, m *calls.Maker, router routers.Router) {
	q := m.Next()
	fresh := line.conn == nil
	began := time.Now()
	status, header, body, err := line.send(&q, i.key)
	if err != nil && !fresh { // a connection that was kept may have been ended meanwhile
		status, header, body, err = line.send(&q, i.key)
	}
	took := time.Since(began)
	wrong := ""
	switch {
	case err != nil:
		wrong = "no answer: " + err.Error()
	case status >= 500 && !(status == http.StatusServiceUnavailable && q.MayWait) &&
		status != http.StatusHTTPVersionNotSupported:
		wrong = fmt.Sprint("answered ", status)
	case took > quick && !q.MayWait:
		wrong = fmt.Sprintf("took %.1f s", took.Seconds())
	case status >= 400 && header.Get("Content-Type") != "application/problem+json" && q.Method != http.MethodHead:
		wrong = "refused without a problem"
	default:
		wrong = unfit(&q, status, header, body, router)
	}
	if wrong == "" && status < 300 {
		m.Learn(header, body)
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.n++
	t.classes[status/100*100]++
	if took > t.slowest {
		t.slowest, t.slowed = took, q.Method+" "+short(q.Target, 60)
	}
	if wrong != "" && len(t.wrong) < mostWrong {
		t.wrong = append(t.wrong, fmt.Sprintf("%s\n  %s %q\n  %q\n  %q\n  answer %d %q", wrong, q.Method,
			short(q.Target, 300), q.Header, short(q.Body, 600), status, short(string(body), 600)))
	}
}

func short(text string, most int) string {
	if len(text) > most {
		return text[:most] + "…"
	}
	return text
}

// unfit says how an answer is not as the specification has it; empty: it is.
func unfit(q *calls.Request, status int, header http.Header, body []byte, router routers.Router) string {
	target, err := url.ParseRequestURI(q.Target)
	if err != nil {
		if status != http.StatusBadRequest {
			return "a target that cannot be read was not refused"
		}
		return ""
	}
	r := &http.Request{Method: q.Method, URL: target, Header: q.Header, Host: "x"}
	route, parameters, err := router.FindRoute(r)
	if err != nil || q.Method == http.MethodOptions {
		if status >= 200 && status < 300 && status != http.StatusNoContent {
			return "answered what the specification does not have"
		}
		return ""
	}
	err = openapi3filter.ValidateResponse(context.Background(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, PathParams: parameters, Route: route},
		Status:                 status, Header: header, Body: io.NopCloser(bytes.NewReader(body)),
		Options: &openapi3filter.Options{IncludeResponseStatus: true,
			ExcludeResponseBody: !strings.Contains(header.Get("Content-Type"), "json") ||
				strings.Contains(header.Get("Content-Type"), "ndjson")},
	})
	if err != nil {
		return "unlike the specification: " + short(err.Error(), 300)
	}
	return ""
}
