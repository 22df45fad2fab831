// Package pen is what the drawings share: a writer of SVG in millimetres of paper that escapes every text and knows
// where each stands, the widths of letters, and the one set of sizes, weights and inks.
//
// It is pure: the same calls give the same bytes.
package pen

import (
	"math"
	"strconv"
)

// Sizes of letters, in millimetres of paper: none is under 8 pt (2.82 mm), as what hangs at a bench is read at arm’s length. What
// is drawn must be placed at its own size to keep them (document.Figure.Print).
const (
	Title = 5.0
	Large = 4.2 // what a customer reads
	Head  = 3.7
	Body  = 3.3
	Small = 2.9
)

// Weights of lines, in millimetres of paper.
const (
	Thick  = 0.5  // edges of the wood
	Medium = 0.3  // what is cut
	Thin   = 0.15 // dimensions, leaders
)

// Inks. Nothing is told by colour alone: Dry goes with hollow marks, Humid with filled ones.
const (
	Ink   = "#1c1c1c"
	Faint = "#6a6a6a"
	Pale  = "#c9c4ba"
	Wood  = "#f3eee3"
	White = "#ffffff"
	Dry   = "#9a4a00"
	Humid = "#00558c"
)

// Pen writes the marks of a drawing and notes where its texts stand. The zero value is ready.
type Pen struct {
	b     []byte
	boxes []Box
}

// Box is where a text stands.
type Box struct {
	X0, Y0, X1, Y1 float64
	Text           string
}

// Boxes are where the texts stand that were written so far.
func (p *Pen) Boxes() []Box { return p.boxes }

// Point is a place on the paper.
type Point struct{ X, Y float64 }

// At is the point at x and y.
func At(x, y float64) Point { return Point{x, y} }

// Grow makes room for so many bytes.
func (p *Pen) Grow(n int) { p.b = append(make([]byte, 0, len(p.b)+n), p.b...) }

// Raw writes mark-up as it is: for the drawing's own elements, never for what a caller sent.
func (p *Pen) Raw(parts ...string) {
	for _, s := range parts {
		p.b = append(p.b, s...)
	}
}

// Document returns all that was drawn as an SVG document of that size in millimetres, with a title and a description
// for those who do not see it. id begins the identifiers inside, so that several drawings may stand in one page.
func (p *Pen) Document(w, h float64, id, title, description string) []byte {
	out := Pen{b: make([]byte, 0, len(p.b)+len(description)+1024)}
	out.Raw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `)
	out.num(w)
	out.Raw(" ")
	out.num(h)
	out.Raw(`" width="`)
	out.num(w)
	out.Raw(`mm" height="`)
	out.num(h)
	out.Raw(`mm" role="img" aria-labelledby="`, id, `-title `, id,
		`-desc" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" fill="`, Ink, `" stroke-linejoin="round">`,
		"\n")
	out.Raw(`<title id="`, id, `-title">`, Escape(title), "</title>\n")
	out.Raw(`<desc id="`, id, `-desc">`, Escape(description), "</desc>\n")
	out.Rect(0, 0, w, h, 0, Stroke{Fill: White})
	out.b = append(out.b, p.b...)
	out.Raw("</svg>\n")
	return out.b
}

// num writes a coordinate to a hundredth of a millimetre, without zeros that say nothing.
func (p *Pen) num(x float64) { p.b = appendNum(p.b, x) }

func appendNum(b []byte, x float64) []byte {
	hundredths := math.Round(x * 100)
	if math.Abs(hundredths) > 1e9 { // no paper is so wide
		return strconv.AppendFloat(b, hundredths/100, 'f', -1, 64)
	}
	n := int(hundredths)
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	switch whole := n / 100; {
	case whole >= 1000:
		b = strconv.AppendInt(b, int64(whole), 10)
	case whole >= 100:
		b = append(b, byte('0'+whole/100), byte('0'+whole/10%10), byte('0'+whole%10))
	case whole >= 10:
		b = append(b, byte('0'+whole/10), byte('0'+whole%10))
	default:
		b = append(b, byte('0'+whole))
	}
	switch rest := n % 100; {
	case rest == 0:
		return b
	case rest%10 == 0:
		return append(b, '.', byte('0'+rest/10))
	default:
		return append(b, '.', byte('0'+rest/10), byte('0'+rest%10))
	}
}

func (p *Pen) attr(name string, x float64) {
	b := append(p.b, ' ')
	b = append(b, name...)
	b = append(b, '=', '"')
	p.b = append(appendNum(b, x), '"')
}

// Stroke is how a line looks.
type Stroke struct {
	Ink   string
	Width float64 // 0: no line
	Dash  string
	Fill  string // of closed shapes; empty: none
}

func (p *Pen) look(k Stroke) {
	fill := k.Fill
	if fill == "" {
		fill = "none"
	}
	p.Raw(` fill="`, fill, `"`)
	if k.Width > 0 {
		p.Raw(` stroke="`, k.Ink, `"`)
		p.attr("stroke-width", k.Width)
	}
	if k.Dash != "" {
		p.Raw(` stroke-dasharray="`, k.Dash, `"`)
	}
	p.Raw("/>\n")
}

// Line draws a straight line.
func (p *Pen) Line(x0, y0, x1, y1 float64, k Stroke) {
	p.Raw("<line")
	p.attr("x1", x0)
	p.attr("y1", y0)
	p.attr("x2", x1)
	p.attr("y2", y1)
	p.look(k)
}

// Lines draws straight lines of one look, each from a point to the next, as one element: hatchings are many lines.
func (p *Pen) Lines(ends []Point, k Stroke) {
	if len(ends) < 2 {
		return
	}
	p.Raw(`<path d="`)
	for i := 0; i+1 < len(ends); i += 2 {
		p.place('M', ends[i])
		p.place('L', ends[i+1])
	}
	p.Raw(`"`)
	p.look(k)
}

func (p *Pen) place(command byte, q Point) {
	b := append(appendNum(append(p.b, command), q.X), ' ')
	p.b = appendNum(b, q.Y)
}

// Rect draws a rectangle with rounded corners; 0: sharp.
func (p *Pen) Rect(x, y, w, h, round float64, k Stroke) {
	p.Raw("<rect")
	p.attr("x", x)
	p.attr("y", y)
	p.attr("width", w)
	p.attr("height", h)
	if round > 0 {
		p.attr("rx", round)
	}
	p.look(k)
}

// Ellipse draws an ellipse round its centre.
func (p *Pen) Ellipse(x, y, rx, ry float64, k Stroke) {
	p.Raw("<ellipse")
	p.attr("cx", x)
	p.attr("cy", y)
	p.attr("rx", rx)
	p.attr("ry", ry)
	p.look(k)
}

// Circle draws a circle round its centre.
func (p *Pen) Circle(x, y, r float64, k Stroke) { p.Ellipse(x, y, r, r, k) }

// Poly draws a polygon, or with open a line through the points.
func (p *Pen) Poly(points []Point, open bool, k Stroke) {
	if len(points) == 0 {
		return
	}
	if open {
		p.Raw("<polyline points=\"")
	} else {
		p.Raw("<polygon points=\"")
	}
	for i, q := range points {
		if i > 0 {
			p.Raw(" ")
		}
		p.num(q.X)
		p.Raw(",")
		p.num(q.Y)
	}
	p.Raw(`"`)
	p.look(k)
}

// Anchor is where a text's x is.
type Anchor int

// The anchors.
const (
	Left Anchor = iota
	Middle
	Right
)

// Letters is how a text looks.
type Letters struct {
	Size   float64
	Bold   bool
	At     Anchor
	Ink    string // empty: Ink
	Halo   bool   // white behind the letters, where they stand on lines
	Upward bool   // turned a quarter, reading upwards
}

// Text writes one line; y is the base line.
func (p *Pen) Text(x, y float64, s string, l Letters) {
	if s == "" {
		return
	}
	p.Raw("<text")
	if l.Upward {
		p.Raw(` transform="rotate(-90 `)
		p.num(x)
		p.Raw(" ")
		p.num(y)
		p.Raw(`)"`)
	}
	p.attr("x", x)
	p.attr("y", y)
	p.attr("font-size", l.Size)
	if l.Bold {
		p.Raw(` font-weight="700"`)
	}
	switch l.At {
	case Middle:
		p.Raw(` text-anchor="middle"`)
	case Right:
		p.Raw(` text-anchor="end"`)
	case Left:
	}
	if l.Halo {
		p.Raw(` paint-order="stroke" stroke="#ffffff"`)
		p.attr("stroke-width", l.Size*0.3)
	}
	if l.Ink != "" && l.Ink != Ink {
		p.Raw(` fill="`, l.Ink, `"`)
	}
	p.Raw(">", Escape(s), "</text>\n")
	p.note(x, y, s, l)
}

// note keeps where a text stands.
func (p *Pen) note(x, y float64, s string, l Letters) {
	w := Width(s, l)
	from := 0.0
	switch l.At {
	case Middle:
		from = -w / 2
	case Right:
		from = -w
	case Left:
	}
	up, down := 0.72*l.Size, 0.2*l.Size
	b := Box{x + from, y - up, x + from + w, y + down, s}
	if l.Upward {
		b = Box{x - up, y - from - w, x + down, y - from, s}
	}
	p.boxes = append(p.boxes, b)
}

// Reset takes everything off the paper.
func (p *Pen) Reset() { p.b, p.boxes = p.b[:0], p.boxes[:0] }

// Append puts what another pen drew on top of what this one did.
func (p *Pen) Append(o *Pen) {
	p.b = append(p.b, o.b...)
	p.boxes = append(p.boxes, o.boxes...)
}
