package offers

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/service/quote"
	"seamwright/store/storetest"
)

// A pack of which more are bought is one line that moved by its quantity, not one line that went and another that came.
func TestMorePacksAreOneLineThatMoved(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "requests", "l_desk.json"))
	require.NoError(t, err)
	figures := func(request string) *quote.Figures {
		est, err := estimates.Make([]byte(request), storetest.Demo(t), time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC), false)
		require.NoError(t, err)
		f, err := figuresOf(string(estimates.Encode(est)))
		require.NoError(t, err)
		return f
	}
	longer := strings.Replace(string(raw), `"length": 96`, `"length": 130`, 1)
	require.NotEqual(t, string(raw), longer)
	more := 0
	for _, m := range quote.Explain(figures(string(raw)), figures(longer)).Bill {
		if m.Before.Cmp(m.After) != 0 && !m.Before.IsZero() && !m.After.IsZero() {
			more++
			require.Equal(t, m.RateBefore, m.RateAfter, "%s has one price", m.Code)
			require.Equal(t, m.After.Minus(m.Before), m.ByQuantity, m.Code)
		}
	}
	require.Greater(t, more, 1, "the boards, and packs of something else")
}
