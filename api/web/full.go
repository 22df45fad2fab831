package web

import (
	"crypto/rand"
	"encoding/json"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"

	"seamwright/service/fault"
)

// full stands in front of everything else and turns calls away that compute, while no turn is to be had: before they are
// routed, let in, logged or read, with an answer that is ready. A refusal must cost a small part of an answer, or those
// that were let in would be slow for the sake of those that were not.
type full struct {
	rest  http.Handler
	turns *turns
	log   *slog.Logger
	away  map[string]*turnedAway // by path, of calls that POST

	refused atomic.Int64 // since the last line of the log
	said    atomic.Int64 // when that was, in nanoseconds of the epoch
}

// turnedAway is the answer to calls of one path: all but the request's name, which stands between before and after.
type turnedAway struct {
	before, after string
	count         prometheus.Counter
	seconds       prometheus.Observer
}

// sayAgain is how often the log says that calls are turned away.
const sayAgain = time.Second

// comeAgain is how long whoever was turned away is asked to wait, in seconds.
const comeAgain = "2"

// inFront puts that in front of the server's routes. Paths with names in them, and those that pages of other origins call,
// are refused where their route is.
func (s *Server) inFront() *full {
	f := &full{rest: s.handler, turns: s.turns, log: s.Log, away: map[string]*turnedAway{}}
	busy := ProblemOf(busy())
	for _, op := range s.operations {
		if !op.computes || op.publishable || strings.Contains(op.path, ":") {
			continue
		}
		busy.Instance = op.path + "#"
		raw, err := json.Marshal(busy)
		if err != nil {
			panic(err) // the type has nothing that JSON cannot say
		}
		before, after, _ := strings.Cut(string(raw), busy.Instance)
		f.away[op.path] = &turnedAway{before: before + busy.Instance, after: after,
			count:   s.metrics.requests.WithLabelValues(op.method, op.path, strconv.Itoa(busy.Status)),
			seconds: s.metrics.seconds.WithLabelValues(op.path)}
	}
	return f
}

// ServeHTTP answers a call, or has it answered.
func (f *full) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !f.turns.full() || r.Method != http.MethodPost {
		f.rest.ServeHTTP(w, r)
		return
	}
	away := f.away[r.URL.Path]
	if away == nil {
		f.rest.ServeHTTP(w, r)
		return
	}
	began := time.Now()
	id := r.Header.Get(requestID)
	if !saneID(id) {
		id = rand.Text()
	}
	raw := away.before + id + away.after
	header := w.Header()
	secure(header)
	header["Cache-Control"] = []string{"no-store"}
	header.Set(requestID, id)
	header[echo.HeaderRetryAfter] = []string{comeAgain}
	header[echo.HeaderContentType] = []string{"application/problem+json"}
	header[echo.HeaderContentLength] = []string{strconv.Itoa(len(raw))}
	w.WriteHeader(kinds[fault.Unavailable].status)
	_, _ = w.Write([]byte(raw)) // whoever has gone needs no answer
	away.count.Inc()
	away.seconds.Observe(time.Since(began).Seconds())
	f.say(began)
}

// say tells the log how many calls were turned away, now and then.
func (f *full) say(now time.Time) {
	f.refused.Add(1)
	said := f.said.Load()
	if now.UnixNano()-said < int64(sayAgain) || !f.said.CompareAndSwap(said, now.UnixNano()) {
		return
	}
	f.log.Warn("more calls than can be worked out", slog.Int64("refused", f.refused.Swap(0)))
}
