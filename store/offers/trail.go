package offers

import (
	"encoding/json"
	"maps"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
)

// What was done to an offer, as the audit trail says it.
type What string

// The deeds; a revision's are its reasons, and what has ended is `expired` (expireQuotes).
const (
	Detailed What = "details"
	Erased   What = "customer_erased"
	Moved    What = "status"
)

// traced is an offer in the audit trail, which is never changed: nothing of it tells who the offer is for, so that an
// erased customer is not there either.
type traced struct {
	Number     int64          `json:"number"`
	Status     quote.Status   `json:"status"`
	Reference  string         `json:"reference"`
	ExternalID string         `json:"external_id"`
	ValidUntil catalogue.Date `json:"valid_until"`
	Revision   int            `json:"revision"`
	Currency   string         `json:"currency"`
	Cost       money.Amount   `json:"cost"`
	Net        money.Amount   `json:"net"`
	Total      money.Amount   `json:"total"`
	What       What           `json:"what,omitempty"`    // was done, in the state after it
	Changed    []string       `json:"changed,omitempty"` // details that are others now and are not shown
}

func trace(q *Quote, done What) traced {
	return traced{q.Number, q.Status, q.Reference, q.ExternalID, q.ValidUntil, q.Revision, q.Currency, q.Cost, q.Net, q.Total, done, nil}
}

// traces are the states before and after a change, as texts in JSON.
func traces(was, is *Quote, done What) (before, after string, err error) {
	then := trace(is, done)
	for _, d := range []struct {
		name    string
		changed bool
	}{{"customer", was.Customer != is.Customer}, {"note", was.Note != is.Note}, {"terms", was.Terms != is.Terms},
		{"metadata", !maps.Equal(was.Metadata, is.Metadata)}} {
		if d.changed {
			then.Changed = append(then.Changed, d.name)
		}
	}
	first, err := json.Marshal(trace(was, ""))
	if err != nil {
		return "", "", err
	}
	second, err := json.Marshal(then)
	return string(first), string(second), err
}

const insertTrace = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'quotes', $2, 'replace', $3::json, $4::json, revision FROM catalogue_revision`
