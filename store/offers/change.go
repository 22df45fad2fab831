package offers

import (
	"context"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Change is what becomes of an offer. The zero value changes nothing.
type Change struct {
	Quote    Quote     // as it shall be: details, status, validity
	Revision *Revision // a new revision; nil: none. Its number is given here
	Move     *Move     // a change of status to note; nil: none
	Events   []Event
	What     What   // was done
	By       string // who did it
}

const updateQuote = `
UPDATE quote
SET status = $2, reference = $3, customer_reference = $4, customer_name = $5, customer_email = $6, customer_phone = $7, customer_address = $8,
    note = $9, terms = $10, valid_until = $11, revision = $12, version = version + 1, updated_at = $13,
    species = $14, currency = $15, cost = $16, net = $17, total = $18,
    checked_revision = $19, checked_day = $20, cost_now = $21, moved = $22, check_failed = $23,
    external_id = $24, metadata = $25::jsonb
WHERE id = $1`

const insertRevision = `
INSERT INTO quote_revision (quote, number, why, request, answer, catalogue_revision, priced_as_of, created_at, created_by, cost, net, total)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`

const insertMove = `
INSERT INTO quote_move (quote, at, actor, before, after, note)
VALUES ($1, $2, $3, $4, $5, $6)`

// Change changes an offer under its lock: decide sees it as it is and says what becomes of it, nil for nothing; what
// decide reads of the database with its context belongs to the same transaction. Its error comes back as it is. It
// returns the offer as it is then.
func (s *Store) Change(ctx context.Context, id string, decide func(context.Context,
	Quote) (*Change, error)) (q Quote, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		rows, _ := tx.Query(ctx, quoteColumns+` WHERE id = $1 FOR UPDATE`, id) // a failed Query is reported by the collector
		if q, err = oneQuote(ctx, rows); err != nil {
			return err
		}
		change, err := decide(db.Within(ctx, tx), q)
		if err != nil || change == nil {
			return err
		}
		return writeChange(ctx, tx, &q, change)
	})
	return q, db.Fault(ctx, external(err))
}

func writeChange(ctx context.Context, tx pgx.Tx, q *Quote, change *Change) error {
	next := change.Quote
	metadata, err := metadataText(next.Metadata)
	if err != nil {
		return err
	}
	if next.ExternalID != q.ExternalID {
		if err := otherHas(ctx, tx, next.ExternalID, next.ID); err != nil {
			return err
		}
	}
	batch := &pgx.Batch{}
	done := change.What
	if r := change.Revision; r != nil {
		done = What(r.Why)
		next.Revision++
		r.Quote, r.Number = next.ID, next.Revision
		batch.Queue(insertRevision, r.Quote, r.Number, r.Why, r.Request, r.Answer, r.CatalogueRevision, string(r.PricedAsOf),
			r.CreatedAt, r.CreatedBy, r.Cost.String(), r.Net.String(), r.Total.String())
	}
	next.Version++
	c := &next.Customer
	batch.Queue(updateQuote, next.ID, next.Status, next.Reference, c.Reference, c.Name, c.Email, c.Phone, c.Address,
		next.Note, next.Terms,
		string(next.ValidUntil), next.Revision, next.UpdatedAt, next.Species, next.Currency, next.Cost.String(),
		next.Net.String(), next.Total.String(),
		next.CheckedRevision, string(next.CheckedDay), textOf(next.CostNow), textOf(next.Moved), next.CheckFailed,
		next.ExternalID, metadata)
	if m := change.Move; m != nil {
		batch.Queue(insertMove, next.ID, m.At, m.Actor, m.Before, m.After, m.Note)
	}
	before, after, err := traces(q, &next, done)
	if err != nil {
		return err
	}
	batch.Queue(insertTrace, change.By, next.ID, before, after)
	for i := range change.Events {
		e := &change.Events[i]
		batch.Queue(`SELECT emit_event($1, $2, $3, $4, $5)`, e.ID, e.Kind, next.ID, string(e.Data), next.UpdatedAt)
	}
	if err := tx.SendBatch(ctx, batch).Close(); err != nil {
		return err
	}
	*q = next
	return nil
}
