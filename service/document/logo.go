package document

import (
	"bytes"
	"image"
	_ "image/jpeg" // logos may be JPEG
	"image/png"
)

// mostPixels bounds the size of a logo, either way.
const mostPixels = 4000

// logoPNG is a logo as a PNG without peculiarities; nil when it is no picture that can be shown. It is decoded and
// written anew, so that a broken file never reaches the PDF's library or a browser.
func logoPNG(raw []byte) []byte {
	config, _, err := image.DecodeConfig(bytes.NewReader(raw))
	if err != nil || config.Width > mostPixels || config.Height > mostPixels {
		return nil
	}
	picture, _, err := image.Decode(bytes.NewReader(raw))
	if err != nil {
		return nil
	}
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return nil
	}
	return out.Bytes()
}
