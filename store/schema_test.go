package store_test

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// schema.sql is the whole schema on one page, read back from a migrated database.
func TestSchemaPageIsCurrent(t *testing.T) {
	t.Parallel()
	got := readSchema(t, storetest.New(t))
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile("schema.sql", []byte(got), 0o644))
	}
	want, err := os.ReadFile("schema.sql")
	require.NoError(t, err)
	require.Equal(t, string(want), got, "run UPDATE_GOLDEN=1 go test ./store and look at the difference")
}

const schemaHead = `-- The whole schema, read back from a migrated database: what migrations/*.sql amount to.
-- Written by UPDATE_GOLDEN=1 go test ./store; do not edit.
`

func readSchema(t *testing.T, url string) string {
	conn, err := pgx.Connect(context.Background(), url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	var page strings.Builder
	page.WriteString(schemaHead)
	for _, query := range []string{selectDomains, selectTables, selectIndexes, selectFunctions, selectTriggers} {
		rows, _ := conn.Query(context.Background(), query)
		parts, err := pgx.CollectRows(rows, pgx.RowTo[string])
		require.NoError(t, err)
		require.NotEmpty(t, parts)
		fmt.Fprintf(&page, "\n%s\n", strings.Join(parts, "\n"))
	}
	return page.String()
}

const selectDomains = `
SELECT format(E'CREATE DOMAIN %s AS %s%s%s;', t.typname, format_type(t.typbasetype, t.typtypmod),
         (SELECT format(' COLLATE %I', l.collname) FROM pg_collation l WHERE l.oid = t.typcollation AND l.collname <> 'default'),
         (SELECT string_agg(format(E'\n  CONSTRAINT %s %s', c.conname, pg_get_constraintdef(c.oid)), '' ORDER BY c.conname)
          FROM pg_constraint c WHERE c.contypid = t.oid))
       || coalesce(format(E'\nCOMMENT ON DOMAIN %s IS ', t.typname) || quote_literal(obj_description(t.oid, 'pg_type')) || ';', '')
FROM pg_type t
WHERE t.typtype = 'd' AND t.typnamespace = 'public'::regnamespace
ORDER BY t.typname`

const selectTables = `
SELECT format(E'\nCREATE TABLE %s (\n%s\n)%s;', c.relname, concat_ws(E',\n',
         (SELECT string_agg(format('  %s %s%s%s', a.attname, format_type(a.atttypid, a.atttypmod),
                              CASE WHEN a.attnotnull THEN ' NOT NULL' ELSE '' END,
                              coalesce(' DEFAULT ' || pg_get_expr(d.adbin, d.adrelid), '')), E',\n' ORDER BY a.attnum)
          FROM pg_attribute a
          LEFT JOIN pg_attrdef d ON d.adrelid = a.attrelid AND d.adnum = a.attnum
          WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped),
         (SELECT string_agg(format('  CONSTRAINT %s %s', k.conname, pg_get_constraintdef(k.oid)), E',\n' ORDER BY k.contype DESC, k.conname)
          FROM pg_constraint k WHERE k.conrelid = c.oid AND k.contype NOT IN ('t', 'n'))),
         ' WITH (' || array_to_string(c.reloptions, ', ') || ')')
       || coalesce(format(E'\nCOMMENT ON TABLE %s IS ', c.relname) || quote_literal(obj_description(c.oid, 'pg_class')) || ';', '')
       || coalesce((SELECT string_agg(format(E'\nCOMMENT ON COLUMN %s.%s IS %L;', c.relname, a.attname, col_description(c.oid, a.attnum)), '' ORDER BY a.attnum)
                    FROM pg_attribute a
                    WHERE a.attrelid = c.oid AND a.attnum > 0 AND col_description(c.oid, a.attnum) IS NOT NULL), '')
FROM pg_class c
WHERE c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace AND c.relname <> 'goose_db_version'
ORDER BY c.relname`

const selectIndexes = `
SELECT pg_get_indexdef(i.indexrelid) || ';'
FROM pg_index i
JOIN pg_class c ON c.oid = i.indexrelid
JOIN pg_class r ON r.oid = i.indrelid
WHERE c.relnamespace = 'public'::regnamespace AND r.relname <> 'goose_db_version'
  AND NOT EXISTS (SELECT FROM pg_constraint k WHERE k.conindid = i.indexrelid)
ORDER BY c.relname`

const selectFunctions = `
SELECT pg_get_functiondef(p.oid) || ';' || coalesce(format(E'\nCOMMENT ON FUNCTION %s() IS ', p.proname) || quote_literal(obj_description(p.oid, 'pg_proc')) || ';', '')
FROM pg_proc p
WHERE p.pronamespace = 'public'::regnamespace
ORDER BY p.proname`

const selectTriggers = `
SELECT pg_get_triggerdef(t.oid) || ';'
FROM pg_trigger t
JOIN pg_class c ON c.oid = t.tgrelid
WHERE NOT t.tgisinternal AND c.relnamespace = 'public'::regnamespace
ORDER BY c.relname, t.tgname`
