// Package goldentest holds what a test made against a file that is kept beside it.
package goldentest

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Hold compares with a file, or with UPDATE_GOLDEN=1 writes it.
func Hold[T ~string | ~[]byte](t testing.TB, file string, got T) {
	t.Helper()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got), "%s: run UPDATE_GOLDEN=1 go test on this package and look at the difference", file)
}
