package plan

import "seamwright/service/measure"

// Drafter lays out one top after another in the same memory. It is for one goroutine; the zero value is ready.
type Drafter struct {
	sheets []*sheet
	used   int
}

// sheet is what a layout is drawn on.
type sheet struct {
	memory
	layout Layout
}

// mostSheets is how many sheets are kept for the next top; a long chain needs hundreds.
const mostSheets = 64

// Reset takes all layouts back that were laid: they must not be looked at any more.
func (d *Drafter) Reset() {
	if len(d.sheets) > mostSheets {
		d.sheets = append([]*sheet(nil), d.sheets[:mostSheets]...)
	}
	d.used = 0
}

// Lay is the function Lay. The layout is good until the next Reset; what is to last longer must be copied.
func (d *Drafter) Lay(top *Top, joints []Joint, profile, margin measure.Length) (*Layout, error) {
	if d.used == len(d.sheets) {
		d.sheets = append(d.sheets, new(sheet))
	}
	s := d.sheets[d.used]
	s.clear(len(top.Runs))
	if err := s.draw(top, joints, profile+margin); err != nil {
		return nil, err
	}
	d.used++
	return &s.layout, nil
}

// Own puts copies in the place of lines, all in one piece of memory.
func Own(lines ...*[]Point) {
	n := 0
	for _, l := range lines {
		n += len(*l)
	}
	all := make([]Point, 0, n)
	for _, l := range lines {
		if *l != nil {
			from := len(all)
			all = append(all, *l...)
			*l = all[from:len(all):len(all)]
		}
	}
}
