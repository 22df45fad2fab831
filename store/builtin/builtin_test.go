package builtin

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

const file = "catalogue.json.gz"

// The embedded catalogue is what a new database has, value for value: UPDATE_GOLDEN=1 go test ./store/builtin after a change of
// the seed.
func TestTheBuiltInCatalogueIsThatOfANewDatabase(t *testing.T) {
	t.Parallel()
	want, err := plain(storetest.Demo(t))
	require.NoError(t, err)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		var out bytes.Buffer
		z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
		require.NoError(t, err)
		_, err = z.Write(want)
		require.NoError(t, err)
		require.NoError(t, z.Close())
		require.NoError(t, os.WriteFile(file, out.Bytes(), 0o644))
		packed = out.Bytes()
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	got, err := io.ReadAll(z)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, got), "renew it with UPDATE_GOLDEN=1 go test ./store/builtin")

	from, err := Catalogue(time.Now())
	require.NoError(t, err)
	require.True(t, from.BuiltIn)
	again, err := plain(from)
	require.NoError(t, err)
	from.BuiltIn = false
	back, err := plain(from)
	require.NoError(t, err)
	require.Equal(t, string(want), string(back), "nothing is lost on the way")
	require.NotEqual(t, string(back), string(again))
	demo := storetest.Demo(t)
	require.Equal(t, demo.Settings, from.Settings)
	require.Equal(t, demo.PricesFrom, from.PricesFrom)
}
