package shopsheet

import (
	"seamwright/service/document"
	"seamwright/service/measure"
)

// tolerances say how tight each seam will be, by how its corner comes to the wood; nothing where nobody asked.
func (m *maker) tolerances() error {
	titled := false
	for k := range m.e.Corners {
		t := m.e.Corners[k].Tolerances
		if t == nil {
			continue
		}
		if !titled {
			m.chapter(m.say("How tight the seams will be"))
			titled = true
		}
		name := m.corner(k)
		table := document.Table{Caption: name, Columns: []document.Column{{Title: m.say("Carried by"), Weight: 1.5},
			{Title: m.say("Gap at front"), Weight: 1.2, Right: true}, {Title: m.say("Gap at wall end"), Weight: 1.2, Right: true},
			{Title: m.say("Left when drawn tight"), Weight: 1.4, Right: true}, {Title: m.say("At worst"), Weight: 1, Right: true},
			{Title: m.say("Most of it"), Weight: 1.6}, {Title: m.say("Minutes more"), Weight: 1, Right: true},
			{Title: m.say("Cut once more"), Weight: 1.2, Right: true}}}
		for i := range t.Ways {
			x := &t.Ways[i]
			table.Rows = append(table.Rows, document.Row{Strong: x.Way == t.Reckoned, Cells: []string{m.say(x.Way.Name()),
				m.least(x.Front.Expected), m.least(x.Wall.Expected), m.least(x.Drawn.Expected), m.least(x.Drawn.Worst),
				m.say(x.Dominant.Name()), m.decimal(x.Minutes, 0), m.say("%s %%", m.decimal(100*x.Chance, 0))}})
		}
		m.add(document.Heading{Level: 3, Text: name}, document.Text{Text: m.told(t.Text)}, table)
	}
	if titled {
		m.add(document.Text{Tone: document.Fine, Text: m.say("Gaps that are seldom exceeded (19 of 20), with both pieces laid along their walls; strong: as this top is made. A seam that stays open by more than %s is cut once more, on site, with the wood that is there.",
			m.text(m.limit()))})
	}
	return nil
}

// limit is from which gap on a seam is cut once more.
func (m *maker) limit() (l measure.Length) {
	for k := range m.e.Corners {
		if t := m.e.Corners[k].Tolerances; t != nil {
			l = t.Limit
		}
	}
	return l
}
