package workbook

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The bounds of all parts together are counted over them: here from just below.
func TestElementsAndBytesAreCountedOverAllParts(t *testing.T) {
	t.Parallel()
	const text = "<a><b/><b/></a>"
	read := func(p *parts) error {
		tokens := newTokens(&part{name: "x", from: io.NopCloser(strings.NewReader(text)), packed: 1000, parts: p})
		for {
			if err := tokens.next(); err != nil {
				return err
			}
		}
	}
	p := &parts{left: mostPart, elements: mostElements - 6}
	require.ErrorIs(t, read(p), io.EOF)
	require.ErrorIs(t, read(p), io.EOF)
	require.ErrorContains(t, read(p), "32000000 elements")

	p = &parts{left: 2 * int64(len(text))}
	require.ErrorIs(t, read(p), io.EOF)
	require.ErrorIs(t, read(p), io.EOF)
	require.ErrorContains(t, read(p), "268435456 bytes when it is unpacked")
}
