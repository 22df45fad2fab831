package shopsheet

import "seamwright/service/document"

// wayIn says how the top gets to its place; nothing where no way was told.
func (m *maker) wayIn() error {
	c := m.e.Carrying
	if c == nil {
		return nil
	}
	var items []string
	for i := range c.Pieces {
		for k := range c.Pieces[i].Way {
			items = append(items, c.Pieces[i].Run+": "+m.told(c.Pieces[i].Way[k].How))
		}
	}
	m.chapter(m.say("The way in"))
	m.add(document.Text{Text: m.told(c.Text)}, document.List{Items: items})
	return nil
}

// lifting says how heavy each piece and the joined top are and how many lift it; nothing where nobody asked.
func (m *maker) lifting() error {
	items := m.e.LiftingTexts()
	if items == nil {
		return nil
	}
	for i := range items {
		items[i] = m.told(items[i])
	}
	m.chapter(m.say("Lifting"))
	m.add(document.Text{Text: m.say("To carry and to lift are two acts: a piece’s sheet counts those who carry by what a person carries at most, and those who lift by the limit of the lift that was told.")},
		document.List{Items: items})
	return nil
}
