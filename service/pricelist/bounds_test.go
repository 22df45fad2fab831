package pricelist

import (
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// endless gives a prefix, the same byte so many times, and a suffix, without ever having it in memory.
func endless(prefix, filling string, n int64, suffix string) io.Reader {
	return io.MultiReader(strings.NewReader(prefix), io.LimitReader(repeated(filling), n), strings.NewReader(suffix))
}

type repeated string

func (r repeated) Read(p []byte) (int, error) {
	n := 0
	for n+len(r) <= len(p) {
		n += copy(p[n:], r)
	}
	if n == 0 {
		n = copy(p, r[:1])
	}
	return n, nil
}

func TestALineOf10MBIsRejectedAndReadingGoesOn(t *testing.T) {
	t.Parallel()
	const long = 10 << 20
	for name, c := range map[string]struct {
		mediaType      string
		prefix, suffix string
		line           int
	}{
		"CSV":              {"text/csv", "article,price\na,1\nb,", "\nc,2\n", 3},
		"CSV in quotation": {"text/csv", "article,price\na,1\n\"b", "\"\nc,2\n", 3},
		"CSV at the end":   {"text/csv", "article,price\na,1\nc,2\nb,", "", 4},
		"NDJSON": {"application/x-ndjson", `{"item":"a","price":1}` + "\n" + `{"item":"`,
			"\"}\n" + `{"item":"c","price":2}`, 2},
		"JSON, one text": {"application/json", `[{"item":"a","price":1},{"item":"`, `"},{"item":"c","price":2}]`, 2},
		"JSON, a number": {"application/json", `[{"item":"a","price":1},`, `,{"item":"c","price":2}]`, 2},
	} {
		all, err := read(endless(c.prefix, "7", long, c.suffix), Options{MediaType: c.mediaType})
		require.NoError(t, err, name)
		require.Len(t, all.rows, 2, name)
		require.Len(t, all.rejections, 1, name)
		require.Equal(t, c.line, all.rejections[0].Line, name)
		require.Contains(t, all.rejections[0].Reason, "65536 bytes", name)
		require.LessOrEqual(t, len(all.rejections[0].Text), shown+len("…"), name)
	}
}

func TestTheLongestRowIsCountedExactly(t *testing.T) {
	t.Parallel()
	for _, end := range []string{"\n", "\r\n", ""} {
		for _, row := range []string{"a,1234567", `"a",12345`} {
			all := readText(t, "item,price\n"+row+end, Options{MediaType: "text/csv", MaxLine: 10})
			require.Len(t, all.rows, 1, "%q", row+end)
			all = readText(t, "item,price\n"+row+"89"+end, Options{MediaType: "text/csv", MaxLine: 10})
			require.Len(t, all.rejections, 1, "%q", row+end)
		}
	}
	document := Options{MediaType: "application/json", MaxLine: 20}
	require.Len(t, readText(t, `[{"item":"","price":1}]`, Options{MediaType: "application/json", MaxLine: 21}).rejections,
		1)
	all := readText(t, `[{"item":"a","price":1}]`, document)
	require.Contains(t, all.rejections[0].Reason, "20 bytes")
}

// Not parallel: it measures the memory of the whole process.
func TestMemoryIsBoundedWhateverComes(t *testing.T) {
	const all = 24 << 20
	for name, c := range map[string]struct {
		mediaType, prefix, filling, suffix string
	}{
		"identical rows":      {"text/csv", "article,price\n", "a,1\n", ""},
		"quotation marks":     {"text/csv", "article,price\n", "\"", ""},
		"line feeds":          {"text/csv", "article,price\n", "\n", "a,1"},
		"line feeds, quoted":  {"text/csv", "article,price\n\"", "\n", ""},
		"one line":            {"application/x-ndjson", "{}\n", "x", ""},
		"brackets":            {"application/json", "[", "[", ""},
		"white space":         {"application/json", "[", " ", "]"},
		"white space behind":  {"application/json", "[]", " ", ""},
		"rows of nothing new": {"application/json", "[{}", ",{}", "]"},
	} {
		before := heap()
		r, err := Open(endless(c.prefix, c.filling, all/int64(len(c.filling))*int64(len(c.filling)), c.suffix),
			Options{MediaType: c.mediaType})
		require.NoError(t, err, name)
		var most uint64
		var row Row
		for i := 0; err == nil; i++ {
			if _, err = r.Next(&row); i%1_000_000 == 0 {
				most = max(most, heap())
			}
		}
		most = max(most, heap())
		runtime.KeepAlive(r)
		require.Less(t, most, before+8<<20, name)
	}
}

// heap is the memory in use after collecting what is not.
func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

func TestHowTheBytesArriveDoesNotMatter(t *testing.T) {
	t.Parallel()
	text := "article;price;note\r\n" + strings.Repeat("\"A;1\";12,50;\"x\r\ny\"\r\nB;\"3\";\"\"\"\"\r\n\"C;4\r\n", 3000)
	want, err := read(strings.NewReader(text), csvOptions)
	require.NoError(t, err)
	require.Len(t, want.rows, 6000)
	require.Len(t, want.rejections, 3000)
	for _, slow := range []func(io.Reader) io.Reader{iotest.OneByteReader, iotest.HalfReader, iotest.DataErrReader} {
		got, err := read(slow(strings.NewReader(text)), csvOptions)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
}

func TestASourceThatGivesNothingIsNoLoop(t *testing.T) {
	t.Parallel()
	_, err := Open(nothing{}, csvOptions)
	require.ErrorIs(t, err, io.ErrNoProgress)
}

type nothing struct{}

func (nothing) Read([]byte) (int, error) { return 0, nil }
