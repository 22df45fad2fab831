package api_test

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/store/storetest"
)

// An amount of a kept offer that is none is an error, not nothing: NUMERIC can hold NaN.
func TestAnAmountThatIsNoneIsNoZero(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, _ := s.offer(t, `{"estimate":`+smallest+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	require.Equal(t, http.StatusOK, s.get(t, path).status)
	conn, err := pgx.Connect(context.Background(), s.url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	_, err = conn.Exec(context.Background(), `UPDATE quote SET net = 'NaN'`)
	require.NoError(t, err)
	require.Equal(t, http.StatusInternalServerError, s.get(t, path).problem(t).Status)
	require.Equal(t, http.StatusInternalServerError, s.get(t, "/v1/quotes").problem(t).Status)
	_, err = conn.Exec(context.Background(), `UPDATE quote SET net = '1'`)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, s.get(t, path).status)
}

// A kept answer whose amounts cannot be read is an error, not an answer without a price.
func TestAKeptAnswerWithAnAmountThatCannotBeReadIsAnError(t *testing.T) {
	t.Parallel()
	est, err := estimates.Make([]byte(smallest), storetest.Demo(t), noon, false)
	require.NoError(t, err)
	raw := estimates.Encode(est)
	_, err = estimates.Read(string(raw))
	require.NoError(t, err)
	total := `"total":"` + est.Price.Total.String() + `"`
	require.Contains(t, string(raw), total)
	for _, broken := range []string{`"total":"twelve"`, `"total":""`, `"total":"1,5"`, `"total":5`} {
		_, err := estimates.Read(strings.Replace(string(raw), total, broken, 1))
		require.Error(t, err, broken)
	}
	for _, name := range []string{"unit_price", "amount", "rate", "cost", "p80", "need"} {
		at := strings.Index(string(raw), `"`+name+`":`)
		require.Positive(t, at, name)
		rest := string(raw[at+len(name)+3:])
		end := strings.IndexAny(rest, ",}")
		_, err := estimates.Read(string(raw[:at+len(name)+3]) + `"nothing"` + rest[end:])
		require.Error(t, err, name)
	}
}
