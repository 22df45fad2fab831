package document

import (
	_ "embed" // the letters
	"sync"

	"golang.org/x/image/font/sfnt"
)

//go:embed letters/DejaVuSansCondensed.ttf
var regular []byte

//go:embed letters/DejaVuSansCondensed-Bold.ttf
var bold []byte

//go:embed letters/DroidSansFallbackFull.ttf
var chinese []byte // and Japanese

//go:embed letters/NanumSquareR.ttf
var korean []byte

// face is a set of embedded letters.
type face int

const (
	usualFace face = iota // the only one with a bold weight
	chineseFace
	koreanFace
	noFace
)

// embedded are the faces, in the order in which a letter is looked for.
var embedded = [noFace]struct {
	name string // in the PDF
	raw  *[]byte
	has  func() *characters
}{
	usualFace:   {"letters", &regular, sync.OnceValue(func() *characters { return of(regular) })},
	chineseFace: {"chinese", &chinese, sync.OnceValue(func() *characters { return of(chinese) })},
	koreanFace:  {"korean", &korean, sync.OnceValue(func() *characters { return of(korean) })},
}

// characters are those that letters have, of the first 65536: the PDF's fonts cannot number others.
type characters [1 << 16 / 64]uint64

func (c *characters) has(r rune) bool { return r <= 0xFFFF && c[r/64]&(1<<(r%64)) != 0 }

// of reads what a font has; a font that cannot be read has nothing, and a test reads them.
func of(raw []byte) *characters {
	var all characters
	font, err := sfnt.Parse(raw)
	if err != nil {
		return &all
	}
	var buffer sfnt.Buffer
	for r := rune(' '); r <= 0xFFFF; r++ {
		if glyph, err := font.GlyphIndex(&buffer, r); err == nil && glyph != 0 {
			all[r/64] |= 1 << (r % 64)
		}
	}
	return &all
}

// faceOf is the face that has a character.
func faceOf(r rune) face {
	if r >= ' ' && r <= '~' {
		return usualFace
	}
	for f := range embedded {
		if embedded[f].has().has(r) {
			return face(f)
		}
	}
	return noFace
}

// stretch is a part of a line in one face.
type stretch struct {
	face face
	text string
}

// stretches takes a printable line apart by face.
func stretches(line string) []stretch {
	if plain(line) {
		return []stretch{{usualFace, line}}
	}
	var list []stretch
	begin, now := 0, usualFace
	for i, r := range line {
		next := faceOf(r)
		if next == noFace {
			next = usualFace
		}
		if next != now {
			if i > begin {
				list = append(list, stretch{now, line[begin:i]})
			}
			begin, now = i, next
		}
	}
	return append(list, stretch{now, line[begin:]})
}

// measure is how wide a printable line is in the letters that are set.
func (p *printer) measure(line string) float64 {
	parts := stretches(line)
	if len(parts) == 1 && parts[0].face == usualFace {
		return p.pdf.GetStringWidth(line)
	}
	width := 0.0
	for _, part := range parts {
		p.face(part.face)
		width += p.pdf.GetStringWidth(part.text)
	}
	p.face(usualFace)
	return width
}

// line writes a line that was split off in a cell of that size, at the current place, which ends up at the cell's end, or under
// its beginning.
func (p *printer) line(width, height float64, text, align string, under bool) {
	after := 0
	if under {
		after = 2
	}
	parts := stretches(text)
	if len(parts) == 1 && parts[0].face == usualFace {
		p.pdf.CellFormat(width, height, text, "", after, align, false, 0, "")
		return
	}
	x, y := p.pdf.GetXY()
	at := x
	if align == "R" {
		at += width - p.measure(text)
	}
	for _, part := range parts {
		p.face(part.face)
		w := p.pdf.GetStringWidth(part.text)
		p.pdf.SetXY(at, y)
		p.pdf.CellFormat(w, height, part.text, "", 0, "L", false, 0, "")
		at += w
	}
	p.face(usualFace)
	if under {
		p.pdf.SetXY(x, y+height)
	} else {
		p.pdf.SetXY(x+width, y)
	}
}

// write writes a line that begins at a place of its base line.
func (p *printer) write(x, y float64, text string) {
	for _, part := range stretches(text) {
		p.face(part.face)
		p.pdf.Text(x, y, part.text)
		x += p.pdf.GetStringWidth(part.text)
	}
	p.face(usualFace)
}

// face sets the face of what is written next, in the style and size that are set.
func (p *printer) face(f face) {
	if f == p.set {
		return
	}
	style := p.style
	if f != usualFace {
		style = ""
		if !p.added[f] {
			p.pdf.AddUTF8FontFromBytes(embedded[f].name, "", *embedded[f].raw)
			p.added[f] = true
		}
	}
	p.pdf.SetFont(embedded[f].name, style, p.size)
	p.set = f
}
