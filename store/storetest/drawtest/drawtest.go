// Package drawtest takes drawings apart, for tests, and has the orders that they draw.
package drawtest

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
)

// SVG is what a reader finds in a drawing: the texts, those of each row of the table, and the names of the elements.
type SVG struct {
	Texts    []string
	Rows     [][]string
	Elements []string
}

// Read takes a drawing apart with a strict XML reader.
func Read(t require.TestingT, doc []byte) SVG {
	var out SVG
	d := xml.NewDecoder(bytes.NewReader(doc))
	row, depth := -1, 0
	var text *strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			out.Elements = append(out.Elements, e.Name.Local)
			depth++
			for _, a := range e.Attr {
				if a.Name.Local == "data-mark" {
					out.Rows, row = append(out.Rows, nil), depth
				}
			}
			if e.Name.Local == "text" || e.Name.Local == "title" || e.Name.Local == "desc" {
				text = new(strings.Builder)
			}
		case xml.EndElement:
			if text != nil {
				out.Texts = append(out.Texts, text.String())
				if row > 0 {
					out.Rows[len(out.Rows)-1] = append(out.Rows[len(out.Rows)-1], text.String())
				}
				text = nil
			}
			if depth == row {
				row = -1
			}
			depth--
		case xml.CharData:
			if text != nil {
				text.Write(e)
			}
		}
	}
}

// Collisions are pairs of texts of which one lies on the other by more than a hair.
func Collisions(boxes []pen.Box) []string {
	const hair = 0.05
	var out []string
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if a.X0 < b.X1-hair && b.X0 < a.X1-hair && a.Y0 < b.Y1-hair && b.Y0 < a.Y1-hair {
				out = append(out, fmt.Sprintf("%q on %q (%.1f %.1f, %.1f %.1f)", a.Text, b.Text, a.X0, a.Y0, b.X0, b.Y0))
			}
		}
	}
	return out
}
