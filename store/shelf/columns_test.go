package shelf_test

import (
	"context"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/sheet"
	"seamwright/store/storetest"
)

// bookkeeping are columns that the database keeps for itself: they count, mark, or say again what a row belongs to.
var bookkeeping = map[string][]string{
	"item": {"version", "retired_at"}, "species": {"version", "retired_at"}, "labour_role": {"version", "retired_at"},
	"labour_standard": {"version", "retired_at"}, "climate_profile": {"version", "retired_at"},
	"place": {"version", "retired_at"}, "tax_region": {"version", "retired_at"},
	"setting":  {"version", "about", "source"}, // the program's own words
	"fastener": {"code", "kind"}, "lumber": {"code", "kind"}, "panel": {"code", "kind"}, "glue": {"code", "kind"},
	"finish": {"code", "kind"}, "sundry": {"code", "kind"},
	"species_property": {"species", "property"}, "labour_standard_after": {"step"}, "item_pack": {"item", "retired_at"},
	"price": {"listed_per"}, // which price lists write
}

// apart compares the list of columns with the tables: what either has and the other lacks, by name.
func apart(t *testing.T, conn *pgx.Conn) (notListed, notThere []string) {
	t.Helper()
	listed := map[string]bool{}
	for table, columns := range bookkeeping {
		for _, c := range columns {
			listed[table+"."+c] = true
		}
	}
	for _, part := range sheet.Parts() {
		for _, c := range part.Columns {
			for _, h := range c.Held {
				require.Contains(t, bookkeeping, h.Table, "%s: %s lies in a table that the test does not know", part.Name, c.Name)
				listed[h.Table+"."+h.In] = true
			}
		}
	}
	tables := make([]string, 0, len(bookkeeping))
	for table := range bookkeeping {
		tables = append(tables, table)
	}
	rows, err := conn.Query(context.Background(), `
SELECT table_name || '.' || column_name FROM information_schema.columns WHERE table_schema = 'public' AND table_name = ANY ($1)`, tables)
	require.NoError(t, err)
	there, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	for _, name := range there {
		if !listed[name] {
			notListed = append(notListed, name)
		}
		delete(listed, name)
	}
	for name := range listed {
		notThere = append(notThere, name)
	}
	slices.Sort(notListed)
	return notListed, notThere
}

// A column of the catalogue is a migration and a line of service/sheet/parts.go: one without the other is named here.
func TestTheListHasEveryColumnOfTheCatalogueAndNoOther(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	notListed, notThere := apart(t, conn)
	require.Empty(t, notListed, "a migration adds these; add their lines in service/sheet/parts.go")
	require.Empty(t, notThere, "service/sheet/parts.go lists these; add them by a migration")

	storetest.Exec(t, conn, `ALTER TABLE fastener ADD COLUMN flange_mm millimetres NOT NULL DEFAULT 0`)
	storetest.Exec(t, conn, `ALTER TABLE finish RENAME COLUMN cure_days TO days_of_cure`)
	notListed, notThere = apart(t, conn)
	require.Equal(t, []string{"fastener.flange_mm", "finish.days_of_cure"}, notListed)
	require.Equal(t, []string{"finish.cure_days"}, notThere)
}
