package monitoring

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/grafana/grafana-foundation-sdk/go/cog"
	"github.com/grafana/grafana-foundation-sdk/go/cog/plugins"
	"github.com/grafana/grafana-foundation-sdk/go/dashboard"
	"github.com/prometheus/common/model"
	"github.com/prometheus/prometheus/model/rulefmt"
	"github.com/prometheus/prometheus/promql"
	"github.com/prometheus/prometheus/promql/parser"
	"github.com/prometheus/prometheus/promql/promqltest"
	"github.com/stretchr/testify/require"
)

// rules are the alert rules, read by Prometheus' own reader, which refuses what it does not know.
func rules(t *testing.T) map[string]rulefmt.Rule {
	t.Helper()
	groups, wrong := rulefmt.ParseFile("alerts.yaml", false, model.UTF8Validation, parser.NewParser(parser.Options{}), slog.New(slog.DiscardHandler))
	require.Empty(t, wrong)
	all := map[string]rulefmt.Rule{}
	for _, group := range groups.Groups {
		for _, rule := range group.Rules {
			require.NotEmpty(t, rule.Alert)
			require.Contains(t, []string{"page", "ticket"}, rule.Labels["severity"], rule.Alert)
			require.NotEmpty(t, rule.Annotations["summary"], rule.Alert)
			require.NotEmpty(t, rule.Annotations["description"], rule.Alert)
			all[rule.Alert] = rule
		}
	}
	return all
}

// Each alert is tried on series made up for it, a sample every 15 s for an hour, at 45 minutes: it must fire on what is bad and be silent
// on what is good.
func TestEachAlertFiresOnWhatItIsFor(t *testing.T) {
	cases := map[string]struct{ good, bad string }{
		"SeamwrightInstanceDown": {`up{job="seamwright", instance="a"} 1x240`, `up{job="seamwright", instance="a"} 0x240`},
		"SeamwrightDatabaseAway": {`seamwright_database_up{instance="a"} 1x240`, `seamwright_database_up{instance="a"} 0x240`},
		"SeamwrightFaults": {`
  seamwright_requests_total{route="/v1/quotes", status="201"} 0+10x240
  seamwright_requests_total{route="/v1/quotes", status="503"} 0+10x240`, `
  seamwright_requests_total{route="/v1/quotes", status="500"} 0x160 1x80`},
		"SeamwrightRefusesCalls": {`
  seamwright_requests_total{route="/v1/estimates", status="200"} 0+1000x240
  seamwright_requests_total{route="/v1/estimates", status="503"} 0+40x240`, `
  seamwright_requests_total{route="/v1/estimates", status="200"} 0+1000x240
  seamwright_requests_total{route="/v1/estimates", status="503"} 0+60x240`},
		"SeamwrightEstimatesSlow": {`
  seamwright_request_seconds_bucket{route="/v1/estimates", le="0.005"} 0+990x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="0.25"} 0+1000x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="1"} 0+1000x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="+Inf"} 0+1000x240`, `
  seamwright_request_seconds_bucket{route="/v1/estimates", le="0.005"} 0+900x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="0.25"} 0+950x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="1"} 0+1000x240
  seamwright_request_seconds_bucket{route="/v1/estimates", le="+Inf"} 0+1000x240`},
		"SeamwrightInstancesDisagree": {`
  seamwright_catalogue_revision{instance="a"} 7x240
  seamwright_catalogue_revision{instance="b"} 7x240`, `
  seamwright_catalogue_revision{instance="a"} 7x240
  seamwright_catalogue_revision{instance="b"} 6x240`},
		"SeamwrightMemory": {`process_resident_memory_bytes{job="seamwright", instance="a"} 3e8x240`,
			`process_resident_memory_bytes{job="seamwright", instance="a"} 2e9x240`},
	}
	all := rules(t)
	require.Len(t, cases, len(all), "every alert is tried")
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			rule, there := all[name]
			require.True(t, there)
			require.Less(t, time.Duration(rule.For), 20*time.Minute, "longer than the series are bad")
			require.False(t, fires(t, rule, c.good), "on what is good")
			require.True(t, fires(t, rule, c.bad), "on what is bad")
		})
	}
}

// fires reports whether a rule's expression holds at every step of its time before 45 minutes.
func fires(t *testing.T, rule rulefmt.Rule, series string) bool {
	t.Helper()
	engine := promqltest.NewTestEngine(t, false, 5*time.Minute, 1e6)
	storage := promqltest.LoadedStorage(t, "load 15s\n  "+strings.TrimSpace(series)+"\n")
	end := time.Unix(0, 0).Add(45 * time.Minute)
	query, err := engine.NewRangeQuery(context.Background(), storage, nil, rule.Expr, end.Add(-time.Duration(rule.For)), end, 15*time.Second)
	require.NoError(t, err)
	defer query.Close()
	result := query.Exec(context.Background())
	require.NoError(t, result.Err)
	steps := int(time.Duration(rule.For)/(15*time.Second)) + 1
	for _, found := range result.Value.(promql.Matrix) {
		if len(found.Floats) == steps {
			return true
		}
	}
	return false
}

// strictly is what a strict reader found wrong: it answers with an empty list, which is an error that is not nil.
func strictly(err error) []string {
	var wrong cog.BuildErrors
	switch {
	case errors.As(err, &wrong):
	case err != nil:
		return []string{err.Error()}
	}
	var all []string
	for _, one := range wrong {
		all = append(all, one.Error())
	}
	return all
}

func TestADashboardWithAStrangeFieldIsRefused(t *testing.T) {
	raw, err := os.ReadFile("dashboard.json")
	require.NoError(t, err)
	var board dashboard.Dashboard //nolint:staticcheck // the form that Grafana imports; its successor is for its own API
	require.NotEmpty(t, strictly(board.UnmarshalJSONStrict([]byte(strings.Replace(string(raw), `"refresh"`, `"refreshing"`, 1)))))
}

// TestTheDashboardIsOne decodes it strictly into the types that Grafana publishes, and reads what it asks as Prometheus does.
func TestTheDashboardIsOne(t *testing.T) {
	raw, err := os.ReadFile("dashboard.json")
	require.NoError(t, err)
	var board dashboard.Dashboard //nolint:staticcheck // the form that Grafana imports; its successor is for its own API
	plugins.RegisterDefaultPlugins()
	require.Empty(t, strictly(board.UnmarshalJSONStrict(raw)))
	require.NoError(t, board.Validate())
	var plain struct {
		Panels []struct {
			ID      int
			Title   string
			GridPos struct{ X, Y, W, H int }
			Targets []struct{ Expr string }
		}
	}
	require.NoError(t, json.Unmarshal(raw, &plain))
	require.Greater(t, len(plain.Panels), 8)
	taken, ids := map[[2]int]string{}, map[int]bool{}
	for _, panel := range plain.Panels {
		require.False(t, ids[panel.ID], "two panels %d", panel.ID)
		ids[panel.ID] = true
		require.LessOrEqual(t, panel.GridPos.X+panel.GridPos.W, 24, panel.Title)
		for x := panel.GridPos.X; x < panel.GridPos.X+panel.GridPos.W; x++ {
			for y := panel.GridPos.Y; y < panel.GridPos.Y+panel.GridPos.H; y++ {
				require.Empty(t, taken[[2]int{x, y}], "%s lies over another", panel.Title)
				taken[[2]int{x, y}] = panel.Title
			}
		}
		require.NotEmpty(t, panel.Targets, panel.Title)
		for _, target := range panel.Targets {
			_, err := parser.NewParser(parser.Options{}).ParseExpr(target.Expr)
			require.NoError(t, err, panel.Title)
		}
	}
}
