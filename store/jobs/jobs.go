// Package jobs keeps what finished jobs took, and which proposals that came of it were dismissed.
package jobs

import (
	"context"
	"encoding/json"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/store/db"
)

// Store is the reports of finished jobs in an open database.
type Store struct{ db *db.DB }

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d} }

// Report is what a finished job took.
type Report struct {
	Quote      string // id
	Revision   int
	Finished   catalogue.Date
	Note       string
	Steps      []Step
	Materials  []Material
	Defects    []string
	ReportedAt time.Time
	ReportedBy string

	Catalogue int64 // revision of the catalogue by which it was estimated, where it is read
}

// Step is the minutes of a step beside those estimated, which are kept as they were.
type Step struct {
	Code      string  `json:"code"`
	Estimated float64 `json:"estimated"`
	Deviation float64 `json:"deviation"`
	Minutes   float64 `json:"minutes"`

	// What scaled the estimate; not in reports of before it was kept.
	Hardness   float64 `json:"hardness,omitempty"`   // of the wood, N
	Running    float64 `json:"running,omitempty"`    // share of the estimate that it scales
	Experience string  `json:"experience,omitempty"` // of the maker
}

// Material is what was used of an item, and what was paid for it; texts are decimals.
type Material struct {
	Item      string `json:"item"`
	Estimated string `json:"estimated"` // amount in the bill; empty: it was not in it
	Paid      string `json:"paid"`
	Used      string `json:"used"`             // in the item's unit; empty: not told
	Bought    string `json:"bought,omitempty"` // the same: what was paid for

	// What the estimate said, where its bill has the item in one line; not in reports of before it was kept.
	Buy       string         `json:"buy,omitempty"`        // in the item's unit
	Pack      string         `json:"pack,omitempty"`       // content of a pack
	Price     string         `json:"price,omitempty"`      // of a pack
	Supplier  string         `json:"supplier,omitempty"`   // whose price it is
	ValidFrom catalogue.Date `json:"valid_from,omitempty"` // its first day

	// Of lumber.
	Net     float64 `json:"net,omitempty"`      // board feet of the staves, without waste
	ByYield bool    `json:"by_yield,omitempty"` // the yield decided what was to be bought, not the lengths of the boards
}

const putReport = `
INSERT INTO quote_actual (quote, revision, finished, note, steps, materials, defects, reported_at, reported_by)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)
ON CONFLICT (quote) DO UPDATE SET revision = excluded.revision, finished = excluded.finished, note = excluded.note, steps = excluded.steps,
  materials = excluded.materials, defects = excluded.defects, reported_at = excluded.reported_at, reported_by = excluded.reported_by`

// Put keeps reports, each in the place of the offer's former one: all of them or none.
func (s *Store) Put(ctx context.Context, reports ...*Report) error {
	return db.Fault(ctx, pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		for _, r := range reports {
			steps, noSteps := json.Marshal(orNone(r.Steps))
			materials, err := json.Marshal(orNone(r.Materials))
			if err == nil {
				err = noSteps
			}
			if err == nil {
				_, err = tx.Exec(
					ctx,
					putReport,
					r.Quote,
					r.Revision,
					string(r.Finished),
					r.Note,
					string(steps),
					string(materials),
					orNone(r.Defects),
					r.ReportedAt,
					r.ReportedBy,
				)
			}
			if err != nil {
				return err
			}
		}
		return nil
	}))
}

// orNone is a list that is empty rather than nil.
func orNone[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

const reportColumns = `
SELECT a.quote, a.revision, a.finished::text, a.note, a.steps::text, a.materials::text, a.defects, a.reported_at, a.reported_by,
  r.catalogue_revision
FROM quote_actual a JOIN quote_revision r ON r.quote = a.quote AND r.number = a.revision`

// Report is an offer's report; a Fault of the kind NotFound when there is none.
func (s *Store) Report(ctx context.Context, quote string) (Report, error) {
	return db.One(
		ctx,
		s.db.On(ctx),
		scanReport,
		"There is no report of what this job took.",
		reportColumns+` WHERE a.quote = $1`,
		quote,
	)
}

// Reports are those of jobs finished on a day or later (empty: all), oldest first, the newest most.
func (s *Store) Reports(ctx context.Context, since catalogue.Date, most int) ([]Report, error) {
	if since == "" {
		since = "0001-01-01"
	}
	return db.All(ctx, s.db.On(ctx), scanReport, `SELECT * FROM (`+reportColumns+`
WHERE a.finished >= $1 ORDER BY a.finished DESC, a.quote LIMIT $2) newest ORDER BY finished, quote`, string(since), most)
}

func scanReport(row pgx.CollectableRow) (r Report, err error) {
	var steps, materials string
	err = row.Scan(
		&r.Quote,
		&r.Revision,
		&r.Finished,
		&r.Note,
		&steps,
		&materials,
		&r.Defects,
		&r.ReportedAt,
		&r.ReportedBy,
		&r.Catalogue,
	)
	if err == nil {
		err = json.Unmarshal([]byte(steps), &r.Steps)
	}
	if err == nil {
		err = json.Unmarshal([]byte(materials), &r.Materials)
	}
	return r, err
}

// Change is a change of a labour standard's minutes, as the trail of the catalogue tells it.
type Change struct {
	Code     string
	Revision int64 // of the catalogue with the change
	Before   Minutes
	After    Minutes
}

// Minutes are those of a labour standard: once, and for each unit of its driver.
type Minutes struct{ Setup, Each catalogue.Spread }

// selectChanges reads minutes as they are written in the trail, as texts or as numbers.
const selectChanges = `
SELECT code, revision,
  (before->>'setup_low')::float8, (before->>'setup_likely')::float8, (before->>'setup_high')::float8, (before->>'each_low')::float8, (before->>'each_likely')::float8, (before->>'each_high')::float8,
  (after->>'setup_low')::float8, (after->>'setup_likely')::float8, (after->>'setup_high')::float8, (after->>'each_low')::float8, (after->>'each_likely')::float8, (after->>'each_high')::float8
FROM audit_entry
WHERE entity = 'labour-standards' AND before IS NOT NULL AND after IS NOT NULL
ORDER BY number`

// Changes are those of the labour standards, in the order in which they were made.
func (s *Store) Changes(ctx context.Context) ([]Change, error) {
	return db.All(ctx, s.db.On(ctx), func(row pgx.CollectableRow) (c Change, err error) {
		b, a := &c.Before, &c.After
		err = row.Scan(&c.Code, &c.Revision,
			&b.Setup.Low, &b.Setup.Likely, &b.Setup.High, &b.Each.Low, &b.Each.Likely, &b.Each.High,
			&a.Setup.Low, &a.Setup.Likely, &a.Setup.High, &a.Each.Low, &a.Each.Likely, &a.Each.High)
		return c, err
	}, selectChanges)
}

// SettingChange is a change of a number among the settings, as the trail of the catalogue tells it.
type SettingChange struct {
	Key      string
	Revision int64 // of the catalogue with the change
	Before   float64
	After    float64
}

const selectSettingChanges = `
SELECT code, revision, (before->>'value')::float8, (after->>'value')::float8
FROM audit_entry
WHERE entity = 'settings' AND code = ANY($1) AND before IS NOT NULL AND after IS NOT NULL
ORDER BY number`

// SettingChanges are those of some settings, all of them numbers, in the order in which they were made.
func (s *Store) SettingChanges(ctx context.Context, keys []string) ([]SettingChange, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[SettingChange], selectSettingChanges, keys)
}

// Forget empties the note of an offer's report, which may name a customer.
func (s *Store) Forget(ctx context.Context, quote string) error {
	_, err := s.db.On(ctx).Exec(ctx, `UPDATE quote_actual SET note = '' WHERE quote = $1`, quote)
	return db.Fault(ctx, err)
}

// Dismissal is a proposal that the shop does not want.
type Dismissal struct {
	Code string
	Jobs int // that told of it then
	At   time.Time
	By   string
}

// Dismissals lists them by code.
func (s *Store) Dismissals(ctx context.Context) ([]Dismissal, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Dismissal],
		`SELECT code, jobs, dismissed_at, dismissed_by FROM quote_learning_dismissal ORDER BY code`)
}

// Dismiss notes that a proposal is not wanted.
func (s *Store) Dismiss(ctx context.Context, d *Dismissal) error {
	_, err := s.db.On(ctx).Exec(ctx, `
INSERT INTO quote_learning_dismissal (code, jobs, dismissed_at, dismissed_by) VALUES ($1, $2, $3, $4)
ON CONFLICT (code) DO UPDATE SET jobs = excluded.jobs, dismissed_at = excluded.dismissed_at, dismissed_by = excluded.dismissed_by`,
		d.Code, d.Jobs, d.At, d.By)
	return db.Fault(ctx, err)
}
