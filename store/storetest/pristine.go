package storetest

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

const (
	pristinePrefix = "pristine_"
	keptFor        = 24 * time.Hour // a failed test's database on a private server
	emptyPatience  = 5 * time.Second
	// lockKey of the advisory lock under which the pristine database is made: "pristine" in ASCII.
	lockKey = 0x7072697374696e65
)

const (
	lockPristine   = `SELECT pg_advisory_lock($1)`
	databaseExists = `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`
	listDatabases  = `SELECT datname::text FROM pg_database WHERE NOT datistemplate ORDER BY datname`
	countClients   = `
SELECT count(*)
FROM pg_stat_activity
WHERE datname = $1 AND backend_type = 'client backend'`
)

// ensurePristine makes the pristine database of that fingerprint unless it is there. Test processes
// on a common server wait for each other.
func (c *cluster) ensurePristine(ctx context.Context, fingerprint string,
	prepare func(context.Context, string) error) (err error) {
	c.pristine = pristinePrefix + fingerprint[:min(len(fingerprint), 32)]
	// Not one of the pool: those who wait for the lock would leave none for the one who has it.
	conn, err := pgx.ConnectConfig(ctx, c.pool.Config().ConnConfig)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, conn.Close(ctx)) }() // which frees the lock
	if _, err := conn.Exec(ctx, lockPristine, lockKey); err != nil {
		return err
	}
	var exists bool
	if err := conn.QueryRow(ctx, databaseExists, c.pristine).Scan(&exists); err != nil {
		return err
	}
	if c.private != "" {
		if err := c.dropOld(ctx, time.Now()); err != nil {
			return err
		}
	}
	if exists {
		return nil
	}
	if err := c.makePristine(ctx, conn, prepare); err != nil {
		return fmt.Errorf("make the pristine database: %w", err)
	}
	return nil
}

// makePristine makes it under another name, renamed when whole. It takes no connections after that,
// since a database in use cannot be cloned.
func (c *cluster) makePristine(ctx context.Context, conn *pgx.Conn, prepare func(context.Context, string) error) error {
	building := c.pristine + "_building"
	if err := c.drop(ctx, building); err != nil {
		return err
	}
	if err := c.create(ctx, building, ""); err != nil {
		return err
	}
	if err := prepare(ctx, c.url(building)); err != nil {
		return err
	}
	if err := awaitEmpty(ctx, conn, building); err != nil {
		return err
	}
	name := pgx.Identifier{building}.Sanitize()
	if _, err := conn.Exec(ctx, "ALTER DATABASE "+name+" ALLOW_CONNECTIONS false"); err != nil {
		return err
	}
	_, err := conn.Exec(ctx, "ALTER DATABASE "+name+" RENAME TO "+pgx.Identifier{c.pristine}.Sanitize())
	return err
}

// awaitEmpty waits until the connections to a database, closed at their clients' end, are gone.
func awaitEmpty(ctx context.Context, conn *pgx.Conn, database string) error {
	for began := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		var clients int
		if err := conn.QueryRow(ctx, countClients, database).Scan(&clients); err != nil {
			return err
		}
		if clients == 0 {
			return nil
		}
		if time.Since(began) > emptyPatience {
			return fmt.Errorf("%d connections were left open on it", clients)
		}
	}
}

// dropOld removes from a private server what nobody will clone or look at any more: pristine databases
// of other fingerprints, and test databases older than a day.
func (c *cluster) dropOld(ctx context.Context, now time.Time) error {
	if err := c.dropTests(ctx, now); err != nil {
		return err
	}
	return c.dropWhere(ctx, func(name string) bool {
		return strings.HasPrefix(name, pristinePrefix) && name != c.pristine
	})
}

func (c *cluster) dropTests(ctx context.Context, now time.Time) error {
	return c.dropWhere(ctx, func(name string) bool {
		made, ok := madeAt(name)
		return ok && now.Sub(made) > keptFor
	})
}

func (c *cluster) dropWhere(ctx context.Context, old func(name string) bool) error {
	rows, _ := c.pool.Query(ctx, listDatabases) // a failed Query is reported by the collector
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	for _, name := range names {
		if !old(name) {
			continue
		}
		if err := c.drop(ctx, name); err != nil {
			return fmt.Errorf("drop the old %s: %w", name, err)
		}
	}
	return nil
}
