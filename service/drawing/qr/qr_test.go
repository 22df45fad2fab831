package qr

import (
	"image"
	"image/color"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// read reads a code by another library, from a picture of the drawing's own lines.
func read(t require.TestingT, doc []byte, width float64) string {
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return x
	}
	path := regexp.MustCompile(`<path d="([^"]+)" fill="none" stroke="#000000" stroke-width="([0-9.]+)"/>`).FindSubmatch(doc)
	require.Len(t, path, 3)
	thick := number(string(path[2]))
	modules := math.Round(width / (thick / 1.02))
	dots := 8 * modules / width // whole ones to a module: what a camera blurs is not tested here
	n := int(8 * modules)
	picture := image.NewGray(image.Rect(0, 0, n, n))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for _, l := range regexp.MustCompile(`M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)`).FindAllStringSubmatch(string(path[1]),
		-1) {
		x0, y0, x1 := number(l[1]), number(l[2]), number(l[3])
		row := int(math.Round(y0*dots/8 - 0.5))
		for y := 8 * row; y < 8*row+8; y++ {
			for x := int(math.Round(x0 * dots)); x < int(math.Round(x1*dots)); x++ {
				picture.SetGray(x, y, color.Gray{})
			}
		}
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(picture)
	require.NoError(t, err)
	found, err := qrcode.NewQRCodeReader().Decode(bits,
		map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true})
	require.NoError(t, err)
	return found.GetText()
}

func TestATelephoneReadsTheCode(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		text := "https://" + rapid.StringMatching(`[a-z0-9.-]{1,30}/[A-Za-z0-9/?=&_-]{0,120}`).Draw(r, "address")
		doc, err := Draw(text, 24, "Quote")
		require.NoError(r, err)
		require.Equal(r, text, read(r, doc, 24))
		again, err := Draw(text, 24, "Quote")
		require.NoError(r, err)
		require.Equal(r, doc, again, "the same text is the same code")
	})
}

func TestWhatNoCodeCanHold(t *testing.T) {
	t.Parallel()
	_, err := Draw(strings.Repeat("long", 1000), 24, "Quote")
	require.Error(t, err)
}
