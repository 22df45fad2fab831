package shelf_test

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
	"seamwright/store/db"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// Where nothing changes, the catalogue that the caller knows is the answer, but only as long as it is the one in force.
func TestWhatIsKnownIsReadAgainOnlyWhenItIsOld(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	known, err := s.Shelf.Load(t.Context())
	require.NoError(t, err)
	role := exported(t, s, sheet.LabourRoles)["maker"].Row
	require.NotNil(t, role.Part)
	again := func(ctx context.Context, row sheet.Row, known *catalogue.Snapshot) *shelf.Edited {
		done, err := s.Shelf.Edit(ctx, shelf.Edit{Part: sheet.LabourRoles, Keys: []string{"maker"}, Actor: "tester", Known: known,
			Decide: func(map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
				return []shelf.Write{{Row: row}}, nil, nil
			}})
		require.NoError(t, err)
		return done
	}
	within := func(do func(ctx context.Context)) {
		require.NoError(t, pgx.BeginFunc(t.Context(), storetest.Dial(t, conn.Config().ConnString()), func(tx pgx.Tx) error {
			do(db.Within(t.Context(), tx))
			return nil
		}))
	}
	require.Same(t, known, again(t.Context(), role, known).Snapshot)
	within(func(ctx context.Context) { require.Same(t, known, again(ctx, role, known).Snapshot) })
	require.NotSame(t, known, again(t.Context(), role, nil).Snapshot)

	other := with(role, "name", "Another name")
	changed := again(t.Context(), other, known).Snapshot
	require.Greater(t, changed.Revision, known.Revision)
	read := again(t.Context(), other, known).Snapshot
	require.NotSame(t, known, read)
	require.Equal(t, changed.Revision, read.Revision)
	require.Equal(t, "Another name", read.RoleByCode("maker").Name)
	within(func(ctx context.Context) {
		require.Equal(t, changed.Revision, again(ctx, other, known).Snapshot.Revision)
	})
}
