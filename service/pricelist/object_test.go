package pricelist

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRowsInJSONAreRead(t *testing.T) {
	t.Parallel()
	one := `{"article": "A\u00e4 1", "price": 12.50, "unit": "pack", "pack_of": 100, "currency": null}`
	two := ` { "price":"-0.5" ,"item":"b"} `
	want := []Row{
		{Line: 1, Article: "Aä 1", Price: "12.50", Per: Pack, PackOf: "100", Currency: "USD"},
		{Line: 2, Item: "b", Price: "-0.5", Currency: "USD"},
	}
	for mediaType, text := range map[string]string{
		"application/x-ndjson":              one + "\r\n" + two,
		"application/json":                  "[" + one + "\n,\n" + two + "]\n",
		"application/json; charset=utf-8":   "\ufeff { \"rows\" : [" + one + "," + two + "] } ",
		"application/JSON; profile=shiny":   "[" + one + "," + two + "]",
		"application/x-ndjson; charset=X":   "",
		"application/x-ndjson; odd=\"yes\"": one + "\n" + two + "\n",
	} {
		o := Options{MediaType: mediaType, Currency: "USD"}
		if text == "" {
			require.Contains(t, faultOf(t, one, o), "encoding")
			continue
		}
		all := readText(t, text, o)
		require.Empty(t, all.rejections, mediaType)
		require.Equal(t, want, all.rows, mediaType)
		require.Equal(t, ".", all.understood.DecimalSign)
		require.Equal(t, []string{"article", "item", "price", "currency", "per", "pack_of"}, all.understood.Columns)
	}
}

func TestBadRowsInJSONAreRejectedOneByOne(t *testing.T) {
	t.Parallel()
	good := `{"item":"a","price":1}`
	for name, c := range map[string]struct{ row, column, says string }{
		"an unknown name":        {`{"item":"a","price":1,"prize":2}`, "prize", "not known"},
		"a name in capitals":     {`{"Item":"a","price":1}`, "Item", "not known"},
		"a name twice":           {`{"item":"a","price":1,"price":1}`, "price", "twice"},
		"per and unit":           {`{"item":"a","price":1,"per":"each","unit":"each"}`, "unit", "twice"},
		"an exponent":            {`{"item":"a","price":1e2}`, "price", "exponent"},
		"a decimal comma":        {`{"item":"a","price":"12,50"}`, "price", "point"},
		"a thousand":             {`{"item":"a","price":"1,234.50"}`, "price", "point"},
		"a number with a zero":   {`{"item":"a","price":012}`, "price", "not a JSON number"},
		"an article as a number": {`{"article":12,"price":1}`, "article", "quotation marks"},
		"a price that is true":   {`{"item":"a","price":true}`, "price", "neither text nor a number"},
		"a nested price":         {`{"item":"a","price":{"usd":1}}`, "price", "neither text nor a number"},
		"a null price":           {`{"item":"a","price":null}`, "price", "missing"},
		"a list":                 {`["a",1]`, "", "no JSON object"},
		"a text":                 {`"a"`, "", "no JSON object"},
		"a number":               {`17`, "", "no JSON object"},
		"an empty object":        {`{}`, "article", "neither"},
		"a lost comma":           {`{"item":"a" "price":1}`, "", "a comma or the closing brace"},
		"a comma too many":       {`{"item":"a","price":1,}`, "", "quotation mark was expected"},
		"a lost colon":           {`{"item" "a"}`, "item", "colon"},
		"a strange escape":       {`{"item":"a\x","price":1}`, "item", "backslash"},
		"half a character":       {`{"item":"\ud800","price":1}`, "item", "backslash"},
		"another encoding":       {"{\"item\":\"gr\xfcn\",\"price\":1}", "", "UTF-8"},
		"a NUL byte":             {"{\"item\":\"\x00\",\"price\":1}", "", "NUL"},
		"a control character":    {"{\"item\":\"\x01\",\"price\":1}", "item", "control character"},
	} {
		for mediaType, text := range map[string]string{
			"application/x-ndjson": good + "\n" + c.row + "\n" + good,
			"application/json":     "[" + good + "," + c.row + "," + good + "]",
		} {
			all := readText(t, text, Options{MediaType: mediaType})
			require.Len(t, all.rows, 2, name)
			require.Len(t, all.rejections, 1, name)
			require.Equal(t, 2, all.rejections[0].Line, name)
			require.Equal(t, c.column, all.rejections[0].Column, name)
			require.Contains(t, all.rejections[0].Reason, c.says, name)
		}
	}
	all := readText(t, good+"\n"+good+good+"\n{\"item\":\"a\n", Options{MediaType: "application/x-ndjson"})
	require.Len(t, all.rejections, 2)
	require.Contains(t, all.rejections[0].Reason, "behind the object")
	require.Contains(t, all.rejections[1].Reason, "not closed")
}
