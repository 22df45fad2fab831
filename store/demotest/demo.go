// Package demotest is the demo catalogue for tests that need no database: whoever imports it builds and links none of what one takes.
package demotest

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store/builtin"
)

var demo = sync.OnceValues(func() (*catalogue.Snapshot, error) {
	s, err := builtin.Catalogue(time.Now())
	if err == nil {
		s.BuiltIn = false
	}
	return s, err
})

// Catalogue returns the seeded demo catalogue, read once in a process: the built-in one, which a test in store/builtin holds
// equal to that of a new database.
func Catalogue(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	s, err := demo()
	require.NoError(t, err, "no demo catalogue")
	return s
}
