package store_test

import (
	"context"
	"strconv"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

func TestEveryCatalogueTableRaisesTheRevision(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	rows, _ := conn.Query(context.Background(), `
		SELECT c.relname::text FROM pg_class c
		WHERE c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace
		  AND c.relname NOT IN ('catalogue_revision', 'catalogue_touch', 'seeding', 'goose_db_version', 'audit_entry')
		  AND c.relname !~ '^(price_update|price_decision|price_latest|supplier_article|event|access_|quote|idempotency|webhook|letterhead_|river_|order_)'`)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Len(t, tables, 21)
	for _, table := range tables {
		before := storetest.Revision(t, conn)
		storetest.Exec(t, conn, "DELETE FROM "+pgx.Identifier{table}.Sanitize()+" WHERE false")
		require.Equal(t, before+1, storetest.Revision(t, conn), table)
		if table == "species_property" {
			storetest.Exec(t, conn, "TRUNCATE species_property")
			require.Equal(t, before+2, storetest.Revision(t, conn), "truncate")
		}
	}
}

func TestATransactionRaisesTheRevisionOnceAtItsCommit(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	storetest.Exec(t, conn, "LISTEN catalogue")
	before := storetest.Revision(t, conn)
	err := pgx.BeginFunc(context.Background(), conn, func(tx pgx.Tx) error {
		for range 3 {
			if _, err := tx.Exec(context.Background(), `UPDATE species SET name = name || '.' WHERE code = 'teak'`); err != nil {
				return err
			}
		}
		require.Equal(t, before, storetest.Revision(t, conn), "not yet")
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, before+1, storetest.Revision(t, conn))
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM catalogue_touch`), "no mark is left")
	require.Equal(t, int64(4), storetest.One[int64](t, conn, `SELECT version FROM species WHERE code = 'teak'`),
		"a version for each change")
	n, err := conn.WaitForNotification(context.Background())
	require.NoError(t, err)
	require.Equal(t, strconv.FormatInt(before+1, 10), n.Payload)
}

func TestAWriterLearnsItsRevisionBeforeItCommits(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	before := storetest.Revision(t, conn)
	storetest.Exec(t, conn, "BEGIN")
	storetest.Exec(t, conn, `UPDATE species SET name = 'x' WHERE code = 'teak'`)
	storetest.Exec(t, conn, "SET CONSTRAINTS catalogue_revision_rises IMMEDIATE")
	require.Equal(t, before+1, storetest.Revision(t, conn))
	storetest.Exec(t, conn, "COMMIT")
	require.Equal(t, before+1, storetest.Revision(t, conn))
}

func TestARolledBackChangeDoesNotRaiseTheRevision(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	before := storetest.Revision(t, conn)
	storetest.Exec(t, conn, "BEGIN")
	storetest.Exec(t, conn, "SAVEPOINT part")
	storetest.Exec(t, conn, `DELETE FROM price WHERE item = 'biscuit_0'`)
	storetest.Exec(t, conn, "ROLLBACK TO part")
	storetest.Exec(t, conn, "COMMIT")
	require.Equal(t, before, storetest.Revision(t, conn))
}

// A long transaction that has already written must not hold up a short one that writes elsewhere.
func TestWritersDoNotWaitForEachOther(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	long, short, watcher := storetest.Dial(t, url), storetest.Dial(t, url), storetest.Dial(t, url)
	storetest.Exec(t, long, "BEGIN")
	storetest.Exec(t, long, `UPDATE species SET name = 'x' WHERE code = 'teak'`)
	done := make(chan error, 1)
	go func() {
		_, err := short.Exec(context.Background(), `UPDATE species SET name = 'y' WHERE code = 'sapele'`)
		done <- err
	}()
	for written := false; !written; {
		select {
		case err := <-done:
			require.NoError(t, err)
			written = true
		default:
			require.False(t, storetest.One[bool](t, watcher, `SELECT $1 = ANY (pg_blocking_pids($2))`,
				int32(long.PgConn().PID()), int32(short.PgConn().PID())), "it waits for the long one")
		}
	}
	revision := storetest.Revision(t, short)
	storetest.Exec(t, long, "COMMIT")
	require.Equal(t, revision+1, storetest.Revision(t, short))
}
