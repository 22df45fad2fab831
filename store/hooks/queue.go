package hooks

import (
	"context"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"

	"seamwright/store/db"
)

const (
	// queueSchema holds the queue's own tables, apart from ours.
	queueSchema = "river"
	// queueLock is the advisory lock under which the queue's tables are migrated: any number that nobody else takes.
	queueLock = 7_346_120_815
)

// jobQueue puts jobs into PostgreSQL, in the transaction that makes them necessary.
type jobQueue = river.Client[pgx.Tx]

// newQueue makes a client that only inserts; see Store.Run for the one that works.
func newQueue(d *db.DB) (*jobQueue, error) {
	return river.NewClient(riverpgxv5.New(d.Pool), &river.Config{Schema: queueSchema, Logger: queueLog(d.Log),
		Test: river.TestConfig{Time: insertTime{queueTime{d}}}})
}

// queueLog lets the queue speak of trouble only.
func queueLog(log *slog.Logger) *slog.Logger {
	if log == nil {
		return slog.New(slog.DiscardHandler)
	}
	return slog.New(onlyTrouble{log.Handler()})
}

type onlyTrouble struct{ slog.Handler }

func (h onlyTrouble) Enabled(ctx context.Context, l slog.Level) bool {
	return l >= slog.LevelWarn && h.Handler.Enabled(ctx, l)
}

func (h onlyTrouble) WithAttrs(list []slog.Attr) slog.Handler {
	return onlyTrouble{h.Handler.WithAttrs(list)}
}
func (h onlyTrouble) WithGroup(name string) slog.Handler {
	return onlyTrouble{h.Handler.WithGroup(name)}
}

// QueueSteps are the migrations of the queue's tables.
func QueueSteps() []rivermigrate.Migration {
	m, err := queueMigrator(nil)
	if err != nil {
		panic("the queue's migrations cannot be read: " + err.Error()) // they are part of the program
	}
	return m.AllVersions()
}

func queueMigrator(pool *pgxpool.Pool) (*rivermigrate.Migrator[pgx.Tx], error) {
	return rivermigrate.New(riverpgxv5.New(pool), &rivermigrate.Config{Schema: queueSchema,
		Logger: slog.New(slog.DiscardHandler)})
}

// MigrateQueue brings the queue's tables up to date. Its steps cannot share one transaction (a value of an enum that a
// step adds is used by the next), so that the lock which keeps other programs out is held on a connection of its own.
func MigrateQueue(ctx context.Context, config *pgxpool.Config) error {
	lock, err := db.Connect(ctx, config.ConnConfig, db.ForMigrating)
	if err != nil {
		return err
	}
	defer db.HangUp(lock) // which frees the lock
	if _, err := lock.Exec(ctx, `SELECT pg_advisory_lock($1)`, int64(queueLock)); err != nil {
		return err
	}
	small := config.Copy()
	small.ConnConfig, small.MaxConns = db.With(config.ConnConfig, db.ForMigrating), 2
	pool, err := pgxpool.NewWithConfig(ctx, small)
	if err != nil {
		return err
	}
	defer pool.Close()
	m, err := queueMigrator(pool)
	if err != nil {
		return err
	}
	_, err = m.Migrate(ctx, rivermigrate.DirectionUp, nil)
	return err
}

// queueTime is the time by which the queue says when a job is to be done. It compares that with the database's time, so that this is
// the database's, too. (The queue calls the place where it takes another clock than the machine's one for tests.)
type queueTime struct{ db *db.DB }

// Now keeps the reading of the clock that only runs, with which the queue measures how long things take.
func (q queueTime) Now() time.Time { return time.Now().Add(q.db.Ahead()) }

// NowOrNil leaves what statements can ask the database for themselves to them.
func (queueTime) NowOrNil() *time.Time { return nil }

// insertTime is the same for a client that inserts: many jobs at once are copied, which no statement gives a time to, so that they would
// be due when this machine's clock says.
type insertTime struct{ queueTime }

// NowOrNil is when a job is made, and due.
func (t insertTime) NowOrNil() *time.Time {
	now := t.db.Now()
	return &now
}

// deliveryJob says which delivery is meant, and which of its rounds.
type deliveryJob struct {
	Delivery int64 `json:"delivery"`
	Round    int   `json:"round"`
}

func (deliveryJob) Kind() string { return "webhook_delivery" }

// InsertOpts: jobs are put off rather than failed, so that the queue's own count of attempts only grows by accidents.
func (deliveryJob) InsertOpts() river.InsertOpts { return river.InsertOpts{MaxAttempts: 1000} }
