package api_test

import (
	"context"
	"net/http"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/store/keys"
)

// Two instances on one database, one of them with a wrong clock: a write that is sent to both under one key is done once, in
// either order, writes of the one take away no answers of the other, and a revoked key is refused by both.
func TestInstancesWhoseClocksDifferDoAWriteOnce(t *testing.T) {
	t.Parallel()
	for name, wrong := range map[string]time.Duration{"an hour ahead": time.Hour, "two days ahead": 48 * time.Hour,
		"an hour behind": -time.Hour, "two days behind": -48 * time.Hour} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			right := newGuarded(t, nil)
			off, _, offRing := another(t, right, func(c *api.Config) {
				c.Now = func() time.Time { return right.clock.now().Add(wrong) }
			})
			key, id := right.key(t, keys.Secret, "quotes:write", "quotes:read")
			right.await(t, offRing, key, true)
			post := func(to *client, under string) answer {
				return to.post(t, "/v1/quotes", `{"estimate":`+smallest+`}`, append(bearer(key), "Idempotency-Key", under)...)
			}
			first, second := post(right.client, "one"), post(off, "two")
			for _, made := range []answer{first, second} {
				require.Equal(t, http.StatusCreated, made.status, string(made.body))
			}
			for range 2 {
				for _, to := range []*client{right.client, off} {
					require.Equal(t, first.body, post(to, "one").body)
					require.Equal(t, second.body, post(to, "two").body)
				}
			}
			conn, err := pgx.Connect(t.Context(), right.url)
			require.NoError(t, err)
			t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
			var quotes int
			require.NoError(t, conn.QueryRow(t.Context(), `SELECT count(*) FROM quote`).Scan(&quotes))
			require.Equal(t, 2, quotes)

			require.NoError(t, right.store.Keys.Revoke(t.Context(), id, right.clock.now()))
			right.await(t, right.ring, key, false)
			right.await(t, offRing, key, false)
			for _, to := range []*client{right.client, off} {
				require.Equal(t, http.StatusUnauthorized, post(to, "three").status)
			}
		})
	}
}
