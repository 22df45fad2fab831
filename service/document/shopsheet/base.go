package shopsheet

import (
	"strings"

	"seamwright/service/base"
	"seamwright/service/document"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/support"
)

// base says what carries the top and what of it carries itself; nothing where no base was told.
func (m *maker) base() error {
	b := m.e.Base
	if b == nil {
		return nil
	}
	m.chapter(m.say("What carries the top"))
	t := document.Table{Caption: m.say("Overhangs and spans"), Columns: []document.Column{{Title: m.say("Run"), Weight: 0.6},
		{Title: m.say("Stretch"), Weight: 2}, {Title: m.say("From start"), Weight: 1, Right: true}, {Title: m.say("To"), Weight: 1, Right: true},
		{Title: m.say("Length"), Weight: 1, Right: true}, {Title: m.say("Sags in time"), Weight: 1.1, Right: true},
		{Title: m.say("Sag at most"), Weight: 1, Right: true}, {Title: m.say("Length at most"), Weight: 1, Right: true}, {Title: m.say("Passes"), Weight: 0.8}}}
	for i := range b.Runs {
		for k := range b.Runs[i].Strips {
			s := &b.Runs[i].Strips[k]
			up, holds := "–", m.say("no")
			if s.Greatest > 0 {
				up = m.speech.Number(s.Greatest.TextAs(m.e.Units, measure.Most))
			}
			if s.Holds {
				holds = m.say("yes")
			}
			t.Rows = append(t.Rows, document.Row{Cells: []string{b.Runs[i].Run, m.stretch(s), m.text(s.From), m.text(s.To),
				m.text(s.Lengths[s.Worst]), m.small(s.LongTerm, measure.Least), m.small(s.Limit, measure.Most), up, holds}})
		}
	}
	m.add(t)
	var items []string
	for i := range b.Props {
		items = append(items, m.prop(&b.Props[i]))
	}
	for i := range b.Seams {
		items = append(items, m.told(b.Seams[i].Text))
	}
	if len(items) > 0 {
		m.add(document.List{Items: items})
	}
	return nil
}

// prop says what comes with the top, and where it stands.
func (m *maker) prop(p *estimate.Props) string {
	text := m.told(p.Text)
	places := make([]string, len(p.Positions))
	for i, at := range p.Positions {
		places[i] = m.text(at)
	}
	switch len(places) {
	case 0: // a batten has its ends in its sentence
		return text
	case 1:
		return text + " " + m.say("The middle stands at %s from the start of run %s.", places[0], p.Run)
	default:
		return text + " " + m.say("The middles stand at %s from the start of run %s.", strings.Join(places, ", "), p.Run)
	}
}

// small is a length to the thousandth of an inch or tenth of a millimetre, with its unit.
func (m *maker) small(l measure.Length, size measure.Size) string {
	return m.speech.Phrase(l.PhraseAs(m.e.Units, size))
}

// stretch names what carries itself.
func (m *maker) stretch(s *estimate.StripResult) string {
	switch {
	case s.Props && s.Side == base.AtFront:
		return m.say("past the tips of brackets or legs")
	case s.Props && s.Side != "":
		return m.say("beside the last bracket or leg")
	case s.Props:
		return m.say("between brackets or legs")
	case s.Side == base.AtFront:
		return m.say("past the front of the base")
	case s.Side == base.AtWall:
		return m.say("behind the base")
	case s.Side == base.AtStart:
		return m.say("past the base at the start")
	case s.Side == base.AtEnd:
		return m.say("past the base at the end")
	case s.Direction == support.Across:
		return m.say("span across the grain")
	case s.Support == support.Spans:
		return m.say("spans along the grain, the worst")
	}
	return m.say("span along the grain")
}
