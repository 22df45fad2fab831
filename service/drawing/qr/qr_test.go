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

// Every row of modules is drawn in its middle, from one border between modules to another, four modules from every side.
func TestModulesLieOnTheirGrid(t *testing.T) {
	t.Parallel()
	doc, err := Draw("https://shop.example/12-9", 26, "Quote")
	require.NoError(t, err)
	lines := regexp.MustCompile(`M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)`).FindAllStringSubmatch(string(doc), -1)
	least, most := 26.0, 0.0
	var at [][4]float64
	for _, l := range lines {
		var q [4]float64
		for i := range q {
			q[i], err = strconv.ParseFloat(l[i+1], 64)
			require.NoError(t, err)
		}
		at = append(at, q)
		least, most = min(least, q[0]), max(most, q[2])
	}
	require.InDelta(t, 26-most, least, 0.02, "the same quiet on either side")
	m := 26 / math.Round(26/(least/4))
	require.InDelta(t, 4*m, least, 0.006)
	for _, q := range at {
		require.Equal(t, q[1], q[3])
		require.Less(t, q[0], q[2])
		for _, x := range []float64{q[0], q[2], q[1] - m/2} {
			require.InDelta(t, math.Round(x/m)*m, x, 0.012)
		}
		require.GreaterOrEqual(t, q[1], 4.4*m)
		require.LessOrEqual(t, q[1], 26-4.4*m)
	}
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
