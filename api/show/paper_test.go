package show_test

import (
	"image"
	"image/draw"
	"testing"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/stretchr/testify/require"

	"seamwright/api/show"
)

const dpi = 60

// rasterOf renders a PDF to pictures, a page each, by an independent library (PDFium).
func rasterOf(t testing.TB, pool pdfium.Pool, raw []byte) (pages []image.Image) {
	t.Helper()
	reader, err := pool.GetInstance(time.Minute)
	require.NoError(t, err)
	defer func() { require.NoError(t, reader.Close()) }()
	doc, err := reader.OpenDocument(&requests.OpenDocument{File: &raw})
	require.NoError(t, err)
	defer func() {
		_, err := reader.FPDF_CloseDocument(&requests.FPDF_CloseDocument{Document: doc.Document})
		require.NoError(t, err)
	}()
	count, err := reader.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: doc.Document})
	require.NoError(t, err)
	for i := range count.PageCount {
		page, err := reader.RenderPageInDPI(&requests.RenderPageInDPI{DPI: dpi,
			Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: i}}})
		require.NoError(t, err)
		copied := image.NewRGBA(page.Result.RenderedImage.Bounds())
		draw.Draw(copied, copied.Bounds(), page.Result.RenderedImage, copied.Bounds().Min, draw.Src)
		pages = append(pages, copied)
		page.Cleanup()
	}
	return pages
}

// inked is the share of a part of a page that is not white; the part is given in shares of the page.
func inked(page image.Image, x0, y0, x1, y1 float64) float64 {
	b := page.Bounds()
	w, h := float64(b.Dx()), float64(b.Dy())
	dark, all := 0, 0
	for x := int(x0 * w); x < int(x1*w); x++ {
		for y := int(y0 * h); y < int(y1*h); y++ {
			r, g, bl, _ := page.At(b.Min.X+x, b.Min.Y+y).RGBA()
			if all++; r < 0xf000 || g < 0xf000 || bl < 0xf000 {
				dark++
			}
		}
	}
	return float64(dark) / float64(all)
}

// PDFium takes seconds to be compiled: once for all that is held of pictures.
func TestPapersAsPictures(t *testing.T) {
	pool, err := webassembly.Init(webassembly.Config{MinIdle: 1, MaxIdle: 1, MaxTotal: 1})
	require.NoError(t, err)
	defer func() { require.NoError(t, pool.Close()) }()
	t.Run("look like papers", func(t *testing.T) { papersLookLikePapers(t, pool) })
	t.Run("for the bench keep off the edges", func(t *testing.T) { papersForTheBenchKeepOffTheEdges(t, pool) })
}

// Every page has something on it, nothing runs into the margins or is cut off by the paper's edge, and the beginning of
// an offer and of a shop sheet shows the plan, which is where most of the ink is: text alone covers 2 %.
func papersLookLikePapers(t *testing.T, pool pdfium.Pool) {
	long := subjectOf(t, request(t, "l_desk.json"))
	long.Customer, long.Reference = []string{"A name of two hundred letters " + string(make200()), "2 Harbour Street"},
		"שולחן פינתי 🪵 田中 한글 مكتب"
	for name, s := range map[string]*show.Subject{"desk": subjectOf(t, request(t, "l_desk.json")),
		"bar": subjectOf(t, request(t, "l_bar.json")), "hostile": long} {
		for _, view := range []string{"offer.pdf", "shop-sheet.pdf"} {
			for _, paper := range []string{"A4", "Letter"} {
				raw, err := show.Make(view, s, show.Options{Paper: paper})
				require.NoError(t, err)
				pages := rasterOf(t, pool, raw)
				at := name + " " + view + " " + paper
				require.NotEmpty(t, pages, at)
				for n, page := range pages {
					require.Greater(t, inked(page, 0.03, 0.03, 0.97, 0.93), 0.001, "%s: page %d is blank", at, n+1)
					for side, ink := range map[string]float64{"left": inked(page, 0, 0, 0.025, 1),
						"right": inked(page, 0.975, 0, 1, 1), "top": inked(page, 0, 0, 1, 0.02), "bottom": inked(page, 0, 0.98, 1, 1)} {
						require.Zero(t, ink, "%s: page %d runs into the %s margin", at, n+1, side)
					}
				}
				plan := inked(pages[0], 0.15, 0.35, 0.85, 0.75)
				if name == "hostile" && len(pages) > 1 { // a long head may move it on
					plan = max(plan, inked(pages[1], 0.15, 0.05, 0.85, 0.5))
				}
				require.Greater(t, plan, 0.03, "%s: the plan is missing", at)
			}
		}
	}
}

func make200() []byte {
	out := make([]byte, 200)
	for i := range out {
		out[i] = 'W'
	}
	return out
}

// Papers at true size and for the saw keep off the edges of the paper as well, where printers cannot reach, and have no blank page.
func papersForTheBenchKeepOffTheEdges(t *testing.T, pool pdfium.Pool) {
	s := subjectOf(t, request(t, "l_bar.json"))
	for _, view := range []string{"template.pdf", "stick.pdf", "boards.pdf", "labels.pdf"} {
		for _, paper := range []string{"A4", "Letter"} {
			o := show.Options{Paper: paper}
			if view == "template.pdf" {
				o.Corner = 1
			}
			raw, err := show.Make(view, s, o)
			require.NoError(t, err)
			for n, page := range rasterOf(t, pool, raw) {
				at := view + " " + paper
				require.Greater(t, inked(page, 0, 0, 1, 1), 0.001, "%s: page %d is blank", at, n+1)
				for side, ink := range map[string]float64{"left": inked(page, 0, 0, 0.018, 1), "right": inked(page, 0.982, 0, 1, 1),
					"top": inked(page, 0, 0, 1, 0.018), "bottom": inked(page, 0, 0.982, 1, 1)} {
					require.Zero(t, ink, "%s: page %d runs into the %s edge", at, n+1, side)
				}
			}
		}
	}
}
