package webhook

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"seamwright/api/outbound"
	"seamwright/store/hooks"
)

const (
	// answerWithin is how long an endpoint may take.
	answerWithin = 10 * time.Second
	// longestAnswer is how much of an answer is read, so that its connection ends in order. Nothing in it is looked at.
	longestAnswer = 16 << 10
	// longestRest is how long an endpoint may ask to be left alone for.
	longestRest = time.Hour
	// longestFailure is how much of a reason is kept.
	longestFailure = 300
)

// Sender calls endpoints.
type Sender struct {
	client *http.Client
	now    func() time.Time
}

// NewSender makes a sender that calls only what the policy permits.
func NewSender(policy outbound.Policy, now func() time.Time) *Sender {
	return &Sender{client: policy.Client(answerWithin), now: now}
}

// Body is what is sent of an event, the same to the letter each time.
func Body(d *hooks.Delivery) ([]byte, error) {
	var data map[string]any
	decoder := json.NewDecoder(bytes.NewReader(d.Data))
	decoder.UseNumber()
	if err := decoder.Decode(&data); err != nil {
		return nil, fmt.Errorf("event %s: %w", d.EventID, err)
	}
	data["id"] = d.Subject
	return json.Marshal(struct {
		Type      string         `json:"type"`
		Timestamp string         `json:"timestamp"`
		Data      map[string]any `json:"data"`
	}{d.Kind, d.Happened.UTC().Format(time.RFC3339), data})
}

// Send calls an endpoint once.
func (s *Sender) Send(ctx context.Context, out *hooks.Outgoing) hooks.Outcome {
	body, err := Body(&out.Delivery)
	if err != nil {
		return failed("%v", err)
	}
	request, err := http.NewRequestWithContext(ctx, http.MethodPost, out.Endpoint.URL, bytes.NewReader(body))
	if err != nil {
		return failed("The address cannot be called.")
	}
	at := s.now()
	h := request.Header
	h.Set("Content-Type", "application/json")
	h.Set("User-Agent", "seamwright-webhooks/1")
	h.Set("webhook-id", out.Delivery.EventID)
	h.Set("webhook-timestamp", strconv.FormatInt(at.Unix(), 10))
	h.Set("webhook-signature", signature(out.Delivery.EventID, at, body, secretsOf(&out.Endpoint, at)...))
	answer, err := s.client.Do(request)
	if err != nil {
		return failed("%s", reason(err))
	}
	defer answer.Body.Close()
	_, _ = io.CopyN(io.Discard, answer.Body, longestAnswer) // an answer that breaks off was an answer
	return outcome(answer, at)
}

// secretsOf are those that sign now, the newest first.
func secretsOf(e *hooks.Endpoint, now time.Time) [][]byte {
	if e.EarlierUntil != nil && now.Before(*e.EarlierUntil) {
		return [][]byte{e.Secret, e.EarlierSecret}
	}
	return [][]byte{e.Secret}
}

func outcome(answer *http.Response, now time.Time) hooks.Outcome {
	o := hooks.Outcome{Status: answer.StatusCode, Gone: answer.StatusCode == http.StatusGone}
	switch {
	case answer.StatusCode/100 == 2:
		return o
	case answer.StatusCode/100 == 3:
		o.Failure = fmt.Sprintf("It answered %d, and redirects are not followed.", answer.StatusCode)
	default:
		o.Failure = fmt.Sprintf("It answered %d %s.", answer.StatusCode, http.StatusText(answer.StatusCode))
	}
	o.Wait = restOf(answer.Header.Get("Retry-After"), now)
	return o
}

// restOf reads a Retry-After: seconds, or a date.
func restOf(text string, now time.Time) time.Duration {
	rest := time.Duration(0)
	if seconds, err := strconv.Atoi(text); err == nil && seconds < int(longestRest/time.Second) {
		rest = time.Duration(seconds) * time.Second
	} else if err == nil {
		rest = longestRest
	} else if at, err := http.ParseTime(text); err == nil {
		rest = at.Sub(now)
	}
	return min(max(rest, 0), longestRest)
}

func failed(format string, args ...any) hooks.Outcome {
	text := []rune(fmt.Sprintf(format, args...))
	return hooks.Outcome{Failure: string(text[:min(len(text), longestFailure)])}
}

// reason says why no answer came, without the address: it may hold a secret.
func reason(err error) string {
	var lookup *net.DNSError
	var timeout net.Error
	var wrapped *url.Error
	switch {
	case errors.Is(err, outbound.ErrRefused):
		return "Its name leads to an address that must not be called: it is not public."
	case errors.As(err, &lookup):
		return "Its name cannot be looked up."
	case errors.As(err, &timeout) && timeout.Timeout():
		return fmt.Sprintf("No answer came within %d seconds.", answerWithin/time.Second)
	case errors.As(err, &wrapped):
		return "No answer came: " + wrapped.Err.Error() + "."
	}
	return "No answer came: " + err.Error() + "."
}
