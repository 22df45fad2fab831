package client_test

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/deploy/client/clienttest"
	client "seamwright/deploy/client/go"
)

// lossy is a line on which the first answers are lost, after the service has done its work, and refusals come in between.
type lossy struct {
	lose, refuse, sent atomic.Int32
}

func (l *lossy) Do(r *http.Request) (*http.Response, error) {
	l.sent.Add(1)
	if l.refuse.Add(-1) >= 0 {
		return &http.Response{StatusCode: http.StatusServiceUnavailable, Header: http.Header{"Retry-After": {"0"}}, Body: io.NopCloser(strings.NewReader("{}"))}, nil
	}
	answer, err := http.DefaultClient.Do(r)
	if err == nil && l.lose.Add(-1) >= 0 {
		return nil, errors.Join(errors.New("the line is dead"), answer.Body.Close())
	}
	return answer, err
}

func TestALostAnswerIsAskedForAgainAndTheWriteIsDoneOnce(t *testing.T) {
	t.Parallel()
	s, line := clienttest.Start(t), &lossy{}
	line.lose.Store(2)
	line.refuse.Store(1)
	c, err := client.NewClientWithResponses(s.URL, client.WithKey(s.Key(t, "quotes:read", "quotes:write")), client.WithRetries(line))
	require.NoError(t, err)
	a, err := c.PostQuoteWithResponse(context.Background(), nil, client.QuoteEntry{Estimate: desk(t)})
	require.NoError(t, err)
	require.NotNil(t, a.JSON201, string(a.Body))
	require.Equal(t, "true", a.HTTPResponse.Header.Get("Idempotency-Replayed"))
	require.EqualValues(t, 4, line.sent.Load())
	list, err := c.ListQuotesWithResponse(context.Background(), nil)
	require.NoError(t, err)
	require.Len(t, list.JSON200.Items, 1)
}

func TestARefusalThatWillNotPassIsNotSentAgain(t *testing.T) {
	t.Parallel()
	s, line := clienttest.Start(t), &lossy{}
	c, err := client.NewClientWithResponses(s.URL, client.WithKey(s.Key(t, "estimate")), client.WithRetries(line))
	require.NoError(t, err)
	bad := desk(t)
	bad.Top.Species = "maple_suger"
	a, err := c.PostEstimateWithResponse(context.Background(), nil, bad)
	require.NoError(t, err)
	require.Nil(t, a.JSON200)
	require.EqualValues(t, 1, line.sent.Load())

	line.refuse.Store(100)
	a, err = c.PostEstimateWithResponse(context.Background(), nil, desk(t))
	require.NoError(t, err)
	require.Equal(t, http.StatusServiceUnavailable, a.StatusCode(), "it gives up")
	require.EqualValues(t, 1+5, line.sent.Load())
	line.refuse.Store(100)
	streamed, err := c.PostEstimateBatchWithBody(context.Background(), nil, "application/x-ndjson", io.MultiReader(strings.NewReader("{}\n")))
	require.NoError(t, err)
	require.NoError(t, streamed.Body.Close())
	require.EqualValues(t, 1+5+1, line.sent.Load(), "a stream cannot be sent again")
}
