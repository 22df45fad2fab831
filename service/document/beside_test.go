package document

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a block is reckoned to take is what it takes when it is printed.
func TestBlocksTakeTheRoomThatIsReckoned(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.held++
	text := rapid.StringMatching(`([A-Za-zäß田]{1,18} ){0,40}`)
	rapid.Check(t, func(r *rapid.T) {
		texts := rapid.SliceOfN(text, 1, 3).Draw(r, "texts")
		block := rapid.SampledFrom([]Block{
			Heading{Level: 2, Text: texts[0]}, Heading{Level: 3, Text: texts[0]},
			Text{Text: texts[0]}, Text{Tone: Lead, Text: texts[0]}, Text{Tone: Fine, Text: texts[0]},
			Text{Tone: Caution, Text: texts[0]},
			List{Items: texts}, Facts{Rows: [][2]string{{texts[0], "x"}, {"name", texts[0]}}},
			Table{Columns: []Column{{Title: texts[0], Weight: 2}, {Title: "b", Weight: 1, Right: true}},
				Rows: []Row{{Cells: texts}, {Cells: texts, Strong: true, Tick: true}}},
			Figure{Picture: pictureOf(120, 30), Caption: texts[0]}, Figure{Picture: pictureOf(60, 30), Share: 0.4},
			Figure{Print: pictureOf(50, 20), Caption: "c"},
			Signature{Under: []string{"a", "b"}},
		}).Draw(r, "block")
		pair := Columns{Left: []Block{Text{Text: texts[0]}, block}, Right: []Block{block}, Share: 0.6}
		for _, b := range []Block{block, pair, Together{Blocks: []Block{block, pair}}} {
			p.pdf.SetXY(margin, margin)
			before := p.pdf.GetY()
			high := p.tall(b, 1)
			p.block(b, 1)
			require.NoError(r, p.pdf.Error())
			require.InDelta(r, high, p.pdf.GetY()-before, 0.01, "%T", b)
		}
	})
}

// Blocks that stand together begin a page rather than break over it, and columns begin at one height.
func TestBlocksStandTogether(t *testing.T) {
	t.Parallel()
	fill := Text{Text: strings.Repeat("line\n", 46)}
	last := []Block{Heading{Level: 2, Text: "Order"}, Text{Text: strings.Repeat("words ", 200)},
		Signature{Under: []string{"Here"}}}
	apart := &Document{Paper: A4, Page: "%d %s", Blocks: append([]Block{fill}, last...)}
	together := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{fill, Together{last}}}
	on := func(d *Document, word string) int {
		r := open(t, d)
		for n := 1; n <= r.NumPage(); n++ {
			text, err := r.Page(n).GetPlainText(nil)
			require.NoError(t, err)
			if strings.Contains(strings.Join(strings.Fields(text), ""), word) {
				return n
			}
		}
		return 0
	}
	require.NotEqual(t, on(apart, "Order"), on(apart, "Here"))
	require.Equal(t, on(together, "Order"), on(together, "Here"))
	long := &Document{Paper: A4, Page: "%d %s",
		Blocks: []Block{Columns{Left: []Block{fill, fill}, Right: []Block{Text{Text: "Beside"}}, Share: 0.5}}}
	require.Equal(t, open(t, long).NumPage(), on(long, "Beside"), "what is longer than a page stands one under the other")
}
