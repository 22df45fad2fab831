package main

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOnlyAReadyServiceIsHealthy(t *testing.T) {
	t.Parallel()
	status := http.StatusOK
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(status) }))
	require.NoError(t, ask(server.URL))
	status = http.StatusServiceUnavailable
	require.ErrorContains(t, ask(server.URL), "503")
	server.Close()
	require.Error(t, ask(server.URL), "nobody answers")
}
