package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/labstack/echo/v4"
	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// A call that waits for a database which stays away is given up with the rest of them, and is told so; one that is done, or
// whose caller has gone, is not.
func TestACallIsGivenUpWhenTheDatabaseStaysAway(t *testing.T) {
	t.Parallel()
	presence, lose := context.WithCancel(t.Context())
	s := &Server{Config: Config{Presence: func() context.Context { return presence }, Log: slog.New(slog.DiscardHandler)}}
	call := func(ctx context.Context, handle echo.HandlerFunc) error {
		r := httptest.NewRequestWithContext(ctx, http.MethodGet, "/", http.NoBody)
		return s.reaching(handle)(echo.New().NewContext(r, httptest.NewRecorder()))
	}
	waits := func(c echo.Context) error {
		<-c.Request().Context().Done()
		return c.Request().Context().Err()
	}
	gone, leave := context.WithCancel(t.Context())
	leave()
	require.ErrorIs(t, call(gone, waits), context.Canceled)
	wrong := errors.New("something else")
	require.Equal(t, wrong, call(t.Context(), func(echo.Context) error { return wrong }))

	told := make(chan error)
	begun := make(chan struct{})
	go func() {
		told <- call(t.Context(), func(c echo.Context) error { close(begun); return waits(c) })
	}()
	<-begun
	lose()
	require.Equal(t, fault.Unavailable, fault.All(<-told)[0].Kind)
	require.NoError(t, call(t.Context(), func(echo.Context) error { return nil }), "what is done is done")
}
