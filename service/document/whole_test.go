package document_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
)

// A page breaks no line within a mixed number, and writes what a caller says as text.
func TestAPageKeepsMixedNumbersWhole(t *testing.T) {
	t.Parallel()
	d := document.Document{Title: "t", Blocks: []document.Block{
		document.Text{Text: "94-15/32 in, not 4-3"},
		document.List{Items: []string{"1-1/2 & <b>2-1/4</b>"}},
		document.Table{Columns: []document.Column{{Title: "a", Weight: 1}}, Rows: []document.Row{{Cells: []string{"96 × 25-1/2\n3-1/8 \"note\""}}}},
	}}
	page, err := d.HTML()
	require.NoError(t, err)
	require.Contains(t, string(page), `<p dir="auto" class=""><span class="whole">94-15/32</span> in, not 4-3</p>`)
	require.Contains(t, string(page), `<li dir="auto"><span class="whole">1-1/2</span> &amp; &lt;b&gt;<span class="whole">2-1/4</span>&lt;/b&gt;</li>`)
	require.Contains(t, string(page), `96 × <span class="whole">25-1/2</span><span class="note"><span class="whole">3-1/8</span> &#34;note&#34;</span>`)
	require.Contains(t, string(page), ".whole { white-space: nowrap; }")
	require.NotRegexp(t, `[^>0-9][0-9]+-[0-9]+/[0-9]`, string(page))
}
