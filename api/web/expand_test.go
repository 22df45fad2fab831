package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func expand(t *testing.T, plain []byte) (n int64, err error) {
	t.Helper()
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	_, err = z.Write(plain)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	from := &counted{from: &packed}
	expanded, err := gzip.NewReader(from)
	require.NoError(t, err)
	n, err = io.Copy(io.Discard, &fair{from: expanded, packed: from})
	return n, err
}

func TestAListThatExpandsOutOfProportionEndsEarly(t *testing.T) {
	t.Parallel()
	n, err := expand(t, bytes.Repeat([]byte("oak,1.00\n"), 8<<20))
	require.ErrorContains(t, err, "more than 100 times")
	require.Less(t, n, int64(4<<20), "of 72 MB")

	var list strings.Builder
	for i := range 200_000 {
		fmt.Fprintf(&list, "A-%06d,%d.%02d\n", i, i%90+1, i%100)
	}
	_, err = expand(t, []byte(list.String()))
	require.NoError(t, err, "an ordinary list")
	_, err = expand(t, bytes.Repeat([]byte(" "), 1<<20))
	require.NoError(t, err, "what is small does not matter")
}
