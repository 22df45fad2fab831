package client_test

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/oapi-codegen/runtime/types"
	"github.com/stretchr/testify/require"

	"seamwright/deploy/client/clienttest"
	client "seamwright/deploy/client/go"
)

func open(t *testing.T, s *clienttest.Service, scopes ...string) *client.ClientWithResponses {
	t.Helper()
	c, err := client.NewClientWithResponses(s.URL, client.WithKey(s.Key(t, scopes...)))
	require.NoError(t, err)
	return c
}

// desk is the demo desk of the project as the client's own type.
func desk(t *testing.T) client.EstimateRequest {
	t.Helper()
	raw, err := os.ReadFile("../../../testdata/requests/l_desk.json")
	require.NoError(t, err)
	var request client.EstimateRequest
	require.NoError(t, json.Unmarshal(raw, &request))
	return request
}

func to[T any](v T) *T { return &v }

func TestAnEstimateAndItsRefusal(t *testing.T) {
	t.Parallel()
	c := open(t, clienttest.Start(t), "estimate")
	a, err := c.PostEstimateWithResponse(context.Background(), nil, desk(t))
	require.NoError(t, err)
	require.NotNil(t, a.JSON200, string(a.Body))
	require.Len(t, a.JSON200.Corners, 1)
	require.NotEmpty(t, a.JSON200.Price.Total)

	bad := desk(t)
	bad.Top.Species = "maple_suger"
	a, err = c.PostEstimateWithResponse(context.Background(), nil, bad)
	require.NoError(t, err)
	require.Nil(t, a.JSON200)
	require.Contains(t, a.ApplicationproblemJSONDefault.Detail, "maple_sugar")

	q, err := c.ListQuotesWithResponse(context.Background(), nil)
	require.NoError(t, err)
	require.Equal(t, http.StatusForbidden, q.StatusCode(), "another scope is needed")
	require.Equal(t, 403, q.ApplicationproblemJSONDefault.Status)
}

// A quoting system's day: store, find, revise, reprice, send, once each although every write is sent twice.
func TestAQuoteFromTheFirstDraftToTheAnswer(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s := clienttest.Start(t)
	c := open(t, s, "quotes:read", "quotes:write", "catalogue:read", "catalogue:write")
	entry := client.QuoteEntry{Reference: to("H-1 (invented)"), Customer: &client.QuoteCustomerEntry{Reference: to("C-1")},
		ValidDays: to(30), Estimate: desk(t)}
	once := &client.PostQuoteParams{IdempotencyKey: to("store H-1")}
	first, err := c.PostQuoteWithResponse(ctx, once, entry)
	require.NoError(t, err)
	require.NotNil(t, first.JSON201, string(first.Body))
	again, err := c.PostQuoteWithResponse(ctx, once, entry)
	require.NoError(t, err)
	require.Equal(t, first.JSON201.Id, again.JSON201.Id)
	require.Equal(t, "true", again.HTTPResponse.Header.Get("Idempotency-Replayed"))
	id := first.JSON201.Id

	for range 4 {
		_, err := c.PostQuoteWithResponse(ctx, nil, entry)
		require.NoError(t, err)
	}
	seen := map[string]bool{}
	for params := (client.ListQuotesParams{Limit: to(2), Customer: to("C-1")}); ; {
		page, err := c.ListQuotesWithResponse(ctx, &params)
		require.NoError(t, err)
		require.NotNil(t, page.JSON200, string(page.Body))
		for _, q := range page.JSON200.Items {
			seen[q.Id] = true
		}
		if params.Cursor = page.JSON200.NextCursor; params.Cursor == nil {
			break
		}
	}
	require.Len(t, seen, 5)

	larger := desk(t)
	require.NoError(t, larger.Top.Runs[0].Length.UnmarshalJSON([]byte(`100`)))
	revised, err := c.PostQuoteRevisionWithResponse(ctx, id,
		&client.PostQuoteRevisionParams{IfMatch: to(first.HTTPResponse.Header.Get("ETag"))},
		client.PostQuoteRevisionJSONRequestBody{Estimate: larger})
	require.NoError(t, err)
	require.NotNil(t, revised.JSON201, string(revised.Body))
	require.Equal(t, 2, revised.JSON201.Quote.Revision)
	require.NotEqual(t, first.JSON201.Total, revised.JSON201.Quote.Total)

	etag := revised.HTTPResponse.Header.Get("ETag")
	lost, err := c.PostQuoteStatusWithResponse(ctx, id,
		&client.PostQuoteStatusParams{IfMatch: to(first.HTTPResponse.Header.Get("ETag"))},
		client.PostQuoteStatusJSONRequestBody{Status: "sent"})
	require.NoError(t, err)
	require.Equal(t, http.StatusPreconditionFailed, lost.StatusCode())
	sent, err := c.PostQuoteStatusWithResponse(ctx, id, &client.PostQuoteStatusParams{IfMatch: &etag},
		client.PostQuoteStatusJSONRequestBody{Status: "sent"})
	require.NoError(t, err)
	require.EqualValues(t, "sent", sent.JSON200.Status)
}

func TestAPriceListAndItsReport(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	c := open(t, clienttest.Start(t), "prices:write", "catalogue:read")
	name := client.PutSupplierJSONRequestBody{Name: "North mill (invented)"}
	made, err := c.PutSupplierWithResponse(ctx, "north_mill", nil, name)
	require.NoError(t, err)
	require.Equal(t, http.StatusCreated, made.StatusCode(), string(made.Body))
	list := "item,per,pack_of,price\nbiscuit_0,pack,100,9.95\nbiscit_0,pack,100,9\n"
	dry := true
	a, err := c.PostPriceUpdateWithBodyWithResponse(ctx, &client.PostPriceUpdateParams{Supplier: to("north_mill"),
		DryRun: &dry}, "text/csv", strings.NewReader(list))
	require.NoError(t, err)
	require.NotNil(t, a.JSON200, string(a.Body))
	require.Equal(t, 1, a.JSON200.Counts.New)
	require.Equal(t, 1, a.JSON200.Counts.Rejected)
	require.Contains(t, (*a.JSON200.FirstRows)[0].Reason, "biscuit_0")
}

func TestABatchIsAnsweredLineByLine(t *testing.T) {
	t.Parallel()
	c := open(t, clienttest.Start(t), "estimate")
	one, err := json.Marshal(desk(t))
	require.NoError(t, err)
	lines := string(one) + "\n{}\n" + string(one) + "\n"
	// the answer is a stream
	a, err := c.PostEstimateBatchWithBody(context.Background(), nil, "application/x-ndjson", strings.NewReader(lines))
	require.NoError(t, err)
	defer a.Body.Close()
	require.Equal(t, http.StatusOK, a.StatusCode)
	var answers []map[string]any
	for decoder := json.NewDecoder(a.Body); ; {
		var one map[string]any
		if err := decoder.Decode(&one); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, one)
	}
	require.Len(t, answers, 4)
	require.Equal(t, map[string]any{"done": true, "lines": 3.0, "failed": 1.0}, answers[3])
}

// A publishable key serves the order form alone, from its own pages.
func TestAnOrderFormAndItsRequest(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s := clienttest.Start(t)
	const page = "https://shop.example"
	fromPage := client.WithRequestEditorFn(func(_ context.Context, r *http.Request) error {
		r.Header.Set("Origin", page)
		return nil
	})
	form, err := client.NewClientWithResponses(s.URL, client.WithKey(s.PublicKey(t, page)), fromPage)
	require.NoError(t, err)
	choices, err := form.GetOrderFormWithResponse(ctx,
		&client.GetOrderFormParams{Units: to(client.GetOrderFormParamsUnits("in"))})
	require.NoError(t, err)
	require.NotNil(t, choices.JSON200, string(choices.Body))
	have := choices.JSON200.Choices
	require.NotEmpty(t, have.Woods)

	order := client.OrderFormRequest{Units: "in", Shape: "straight", Wood: have.Woods[0].Value,
		Thickness: have.Thicknesses[0].Value, Sides: []client.OrderFormSide{{Long: 60, Deep: 25}}}
	price, err := form.PostOrderFormEstimateWithResponse(ctx, nil, order)
	require.NoError(t, err)
	require.NotNil(t, price.JSON200, string(price.Body))
	require.NotEmpty(t, price.JSON200.Price)
	quotes, err := form.ListQuotesWithResponse(ctx, nil)
	require.NoError(t, err)
	require.Equal(t, http.StatusForbidden, quotes.StatusCode())

	request := client.OrderFormOrder{Top: order, Consent: true}
	request.Contact.Name, request.Contact.Email = "Ada Example (invented)", to(types.Email("ada@example.com"))
	stored, err := form.PostOrderFormRequestWithResponse(ctx, nil, request)
	require.NoError(t, err)
	require.Equal(t, http.StatusCreated, stored.StatusCode(), string(stored.Body))

	shop := open(t, s, "quotes:read")
	drafts, err := shop.ListQuotesWithResponse(ctx, &client.ListQuotesParams{Status: to("draft")})
	require.NoError(t, err)
	require.Len(t, drafts.JSON200.Items, 1)
	require.Equal(t, "Ada Example (invented)", drafts.JSON200.Items[0].Customer.Name)
}

func TestKeysAreMadeRotatedAndRevoked(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s := clienttest.Start(t)
	admin := open(t, s, "keys:admin")
	scopes := []client.KeyEntryScopes{"estimate"}
	made, err := admin.PostKeyWithResponse(ctx, nil, client.KeyEntry{Name: "quoting", Scopes: &scopes})
	require.NoError(t, err)
	require.NotNil(t, made.JSON201, string(made.Body))
	mine, err := client.NewClientWithResponses(s.URL, client.WithKey(made.JSON201.Key))
	require.NoError(t, err)
	good := func() bool {
		a, err := mine.PostEstimateWithResponse(ctx, nil, desk(t))
		require.NoError(t, err)
		return a.StatusCode() == http.StatusOK
	}
	require.Eventually(t, good, 5*time.Second, 20*time.Millisecond)
	gone, err := admin.DeleteKeyWithResponse(ctx, made.JSON201.Id, nil)
	require.NoError(t, err)
	require.Equal(t, http.StatusNoContent, gone.StatusCode())
	require.Eventually(t, func() bool { return !good() }, 5*time.Second, 20*time.Millisecond)
}
