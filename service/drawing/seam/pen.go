package seam

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Sizes of letters and weights of lines, in millimetres of paper.
const (
	sizeTitle = 5.0
	sizeHead  = 3.3
	sizeBody  = 2.7
	sizeSmall = 2.35

	thick  = 0.5  // edges of the wood
	medium = 0.3  // what is cut
	thin   = 0.15 // dimensions, leaders
)

// Inks. Nothing is told by colour alone.
const (
	ink   = "#1c1c1c"
	faint = "#6a6a6a"
	pale  = "#c9c4ba"
	wood  = "#f3eee3"
	white = "#ffffff"
	dryC  = "#9a4a00" // with a hollow arrow
	humC  = "#00558c" // with a filled arrow
)

// pen writes the marks of a drawing, in millimetres of paper, and notes where its texts stand.
type pen struct {
	b     []byte
	texts []box
}

// box is where a text stands.
type box struct {
	x0, y0, x1, y1 float64
	s              string
}

func (p *pen) raw(parts ...string) {
	for _, s := range parts {
		p.b = append(p.b, s...)
	}
}

// num writes a coordinate to a hundredth of a millimetre.
func (p *pen) num(x float64) {
	x = math.Round(x*100) / 100
	if x == 0 {
		x = 0 // no −0
	}
	p.b = strconv.AppendFloat(p.b, x, 'f', -1, 64)
}

func (p *pen) attr(name string, x float64) {
	p.raw(" ", name, `="`)
	p.num(x)
	p.raw(`"`)
}

// stroke is how a line looks.
type stroke struct {
	ink   string
	width float64
	dash  string
	fill  string // of closed shapes; empty: none
}

func (p *pen) look(k stroke) {
	fill := k.fill
	if fill == "" {
		fill = "none"
	}
	p.raw(` fill="`, fill, `"`)
	if k.width > 0 {
		p.raw(` stroke="`, k.ink, `"`)
		p.attr("stroke-width", k.width)
	}
	if k.dash != "" {
		p.raw(` stroke-dasharray="`, k.dash, `"`)
	}
	p.raw("/>\n")
}

func (p *pen) line(x0, y0, x1, y1 float64, k stroke) {
	p.raw("<line")
	p.attr("x1", x0)
	p.attr("y1", y0)
	p.attr("x2", x1)
	p.attr("y2", y1)
	p.look(k)
}

func (p *pen) rect(x, y, w, h, round float64, k stroke) {
	p.raw("<rect")
	p.attr("x", x)
	p.attr("y", y)
	p.attr("width", w)
	p.attr("height", h)
	if round > 0 {
		p.attr("rx", round)
	}
	p.look(k)
}

func (p *pen) ellipse(x, y, rx, ry float64, k stroke) {
	p.raw("<ellipse")
	p.attr("cx", x)
	p.attr("cy", y)
	p.attr("rx", rx)
	p.attr("ry", ry)
	p.look(k)
}

func (p *pen) circle(x, y, r float64, k stroke) { p.ellipse(x, y, r, r, k) }

// poly draws a polygon, or with open a line through the points.
func (p *pen) poly(points []point, open bool, k stroke) {
	if len(points) == 0 {
		return
	}
	if open {
		p.raw("<polyline points=\"")
	} else {
		p.raw("<polygon points=\"")
	}
	for i, q := range points {
		if i > 0 {
			p.raw(" ")
		}
		p.num(q.x)
		p.raw(",")
		p.num(q.y)
	}
	p.raw(`"`)
	p.look(k)
}

// anchor is where a text's x is.
type anchor int

const (
	left anchor = iota
	middle
	right
)

// letters is how a text looks.
type letters struct {
	size   float64
	bold   bool
	at     anchor
	ink    string // empty: ink
	halo   bool   // white behind the letters, where they stand on lines
	upward bool   // turned a quarter, reading upwards
}

// text writes one line; y is the base line.
func (p *pen) text(x, y float64, s string, l letters) {
	if s == "" {
		return
	}
	p.raw("<text")
	if l.upward {
		p.raw(` transform="rotate(-90 `)
		p.num(x)
		p.raw(" ")
		p.num(y)
		p.raw(`)"`)
	}
	p.attr("x", x)
	p.attr("y", y)
	p.attr("font-size", l.size)
	if l.bold {
		p.raw(` font-weight="700"`)
	}
	switch l.at {
	case middle:
		p.raw(` text-anchor="middle"`)
	case right:
		p.raw(` text-anchor="end"`)
	case left:
	}
	if l.halo {
		p.raw(` paint-order="stroke" stroke="#ffffff"`)
		p.attr("stroke-width", l.size*0.3)
	}
	if l.ink != "" && l.ink != ink {
		p.raw(` fill="`, l.ink, `"`)
	}
	p.raw(">", escape(s), "</text>\n")
	p.note(x, y, s, l)
}

// note keeps where a text stands.
func (p *pen) note(x, y float64, s string, l letters) {
	w := width(s, l)
	from := 0.0
	switch l.at {
	case middle:
		from = -w / 2
	case right:
		from = -w
	case left:
	}
	up, down := 0.72*l.size, 0.2*l.size
	b := box{x + from, y - up, x + from + w, y + down, s}
	if l.upward {
		b = box{x - up, y - from - w, x + down, y - from, s}
	}
	p.texts = append(p.texts, b)
}

// width of a line of text. Letters are reckoned by the usual sans-serif, a little generously.
func width(s string, l letters) float64 {
	w := 0.0
	for _, r := range s {
		w += advance(r)
	}
	if l.bold {
		w *= 1.07
	}
	return w * l.size
}

// advance is a letter's width as a share of its size.
func advance(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl.,:;'|!·’", r):
		return 0.29
	case strings.ContainsRune("frtI()[]/- ", r):
		return 0.36
	case r >= '0' && r <= '9':
		return 0.58
	case strings.ContainsRune("mwMW—%@", r):
		return 0.9
	case strings.ContainsRune("→←", r):
		return 1
	case r >= 'A' && r <= 'Z':
		return 0.7
	case unicode.In(r, unicode.Mn, unicode.Cf):
		return 0
	case r < 0x1100:
		return 0.57
	default:
		return 1.2
	}
}

// fit shortens a text to a width, with an ellipsis.
func fit(s string, most float64, l letters) string {
	if width(s, l) <= most {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 {
		runes = runes[:len(runes)-1]
		if short := strings.TrimRightFunc(string(runes), unicode.IsSpace) + "…"; width(short, l) <= most {
			return short
		}
	}
	return ""
}

// wrap breaks a text into lines of at most a width.
func wrap(s string, most float64, l letters) []string {
	var lines []string
	at := ""
	for _, word := range strings.Fields(s) {
		for width(word, l) > most { // longer than a line: broken
			n, w := 0, 0.0
			for i, r := range word {
				if w += advance(r) * l.size * 1.07; w > most {
					break
				}
				n = i + len(string(r))
			}
			if n == 0 {
				n = len(word)
			}
			if at != "" {
				lines, at = append(lines, at), ""
			}
			lines, word = append(lines, word[:n]), word[n:]
		}
		if word == "" {
			continue
		}
		switch longer := at + " " + word; {
		case at == "":
			at = word
		case width(longer, l) > most:
			lines, at = append(lines, at), word
		default:
			at = longer
		}
	}
	if at != "" {
		lines = append(lines, at)
	}
	return lines
}

// escape makes a text safe inside an element: what XML forbids and what would turn the direction of what follows is left
// out.
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff, r == unicode.ReplacementChar:
			b.WriteByte(' ')
		case r >= 0x202a && r <= 0x202e: // overrides; isolates end with their line
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
