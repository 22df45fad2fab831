package pen

// TrueSize returns all that was drawn as an SVG document whose user unit is a millimetre of wood, for machines and for printing at 100 %:
// no background, and nothing that was not drawn.
func (p *Pen) TrueSize(w, h float64, id, title, description string) []byte {
	out := Pen{b: make([]byte, 0, len(p.b)+len(description)+1024)}
	out.Raw(`<svg xmlns="http://www.w3.org/2000/svg"`)
	out.attr("width", w)
	out.b = append(out.b[:len(out.b)-1], `mm"`...)
	out.attr("height", h)
	out.b = append(out.b[:len(out.b)-1], `mm"`...)
	out.Raw(` viewBox="0 0 `)
	out.num(w)
	out.Raw(" ")
	out.num(h)
	out.Raw(`" role="img" aria-labelledby="`, id, `-title `, id,
		`-desc" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" fill="`, Ink, `" stroke-linejoin="round">`,
		"\n")
	out.Raw(`<title id="`, id, `-title">`, Escape(title), "</title>\n")
	out.Raw(`<desc id="`, id, `-desc">`, Escape(description), "</desc>\n")
	out.b = append(out.b, p.b...)
	out.Raw("</svg>\n")
	return out.b
}

// Group opens a group with an identifier; End closes it.
func (p *Pen) Group(id string) { p.Raw(`<g id="`, Escape(id), `">`, "\n") }

// End closes the group that was opened last.
func (p *Pen) End() { p.Raw("</g>\n") }

// Ident gives the next element drawn, and only it, an identifier.
func (p *Pen) Ident(id string, draw func()) {
	from := len(p.b)
	draw()
	for i := from + 1; i < len(p.b); i++ {
		if p.b[i] == ' ' { // after the element's name
			p.b = append(p.b[:i], append([]byte(` id="`+Escape(id)+`"`), p.b[i:]...)...)
			return
		}
	}
}
