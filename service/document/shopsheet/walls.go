package shopsheet

import "seamwright/service/document"

// walls are the scribe tables of walls that are not straight; nothing where none was told.
func (m *maker) walls() error {
	titled := false
	for i := range m.e.Runs {
		for k := range m.e.Runs[i].Walls {
			c := &m.e.Runs[i].Walls[k]
			if !titled {
				m.chapter(m.say("Walls as they are"))
				titled = true
			}
			if c.Left {
				m.add(document.Text{Text: m.told(c.Text)})
				continue
			}
			var rows []document.Row
			for _, s := range c.Stations {
				rows = append(rows, document.Row{Cells: []string{m.text(s.At), m.text(s.Remove)}})
			}
			m.add(document.Text{Text: m.told(c.Text)}, document.Table{Caption: m.told(c.Text), Columns: []document.Column{
				{Title: m.say("station"), Weight: 1}, {Title: m.say("take off"), Weight: 1}}, Rows: rows})
		}
	}
	return nil
}
