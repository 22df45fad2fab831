//go:build !race

// The race detector has memory of its own and makes the thirty million elements of a hostile workbook ten times slower; .ci/run runs
// this package without it, too.

package workbook_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/workbook"
	"seamwright/service/fault"
)

// Not parallel: it measures the memory of the whole process. What a workbook takes beside its own bytes is its shared texts (at most
// 48 MiB, and as much again while they grow), one token and one row.
func TestMemoryIsBoundedWhateverWorkbookComes(t *testing.T) {
	manyParts := func() []byte {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for i := range 60_000 {
			_, err := z.Create(fmt.Sprintf("xl/media/%d", i))
			require.NoError(t, err)
		}
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	wide := strings.Builder{}
	for i := range 300 {
		fmt.Fprintf(&wide, `<row r="%d">%s</row>`, i+1, strings.Repeat("<c><v>1</v></c>", 16_384))
	}
	for name, c := range map[string]struct {
		content []byte
		says    string
		most    uint64 // MiB of all that is ever allocated; 0: of what is in use while the rows are read
	}{
		"parts":     {manyParts(), "too many parts", 16},
		"a text":    {written(t, `<row><c t="str"><v>`+noise(20<<20)), "more than 1048576 bytes", 16},
		"a tag":     {written(t, `<row><c t="`+noise(20<<20)), "more than 1048576 bytes", 16},
		"a name":    {written(t, `<row><x`+strings.ReplaceAll(noise(20<<20), "+", "x")), "more than 1048576 bytes", 16},
		"a comment": {written(t, `<row><!--`+strings.ReplaceAll(noise(20<<20), "-", "x")), "more than 1048576 bytes", 16},
		"depth":     {written(t, strings.Repeat("<a>", 1<<20)), "", 16},
		"formats": {written(t, "", "xl/styles.xml", `<styleSheet><cellXfs>`+strings.Repeat("<xf/>", 100_000)+`</cellXfs></styleSheet>`), "70000 formats",
			64},
		"wide rows":      {written(t, wide.String()), "", 0},
		"the same texts": {written(t, sameTexts(3000), "xl/sharedStrings.xml", "<sst><si><t>"+noise(900_000)+"</t></si></sst>"), "", 0},
		"texts for ever": {written(t, sameTexts(6000), "xl/sharedStrings.xml", "<sst><si><t>"+noise(900_000)+"</t></si></sst>"), "bytes of text", 0},
	} {
		before := allocated()
		start := heap()
		s, err := workbook.Open(context.Background(), bytes.NewReader(c.content), 0, "")
		var most uint64
		for n := 0; err == nil; n++ {
			if _, _, err = s.Next(); n%100 == 0 {
				most = max(most, heap())
			}
		}
		if s != nil {
			s.Close()
		}
		if c.says != "" {
			require.ErrorContains(t, err, c.says, name)
		}
		var refused *fault.Fault
		require.True(t, errors.Is(err, io.EOF) || errors.As(err, &refused), "%s: %v", name, err)
		if c.most > 0 {
			require.Less(t, allocated()-before, uint64(len(c.content))+c.most<<20, name)
			continue
		}
		require.Less(t, most, start+uint64(len(c.content))+8<<20, name)
		runtime.KeepAlive(c.content)
	}
}

// sameTexts are so many rows that show the first shared text.
func sameTexts(rows int) string {
	return strings.Repeat(`<row><c t="s"><v>0</v></c></row>`, rows)
}

// heap is the memory in use after collecting what is not.
func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// allocated is all memory that was ever taken.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}
