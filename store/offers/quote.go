// Package offers keeps quotes: their revisions, their moves from one status to another, how their cost has changed
// since, and finding them again.
package offers

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/db"
)

// Store is the offers in an open database.
type Store struct{ db *db.DB }

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d} }

// Customer is who an offer is for.
type Customer struct {
	Reference string // the caller's own name for the customer
	Name      string
	Email     string
	Phone     string
	Address   string // lines
}

// Quote is an offer as it stands now.
type Quote struct {
	ID         string
	Number     int64 // for people
	Status     quote.Status
	Origin     Origin
	Reference  string
	ExternalID string            // another system's name for it, of no other offer; empty: none
	Metadata   map[string]string // what another system keeps with it
	Customer   Customer
	Note       string
	Terms      string
	ValidUntil catalogue.Date
	Revision   int   // the newest
	Version    int64 // counts every change, for ETags
	CreatedAt  time.Time
	CreatedBy  string
	UpdatedAt  time.Time
	Species    []string
	Currency   string
	Cost       money.Amount
	Net        money.Amount
	Total      money.Amount

	CheckedRevision int64 // catalogue revision and shop's day by which the cost was last worked out
	CheckedDay      catalogue.Date
	CostNow         *money.Amount // nil: as it was offered
	Moved           *money.Rate   // percent; nil: not at all
	CheckFailed     *string

	unreadable bool // an amount is none
}

// Revision is one frozen state of an offer's request and answer.
type Revision struct {
	Quote             string
	Number            int
	Why               Why
	Request           string // JSON, to the letter
	Answer            string // JSON, to the letter
	CatalogueRevision int64
	PricedAsOf        catalogue.Date
	CreatedAt         time.Time
	CreatedBy         string
	Cost              money.Amount
	Net               money.Amount
	Total             money.Amount
}

// Event is what somebody outside may want to hear of.
type Event struct {
	ID   string
	Kind string
	Data json.RawMessage
}

// Origin is where an offer comes from.
type Origin string

// The origins.
const (
	FromShop Origin = "shop"
	FromForm Origin = "order_form"
)

// Why is the reason of a revision.
type Why string

// The reasons.
const (
	Created  Why = "created"
	Revised  Why = "revised"
	Repriced Why = "repriced"
)

// insertQuote writes an offer, its first revision, its event and its entry in the audit trail in one statement: one round
// trip, one transaction. The event is put in as emit_event does, but not by it: planning what stands in that function took half of the
// statement's time.
const insertQuote = `
WITH written AS (
  INSERT INTO quote (id, status, origin, reference, customer_reference, customer_name, customer_email, customer_phone, customer_address, note, terms,
                     valid_until, revision, created_at, created_by, updated_at, species, currency, cost, net, total, checked_revision, checked_day,
                     external_id, metadata)
  VALUES ($1, 'draft', $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, 1, $12, $13, $12, $14, $15, $16, $17, $18, $19, $20, $25, $26::jsonb)
  ON CONFLICT (external_id) WHERE external_id <> '' DO NOTHING
  RETURNING number
), frozen AS (
  INSERT INTO quote_revision (quote, number, why, request, answer, catalogue_revision, priced_as_of, created_at, created_by, cost, net, total)
  SELECT $1, 1, 'created', $21, $22, $19, $20, $12, $13, $16, $17, $18 FROM written
), noted AS (
  INSERT INTO audit_entry (at, actor, entity, code, action, after, revision)
  SELECT clock_timestamp(), $13, 'quotes', $1, 'create', ($27::jsonb || jsonb_build_object('number', w.number))::json, r.revision
  FROM written w, catalogue_revision r
), happened AS (
  INSERT INTO event (id, kind, subject, data, created_at, dispatched_at)
  SELECT $23::text, 'quote.created', $1, $24::jsonb || jsonb_build_object('number', number), $12,
         CASE WHEN EXISTS (SELECT FROM webhook_endpoint e WHERE e.enabled AND (e.kinds = '{}' OR 'quote.created' = ANY (e.kinds))) THEN NULL ELSE $12 END
  FROM written
)
SELECT number FROM written`

// Add keeps a new offer with its first revision, and fills in its number. It fails with a Fault of the kind Conflict when
// another offer has its external id.
func (s *Store) Add(ctx context.Context, q *Quote, r *Revision, e Event) error {
	c := &q.Customer
	first, err := json.Marshal(trace(q, What(Created)))
	if err != nil {
		return err
	}
	metadata, err := metadataText(q.Metadata)
	if err != nil {
		return err
	}
	err = s.db.On(ctx).QueryRow(ctx, insertQuote, q.ID, q.Origin, q.Reference, c.Reference, c.Name, c.Email, c.Phone,
		c.Address, q.Note, q.Terms,
		string(q.ValidUntil), q.CreatedAt, q.CreatedBy, q.Species, q.Currency, q.Cost.String(), q.Net.String(),
		q.Total.String(), r.CatalogueRevision, string(r.PricedAsOf),
		r.Request, r.Answer, e.ID, string(e.Data), q.ExternalID, metadata, string(first)).Scan(&q.Number)
	if errors.Is(err, pgx.ErrNoRows) {
		return otherHas(ctx, s.db.On(ctx), q.ExternalID, q.ID)
	}
	return db.Fault(ctx, err)
}

const quoteColumns = `
SELECT id, number, status, origin, reference, customer_reference, customer_name, customer_email, customer_phone, customer_address, note, terms,
       valid_until::text, revision, version, created_at, created_by, updated_at, species, currency, cost::text, net::text, total::text,
       checked_revision, checked_day::text, cost_now::text, moved::text, check_failed, external_id, metadata
FROM quote`

func scanQuote(row pgx.CollectableRow) (q Quote, err error) {
	c := &q.Customer
	var cost, net, total string
	var now, moved *string
	err = row.Scan(&q.ID, &q.Number, &q.Status, &q.Origin, &q.Reference, &c.Reference, &c.Name, &c.Email, &c.Phone,
		&c.Address, &q.Note, &q.Terms,
		&q.ValidUntil, &q.Revision, &q.Version, &q.CreatedAt, &q.CreatedBy, &q.UpdatedAt, &q.Species, &q.Currency, &cost,
		&net, &total,
		&q.CheckedRevision, &q.CheckedDay, &now, &moved, &q.CheckFailed, &q.ExternalID, &q.Metadata)
	if err != nil {
		return q, err
	}
	if len(q.Metadata) == 0 {
		q.Metadata = nil
	}
	if now != nil {
		q.CostNow = new(money.Amount)
		err = readAmount(q.CostNow, *now)
	}
	if moved != nil && err == nil {
		q.Moved = new(money.Rate)
		err = readKept(q.Moved, *moved, money.ParseRate)
	}
	return q, cmp.Or(err, readAmount(&q.Cost, cost), readAmount(&q.Net, net), readAmount(&q.Total, total))
}

// errAmount says that an amount of the database is none: NUMERIC can hold NaN. As a zero it would make a margin that
// nobody has.
var errAmount = errors.New("a kept amount cannot be read")

func readAmount(into *money.Amount, text string) error {
	return readKept(into, text, money.ParseAmount)
}

func readKept[T any](into *T, text string, parse func(string) (T, error)) (err error) {
	if *into, err = parse(text); err != nil {
		return fmt.Errorf("%w: %w", errAmount, err)
	}
	return nil
}

// textOf is an amount or a rate for the database; null for none.
func textOf[T fmt.Stringer](a *T) *string {
	if a == nil {
		return nil
	}
	text := (*a).String()
	return &text
}

func noQuote() error {
	return &fault.Fault{Kind: fault.NotFound, Detail: "There is no quote with that id."}
}

// Quote returns one offer, or a Fault of the kind NotFound.
func (s *Store) Quote(ctx context.Context, id string) (Quote, error) {
	rows, _ := s.db.On(ctx).Query(ctx, quoteColumns+` WHERE id = $1`, id) // a failed Query is reported by the collector
	return oneQuote(ctx, rows)
}

func oneQuote(ctx context.Context, rows pgx.Rows) (Quote, error) {
	q, err := pgx.CollectExactlyOneRow(rows, scanQuote)
	if errors.Is(err, pgx.ErrNoRows) {
		return q, noQuote()
	}
	return q, db.Fault(ctx, err)
}

const revisionColumns = `
SELECT quote, number, why, request, answer, catalogue_revision, priced_as_of::text, created_at, created_by, cost::text, net::text, total::text
FROM quote_revision`

// Revision returns one revision of an offer (0: the newest), or a Fault of the kind NotFound.
func (s *Store) Revision(ctx context.Context, id string, number int) (Revision, error) {
	return db.One(ctx, s.db.On(ctx), scanRevision, "There is no such revision of a quote.",
		revisionColumns+` WHERE quote = $1 AND ($2 = 0 OR number = $2) ORDER BY number DESC LIMIT 1`, id, number)
}

func scanRevision(row pgx.CollectableRow) (r Revision, err error) {
	var cost, net, total string
	err = row.Scan(&r.Quote, &r.Number, &r.Why, &r.Request, &r.Answer, &r.CatalogueRevision, &r.PricedAsOf, &r.CreatedAt,
		&r.CreatedBy, &cost, &net, &total)
	if err != nil {
		return r, err
	}
	return r, cmp.Or(readAmount(&r.Cost, cost), readAmount(&r.Net, net), readAmount(&r.Total, total))
}

const selectRevisions = `
SELECT quote, number, why, '' AS request, '' AS answer, catalogue_revision, priced_as_of::text, created_at, created_by, cost::text, net::text, total::text
FROM quote_revision
WHERE quote = $1 AND number > $2
ORDER BY number
LIMIT $3`

// Revisions lists the revisions of an offer, without request and answer, from the one after the number given.
func (s *Store) Revisions(ctx context.Context, id string, after, limit int) ([]Revision, error) {
	return db.All(ctx, s.db.On(ctx), scanRevision, selectRevisions, id, after, limit)
}

// Move is one change of an offer's status.
type Move struct {
	Number int64
	At     time.Time
	Actor  string
	Before quote.Status
	After  quote.Status
	Note   string
}

// Moves lists an offer's changes of status, oldest first.
func (s *Store) Moves(ctx context.Context, id string) ([]Move, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Move],
		`SELECT number, at, actor, before, after, note FROM quote_move WHERE quote = $1 ORDER BY number LIMIT 1000`, id)
}
