package web

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOnlyPlainNamesOfRequestsAreKept(t *testing.T) {
	t.Parallel()
	for id, sane := range map[string]bool{"order-2041.a_B": true, "": false, "a b": false, "a\nb": false, "ä": false,
		strings.Repeat("x", 64): true, strings.Repeat("x", 65): false} {
		require.Equal(t, sane, saneID(id), "%q", id)
	}
}
