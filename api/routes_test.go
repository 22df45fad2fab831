package api

import (
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// bare is a server without a catalogue.
func bare(t *testing.T) *Server {
	t.Helper()
	s, err := New(Config{Snapshot: func() *catalogue.Snapshot { return nil }, Status: func() Status { return Status{} }, NoAuth: true})
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

func TestEveryKindOfFaultHasAStatusAndAPageOfItsOwn(t *testing.T) {
	t.Parallel()
	names := map[string]bool{}
	for _, k := range []fault.Kind{fault.Internal, fault.Invalid, fault.Impossible, fault.NotFound, fault.Conflict, fault.Unavailable} {
		require.NotNil(t, kinds[k], "kind %d has no row", k)
		require.Contains(t, kindsInOrder, k)
	}
	for _, k := range allKinds() {
		require.NotEmpty(t, k.about, k.name)
		require.False(t, names[k.name], "%s stands twice", k.name)
		names[k.name] = true
	}
	require.Len(t, kinds, len(kindsInOrder))
}

func TestEverySettingHasAValue(t *testing.T) {
	t.Parallel()
	settings, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	now, err := settingsNow(&catalogue.Snapshot{Settings: settings})
	require.NoError(t, err)
	require.NotEmpty(t, now)
	values := map[string]string{}
	for _, s := range now {
		values[s.Key] = s.value
	}
	again, err := catalogue.ReadSettings(values)
	require.NoError(t, err, "what is shown must be what can be read")
	require.Equal(t, settings, again)
}

func TestTheServerHasTimeLimitsEverywhere(t *testing.T) {
	t.Parallel()
	server := bare(t).HTTPServer()
	for name, limit := range map[string]time.Duration{"header": server.ReadHeaderTimeout, "read": server.ReadTimeout, "write": server.WriteTimeout, "idle": server.IdleTimeout} {
		require.Positive(t, limit, name)
	}
	require.Positive(t, server.MaxHeaderBytes)
}

func TestOnlyPlainNamesOfRequestsAreKept(t *testing.T) {
	t.Parallel()
	for id, sane := range map[string]bool{"order-2041.a_B": true, "": false, "a b": false, "a\nb": false, "ä": false, strings.Repeat("x", 64): true, strings.Repeat("x", 65): false} {
		require.Equal(t, sane, saneID(id), "%q", id)
	}
}
