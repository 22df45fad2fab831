package main

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/deploy/client/clienttest"
	client "seamwright/deploy/client/go"
)

func TestDraftsAreRepricedAndWhatWasSentIsLeftForAPerson(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s := clienttest.Start(t)
	key := s.Key(t, "quotes:read", "quotes:write", "catalogue:read", "catalogue:write")
	c, err := client.NewClientWithResponses(s.URL, client.WithKey(key))
	require.NoError(t, err)
	raw, err := os.ReadFile("../../../testdata/requests/l_desk.json")
	require.NoError(t, err)
	entry := client.QuoteEntry{}
	require.NoError(t, json.Unmarshal(raw, &entry.Estimate))
	draft, err := c.PostQuoteWithResponse(ctx, nil, entry)
	require.NoError(t, err)
	sent, err := c.PostQuoteWithResponse(ctx, nil, entry)
	require.NoError(t, err)
	etag := sent.HTTPResponse.Header.Get("ETag")
	_, err = c.PostQuoteStatusWithResponse(ctx, sent.JSON201.Id, &client.PostQuoteStatusParams{IfMatch: &etag},
		client.StatusEntry{Status: "sent"})
	require.NoError(t, err)

	night := func(apply bool) (int, string, string) {
		var out, errs bytes.Buffer
		status := run(ctx, s.URL, key, apply, &out, &errs)
		return status, out.String(), errs.String()
	}
	_, _, err = s.Server.RecheckQuotes(ctx) // as the service does by itself every second
	require.NoError(t, err)
	status, out, errs := night(true)
	require.Equal(t, exitDone, status, errs)
	require.Empty(t, out, "nothing drifted")

	role, err := c.GetLabourRoleWithResponse(ctx, "maker", nil)
	require.NoError(t, err)
	etag = role.HTTPResponse.Header.Get("ETag")
	dearer, err := c.PutLabourRoleWithResponse(ctx, "maker", &client.PutLabourRoleParams{IfMatch: &etag},
		client.PutLabourRoleJSONRequestBody{Name: "Maker", Rate: "96.00"})
	require.NoError(t, err)
	require.NotNil(t, dearer.JSON200, string(dearer.Body))
	require.Eventually(t, func() bool { return s.Catalog.Snapshot().Revision >= int64(dearer.JSON200.Revision) },
		5*time.Second, time.Millisecond)
	status, _, errs = night(true)
	require.Equal(t, exitTrouble, status)
	require.Contains(t, errs, "2 offers are still being worked out anew")
	_, _, err = s.Server.RecheckQuotes(ctx)
	require.NoError(t, err)

	status, out, errs = night(false)
	require.Equal(t, exitLeft, status, errs)
	require.Contains(t, out, "2 left for a person")
	status, out, errs = night(true)
	require.Equal(t, exitLeft, status, errs)
	require.Contains(t, out, "repriced: "+draft.JSON201.Total+" becomes ")
	require.Contains(t, out, "1 left for a person")
	now, err := c.GetQuoteWithResponse(ctx, draft.JSON201.Id, nil)
	require.NoError(t, err)
	require.Equal(t, 2, now.JSON200.Revision)
	require.NotEqual(t, draft.JSON201.Total, now.JSON200.Total)
	status, out, _ = night(true)
	require.Equal(t, exitLeft, status, "the sent one is there still")
	require.NotContains(t, out, "repriced")

	var wrong bytes.Buffer
	require.Equal(t, exitTrouble, run(ctx, s.URL, "seam_secret_none", false, &bytes.Buffer{}, &wrong))
	require.Contains(t, wrong.String(), "list the offers")
}

func TestTheProgramWaitsWhenItIsToldTo(t *testing.T) {
	t.Parallel()
	var calls atomic.Int64
	busy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		if calls.Add(1) < 3 {
			w.Header().Set("Retry-After", "0")
			w.WriteHeader(http.StatusTooManyRequests)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		_, err := w.Write([]byte(`{"items":[],"next_cursor":null,"unchecked":0}`))
		if err != nil {
			t.Error(err)
		}
	}))
	t.Cleanup(busy.Close)
	var errs bytes.Buffer
	require.Equal(t, exitDone, run(context.Background(), busy.URL, "k", false, &bytes.Buffer{}, &errs), errs.String())
	require.EqualValues(t, 3, calls.Load())
}
