package shopsheet

import (
	"fmt"
	"slices"

	"seamwright/service/document"
	"seamwright/service/drawing/seam"
)

// seams are the sheets of all seams, each on pages of its own.
func (m *maker) seams() error {
	width, _ := m.Paper.Room()
	if len(m.e.Corners) > 0 {
		m.add(document.Notes{Title: m.say("Notes")})
	}
	for i := range m.e.Corners {
		b, err := seam.New(m.e, i, width, seam.Options{Speech: m.speech})
		if err != nil {
			return fmt.Errorf("seam %d: %w", i+1, err)
		}
		m.seam(b)
	}
	if len(m.e.Corners) > 0 {
		m.add(document.Break{})
	}
	return nil
}

// seam is one seam's sheet: the drawing and the table to mark out by, then cuts, sections and the order of work. It takes two pages if
// there is a way: on the first stands as much of the cuts and of what to take care of as has room there, and before a third is begun
// lines stand closer, and the order of work says how behind each step instead of beside it.
func (m *maker) seam(b *seam.Bench) {
	mark, cuts, sections, cautions := m.markOut(b), m.cuts(b), m.sections(b), cautions(b)
	order, short := m.order(b), m.shortOrder(b)
	page := func(blocks ...[]document.Block) []document.Block { return slices.Concat(blocks...) }
	alone := func(cuts []document.Block) document.Block { return second(cuts, sections, order, short) }
	careful := func(cuts []document.Block) document.Block {
		return second(cuts, sections, page(order, cautions), page(short, cautions))
	}
	m.add(document.Break{}, first(page(mark, cuts, cautions), alone(nil), first(page(mark, cuts), careful(nil),
		first(page(mark, cautions), alone(cuts), document.Together{Blocks: mark}, careful(cuts)))),
		document.Notes{Title: m.say("Notes")})
}

// first is a sheet's first page with what follows it, and what there is instead where it has no room.
func first(page []document.Block, then document.Block, otherwise ...document.Block) document.Block {
	return document.Fitting{Ways: ways(page), After: []document.Block{then}, Else: otherwise}
}

// second is a sheet's second page, with the short order of work where the page has no room else, or, where that does not do, cuts and
// sections as they are and the order of work as close as it must be.
func second(cuts, sections, order, short []document.Block) document.Block {
	return document.Fitting{Ways: append(ways(slices.Concat(cuts, sections, order)),
		[]document.Block{document.Close{Blocks: slices.Concat(cuts, sections, short)}}), Fresh: true,
		Else: slices.Concat(cuts, sections, []document.Block{closeIfNeeded(order...)})}
}

// markOut is the drawing of a seam, and where its parts go.
func (m *maker) markOut(b *seam.Bench) []document.Block {
	all := []document.Block{document.Heading{Level: 2, Text: b.Title}}
	for _, text := range b.Against {
		all = append(all, document.Text{Tone: document.Caution, Text: text})
	}
	all = append(all, document.Text{Text: b.About}, strap(m.say("The seam in figures"), b.Figures), figure(b.Views))
	if len(b.Marking.Rows) > 0 {
		all = append(all, document.Heading{Level: 3, Text: m.say("Marking out, from the front end")}, m.marking(&b.Marking))
		for _, note := range b.Marking.Notes {
			all = append(all, document.Text{Tone: document.Fine, Text: note})
		}
	}
	return all
}

// cuts are the angles and lengths of a seam's cuts, and what the seasons do to it.
func (m *maker) cuts(b *seam.Bench) []document.Block {
	return []document.Block{document.Columns{Share: 0.5, Apart: true,
		Left: []document.Block{document.Heading{Level: 3, Text: m.say("Cuts")},
			threes(m.say("Cuts"), b.Cuts, b.Names[0], b.Names[1])},
		Right: []document.Block{document.Heading{Level: 3, Text: m.say("What the seasons do")},
			threes(m.say("What the seasons do"), b.Seasons, m.say("dry"), m.say("humid")),
			document.Text{Tone: document.Fine, Text: b.SeasonNote}}},
		document.Text{Tone: document.Fine, Text: b.CutNote}}
}

// sections are pictures across a seam, one of each kind of part, with how it is made.
func (m *maker) sections(b *seam.Bench) []document.Block {
	if len(b.Kinds) == 0 {
		return nil
	}
	return []document.Block{document.Heading{Level: 3, Text: m.say("Across the seam, underside up")}, figure(b.Sections),
		document.Facts{Rows: b.Kinds, Names: 0.22}}
}

// cautions are what to take care of at a seam.
func cautions(b *seam.Bench) (all []document.Block) {
	for _, text := range b.Cautions {
		all = append(all, document.Text{Tone: document.Caution, Text: text})
	}
	return all
}

// order is the order of work at a seam.
func (m *maker) order(b *seam.Bench) []document.Block {
	return append([]document.Block{document.Heading{Level: 3, Text: m.say("Order of work")}},
		m.ordered(b, []document.Column{{Title: m.say("Step"), Weight: 2}, {Title: m.say("How"), Weight: 3}},
			func(step, how string) []string { return []string{step, how} })...)
}

// shortOrder is the order of work under one title, with how behind each step.
func (m *maker) shortOrder(b *seam.Bench) []document.Block {
	return m.ordered(b, []document.Column{{Title: m.say("Order of work"), Weight: 1}}, func(step, how string) []string {
		if how == "" {
			return []string{step}
		}
		return []string{step + ": " + how}
	})
}

// ordered is the order of work in a table of its own columns.
func (m *maker) ordered(b *seam.Bench, columns []document.Column, cells func(step, how string) []string) (all []document.Block) {
	t := document.Table{Caption: m.say("Order of work"), Columns: columns}
	for _, step := range b.Steps {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: cells(fmt.Sprintf("%d  %s", step.Number, step.Name), step.Note)})
	}
	if len(t.Rows) > 0 {
		all = append(all, t)
	}
	return append(all, document.Text{Tone: document.Fine, Text: b.StepsNote})
}

func figure(p seam.Picture) document.Figure {
	return document.Figure{Picture: p.Screen, Phone: p.Phone, Print: p.Print}
}

// strap is figures under their names, in one row.
func strap(caption string, figures [][2]string) document.Table {
	t := document.Table{Caption: caption, Rows: []document.Row{{Strong: true}}}
	for _, f := range figures {
		t.Columns = append(t.Columns, document.Column{Title: f[0], Weight: 1})
		t.Rows[0].Cells = append(t.Rows[0].Cells, f[1])
	}
	return t
}

// marking is the table by which a seam is marked out, with a box to tick for each place.
func (m *maker) marking(list *seam.Marking) document.Table {
	t := document.Table{Caption: m.say("Marking out, from the front end")}
	for i, head := range list.Heads {
		c := document.Column{Title: head, Weight: 1.3, Right: true}
		switch i {
		case 0:
			c = document.Column{Title: head, Weight: 0.9}
		case 1:
			c = document.Column{Title: head, Weight: 1.6}
		case len(list.Heads) - 3:
			c = document.Column{Title: head, Weight: 2}
		}
		t.Columns = append(t.Columns, c)
	}
	for _, row := range list.Rows {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: row})
	}
	return t
}

// threes are rows of a name and two figures.
func threes(caption string, rows [][3]string, first, second string) document.Table {
	t := document.Table{Caption: caption, Columns: []document.Column{{Weight: 2}, {Title: first, Weight: 1, Right: true},
		{Title: second, Weight: 1, Right: true}}}
	for _, r := range rows {
		t.Rows = append(t.Rows, document.Row{Cells: r[:]})
	}
	return t
}
