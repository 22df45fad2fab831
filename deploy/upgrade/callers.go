package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"time"
)

const top = `{"units": "in", "reference": %q, "top": {"species": "maple_sugar", "thickness": 1.5, "runs": [{"length": 84, "depth": 25.5}, {"length": 60, "depth": 25.5}], "corners": [{"angle": 90}]}}`

// mostTold is how many failures are printed.
const mostTold = 10

// call starts callers, who go on until rest: they spread their calls over the instances that are ready.
func (s *stage) call(ctx context.Context) {
	ctx, s.stop = context.WithCancel(ctx)
	for n := range 6 {
		s.callers.Go(func() {
			client := &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 4}}
			defer client.CloseIdleConnections()
			for turn := n; ctx.Err() == nil; turn++ {
				s.walk(client, turn)
			}
		})
	}
}

// walk is what one caller does over and over: an estimate, an offer, the offer read and repriced, lists.
func (s *stage) walk(client *http.Client, turn int) {
	reference := fmt.Sprintf("upgrade %d", s.number.Add(1))
	order := fmt.Sprintf(top, reference)
	s.ask(client, turn, http.MethodPost, "/v1/estimates", order, "")
	raw, _ := s.ask(client, turn+1, http.MethodPost, "/v1/quotes", fmt.Sprintf(`{"reference": %q, "estimate": %s}`, reference, order), "")
	var offer struct {
		ID string `json:"id"`
	}
	if json.Unmarshal(raw, &offer) != nil || offer.ID == "" {
		return
	}
	s.kept.Add(1)
	_, etag := s.ask(client, turn, http.MethodGet, "/v1/quotes/"+offer.ID, "", "")
	s.ask(client, turn+1, http.MethodGet, "/v1/quotes?limit=5", "", "")
	s.ask(client, turn+1, http.MethodPost, "/v1/quotes/"+offer.ID+"/reprice", "", etag)
	s.ask(client, turn, http.MethodGet, "/v1/materials", "", "")
}

// ask makes one call at an instance that is ready, of the state that match names, and counts it as failed when it is not
// answered 2xx.
func (s *stage) ask(client *http.Client, turn int, method, path, body, match string) (raw []byte, etag string) {
	i := s.pick(turn)
	s.called.Add(1)
	fail := func(format string, args ...any) {
		if s.failed.Add(1) <= mostTold {
			fmt.Fprintf(os.Stderr, "%s: %s %s: %s\n", i.name, method, path, fmt.Sprintf(format, args...))
		}
	}
	r, err := http.NewRequest(method, "http://"+i.address+path, strings.NewReader(body))
	if err != nil {
		fail("%v", err)
		return nil, ""
	}
	r.Header.Set("Authorization", "Bearer "+s.key)
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	if match != "" {
		r.Header.Set("If-Match", match)
	}
	answer, err := client.Do(r)
	if err != nil {
		fail("%v", err)
		return nil, ""
	}
	defer answer.Body.Close()
	raw, err = io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode/100 != 2 {
		fail("%s %.300s %v", answer.Status, raw, err)
		return nil, ""
	}
	return raw, answer.Header.Get("ETag")
}

// pick is an instance that is ready, or any when none is.
func (s *stage) pick(turn int) *instance {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for n := range s.all {
		if i := s.all[(turn+n)%len(s.all)]; i.ready.Load() {
			return i
		}
	}
	return s.all[turn%len(s.all)]
}
