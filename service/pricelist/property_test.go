package pricelist

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// dialect is how a CSV list is written.
type dialect struct {
	separator, decimal, lineEnd string
	mark, quoteAll, grouped     bool
	lastEnd                     bool
	stated                      bool
}

func anyDialect(t *rapid.T) dialect {
	return dialect{
		separator: rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator"),
		decimal:   rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal"),
		lineEnd:   rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end"),
		mark:      rapid.Bool().Draw(t, "mark"), quoteAll: rapid.Bool().Draw(t, "quote all"),
		grouped: rapid.Bool().Draw(t, "grouped"),
		lastEnd: rapid.Bool().Draw(t, "last end"), stated: rapid.Bool().Draw(t, "stated"),
	}
}

// field writes a field, in quotation marks when it needs them.
func (d *dialect) field(s string) string {
	if d.quoteAll || strings.ContainsAny(s, "\"\r\n"+d.separator) || strings.Trim(s, " \t") != s {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

// number writes a number with the dialect's signs.
func (d *dialect) number(s string) string {
	minus := strings.HasPrefix(s, "-")
	front, behind, has := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if d.grouped {
		group := map[string]string{".": ",", ",": "."}[d.decimal]
		for i := len(front) - 3; i > 0; i -= 3 {
			front = front[:i] + group + front[i:]
		}
	}
	if has {
		front += d.decimal + behind
	}
	if minus {
		return "-" + front
	}
	return front
}

// write writes rows and a column that is not used.
func (d *dialect) write(rows []Row, note string) string {
	var b strings.Builder
	if d.mark {
		b.WriteString("\ufeff")
	}
	lines := [][]string{{"article", "note", "item", "price", "currency", "unit", "pack_of"}}
	for _, r := range rows {
		lines = append(lines, []string{r.Article, note, r.Item, d.number(r.Price), r.Currency, string(r.Per),
			d.number(r.PackOf)})
	}
	for i, line := range lines {
		for k, s := range line {
			if k > 0 {
				b.WriteString(d.separator)
			}
			b.WriteString(d.field(s))
		}
		if i < len(lines)-1 || d.lastEnd {
			b.WriteString(d.lineEnd)
		}
	}
	return b.String()
}

func anyRow(t *rapid.T) Row {
	name := rapid.StringMatching(`[A-Za-z0-9"',;.ä/-]([A-Za-z0-9 "',;.ä/-]{0,20}[A-Za-z0-9"])?`).Draw(t, "name")
	row := Row{
		Price:    rapid.StringMatching(`-?(0|[1-9][0-9]{0,11})(\.[0-9]{1,6})?`).Draw(t, "price"),
		Currency: rapid.SampledFrom([]string{"", "USD", "EUR"}).Draw(t, "currency"),
		Per:      rapid.SampledFrom(append(Units(), "")).Draw(t, "per"),
	}
	if row.Article = name; rapid.Bool().Draw(t, "item") {
		row.Article, row.Item = "", name
	}
	if row.Per == Pack || row.Per != "" && rapid.Bool().Draw(t, "with pack") {
		row.PackOf = rapid.StringMatching(`[1-9][0-9]{0,5}(\.[0-9]{1,4})?`).Draw(t, "pack of")
	}
	return row
}

func TestWhatIsWrittenInAnyDialectIsReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := anyDialect(t)
		rows := rapid.SliceOfN(rapid.Custom(anyRow), 0, 30).Draw(t, "rows")
		note := rapid.SampledFrom([]string{"", "plain", "with \"marks\"", "two\nlines",
			"two\r\nlines, " + strings.Repeat("long ", 40), "grün"}).Draw(t, "note")
		o := Options{MediaType: "text/csv"}
		if !d.stated { // then the first row settles the sign
			rows = append([]Row{{Article: "first", Price: "0.5"}}, rows...)
		} else {
			o.Separator, o.DecimalSign = rune(d.separator[0]), rune(d.decimal[0])
		}
		all, err := read(strings.NewReader(d.write(rows, note)), o)
		require.NoError(t, err)
		require.Empty(t, all.rejections)
		require.Len(t, all.rows, len(rows))
		for i, got := range all.rows {
			got.Line = 0
			require.Equal(t, rows[i], got)
		}
		require.Equal(t, d.separator, all.understood.Separator)
		require.Equal(t, d.decimal, all.understood.DecimalSign)
	})
}

func TestWhatIsWrittenInJSONIsReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(anyRow), 1, 20).Draw(t, "rows")
		var lines []string
		for i := range rows {
			rows[i].Line = i + 1
			members := map[string]any{"price": rows[i].Price}
			if rapid.Bool().Draw(t, "as a number") {
				members["price"] = json.Number(rows[i].Price)
			}
			for name, value := range map[string]string{"article": rows[i].Article, "item": rows[i].Item,
				"currency": rows[i].Currency,
				"per":      string(rows[i].Per), "pack_of": rows[i].PackOf} {
				if value != "" {
					members[name] = value
				}
			}
			line, err := json.Marshal(members)
			require.NoError(t, err)
			lines = append(lines, string(line))
		}
		for mediaType, text := range map[string]string{
			"application/x-ndjson": strings.Join(lines, "\n"),
			"application/json":     "[" + strings.Join(lines, ",\n") + "]",
		} {
			all, err := read(strings.NewReader(text), Options{MediaType: mediaType})
			require.NoError(t, err)
			require.Empty(t, all.rejections)
			require.Equal(t, rows, all.rows)
		}
	})
}

// accounted reads a list and checks what holds for every list: nothing panics, the end comes, every line that is not
// empty is a row or a rejection, in order. physical says that a row never takes more than a line.
func accounted(t *testing.T, list []byte, o Options, physical bool) {
	t.Helper()
	r, err := Open(bytes.NewReader(list), o)
	if err != nil {
		require.NotErrorIs(t, err, io.EOF)
		return
	}
	// Lines up to the header are used up, and so are lines without anything in them.
	want := map[int]bool{}
	after := 0
	if c, ok := r.list.(*csvList); ok {
		after = c.w.line
	}
	for i, line := range strings.Split(strings.TrimPrefix(string(list), "\ufeff"), "\n") {
		line = strings.TrimSuffix(line, "\r")
		if i+1 > after && (line != "" && after > 0 || trim(line) != "") {
			want[i+1] = true
		}
	}
	last, count := after, 0
	var row Row
	for ; ; count++ {
		rejection, err := r.Next(&row)
		if err != nil {
			require.ErrorIs(t, err, io.EOF)
			break
		}
		line := row.Line
		if rejection != nil {
			line = rejection.Line
			require.NotEmpty(t, rejection.Reason)
			require.LessOrEqual(t, len(rejection.Text), 4*shown)
		} else {
			_, ok := millionths(row.Price)
			require.True(t, ok, "%q", row.Price)
			require.NotEqual(t, row.Article == "", row.Item == "")
		}
		require.Greater(t, line, last)
		require.True(t, want[line], "line %d of %q", line, list)
		last = line
	}
	if physical {
		require.Len(t, want, count, "%q", list)
	}
}

func FuzzReadCSV(f *testing.F) {
	for _, s := range []string{"article,price\na,1\n", "item;price;per\na;\"1,5\";each\n\"b\nc\";2;x\n",
		"\ufeffarticle\tprice\r\na\t1.234,5\r\n\r\n\"\"\"\t1",
		"price,article,pack_of,unit\n1e3,a,100,pack\n-1,b,\xff,pack\n\"a\",\"\n\"", "article,price\n\"a,1\nb,2\n\"c,3"} {
		f.Add([]byte(s), uint8(0))
	}
	f.Fuzz(func(t *testing.T, list []byte, maxLine uint8) {
		o := Options{MediaType: "text/csv", MaxLine: int(maxLine)}
		accounted(t, list, o, bytes.IndexByte(list, '"') < 0)
		o.Separator, o.DecimalSign = ';', ','
		accounted(t, list, o, bytes.IndexByte(list, '"') < 0)
	})
}

func FuzzReadNDJSON(f *testing.F) {
	for _, s := range []string{`{"item":"a","price":1}`,
		"{\"article\":\"\\u00e4\",\"price\":\"-1.5\",\"per\":\"pack\",\"pack_of\":3}\r\n\n[]\n{", `{"item":null,"item":1}`} {
		f.Add([]byte(s), uint8(0))
	}
	f.Fuzz(func(t *testing.T, list []byte, maxLine uint8) {
		accounted(t, list, Options{MediaType: "application/x-ndjson", MaxLine: int(maxLine)}, true)
	})
}

func FuzzReadJSON(f *testing.F) {
	for _, s := range []string{`[{"item":"a","price":1}]`, ` {"rows":[{"price":"1"} , [1,"]"], "x\"" ,-1]}`, `[1"a"]`,
		`[{}{}]`, `[{"a":"\`} {
		f.Add([]byte(s), uint8(0))
	}
	f.Fuzz(func(t *testing.T, list []byte, maxLine uint8) {
		all, err := read(bytes.NewReader(list), Options{MediaType: "application/json", MaxLine: int(maxLine)})
		if err != nil {
			return
		}
		// A list that was read to its end without a fault has as many rows as the standard library finds, if that can
		// read it.
		var rows []json.RawMessage
		var document struct{ Rows []json.RawMessage }
		text := bytes.TrimPrefix(list, []byte("\ufeff"))
		if json.Unmarshal(text, &rows) != nil && json.Unmarshal(text, &document) == nil {
			rows = document.Rows
		}
		if json.Valid(text) {
			require.Equal(t, len(rows), len(all.rows)+len(all.rejections), "%q", list)
		}
	})
}

func TestEveryLineOfAnyTextIsAccountedFor(t *testing.T) {
	t.Parallel()
	pieces := []string{"a", "\"", ",", "\n", "\r\n", "1", ".", "each", "\"\"", "\xff", "\x00", "{", "}", `"item":`, " "}
	rapid.Check(t, func(t2 *rapid.T) {
		text := strings.Join(rapid.SliceOf(rapid.SampledFrom(pieces)).Draw(t2, "text"), "")
		accounted(t, []byte("article,price\n"+text), csvOptions, !strings.Contains(text, `"`))
		accounted(t, []byte(text), Options{MediaType: "application/x-ndjson", MaxLine: 20}, true)
	})
}

func TestADecimalIsReadTheSameWayEverywhere(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`-?[0-9.,]{0,12}`).Draw(t, "text")
		for _, sign := range []byte{0, '.', ','} {
			d := decimals{sign: sign}
			plain, reason := d.read(text, priceWhole, pricePlaces)
			if reason != "" {
				require.Equal(t, sign, d.sign, "a number that is refused settles nothing")
				continue
			}
			n, ok := millionths(plain)
			require.True(t, ok, "%q gives %q", text, plain)
			var whole, behind int64
			var places string
			front, rest, _ := strings.Cut(strings.TrimPrefix(plain, "-"), ".")
			_, err := fmt.Sscanf(front+" "+rest+"000000"[len(rest):], "%d %s", &whole, &places)
			require.NoError(t, err)
			_, err = fmt.Sscanf(places, "%d", &behind)
			require.NoError(t, err)
			if want := whole*1_000_000 + behind; strings.HasPrefix(plain, "-") {
				require.Equal(t, -want, n)
			} else {
				require.Equal(t, want, n)
			}
		}
	})
}
