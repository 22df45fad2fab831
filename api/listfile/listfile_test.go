package listfile

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const list = "article,price\nX-1,9.50\n"

func write(t *testing.T, name string, content []byte) string {
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o600))
	return path
}

func zipped(t *testing.T, content []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write(content)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestListsAreOpenedByTheirNames(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		content []byte
		media   string
	}{
		"a.csv": {[]byte(list), "text/csv"}, "B.CSV.GZ": {zipped(t, []byte(list)), "text/csv"},
		"c.csv":    {zipped(t, []byte(list)), "text/csv"},
		"d.ndjson": {[]byte(list), "application/x-ndjson"}, "e.jsonl": {[]byte(list), "application/x-ndjson"},
		"f.json": {[]byte(list), "application/json"},
	} {
		var told int64
		path := write(t, name, c.content)
		f, err := Open(path, "", nil, func(n int64) { told = n })
		require.NoError(t, err, name)
		got, err := io.ReadAll(f.Body)
		require.NoError(t, err)
		require.Equal(t, list, string(got), name)
		require.Equal(t, c.media, f.MediaType, name)
		require.EqualValues(t, len(c.content), f.Size)
		require.EqualValues(t, len(c.content), told, "progress reaches the file's size")
		require.NoError(t, f.Close())
	}
}

func TestANameWithoutAnEndingIsThatOfTheOneListThere(t *testing.T) {
	t.Parallel()
	path := write(t, "mill.csv.gz", zipped(t, []byte(list)))
	stem := strings.TrimSuffix(path, ".csv.gz")
	f, err := Open(stem, "", nil, nil)
	require.NoError(t, err)
	got, err := io.ReadAll(f.Body)
	require.NoError(t, err)
	require.Equal(t, list, string(got))
	require.Equal(t, "text/csv", f.MediaType)
	require.False(t, f.Changed.IsZero())
	require.NoError(t, f.Close())
	require.NoError(t, os.WriteFile(stem+".csv", []byte(list), 0o600))
	_, err = Open(stem, "", nil, nil)
	require.ErrorContains(t, err, "which of them")
	_, err = Open(stem+"s", "", nil, nil)
	require.ErrorIs(t, err, os.ErrNotExist)
}

// The nightly unit starts for every list that the command would find.
func TestTheNightlyUnitKnowsAllEndings(t *testing.T) {
	t.Parallel()
	unit, err := os.ReadFile("../../deploy/seamwright-prices@.service")
	require.NoError(t, err)
	var known []string
	for line := range strings.Lines(string(unit)) {
		if ending, ok := strings.CutPrefix(strings.TrimSpace(line), "ConditionPathExists=|/var/lib/seamwright-prices/%i"); ok {
			known = append(known, ending)
		}
	}
	require.ElementsMatch(t, endings, known)
}

func TestStandardInputIsCSVUnlessSaidOtherwise(t *testing.T) {
	t.Parallel()
	f, err := Open("-", "", strings.NewReader(list), nil)
	require.NoError(t, err)
	require.Equal(t, "text/csv", f.MediaType)
	f, err = Open("-", "json", strings.NewReader("[]"), nil)
	require.NoError(t, err)
	require.Equal(t, "application/json", f.MediaType)
}

func TestWhatCannotBeOpenedSaysWhy(t *testing.T) {
	t.Parallel()
	_, err := Open(filepath.Join(t.TempDir(), "none.csv"), "", nil, nil)
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = Open(write(t, "list.xls", []byte(list)), "", nil, nil)
	require.ErrorContains(t, err, "--format")
	_, err = Open(t.TempDir(), "csv", nil, nil)
	require.ErrorContains(t, err, "folder")
	_, err = Open(write(t, "broken.csv.gz", []byte{0x1f, 0x8b, 0, 0}), "", nil, nil)
	require.Error(t, err)
}

func TestAListThatExpandsWithoutEndIsCutOff(t *testing.T) {
	t.Parallel()
	b := &bounded{from: strings.NewReader(list), left: 5}
	_, err := io.ReadAll(b)
	require.ErrorContains(t, err, "more than")
}

func TestProgressIsPlainLinesOffATerminal(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	p := NewProgress(&out)
	p.Start(2 << 20)
	for n := int64(0); n <= 2<<20; n += 1 << 16 {
		p.Read(n)
	}
	p.Stop()
	require.Equal(t, 10, strings.Count(out.String(), "\n"))
	require.Contains(t, out.String(), "read 100 % of 2097152 bytes")
	out.Reset()
	p.Start(1000)
	p.Read(1000)
	require.Empty(t, out.String(), "a small list is read at once")
}
