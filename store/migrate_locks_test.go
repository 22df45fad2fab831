package store_test

import (
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/storetest"
)

// lastOfRelease is the last step of the release before this one (c4a4bee): what is older is not run beside another version any more.
const lastOfRelease = 28

// beside are steps that lock two tables, and why that is borne. A step that is listed and does not is a mistake, too.
var beside = map[int]string{
	34: onlyEdits, // known steps and sundries
	36: onlyEdits,
	41: onlyEdits,
	44: onlyEdits, // and fasteners with their items
}

// onlyEdits: calls write these tables by edits of the catalogue alone, which are few; a step gives up before the database looks for
// a circle with one, and comes again.
const onlyEdits = "parts of the catalogue, which edits alone write"

// A step that locks two tables can meet a caller that has one of them and wants the other: a circle, which the database breaks by
// failing one of the two. So each step is run here in a transaction of its own, and the tables that were there before and that it
// keeps others from writing are counted.
func TestAMigrationsStepLocksOneTable(t *testing.T) {
	t.Parallel()
	conn := storetest.Dial(t, empty(t))
	files, err := fs.Glob(store.MigrationFiles(), "*.sql")
	require.NoError(t, err)
	slices.Sort(files)
	require.Greater(t, len(files), 30)
	locking := 0
	for _, file := range files {
		raw, err := fs.ReadFile(store.MigrationFiles(), file)
		require.NoError(t, err)
		number, err := strconv.Atoi(file[:4])
		require.NoError(t, err)
		text, _, _ := strings.Cut(string(raw), "-- +goose Down")
		if strings.Contains(text, "-- +goose NO TRANSACTION") {
			plain := comments.ReplaceAllString(text, "")
			require.Empty(t, strings.TrimSpace(concurrently.ReplaceAllString(plain, "")), "%s: what has no transaction makes indexes concurrently, a statement each, and nothing else", file)
			for _, statement := range concurrently.FindAllString(plain, -1) {
				storetest.Exec(t, conn, statement)
			}
			continue
		}
		locked := locksOf(t, conn, text)
		if number <= lastOfRelease {
			continue
		}
		if len(locked) > 0 {
			locking++
		}
		if why := beside[number]; why != "" {
			require.Greater(t, len(locked), 1, "%s: the exception is not needed", file)
			continue
		}
		assert.LessOrEqual(t, len(locked), 1, "%s locks %s: a step for each, please", file, strings.Join(locked, " and "))
	}
	require.Greater(t, locking, 3, "some steps lock a table, or this test sees nothing")
	require.Len(t, locksOf(t, conn, `CREATE TABLE seen (quote text REFERENCES quote (id), key text REFERENCES access_key (id))`), 2,
		"two foreign keys are two locks")
}

var (
	comments     = regexp.MustCompile(`(?m)--.*$`)
	concurrently = regexp.MustCompile(`(?s)(?:CREATE (?:UNIQUE )?|DROP )INDEX CONCURRENTLY[^;]*;|DROP INDEX IF EXISTS [a-z_]+;`) // one that was left half made
)

// locksOf runs a step and tells which tables of before it keeps others from writing, or from reading.
func locksOf(t *testing.T, conn *pgx.Conn, step string) []string {
	t.Helper()
	before := storetest.One[[]uint32](t, conn, `SELECT coalesce(array_agg(oid), '{}') FROM pg_class WHERE relkind IN ('r', 'p') AND relnamespace = 'public'::regnamespace`)
	tx, err := conn.Begin(t.Context())
	require.NoError(t, err)
	_, err = tx.Exec(t.Context(), step, pgx.QueryExecModeSimpleProtocol)
	require.NoError(t, err, "%.200s", step)
	rows, err := tx.Query(t.Context(), `
SELECT DISTINCT relation::regclass::text FROM pg_locks
WHERE pid = pg_backend_pid() AND locktype = 'relation' AND relation = ANY ($1)
  AND mode IN ('ShareLock', 'ShareRowExclusiveLock', 'ExclusiveLock', 'AccessExclusiveLock')
ORDER BY 1`, before)
	require.NoError(t, err)
	locked, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.NoError(t, tx.Commit(t.Context()))
	return locked
}
