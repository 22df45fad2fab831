package store_test

import (
	"context"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/storetest"
)

const trial = `CREATE TEMP TABLE trial (code entity_code NOT NULL, size numeric, many integer NOT NULL DEFAULT 7, lengths float8[], note text NOT NULL DEFAULT '')`

// copied puts a file into the table trial and gives its rows back as texts.
func copied(t *testing.T, conn *pgx.Conn, text string) (rows []string, err error) {
	t.Helper()
	tx, err := conn.Begin(context.Background())
	require.NoError(t, err)
	defer func() { require.NoError(t, tx.Rollback(context.Background())) }()
	if err := store.CopyRows(context.Background(), tx, "trial", []byte(text)); err != nil {
		return nil, err
	}
	found, err := tx.Query(context.Background(), `SELECT row(trial.*)::text FROM trial ORDER BY code`)
	require.NoError(t, err)
	return pgx.CollectRows(found, pgx.RowTo[string])
}

func TestASeedFileMayHaveCommentsEmptyCellsAndFewerColumns(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	storetest.Exec(t, conn, trial)
	rows, err := copied(t, conn, "# where it is from\n# more\nnote,code,size,lengths\n\"x, #y\",a,,\"{1,2.5}\"\n,b,1.50,\n")
	require.NoError(t, err)
	require.Equal(t, []string{`(a,,7,"{1,2.5}","x, #y")`, `(b,1.50,7,,"")`}, rows)
	for text, says := range map[string]string{
		"code,weight\na,1\n":    `column "weight" of relation "trial" does not exist`,
		"code,code\na,a\n":      `column "code" specified more than once`,
		"code,size\na\n":        `missing data for column "size"`,
		"code,size\n,1\n":       `value for domain entity_code violates check constraint`,
		"code,size\na ,1\n":     `value for domain entity_code violates check constraint`,
		"code,many\na,1\nb,\n":  `invalid input syntax for type integer: ""`,
		"code,size\na,1o\n":     `invalid input syntax for type numeric: "1o"`,
		"code,lengths\na,1 2\n": `malformed array literal: "1 2"`,
		"":                      `zero-length delimited identifier`,
	} {
		_, err := copied(t, conn, text)
		require.ErrorContains(t, err, says)
	}
}

// Every file belongs to a table, each says where its data is from, and the demo catalogue has all of its rows.
func TestEverySeedFileIsRead(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	files, err := fs.Glob(store.SeedFiles(), "*.csv")
	require.NoError(t, err)
	names := make([]string, len(store.SeedTables))
	for i, table := range store.SeedTables {
		names[i] = table + ".csv"
	}
	require.ElementsMatch(t, files, names)
	for _, table := range store.SeedTables {
		raw, err := fs.ReadFile(store.SeedFiles(), table+".csv")
		require.NoError(t, err)
		lines := strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n")
		first := slices.IndexFunc(lines, func(l string) bool { return !strings.HasPrefix(l, "#") })
		require.Positive(t, first, "%s: the head says where the data is from", table)
		require.Regexp(t, `(?i)source|invented|common practice|handbook`, strings.Join(lines[:first], "\n"), table)
		require.NotContains(t, strings.Join(lines[first:], "\n"), "\n#", "%s: comments stand at the head", table)
		require.Equal(t, len(lines)-first-1, storetest.One[int](t, conn, "SELECT count(*) FROM "+table), table)
	}
}

func TestFingerprintIsShortAndSteady(t *testing.T) {
	t.Parallel()
	require.Regexp(t, `^[0-9a-f]{16}$`, store.Fingerprint())
	first := store.Fingerprint()
	require.Equal(t, first, store.Fingerprint())
}
