package pen

// Paragraph writes a text in lines of at most w and returns where it ends.
func (p *Pen) Paragraph(x, y, w float64, text string, l Letters) float64 {
	for _, line := range Wrap(text, w, l) {
		y += l.Size * 1.3
		p.Text(x, y-l.Size*0.3, line, l)
	}
	return y
}

// Headline begins a block of width w, in as many lines as its text takes, and returns where the block goes on.
func (p *Pen) Headline(x, y, w float64, text string) float64 {
	l := Letters{Size: Head, Bold: true}
	for i, line := range Wrap(text, w, l) {
		if i > 0 {
			y += Head * 1.2
		}
		p.Text(x, y+Head, line, l)
	}
	p.Line(x, y+Head+1.2, x+w, y+Head+1.2, Stroke{Ink: Ink, Width: Medium})
	return y + Head + 2.2
}

// Arrow draws a short arrow whose middle is x: to the right when dir is 1, to the left when it is −1; hollow for the
// dry season, filled for the humid one.
func (p *Pen) Arrow(x, y, dir float64, ink string, full bool) {
	fill := White
	if full {
		fill = ink
	}
	p.Line(x-2*dir, y, x+0.6*dir, y, Stroke{Ink: ink, Width: 0.35})
	p.Poly([]Point{{x + 2.2*dir, y}, {x + 0.5*dir, y - 0.9}, {x + 0.5*dir, y + 0.9}}, false,
		Stroke{Ink: ink, Width: 0.25, Fill: fill})
}
