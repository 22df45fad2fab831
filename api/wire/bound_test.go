package wire

import (
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"
)

// What is too short is not said to be empty, and one item is one item.
func TestABoundIsSaidAsItIs(t *testing.T) {
	t.Parallel()
	text := func(least uint64) *openapi3.Schema { return openapi3.NewStringSchema().WithMinLength(int64(least)) }
	list := func(least int64) *openapi3.Schema { return openapi3.NewArraySchema().WithMinItems(least) }
	for _, c := range []struct {
		schema *openapi3.Schema
		value  any
		says   string
	}{
		{text(1), "", "Must not be empty."}, {text(5), "12", "Must be at least 5 characters long."},
		{text(5), "", "Must be at least 5 characters long."},
		{list(1), []any{}, "Must have at least 1 item."}, {list(12), []any{}, "Must have at least 12 items."},
	} {
		found := check(c.schema, c.value)
		require.Len(t, found, 1)
		require.Equal(t, c.says, found[0].Detail)
	}
}
