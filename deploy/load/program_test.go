package main

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestAProgramIsReadyWhenItSaysWhereItServes(t *testing.T) {
	t.Parallel()
	p, err := start(t.Context(), "a program", "/bin/sh", environment(), "-c",
		`trap 'exit 0' INT; echo starting; sleep 0.1; echo "it serves on http://127.0.0.1:9 with nothing"; while :; do sleep 0.05; done`)
	require.NoError(t, err)
	require.Equal(t, "http://127.0.0.1:9", p.url)
	require.GreaterOrEqual(t, p.ready, 100*time.Millisecond)
	require.NoError(t, p.stop())
	require.ErrorIs(t, p.cmd.Process.Signal(os.Interrupt), os.ErrProcessDone)
}

func TestAProgramThatEndsEarlyIsReportedWithWhatItSaid(t *testing.T) {
	t.Parallel()
	_, err := start(t.Context(), "a program", "/bin/sh", environment(), "-c", "echo no database >&2; exit 3")
	require.ErrorContains(t, err, "exit status 3")
	require.ErrorContains(t, err, "no database")
}

func TestAProgramThatFailsAtItsEndIsReported(t *testing.T) {
	t.Parallel()
	p, err := start(t.Context(), "a program", "/bin/sh", environment(), "-c",
		`trap 'echo lost it >&2; exit 4' INT; echo "serves on http://127.0.0.1:9"; while :; do sleep 0.05; done`)
	require.NoError(t, err)
	require.ErrorContains(t, p.stop(), "lost it")
}

func TestProgramsAreNotSetUpByTheEnvironment(t *testing.T) {
	t.Setenv("SEAMWRIGHT_LISTEN", "0.0.0.0:1")
	t.Setenv("DATABASE_URL", "postgres://elsewhere")
	t.Setenv("GOGC", "off")
	t.Setenv("SEAM", "kept")
	got := environment("GOGC=400")
	require.NotContains(t, got, "SEAMWRIGHT_LISTEN=0.0.0.0:1")
	require.NotContains(t, got, "DATABASE_URL=postgres://elsewhere")
	require.NotContains(t, got, "GOGC=off")
	require.Contains(t, got, "SEAM=kept")
	require.Contains(t, got, "GOGC=400")
}
