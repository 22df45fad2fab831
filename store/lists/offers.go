package lists

import (
	"context"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Offers says how the open offers stand since a list was applied.
type Offers struct {
	Checked   int64 // worked out anew by a catalogue that has the list
	Unchecked int64 // still to be
	// of the checked ones: whose cost moved to the setting quote_drift_limit or beyond since they were offered
	Drifted int64
	First   []Offer // those that moved most, at most a hundred
}

// Offer is an open offer that drifted. Whoever may write prices need not see costs, margins and customers: those
// are read with the quote.
type Offer struct {
	Quote  string
	Number int64
	Moved  string // percent
}

const countOffers = `
SELECT count(*) FILTER (WHERE checked_revision >= $1), count(*) FILTER (WHERE checked_revision < $1)
FROM quote
WHERE status IN ('draft', 'sent')`

const driftedOffers = `
FROM quote
WHERE status IN ('draft', 'sent') AND checked_revision >= $1 AND moved IS NOT NULL
  AND abs(moved) >= (SELECT value::numeric FROM setting WHERE key = 'quote_drift_limit')`

const selectOffers = `SELECT id, number, moved::text` + driftedOffers + ` ORDER BY abs(moved) DESC, number LIMIT 100`

// offersSince tells how the open offers stand by the catalogue of a revision and later ones.
func offersSince(ctx context.Context, on db.Reader, revision int64) (*Offers, error) {
	o := &Offers{}
	if err := on.QueryRow(ctx, countOffers, revision).Scan(&o.Checked, &o.Unchecked); err != nil || o.Checked == 0 {
		return o, err
	}
	if err := on.QueryRow(ctx, `SELECT count(*)`+driftedOffers, revision).Scan(&o.Drifted); err != nil || o.Drifted == 0 {
		return o, err
	}
	rows, _ := on.Query(ctx, selectOffers, revision) // a failed Query is reported by the collector
	var err error
	o.First, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Offer])
	return o, err
}
