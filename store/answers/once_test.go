package answers_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/answers"
	"seamwright/store/db"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

func TestAWriteThatDiesBeforeItsCommitLeavesNeitherItselfNorAnAnswer(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	id := sha256.Sum256([]byte("k"))
	write := func(ctx context.Context) error {
		_, _, err := s.Lists.PutSupplier(ctx, lists.Supplier{Code: "north_mill", Name: "North mill"}, false, "office",
			func(int64) error { return nil })
		return err
	}
	ctx, cancel := context.WithCancel(context.Background())
	err := s.Answers.Once(ctx, id,
		func(ctx context.Context, before *answers.Answer) (*answers.Answer, error) {
			require.Nil(t, before)
			require.NoError(t, write(ctx))
			cancel() // the connection is lost with the transaction open
			return &answers.Answer{Fingerprint: id[:], Status: 200}, nil
		})
	require.Error(t, err)
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM supplier WHERE code = 'north_mill'`))
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM idempotency`))

	storetest.Soon(t, "the database lets go of what the lost connection held", func() bool {
		err = s.Answers.Once(context.Background(), id,
			func(ctx context.Context, _ *answers.Answer) (*answers.Answer, error) {
				return &answers.Answer{Fingerprint: id[:], Status: 200}, write(ctx)
			})
		return !errors.Is(err, db.ErrKeyInUse)
	})
	require.NoError(t, err)
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT count(*) FROM supplier WHERE code = 'north_mill'`))
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT count(*) FROM idempotency`))
}
