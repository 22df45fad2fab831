package api

import (
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api/web"
	"seamwright/openapi"
	"seamwright/service/catalogue"
)

// bare is a server without a catalogue.
func bare(t *testing.T) *Server {
	t.Helper()
	s, err := New(Config{Snapshot: func() *catalogue.Snapshot { return nil },
		Status: func() web.Status { return web.Status{} }, NoAuth: true})
	require.NoError(t, err)
	return s
}

func TestTheRoutesAreThoseOfTheSpecAndNoOthers(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	var published, served []string
	for path, item := range document.Paths.Map() {
		for method := range item.Operations() {
			published = append(published, method+" "+path)
		}
	}
	for _, route := range bare(t).web.Routes() {
		parts := strings.Split(route, "/")
		for i, part := range parts {
			if name, isParameter := strings.CutPrefix(part, ":"); isParameter {
				parts[i] = "{" + name + "}"
			}
		}
		served = append(served, strings.Join(parts, "/"))
	}
	sort.Strings(published)
	sort.Strings(served)
	require.Equal(t, published, served)
}

func TestTheServerHasTimeLimitsEverywhere(t *testing.T) {
	t.Parallel()
	server := bare(t).HTTPServer()
	for name, limit := range map[string]time.Duration{"header": server.ReadHeaderTimeout, "read": server.ReadTimeout,
		"write": server.WriteTimeout, "idle": server.IdleTimeout} {
		require.Positive(t, limit, name)
	}
	require.Positive(t, server.MaxHeaderBytes)
}
