package builtin_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/sheet"
	"seamwright/store/builtin"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

const file = "catalogue.json.gz"

// The embedded catalogue is what a new database has, value for value: UPDATE_GOLDEN=1 go test ./store/builtin after a change of
// the seed.
func TestTheBuiltInCatalogueIsThatOfANewDatabase(t *testing.T) {
	t.Parallel()
	seeded := storetest.Seeded(t)
	want, err := builtin.Plain(seeded)
	require.NoError(t, err)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		builtin.Renew(pack(t, file, want))
	}
	z, err := gzip.NewReader(bytes.NewReader(builtin.Packed()))
	require.NoError(t, err)
	got, err := io.ReadAll(z)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, got), "renew it with UPDATE_GOLDEN=1 go test ./store/builtin")

	from, err := builtin.Catalogue(time.Now())
	require.NoError(t, err)
	require.True(t, from.BuiltIn)
	again, err := builtin.Plain(from)
	require.NoError(t, err)
	from.BuiltIn = false
	back, err := builtin.Plain(from)
	require.NoError(t, err)
	require.Equal(t, string(want), string(back), "nothing is lost on the way")
	require.NotEqual(t, string(back), string(again))
	require.Equal(t, seeded.Settings, from.Settings)
	require.Equal(t, seeded.PricesFrom, from.PricesFrom)
}

// The embedded rows are those of a new database, cell for cell: UPDATE_GOLDEN=1 go test ./store/builtin.
func TestTheBuiltInRowsAreThoseOfANewDatabase(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	want := map[string][][]string{}
	for _, part := range sheet.Parts() {
		if part == sheet.Settings {
			continue
		}
		require.NoError(t, s.Shelf.Export(t.Context(), part, func(p shelf.Present) error {
			want[part.Name] = append(want[part.Name], slices.Clone(p.Row.Cells))
			return nil
		}))
	}
	if os.Getenv("UPDATE_GOLDEN") != "" {
		raw, err := json.Marshal(want)
		require.NoError(t, err)
		pack(t, "rows.json.gz", raw)
		return
	}
	for _, part := range sheet.Parts() {
		rows, err := builtin.Rows(part)
		require.NoError(t, err)
		require.Len(t, rows, len(want[part.Name]), part.Name)
		for i := range rows {
			require.Equal(t, want[part.Name][i], rows[i].Cells, "%s: UPDATE_GOLDEN=1 go test ./store/builtin", part.Name)
		}
	}
}

// pack writes a golden file.
func pack(t testing.TB, name string, raw []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	require.NoError(t, err)
	_, err = z.Write(raw)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	require.NoError(t, os.WriteFile(name, out.Bytes(), 0o644))
	return out.Bytes()
}
