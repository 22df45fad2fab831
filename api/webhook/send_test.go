package webhook

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"
	"time"

	standardwebhooks "github.com/standard-webhooks/standard-webhooks/libraries/go"
	"github.com/stretchr/testify/require"

	"seamwright/api/outbound"
	"seamwright/store/hooks"
)

// Source of the values: the worked example of the Standard Webhooks specification and its library's own test
// (libraries/go v0.0.1, webhook_test.go, TestWebhookSign).
func TestASignatureIsThatOfTheSpecification(t *testing.T) {
	reference, err := standardwebhooks.NewWebhook("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw")
	require.NoError(t, err)
	at := time.Unix(1614265330, 0)
	body := []byte(`{"test": 2432232314}`)
	want, err := reference.Sign("msg_p5jXN8AQM9LWM0D4loKWxJek", at, body)
	require.NoError(t, err)
	require.Equal(t, "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=", want)
	secret := []byte("1\xf2\x90\xf6\xbf\x06)\x8a\xabO\x08\xd4<?\x08,\xf6H\xa3b\xda-\xa4\xb0") // the base64 above
	require.Equal(t, "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", SecretText(secret))
	require.Equal(t, want, signature("msg_p5jXN8AQM9LWM0D4loKWxJek", at, body, secret))
	require.Equal(t, want+" "+want, signature("msg_p5jXN8AQM9LWM0D4loKWxJek", at, body, secret, secret))
}

func TestWaitsDoubleAndAddUpToAlmostADay(t *testing.T) {
	var all time.Duration
	tries := 1
	for ; ; tries++ {
		wait, again := Again(tries)
		if !again {
			require.Zero(t, wait)
			break
		}
		require.Equal(t, 40*time.Second<<(tries-1), wait)
		all += wait
	}
	require.Equal(t, 12, tries)
	require.Equal(t, 22*time.Hour+44*time.Minute+40*time.Second, all)
}

func TestOnlySuccessCountsAsDelivered(t *testing.T) {
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		status  int
		after   string
		failure string
		wait    time.Duration
		gone    bool
	}{
		{200, "", "", 0, false}, {204, "10", "", 0, false}, {299, "", "", 0, false},
		{301, "", "redirects", 0, false}, {400, "", "400 Bad Request", 0, false}, {410, "", "410 Gone", 0, true},
		{429, "90", "429", 90 * time.Second, false}, {503, "999999", "503", time.Hour, false},
		{503, "-5", "503", 0, false}, {503, "soon", "503", 0, false}, {503, "99999999999999999999", "503", 0, false},
		{503, now.Add(5 * time.Minute).Format(http.TimeFormat), "503", 5 * time.Minute, false},
		{503, now.Add(-time.Minute).Format(http.TimeFormat), "503", 0, false},
	} {
		t.Run(fmt.Sprint(c.status, " ", c.after), func(t *testing.T) {
			s, out := senderTo(t, func() time.Time { return now }, func(w http.ResponseWriter, _ *http.Request) {
				if c.after != "" {
					w.Header().Set("Retry-After", c.after)
				}
				w.WriteHeader(c.status)
			})
			got := s.Send(context.Background(), out)
			require.Equal(t, c.status, got.Status)
			require.Equal(t, c.wait, got.Wait)
			require.Equal(t, c.gone, got.Gone)
			if c.failure == "" {
				require.Empty(t, got.Failure)
			} else {
				require.Contains(t, got.Failure, c.failure)
			}
		})
	}
}

func senderTo(t *testing.T, now func() time.Time, answer http.HandlerFunc) (*Sender, *hooks.Outgoing) {
	server := httptest.NewServer(answer)
	t.Cleanup(server.Close)
	policy := outbound.Policy{Allow: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}}
	return NewSender(policy, now), &hooks.Outgoing{
		Delivery: hooks.Delivery{EventID: "event_1", Kind: "quote.created", Subject: "quote_1", Happened: now(),
			Data: []byte(`{"number": 12345678901234567890}`)},
		Endpoint: hooks.Endpoint{URL: server.URL + "/?token=hidden", Secret: NewSecret()}}
}

// OWASP API10:2023: what an endpoint answers is somebody else's word. It is bounded, and nothing in it is looked at.
func TestOWASP10AnAnswerWithoutEndIsNotReadToItsEnd(t *testing.T) {
	written := make(chan int, 1)
	s, out := senderTo(t, time.Now, func(w http.ResponseWriter, _ *http.Request) {
		n, line := 0, []byte(strings.Repeat("x", 1<<16))
		for range 4096 { // 256 MB
			if _, err := w.Write(line); err != nil {
				break
			}
			n += len(line)
		}
		written <- n
	})
	require.Empty(t, s.Send(context.Background(), out).Failure)
	require.Less(t, <-written, 64<<20)
}

func TestAReasonDoesNotRepeatTheAddress(t *testing.T) {
	s, out := senderTo(t, time.Now, func(w http.ResponseWriter, _ *http.Request) { panic(http.ErrAbortHandler) })
	got := s.Send(context.Background(), out)
	require.Zero(t, got.Status)
	require.NotEmpty(t, got.Failure)
	require.NotContains(t, got.Failure, "hidden")

	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	s, out = senderTo(t, time.Now, func(_ http.ResponseWriter, r *http.Request) {
		_, _ = io.Copy(io.Discard, r.Body) // only then is a caller missed who goes away
		<-r.Context().Done()
	})
	require.Contains(t, s.Send(ctx, out).Failure, "No answer came within")
	out.Endpoint.URL = "http://no-such-host.invalid/?token=hidden"
	require.Equal(t, "Its name cannot be looked up.", s.Send(context.Background(), out).Failure)
}

func TestTheBodyIsTheSameEachTimeAndKeepsItsNumbers(t *testing.T) {
	_, out := senderTo(t, time.Now, func(http.ResponseWriter, *http.Request) {})
	first, err := Body(&out.Delivery)
	require.NoError(t, err)
	again, err := Body(&out.Delivery)
	require.NoError(t, err)
	require.Equal(t, string(first), string(again))
	require.Contains(t, string(first), `"data":{"id":"quote_1","number":12345678901234567890}`)
}
