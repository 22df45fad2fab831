package client

import (
	"context"
	"crypto/rand"
	"errors"
	"io"
	"net/http"
	"strconv"
	"time"
)

const (
	mostRetries = 4
	firstRest   = 200 * time.Millisecond // doubles with each try
	longestRest = 30 * time.Second       // however long the service asks to wait
)

// WithRetries sends calls again by themselves that were lost on the way, came too fast, or met a service that is away for a
// moment: at most four times, after the time that the service names, else after 0.2 s, 0.4 s and so on. Each write gets an
// Idempotency-Key of its own, unless the caller gave one, so that it is done once however often it is sent. What cannot be
// sent again, as its body is a stream, is sent once and without a key. The context ends it all.
func WithRetries(doer HttpRequestDoer) ClientOption {
	return WithHTTPClient(&retrying{doer: doer, first: firstRest})
}

type retrying struct {
	doer  HttpRequestDoer
	first time.Duration
}

// Do sends a request, and again while that may help.
func (r *retrying) Do(request *http.Request) (*http.Response, error) {
	repeatable := request.Body == nil || request.Body == http.NoBody || request.GetBody != nil
	if reads := request.Method == http.MethodGet || request.Method == http.MethodHead; repeatable && !reads &&
		request.Header.Get("Idempotency-Key") == "" {
		request.Header.Set("Idempotency-Key", rand.Text())
	}
	for tries := 0; ; tries++ {
		answer, err := r.doer.Do(request)
		if !repeatable || tries == mostRetries || request.Context().Err() != nil || err == nil && !passing(answer) {
			return answer, err
		}
		wait := r.first << tries
		if err == nil {
			wait = asked(answer, wait)
			_, lost := io.Copy(io.Discard, io.LimitReader(answer.Body, 1<<20))
			if err := errors.Join(lost, answer.Body.Close()); err != nil && request.Context().Err() != nil {
				return nil, err
			}
		}
		if err := rest(request.Context(), wait); err != nil {
			return nil, err
		}
		if request.GetBody != nil {
			if request.Body, err = request.GetBody(); err != nil {
				return nil, err
			}
		}
	}
}

// passing says whether an answer is a refusal that may be none in a moment.
func passing(a *http.Response) bool {
	switch a.StatusCode {
	case http.StatusTooManyRequests, http.StatusBadGateway, http.StatusServiceUnavailable, http.StatusGatewayTimeout:
		return true
	}
	return false
}

// asked is how long the service asks to wait, else usual.
func asked(a *http.Response, usual time.Duration) time.Duration {
	seconds, err := strconv.Atoi(a.Header.Get("Retry-After"))
	if err != nil || seconds < 0 {
		return usual
	}
	return min(time.Duration(seconds)*time.Second, longestRest)
}

func rest(ctx context.Context, wait time.Duration) error {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}
