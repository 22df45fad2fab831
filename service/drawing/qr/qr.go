// Package qr draws a text as a QR code (ISO/IEC 18004), which a telephone reads from paper.
package qr

import (
	"fmt"
	"image/color"

	"github.com/boombuler/barcode/qr"

	"seamwright/service/drawing/pen"
)

// quiet is how many modules are left free on each side (ISO/IEC 18004 asks for 4; from memory).
const quiet = 4

// Draw returns the code of a text as an SVG document of that width in millimetres, with what it says as its description. It returns an
// error when the text is empty or too long.
func Draw(text string, width float64, title string) ([]byte, error) {
	code, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("QR code of %.40q: %w", text, err)
	}
	n := code.Bounds().Dx()
	dark := func(x, y int) bool { return code.At(x, y) == color.Black }
	m := width / float64(n+2*quiet)
	var p pen.Pen
	var rows []pen.Point
	for y := range n {
		at := (float64(y+quiet) + 0.5) * m
		for x := 0; x < n; x++ {
			from := x
			for x < n && dark(x, y) {
				x++
			}
			if x > from {
				rows = append(rows, pen.At(float64(from+quiet)*m, at), pen.At(float64(x+quiet)*m, at))
			}
		}
	}
	p.Lines(rows, pen.Stroke{Ink: "#000000", Width: m * 1.02}) // a hair more, so that no line of paper shows between rows
	return p.Document(width, width, "code", title, text), nil
}
