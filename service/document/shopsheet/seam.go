package shopsheet

import (
	"fmt"

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

// seam is one seam's sheet: the drawing and the table to mark out by, then cuts, sections and the order of work.
func (m *maker) seam(b *seam.Bench) {
	m.add(document.Break{}, document.Heading{Level: 2, Text: b.Title})
	for _, text := range b.Against {
		m.add(document.Text{Tone: document.Caution, Text: text})
	}
	m.add(document.Text{Text: b.About}, strap(m.say("The seam in figures"), b.Figures), figure(b.Views))
	if len(b.Marking.Rows) > 0 {
		m.add(document.Heading{Level: 3, Text: m.say("Marking out, from the front end")}, m.marking(&b.Marking))
		for _, note := range b.Marking.Notes {
			m.add(document.Text{Tone: document.Fine, Text: note})
		}
	}
	m.add(document.Heading{Level: 3, Text: m.say("Cuts")}, threes(m.say("Cuts"), b.Cuts, b.Names[0], b.Names[1]),
		document.Text{Tone: document.Fine, Text: b.CutNote})
	m.add(document.Heading{Level: 3, Text: m.say("What the seasons do")},
		threes(m.say("What the seasons do"), b.Seasons, m.say("dry"), m.say("humid")),
		document.Text{Tone: document.Fine, Text: b.SeasonNote})
	if len(b.Kinds) > 0 {
		m.add(document.Heading{Level: 3, Text: m.say("Sections across the seam, underside up")}, figure(b.Sections),
			document.Facts{Rows: b.Kinds})
	}
	m.add(document.Heading{Level: 3, Text: m.say("Order of work")})
	t := document.Table{Caption: m.say("Order of work"), Columns: []document.Column{{Title: m.say("Step"), Weight: 1},
		{Title: m.say("How"), Weight: 1}}}
	for _, step := range b.Steps {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{fmt.Sprintf("%d  %s", step.Number, step.Name),
			step.Note}})
	}
	if len(t.Rows) > 0 {
		m.add(t)
	}
	m.add(document.Text{Tone: document.Fine, Text: b.StepsNote})
	for _, text := range b.Cautions {
		m.add(document.Text{Tone: document.Caution, Text: text})
	}
	m.add(document.Notes{Title: m.say("Notes")})
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
