// Nightly-reprice shows a quoting system's night: it lists the open offers whose cost moved beyond the shop's limit, and
// what margin is left, and with -apply reprices those that are drafts. What was sent to a customer is only listed: a person
// decides about that.
//
//	go run ./deploy/examples/nightly-reprice -url http://127.0.0.1:8080 [-apply]
//
// The environment variable KEY holds an access key with the scopes quotes:read and, to apply, quotes:write. It ends with 0
// when nothing drifted or all of it was repriced, 1 when something is left for a person, 3 when it could not be done.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/signal"
	"strconv"
	"text/tabwriter"
	"time"

	client "seamwright/deploy/client/go"
)

const (
	exitDone, exitLeft, exitTrouble = 0, 1, 3
	pageSize                        = 100
	mostWaits                       = 5
	longestWait                     = time.Minute
)

func main() {
	url := flag.String("url", "http://127.0.0.1:8080", "address of the service")
	apply := flag.Bool("apply", false, "reprice the drafts; without it they are only listed")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	status := run(ctx, *url, os.Getenv("KEY"), *apply, os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// job is one night's work.
type job struct {
	service *client.ClientWithResponses
	apply   bool
	out     *tabwriter.Writer
	left    int // offers that a person must look at
}

func run(ctx context.Context, url, key string, apply bool, out, errs io.Writer) int {
	service, err := client.NewClientWithResponses(url, client.WithKey(key),
		client.WithHTTPClient(&patient{&http.Client{Timeout: 30 * time.Second}}))
	if err != nil {
		fmt.Fprintln(errs, err)
		return exitTrouble
	}
	j := &job{service: service, apply: apply, out: tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)}
	err = j.all(ctx)
	if flushing := j.out.Flush(); err == nil {
		err = flushing
	}
	switch {
	case err != nil:
		fmt.Fprintln(errs, err)
		return exitTrouble
	case j.left > 0:
		fmt.Fprintf(out, "%d left for a person\n", j.left)
		return exitLeft
	}
	return exitDone
}

// all takes the drifted offers page by page. They are all read before one is repriced, as repricing takes an offer off
// the list.
func (j *job) all(ctx context.Context) error {
	drifted, size := true, pageSize
	params := client.ListQuotesParams{Drifted: &drifted, Limit: &size}
	var offers []client.Quote
	for {
		page, err := j.service.ListQuotesWithResponse(ctx, &params)
		if err != nil {
			return err
		}
		if page.JSON200 == nil {
			return refusal("list the offers", page.ApplicationproblemJSONDefault, page.HTTPResponse)
		}
		if n := page.JSON200.Unchecked; n != nil && *n > 0 {
			return fmt.Errorf("%d offers are still being worked out anew; try again in a moment", *n)
		}
		offers = append(offers, page.JSON200.Items...)
		if params.Cursor = page.JSON200.NextCursor; params.Cursor == nil {
			break
		}
	}
	if len(offers) > 0 {
		fmt.Fprintln(j.out, "offer\tstatus\tcost\ttoday\tmoved\tmargin\tleft\t")
	}
	for i := range offers {
		if err := j.one(ctx, &offers[i]); err != nil {
			return fmt.Errorf("offer %d: %w", offers[i].Number, err)
		}
	}
	return nil
}

func (j *job) one(ctx context.Context, q *client.Quote) error {
	done := "for a person"
	switch {
	case q.Today == nil:
		return nil // decided meanwhile
	case j.apply && q.Status == "draft" && q.Today.Failed == nil:
		total, err := j.reprice(ctx, q)
		if err != nil {
			return err
		}
		done = fmt.Sprintf("repriced: %s becomes %s %s", q.Total, total, q.Currency)
	default:
		j.left++
	}
	_, err := fmt.Fprintf(j.out, "%d\t%s\t%s\t%s\t%+.2f %%\t%.2f %%\t%.2f %%\t%s\n", q.Number, q.Status, q.Cost,
		q.Today.Cost, q.Today.Moved, q.Today.MarginOffered, q.Today.Margin, done)
	return err
}

// reprice makes a new revision by today's catalogue. The key names the revision that it replaces and the catalogue that it
// takes: sent again after a lost answer, it is done once.
func (j *job) reprice(ctx context.Context, q *client.Quote) (total string, err error) {
	now, err := j.service.GetQuoteWithResponse(ctx, q.Id, nil)
	if err != nil {
		return "", err
	}
	if now.JSON200 == nil {
		return "", refusal("read it", now.ApplicationproblemJSONDefault, now.HTTPResponse)
	}
	etag := now.HTTPResponse.Header.Get("ETag")
	key := fmt.Sprintf("reprice %s %d %d", q.Id, q.Revision, q.Today.CatalogueRevision)
	a, err := j.service.RepriceQuoteWithResponse(ctx, q.Id, &client.RepriceQuoteParams{IfMatch: &etag,
		IdempotencyKey: &key})
	if err != nil {
		return "", err
	}
	if a.JSON201 == nil {
		return "", refusal("reprice it", a.ApplicationproblemJSONDefault, a.HTTPResponse)
	}
	return a.JSON201.Quote.Total, nil
}

func refusal(what string, p *client.Problem, answer *http.Response) error {
	if p == nil {
		return fmt.Errorf("%s: %s", what, answer.Status)
	}
	return fmt.Errorf("%s: %s (%s)", what, p.Detail, p.Title)
}

// patient sends a request again that came too fast, after the time that the service asks for.
type patient struct{ client *http.Client }

func (p *patient) Do(r *http.Request) (*http.Response, error) {
	for n := 0; ; n++ {
		answer, err := p.client.Do(r)
		if err != nil || answer.StatusCode != http.StatusTooManyRequests || n == mostWaits ||
			r.Body != nil && r.GetBody == nil {
			return answer, err
		}
		if err := answer.Body.Close(); err != nil {
			return nil, err
		}
		if err := rest(r.Context(), answer.Header.Get("Retry-After")); err != nil {
			return nil, err
		}
		if r.GetBody != nil {
			if r.Body, err = r.GetBody(); err != nil {
				return nil, err
			}
		}
	}
}

func rest(ctx context.Context, after string) error {
	seconds, err := strconv.Atoi(after)
	if err != nil || seconds < 0 {
		return errors.New("too many requests, and no time to wait is named")
	}
	timer := time.NewTimer(min(time.Duration(seconds)*time.Second, longestWait))
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}
