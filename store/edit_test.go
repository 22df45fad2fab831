package store_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/sheet"
	"seamwright/store"
)

// exported exports a part, by key.
func exported(t testing.TB, s *store.Store, part *sheet.Part) map[string]store.Present {
	t.Helper()
	rows := map[string]store.Present{}
	require.NoError(t, s.Export(context.Background(), part, func(p store.Present) error {
		rows[p.Row.Key()] = p
		return nil
	}))
	return rows
}

// put writes rows as they are given.
func put(s *store.Store, part *sheet.Part, rows ...sheet.Row) (*store.Edited, error) {
	e := store.Edit{Part: part, Actor: "tester"}
	writes := make([]store.Write, len(rows))
	for i, row := range rows {
		e.Keys = append(e.Keys, row.Key())
		writes[i] = store.Write{Number: i + 1, Row: row}
	}
	e.Decide = func(map[string]store.Present) ([]store.Write, []sheet.Wrong, error) { return writes, nil, nil }
	return s.Edit(context.Background(), e)
}

// with returns a row with another text in a cell.
func with(row sheet.Row, pairs ...string) sheet.Row {
	out := sheet.Row{Part: row.Part, Cells: append([]string(nil), row.Cells...)}
	for i := 0; i+1 < len(pairs); i += 2 {
		out.Set(pairs[i], pairs[i+1])
	}
	return out
}

// Every row of the seed keeps all rules, is read in its canonical form, and written again changes nothing: in the
// catalogue, and in the tables when the write is forced by a change there and back.
func TestEveryRowOfTheSeedIsGoodAndStaysAsItIs(t *testing.T) {
	t.Parallel()
	s, conn := setup(t)
	before := one[int64](t, conn, selectRevision)
	for _, part := range sheet.Parts() {
		rows := exported(t, s, part)
		require.NotEmpty(t, rows, part.Name)
		list := make([]sheet.Row, 0, len(rows))
		for key, p := range rows {
			for i := range part.Columns {
				read, err := part.Columns[i].Read(p.Row.Cells[i])
				require.NoError(t, err, "%s %s %s", part.Name, key, part.Columns[i].Name)
				require.Equal(t, p.Row.Cells[i], read)
			}
			list = append(list, p.Row)
		}
		done, err := put(s, part, list...)
		require.NoError(t, err, part.Name)
		require.Zero(t, done.Changed)
	}
	require.Equal(t, before, one[int64](t, conn, selectRevision), "nothing changed, so the revision stays")
	require.Zero(t, one[int](t, conn, `SELECT count(*) FROM audit_entry`))
}

func TestAWholePartWrittenAndWrittenBackIsTheSame(t *testing.T) {
	t.Parallel()
	s, _ := setup(t)
	for part, cell := range map[*sheet.Part]string{sheet.Species: "name", sheet.Fasteners: "name", sheet.Materials: "name", sheet.LabourRoles: "name",
		sheet.LabourStandards: "name", sheet.ClimateProfiles: "name", sheet.Prices: "amount"} {
		rows := exported(t, s, part)
		var there, back []sheet.Row
		for _, p := range rows {
			there = append(there, with(p.Row, cell, "77"))
			back = append(back, p.Row)
		}
		done, err := put(s, part, there...)
		require.NoError(t, err, part.Name)
		require.Positive(t, done.Changed)
		_, err = put(s, part, back...)
		require.NoError(t, err, part.Name)
		for key, p := range exported(t, s, part) {
			require.Equal(t, rows[key].Row, p.Row, part.Name)
		}
	}
}
