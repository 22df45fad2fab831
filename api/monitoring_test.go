package api_test

import (
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// asked are the names of figures in an expression.
var asked = regexp.MustCompile(`\b(seamwright|process)_[a-z_]+`)

// TestWhatAlertsAskForIsThere: alert rules and dashboard live in a module of their own, which knows no service.
func TestWhatAlertsAskForIsThere(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	c.get(t, "/v1/species") // a figure with labels is there once something was counted
	figures := c.bare(t, http.MethodGet, "/metrics", "")
	require.Equal(t, http.StatusOK, figures.status)
	for _, file := range []string{"alerts.yaml", "dashboard.json"} {
		raw, err := os.ReadFile("../deploy/monitoring/" + file)
		require.NoError(t, err)
		names := asked.FindAllString(string(raw), -1)
		require.Greater(t, len(names), 5, file)
		for _, name := range names {
			require.Contains(t, string(figures.body), "\n# TYPE "+strings.TrimSuffix(name, "_bucket")+" ", "%s in %s", name, file)
		}
	}
}
