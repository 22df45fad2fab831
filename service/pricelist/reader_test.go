package pricelist

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// result is all that a list gives.
type result struct {
	rows       []Row
	rejections []Rejection
	understood Understood
}

func read(from io.Reader, o Options) (result, error) {
	var all result
	r, err := Open(from, o)
	if err != nil {
		return all, err
	}
	for {
		var row Row
		rejection, err := r.Next(&row)
		all.understood = r.Understood()
		switch {
		case errors.Is(err, io.EOF):
			return all, nil
		case err != nil:
			return all, err
		case rejection != nil:
			all.rejections = append(all.rejections, *rejection)
		default:
			all.rows = append(all.rows, row)
		}
	}
}

func readText(t *testing.T, text string, o Options) result {
	t.Helper()
	all, err := read(strings.NewReader(text), o)
	require.NoError(t, err)
	return all
}

// faultOf is the fault that a list cannot be read with.
func faultOf(t *testing.T, text string, o Options) string {
	t.Helper()
	_, err := read(strings.NewReader(text), o)
	var f *fault.Fault
	require.ErrorAs(t, err, &f)
	require.Equal(t, fault.Invalid, f.Kind)
	return f.Detail
}

var csvOptions = Options{MediaType: "text/csv"}

func TestACSVListIsRead(t *testing.T) {
	t.Parallel()
	all := readText(t, "Article , PRICE,Unit,currency,Pack_Of,remark\nA1,12.50,each,USD,,\"a \"\"good\"\" one\nin two lines\"\n\n A2 ,0.035,pack,EUR,100,\nA3,-1,,,,x", csvOptions)
	require.Empty(t, all.rejections)
	require.Equal(t, []Row{
		{Line: 2, Article: "A1", Price: "12.50", Currency: "USD", Per: Each},
		{Line: 5, Article: "A2", Price: "0.035", Currency: "EUR", Per: Pack, PackOf: "100"},
		{Line: 6, Article: "A3", Price: "-1"},
	}, all.rows)
	require.Equal(t, Understood{Format: "csv", Encoding: "utf-8", Separator: ",", DecimalSign: ".",
		Columns: []string{"article", "price", "per", "currency", "pack_of"}, Ignored: []string{"remark"},
		Stated: []string{"format"}}, all.understood)
}

func TestWhatTheSenderStatesIsReported(t *testing.T) {
	t.Parallel()
	all := readText(t, "\ufeffitem;price\na;1,5\n", Options{MediaType: `text/csv; charset="UTF-8"; header=present`,
		Separator: ';', DecimalSign: ',', Currency: "EUR", Unit: Hundred})
	require.Equal(t, []Row{{Line: 2, Item: "a", Price: "1.5", Currency: "EUR", Per: Hundred}}, all.rows)
	require.Equal(t, Understood{Format: "csv", Encoding: "utf-8 with a byte order mark", Separator: ";", DecimalSign: ",",
		Columns: []string{"item", "price"}, Stated: []string{"format", "encoding", "separator", "decimal_sign"}},
		all.understood)
}

func TestSeparatorAndDecimalSignAreRecognised(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text, separator, sign string
		prices                []string
		reasons               []string
	}{
		"comma and point": {"article,price\na,12.50\nb,3\n", ",", ".", []string{"12.50", "3"}, nil},
		"semicolon and comma": {"article;price\na;12,50\nb;1.234,5\n", ";", ",", []string{"12.50", "1234.5"},
			nil},
		"semicolon and point": {"article;price\na;12.50\nb;1,234.5\n", ";", ".", []string{"12.50", "1234.5"},
			nil},
		"tab":                               {"article\tprice\na\t0,125\n", "\t", ",", []string{"0.125"}, nil},
		"a comma inside a semicolon header": {"article;price;size, in\na;1.5;2\n", ";", ".", []string{"1.5"}, nil},
		"quoted commas":                     {"article,price\na,\"12,50\"\n", ",", ",", []string{"12.50"}, nil},
		"settled by a later row": {"article;price\na;1,234\nb;12,50\n", ";", ",", []string{"1.234", "12.50"},
			nil},
		"a point later makes it a thousand": {"article;price\na;1,234\nb;12.50\n", ";", ".", []string{"1234", "12.50"}, nil},
		"several groups settle it": {"article;price\na;1.234\nb;1.234.567\n", ";", ",", []string{"1234", "1234567"},
			nil},
		"nothing settles it": {"article;price\na;1,234\nb;12\n", ";", "", []string{"12"},
			[]string{"1,234 could be 1234 or 1.234: state the decimal sign"}},
		"nothing settles a point either": {"article;price\na;-1.234\nb;12\n", ";", "", []string{"12"},
			[]string{"1.234 could be 1234 or 1.234: state the decimal sign"}},
		"no decimals at all": {"article;price\na;7\n", ";", "", []string{"7"}, nil},
		"a comma where the sign is a point": {"article;price\na;1.5\nb;1,25,3\n", ";", ".", []string{"1.5"},
			[]string{`the number cannot be read with the decimal sign '.'; write it like 1234.50`}},
		"a point where the sign is a comma": {"article;price\na;1,5\nb;1.25,3\n", ";", ",", []string{"1.5"},
			[]string{`the number cannot be read with the decimal sign ','; write it like 1234,50`}},
		"two points where it is the decimal": {"article;price\na;1.5\nb;1.234.567\n", ";", "", nil, nil}, // see below
	} {
		if c.prices == nil {
			require.Contains(t, faultOf(t, c.text, csvOptions), "State the decimal sign.", name)
			continue
		}
		all := readText(t, c.text, csvOptions)
		var prices, reasons []string
		for _, row := range all.rows {
			prices = append(prices, row.Price)
		}
		for _, r := range all.rejections {
			require.Equal(t, "price", r.Column, name)
			reasons = append(reasons, r.Reason)
		}
		require.Equal(t, c.prices, prices, name)
		require.Equal(t, c.reasons, reasons, name)
		require.Equal(t, c.separator, all.understood.Separator, name)
		require.Equal(t, c.sign, all.understood.DecimalSign, name)
		require.Equal(t, []string{"format"}, all.understood.Stated, name)
	}
}

func TestADecimalSignMaySettleBehindTheFirstRows(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("article;price\n")
	for i := range 10_000 {
		fmt.Fprintf(&b, "a%d;7\n", i)
	}
	all := readText(t, b.String()+"x;1,234\ny;12,50\nz;1,234\n", csvOptions)
	require.Len(t, all.rows, 10_002)
	require.Equal(t, "1.234", all.rows[10_001].Price)
	require.Len(t, all.rejections, 1)
	require.Equal(t, 10_002, all.rejections[0].Line)
	require.Equal(t, ",", all.understood.DecimalSign)
}

func TestListsThatCannotBeReadAreRefusedAsAWhole(t *testing.T) {
	t.Parallel()
	ndjson, document := Options{MediaType: "application/x-ndjson"}, Options{MediaType: "application/json"}
	for name, c := range map[string]struct {
		text string
		o    Options
		says string
	}{
		"nothing":                  {"", csvOptions, "empty"},
		"a mark alone":             {"\ufeff\r\n", csvOptions, "empty"},
		"no rows at all in NDJSON": {"\n", ndjson, "empty"},
		"UTF-16 little endian":     {"\xff\xfea\x00,\x00", csvOptions, "UTF-16"},
		"UTF-16 big endian":        {"\xfe\xff\x00a\x00,", csvOptions, "UTF-16"},
		"UTF-16 without a mark":    {"a\x00r\x00t\x00\n\x00", csvOptions, "NUL bytes"},
		"Latin-1 in the header":    {"article,price,gr\xf6sse\na,1,2\n", csvOptions, "Line 1: the line is not in UTF-8"},
		"Latin-1 in the rows": {"article,price,note\na,1,gr\xfcn\nb,1,blau\nc,1,gr\xfcn\nd,2,wei\xdf\n", csvOptions,
			"3 of the first rows are not in UTF-8"},
		"gzip":       {"\x1f\x8b\x08\x00", csvOptions, "gzip"},
		"a workbook": {"PK\x03\x04xl/", csvOptions, "workbook"},
		"no price": {"article;cost\na;1\n", csvOptions,
			`has no column price; read with a semicolon between its columns it has “article”, “cost”`},
		"no article":     {"price,unit\n1,each\n", csvOptions, "has no column article or item"},
		"neither":        {"x,y\n", csvOptions, "has no column price and no column article or item"},
		"one column":     {"article\na\n", csvOptions, "has no column price"},
		"two separators": {"article,item;price\n", csvOptions, "State the separator."},
		"a column twice": {"article,price,Price\n", csvOptions, "the column price twice"},
		"per and unit":   {"article,price,per,unit\n", csvOptions, "the column per twice"},
		"no header":      {"A1,12.50\nA2,13\n", csvOptions, "Line 1: the header has no column price"},
		"a header that never ends": {"article,price," + strings.Repeat("x", 70_000) + "\n", csvOptions,
			"Line 1: the header has more than 65536 bytes"},
		"an open quotation mark": {"article,\"price\n", csvOptions, "the header cannot be read"},
		"carriage returns alone": {"article,price\ra,1\rb,2", csvOptions, "carriage returns alone"},
		"both decimal signs": {"article;price\na;12,50\nb;12.50\n", csvOptions,
			"The price in line 2 shows a decimal comma and the one in line 3 a decimal point. State the decimal sign."},
		"too many columns": {"article,price" + strings.Repeat(",x", 500) + "\n", csvOptions, "502 columns"},
		"the separator stated wrongly": {"article,price\na,1\n", Options{MediaType: "text/csv", Separator: ';'},
			"has no column price"},
		"no media type":      {"article,price\n", Options{}, "media type"},
		"another media type": {"article,price\n", Options{MediaType: "text/plain"}, "text/plain"},
		"another charset": {"article,price\n", Options{MediaType: "text/csv; charset=utf-16le"},
			"utf-16le"},
		"an encoding that JSON does not have": {"[]", Options{MediaType: "application/json; charset=windows-1252"}, "RFC 8259"},
		"a byte that the encoding does not have": {"article,price\n\xff,1\n", Options{MediaType: "text/csv; charset=windows-874"},
			"Byte 15"},
		"no header stated":              {"article,price\n", Options{MediaType: "text/csv; header=absent"}, "no header"},
		"a strange separator":           {"article,price\n", Options{MediaType: "text/csv", Separator: '|'}, "“|”"},
		"a strange decimal sign":        {"article,price\n", Options{MediaType: "text/csv", DecimalSign: '\''}, "“'”"},
		"a strange currency":            {"article,price\n", Options{MediaType: "text/csv", Currency: "usd"}, "“usd”"},
		"a strange unit":                {"article,price\n", Options{MediaType: "text/csv", Unit: "dozen"}, "“dozen”"},
		"a row longer than is sensible": {"article,price\n", Options{MediaType: "text/csv", MaxLine: 1 << 30}, "1 to"},
		"a separator for JSON":          {"[]", Options{MediaType: "application/json", Separator: ','}, "separator"},
		"JSON that is a text":           {`"a"`, document, "begins with"},
		"JSON with another member":      {`{"list":[]}`, document, `"rows"`},
		"JSON with one more member":     {`{"rows":[],"a":1}`, document, "the rows come last"},
		"JSON that goes on":             {`[] []`, document, "Something stands behind"},
		"JSON without a comma": {`[{"item":"a","price":1}{"item":"b","price":1}]`, document,
			"A comma was expected behind row 1"},
		"JSON with a comma too many":    {`[{"item":"a","price":1},]`, document, "Row 2 was expected"},
		"JSON cut off in a row":         {`[{"item":"a","price":1},{"item":"b`, document, "ends in or behind row 2"},
		"JSON cut off behind a row":     {`{"rows":[{"item":"a","price":1}`, document, "ends in or behind row 1"},
		"JSON cut off at its end":       {`{"rows":[{"item":"a","price":1}]`, document, "ends in or behind row 1"},
		"JSON cut off at its beginning": {`{"ro`, document, "was expected"},
		"JSON cut off behind a bracket": {`[`, document, "ends in or behind row 0"},
	} {
		require.Contains(t, faultOf(t, c.text, c.o), c.says, name)
	}
}

func TestBadRowsOfACSVListAreRejectedOneByOne(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ line, column, says string }{
		"an article and an item":      {"a,b,1,,,", "item", "both"},
		"neither":                     {",,1,,,", "article", "neither"},
		"an empty row":                {",,,,,", "article", "neither"},
		"a control character":         {"a\x07,,1,,,", "article", "control characters"},
		"a long article":              {strings.Repeat("a", 101) + ",,1,,,", "article", "at most 100 bytes"},
		"no price":                    {"a,,,,,", "price", "missing"},
		"a currency sign":             {"a,,$12,,,", "price", "currency has a column"},
		"a currency code":             {"a,,12 EUR,,,", "price", "currency has a column"},
		"an exponent":                 {"a,,1.2e3,,,", "price", "exponent"},
		"a space":                     {"a,,1 200,,,", "price", "spaces"},
		"a plus":                      {"a,,+1,,,", "price", "plain decimal"},
		"a minus behind":              {"a,,1-,,,", "price", "plain decimal"},
		"a minus alone":               {"a,,-,,,", "price", "plain decimal"},
		"a point in front":            {"a,,.5,,,", "price", "plain decimal"},
		"a point behind":              {"a,,5.,,,", "price", "plain decimal"},
		"a formula":                   {"a,,=1+1,,,", "price", "plain decimal"},
		"too many digits":             {"a,,1234567890123,,,", "price", "12 digits"},
		"too many decimals":           {"a,,1.1234567,,,", "price", "6 decimals"},
		"a currency in small letters": {"a,,1,usd,,", "currency", "ISO 4217"},
		"an unknown unit":             {"a,,1,,dozen,", "per", "it is one of each, hundred"},
		"a unit in capitals":          {"a,,1,,EACH,", "per", "it is one of each, hundred"},
		"a content without a unit":    {"a,,1,,,100", "per", "say whether"},
		"an empty pack":               {"a,,1,,pack,0", "pack_of", "more than nothing"},
		"a pack below nothing":        {"a,,1,,pack,-5", "pack_of", "more than nothing"},
		"a huge pack":                 {"a,,1,,pack,1000001", "pack_of", "at most 1000000"},
		"a pack in words":             {"a,,1,,pack,ten", "pack_of", "letters"},
		"a field too few":             {"a,,1,,", "", "5 fields and the header 6"},
		"an unquoted decimal comma":   {"a,,12,50,,each,", "", "7 fields and the header 6; a field that holds a comma"},
		"a quotation mark inside":     {`a"b,,1,,,`, "", "put the field in quotation marks"},
		"text behind a mark":          {`"a"b,,1,,,`, "", "behind a closing quotation mark"},
		"a NUL byte":                  {"a\x00,,1,,,", "", "NUL"},
		"another encoding":            {"gr\xfcn,,1,,,", "", "not in UTF-8"},
		"another encoding, quoted":    {"\"gr\xfcn\",,1,,,", "", "not in UTF-8"},
	} {
		all := readText(t, "article,item,price,currency,per,pack_of\nx,,1.5,,,\n"+c.line+"\r\ny,,2.5,,,\n", csvOptions)
		require.Len(t, all.rows, 2, name)
		require.Len(t, all.rejections, 1, name)
		r := all.rejections[0]
		require.Equal(t, 3, r.Line, name)
		require.Equal(t, c.column, r.Column, name)
		require.Contains(t, r.Reason, c.says, name)
		require.LessOrEqual(t, len(r.Text), shown+len("…"), name)
		require.NotContains(t, r.Text, "\x00", name)
	}
}

func TestAStrayQuotationMarkSwallowsNoOtherRow(t *testing.T) {
	t.Parallel()
	all := readText(t, "article,price\na,1.5\n\"b,2.5\nc,3.5\nd,4.5\n", csvOptions)
	require.Len(t, all.rejections, 1)
	require.Equal(t, Rejection{Line: 3,
		Reason: "a quotation mark is not closed before the list ends; the list seems to have been cut off, or the mark is a stray one",
		Text:   `"b,2.5`}, all.rejections[0])
	require.Len(t, all.rows, 3)
	require.Equal(t, 4, all.rows[1].Line)

	// Two stray marks would make one row of what stands between them, were it not for the text behind the second.
	all = readText(t, "article,price\n\"a,1.5\nb,2.5\n\"c,3.5\nd,4.5\n", csvOptions)
	require.Len(t, all.rejections, 2)
	require.Len(t, all.rows, 2)
}

func TestAListThatWasCutOffSaysSo(t *testing.T) {
	t.Parallel()
	all := readText(t, "article,price,per\na,1.5,each\nb,2", csvOptions)
	require.Len(t, all.rejections, 1)
	require.Contains(t, all.rejections[0].Reason, "cut off here")
	all = readText(t, "article,price,per\na,1.5,each\nb,2\n", csvOptions)
	require.NotContains(t, all.rejections[0].Reason, "cut off here", "a whole line that is too short is no sign of it")
	all = readText(t, `{"item":"a","price":1}`+"\n"+`{"item":"b","pri`, Options{MediaType: "application/x-ndjson"})
	require.Len(t, all.rows, 1)
	require.Contains(t, all.rejections[0].Reason, "cut off here")
}

func TestAnErrorOfTheSourceComesThrough(t *testing.T) {
	t.Parallel()
	for _, mediaType := range []string{"text/csv", "application/x-ndjson", "application/json"} {
		_, err := read(io.MultiReader(strings.NewReader("article,price\na,1\n"), iotest.ErrReader(io.ErrUnexpectedEOF)),
			Options{MediaType: mediaType})
		require.ErrorIs(t, err, io.ErrUnexpectedEOF, "a body or a gzip stream that was cut off is no shorter list")
		var f *fault.Fault
		require.NotErrorAs(t, err, &f)
	}
}

func TestTheEndStaysTheEnd(t *testing.T) {
	t.Parallel()
	r, err := Open(strings.NewReader("[]"), Options{MediaType: "application/json"})
	require.NoError(t, err)
	var row Row
	for range 3 {
		_, err = r.Next(&row)
		require.ErrorIs(t, err, io.EOF)
	}
}
