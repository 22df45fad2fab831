package document

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// figure draws a picture as lines and letters, not as an image. It takes the elements that package pen writes: line, path (of
// straight lines), rect, ellipse, polyline, polygon, text, and groups without attributes of their own.
func (p *printer) figure(f Figure) {
	picture := f.Picture
	if f.Print != nil {
		picture = f.Print
	}
	art := &artist{printer: p, decoder: xml.NewDecoder(bytes.NewReader(picture))}
	if err := art.draw(f); err != nil {
		p.pdf.SetError(fmt.Errorf("draw a figure: %w", err))
	}
}

// shrinkTo is how much of its size a picture keeps at least when it is made smaller to fit on a page that has begun.
const shrinkTo = 0.7

// artist draws one picture into the page.
type artist struct {
	*printer
	decoder *xml.Decoder
	x, y, s float64 // the picture's origin on the page, and its scale
	whole   bool    // the page is the picture's
}

func (a *artist) draw(f Figure) error {
	for {
		token, err := a.decoder.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if err := a.element(f, attributes(start), start.Name.Local); err != nil {
			return err
		}
		if start.Name.Local == "svg" && !a.whole {
			defer a.end(f, attributes(start))
		}
	}
}

func attributes(start xml.StartElement) map[string]string {
	all := make(map[string]string, len(start.Attr))
	for _, one := range start.Attr {
		all[one.Name.Local] = one.Value
	}
	return all
}

func number(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0 // an attribute that is not there
	}
	return x
}

// place finds room for the picture: as wide as is wanted, and on one page.
func (a *artist) place(f Figure, view string) error {
	parts := strings.Fields(view)
	if len(parts) != 4 {
		return fmt.Errorf("viewBox %q", view)
	}
	w, h := number(parts[2]), number(parts[3])
	if w <= 0 || h <= 0 {
		return fmt.Errorf("viewBox %q", view)
	}
	width := a.width
	if f.Share > 0 {
		width *= f.Share
	}
	a.s = min(width/w, (a.bottom-margin-8)/h)
	caption := 0.0
	if f.Caption != "" {
		caption = 5
	}
	if f.Print != nil {
		if most := a.bottom - margin - caption; w > a.width+0.01 || h > most {
			return fmt.Errorf("a picture of %.1f × %.1f mm is to be printed at its own size in %.1f × %.1f mm", w, h, a.width,
				most)
		}
		a.s, width = 1, a.width
	}
	// A picture that nearly fits on what is left of the page is made a little smaller rather than begin another.
	if left := a.bottom - a.pdf.GetY() - caption; a.held == 0 && f.Print == nil && h*a.s > left && left >= shrinkTo*h*a.s {
		a.s = left / h
	}
	a.room(h*a.s + caption - 0.01)
	a.x, a.y = a.left+(width-w*a.s)/2, a.pdf.GetY()
	return nil
}

func (a *artist) end(f Figure, svg map[string]string) {
	h := number(strings.Fields(svg["viewBox"])[3])
	a.pdf.SetXY(a.left, a.y+h*a.s+1)
	a.ink()
	a.pdf.SetDashPattern(nil, 0)
	if f.Caption != "" {
		a.letters("", fine)
		a.pdf.SetTextColor(grey, grey, grey)
		a.lines(f.Caption, a.width, fine, "L")
		a.ink()
	}
	a.after(a.between())
}

func (a *artist) element(f Figure, at map[string]string, name string) error {
	x := func(key string) float64 { return a.x + number(at[key])*a.s }
	y := func(key string) float64 { return a.y + number(at[key])*a.s }
	size := func(key string) float64 { return number(at[key]) * a.s }
	switch name {
	case "svg":
		if a.whole {
			return nil
		}
		return a.place(f, at["viewBox"])
	case "g", "title", "desc", "tspan":
		if name != "g" {
			return a.decoder.Skip()
		}
	case "line":
		if style := a.look(at); style != "" {
			a.pdf.Line(x("x1"), y("y1"), x("x2"), y("y2"))
		}
	case "rect":
		if style := a.look(at); style != "" {
			if r := size("rx"); r > 0 {
				a.pdf.RoundedRect(x("x"), y("y"), size("width"), size("height"), r, "1234", style)
			} else {
				a.pdf.Rect(x("x"), y("y"), size("width"), size("height"), style)
			}
		}
	case "ellipse":
		if style := a.look(at); style != "" {
			a.pdf.Ellipse(x("cx"), y("cy"), size("rx"), size("ry"), 0, style)
		}
	case "polyline", "polygon":
		return a.poly(at, name == "polygon")
	case "path":
		return a.strokes(at)
	case "text":
		return a.label(at)
	default:
		return fmt.Errorf("element %s is none that a picture here has", name)
	}
	return nil
}

// look sets the pen for a shape and says how it is painted; empty: not at all.
func (a *artist) look(at map[string]string) string {
	style := ""
	if fill := at["fill"]; fill != "" && fill != "none" {
		r, g, b := rgb(fill)
		a.pdf.SetFillColor(r, g, b)
		style = "F"
	}
	if width := number(at["stroke-width"]); width > 0 && at["stroke"] != "" && at["stroke"] != "none" {
		r, g, b := rgb(at["stroke"])
		a.pdf.SetDrawColor(r, g, b)
		a.pdf.SetLineWidth(width * a.s)
		a.pdf.SetDashPattern(a.dashes(at["stroke-dasharray"]), 0)
		style += "D"
	}
	return style
}

func (a *artist) dashes(text string) (list []float64) {
	for _, one := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		list = append(list, number(one)*a.s)
	}
	return list
}

// rgb reads a colour written #rrggbb or #rgb; black when it is neither.
func rgb(text string) (r, g, b int) {
	hex := strings.TrimPrefix(text, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	n, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || len(hex) != 6 {
		return 0, 0, 0
	}
	return int(n >> 16), int(n >> 8 & 255), int(n & 255)
}

func (a *artist) poly(at map[string]string, closed bool) error {
	var points []fpdf.PointType
	for _, pair := range strings.Fields(at["points"]) {
		px, py, found := strings.Cut(pair, ",")
		if !found {
			return fmt.Errorf("points %q", at["points"])
		}
		points = append(points, fpdf.PointType{X: a.x + number(px)*a.s, Y: a.y + number(py)*a.s})
	}
	style := a.look(at)
	if style == "" || len(points) < 2 {
		return nil
	}
	if closed {
		a.pdf.Polygon(points, style)
		return nil
	}
	a.pdf.MoveTo(points[0].X, points[0].Y)
	for _, q := range points[1:] {
		a.pdf.LineTo(q.X, q.Y)
	}
	a.pdf.DrawPath("D")
	return nil
}

// strokes draws a path of straight lines, each written as M, a place, L, a place.
func (a *artist) strokes(at map[string]string) error {
	if style := a.look(at); style != "D" {
		return nil
	}
	d := at["d"]
	for i, one := range strings.Split(strings.TrimPrefix(d, "M"), "M") {
		from, to, found := strings.Cut(one, "L")
		fx, fy, ok := strings.Cut(from, " ")
		tx, ty, okToo := strings.Cut(to, " ")
		if !found || !ok || !okToo {
			return fmt.Errorf("line %d of the path %.60q", i+1, d)
		}
		a.pdf.MoveTo(a.x+number(fx)*a.s, a.y+number(fy)*a.s)
		a.pdf.LineTo(a.x+number(tx)*a.s, a.y+number(ty)*a.s)
	}
	a.pdf.DrawPath("D")
	return nil
}

const pointsPerMillimetre = 72 / 25.4

// label writes one line of letters. Where the embedded letters run wider than the picture allowed for, they are set
// narrower: the picture says how wide in textLength, else its own widths hold.
func (a *artist) label(at map[string]string) error {
	var text string
	for {
		token, err := a.decoder.Token()
		if err != nil {
			return err
		}
		if data, ok := token.(xml.CharData); ok {
			text += string(data)
		}
		if end, ok := token.(xml.EndElement); ok && end.Name.Local == "text" {
			break
		}
	}
	text = seen(printable(strings.TrimSpace(text)))
	if text == "" {
		return nil
	}
	style := ""
	if number(at["font-weight"]) >= 600 || at["font-weight"] == "bold" {
		style = "B"
	}
	// The picture's letters are a little wider than those embedded here: the same size fits.
	a.letters(style, number(at["font-size"])*a.s*pointsPerMillimetre)
	x, y := a.x+number(at["x"])*a.s, a.y+number(at["y"])*a.s
	w := a.measure(text)
	dx := 0.0
	switch at["text-anchor"] {
	case "middle":
		dx = -w / 2
	case "end":
		dx = -w
	}
	turn := 0.0
	if rotate, found := strings.CutPrefix(at["transform"], "rotate("); found {
		turn = number(strings.Fields(strings.TrimSuffix(rotate, ")"))[0])
	}
	if turn != 0 {
		a.pdf.TransformBegin()
		a.pdf.TransformRotate(-turn, x, y)
		defer a.pdf.TransformEnd()
	}
	if at["paint-order"] == "stroke" {
		a.halo(x+dx, y, w, number(at["font-size"])*a.s)
	}
	r, g, b := 28, 28, 28
	if fill := at["fill"]; fill != "" && fill != "none" {
		r, g, b = rgb(fill)
	}
	a.pdf.SetTextColor(r, g, b)
	a.write(x+dx, y, text)
	return nil
}

// halo clears the paper behind letters that stand on lines.
func (a *artist) halo(x, y, w, size float64) {
	a.pdf.SetFillColor(255, 255, 255)
	grow := math.Min(0.3, size*0.1)
	a.pdf.Rect(x-grow, y-size*0.76, w+2*grow, size*0.98, "F")
}
