package shelf_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"seamwright/service/sheet"
	"seamwright/store"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// exported exports a part, by key.
func exported(t testing.TB, s *store.Store, part *sheet.Part) map[string]shelf.Present {
	t.Helper()
	rows := map[string]shelf.Present{}
	require.NoError(t, s.Shelf.Export(context.Background(), part, func(p shelf.Present) error {
		rows[p.Row.Key()] = p
		return nil
	}))
	return rows
}

// put writes rows as they are given.
func put(s *store.Store, part *sheet.Part, rows ...sheet.Row) (*shelf.Edited, error) {
	e := shelf.Edit{Part: part, Actor: "tester", AllowMoves: true}
	writes := make([]shelf.Write, len(rows))
	for i, row := range rows {
		e.Keys = append(e.Keys, row.Key())
		writes[i] = shelf.Write{Number: i + 1, Row: row}
	}
	e.Decide = func(map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) { return writes, nil, nil }
	return s.Shelf.Edit(context.Background(), e)
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
	s, conn := storetest.Setup(t)
	before := storetest.Revision(t, conn)
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
	require.Equal(t, before, storetest.Revision(t, conn), "nothing changed, so the revision stays")
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM audit_entry`))
}

func TestAWholePartWrittenAndWrittenBackIsTheSame(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	for part, cell := range map[*sheet.Part]string{sheet.Species: "name", sheet.Fasteners: "name", sheet.Materials: "name",
		sheet.LabourRoles:     "name",
		sheet.LabourStandards: "name", sheet.ClimateProfiles: "name", sheet.Places: "name", sheet.TaxRegions: "name", sheet.Prices: "amount"} {
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

// Two edits that are good each by itself must not make a bad catalogue together: one retires a role while the other
// gives it a step. One of them is refused, whichever comes second.
func TestTwoEditsCannotMakeABadCatalogueTogether(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	steps := exported(t, s, sheet.LabourStandards)
	for range 10 {
		role := with(sheet.LabourRoles.Empty(), "code", "temp", "name", "Temp", "rate", "1", "source", "demo")
		_, err := put(s, sheet.LabourRoles, role)
		require.NoError(t, err)
		var both errgroup.Group
		refused := make([]bool, 2)
		both.Go(func() error {
			_, err := s.Shelf.Edit(context.Background(), shelf.Edit{Part: sheet.LabourRoles, Keys: []string{"temp"}, Actor: "a",
				Decide: func(map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
					return []shelf.Write{{Row: role, Retire: true}}, nil, nil
				}})
			refused[0] = err != nil
			return nil
		})
		both.Go(func() error {
			_, err := put(s, sheet.LabourStandards, with(steps["glue_up"].Row, "role", "temp"))
			refused[1] = err != nil
			return nil
		})
		require.NoError(t, both.Wait())
		require.NotEqual(t, refused[0], refused[1], "exactly one is refused")
		_, err = s.Shelf.Load(context.Background())
		require.NoError(t, err)
		_, err = put(s, sheet.LabourRoles, role)
		require.NoError(t, err)
		_, err = put(s, sheet.LabourStandards, steps["glue_up"].Row)
		require.NoError(t, err)
	}
}

func TestTheAuditTrailIsOnlyAddedTo(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	roles := exported(t, s, sheet.LabourRoles)
	for i := range 3 {
		done, err := put(s, sheet.LabourRoles, with(roles["maker"].Row, "rate", string(rune('1'+i))))
		require.NoError(t, err)
		require.Equal(t, done.Snapshot.Revision, storetest.One[int64](t, conn,
			`SELECT revision FROM audit_entry ORDER BY number DESC LIMIT 1`))
		require.Equal(t, done.Snapshot.Revision, storetest.Revision(t, conn), "the revision that was told is the one that is")
	}
	for _, sql := range []string{`DELETE FROM audit_entry`, `UPDATE audit_entry SET actor = 'nobody'`,
		`TRUNCATE audit_entry`} {
		_, err := conn.Exec(context.Background(), sql)
		require.ErrorContains(t, err, "never changed or deleted", sql)
	}
	page, err := s.Shelf.Trail(context.Background(), shelf.TrailQuery{Limit: 2})
	require.NoError(t, err)
	require.Len(t, page, 2)
	require.Greater(t, page[0].Number, page[1].Number)
	require.GreaterOrEqual(t, page[0].At, page[1].At)
	require.JSONEq(t, `{"code":"maker","name":"Maker","rate":"3.00","source":"demo"}`, string(page[0].After))
}

// What breaks on the way leaves nothing behind.
func TestAnEditThatFailsLeavesNothingBehind(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	before := storetest.Revision(t, conn)
	roles := exported(t, s, sheet.LabourRoles)
	_, err := put(s, sheet.LabourRoles, with(roles["maker"].Row, "rate", "50"),
		with(roles["helper"].Row, "source", "nobody"))
	var refused *shelf.RefusedError
	require.ErrorAs(t, err, &refused)
	require.Equal(t, []sheet.Wrong{{Row: 2, Column: "source", Detail: refused.Wrong[0].Detail}}, refused.Wrong)
	require.Contains(t, err.Error(), "row 2, source")
	_, err = put(s, sheet.LabourRoles, with(roles["maker"].Row, "name", ""))
	require.ErrorAs(t, err, &refused)
	require.Equal(t, before, storetest.Revision(t, conn))
	require.Equal(t, roles, exported(t, s, sheet.LabourRoles))
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM audit_entry`))
}
