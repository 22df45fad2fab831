package shopsheet

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/document"
	"seamwright/service/drawing/days"
	"seamwright/service/labour"
)

func (m *maker) fixing() error {
	if m.e.Fixing.Count > 0 {
		m.chapter(m.say("Fixing to the base"))
		m.add(document.Text{Text: m.told(m.e.Fixing.Note)},
			document.Text{Text: m.say("Where each stands is on its piece's sheet.")})
	}
	return nil
}

// partHeight is how high a part of the chart of days may be, in millimetres: short parts fill the pages.
const partHeight = 62.0

// work is every step with its waits, and the steps over the days.
func (m *maker) work() error {
	m.chapter(m.say("Work"))
	t := document.Table{Caption: m.say("Work"), Columns: []document.Column{{Title: m.say("Step"), Weight: 4.6},
		{Title: m.say("Who"), Weight: 1.3}, {Title: m.say("Minutes"), Weight: 1, Right: true},
		{Title: m.say("Wait"), Weight: 0.8, Right: true}, {Title: m.say("Day"), Weight: 0.6, Right: true}, {Title: m.say("After"), Weight: 1.1, Right: true}}}
	for i := range m.e.Labour.Steps {
		s := &m.e.Labour.Steps[i]
		name := fmt.Sprintf("%d  %s", s.Number, m.told(s.Name))
		if s.Note != "" {
			name += "\n" + m.told(s.Note)
		}
		who := m.say(strings.ReplaceAll(s.Role, "_", " "))
		if s.Crew > 1 {
			who = strconv.Itoa(s.Crew) + " × " + who
		}
		after := make([]string, len(s.After))
		for k, n := range s.After {
			after[k] = strconv.Itoa(n)
		}
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{name, who,
			m.speech.Amount(strconv.FormatFloat(s.Minutes.Expected, 'f', 0, 64)), m.wait(s), strconv.Itoa(s.Day), strings.Join(after, ", ")}})
	}
	m.add(t)
	width, _ := m.Paper.Room()
	for _, picture := range days.Draw(&m.e.Labour, days.Options{Width: width, Height: partHeight, ID: "days",
		Speech: m.speech}) {
		m.add(document.Figure{Picture: picture, Print: picture})
	}
	return nil
}

// wait is how long nothing can be done after a step; empty: nobody waits.
func (m *maker) wait(s *labour.Step) string {
	switch amount, inDays := s.Wait(); {
	case amount == 0:
		return ""
	case inDays:
		return m.decimal(amount, 1) + " d"
	default:
		return m.decimal(amount, 2) + " h"
	}
}

func (m *maker) notes() error {
	m.chapter(m.say("Take care"))
	cautions := make([]document.Block, len(m.e.Cautions))
	for i, c := range m.e.Cautions {
		cautions[i] = document.Text{Tone: document.Caution, Text: m.told(c)}
	}
	apart := max(0, len(cautions)-2) // the last two stay on one page: none stands alone over the sources
	m.add(cautions[:apart]...)
	m.add(document.Together{Blocks: cautions[apart:]})
	var items []string
	for i := range m.e.Sources {
		items = append(items, m.told(m.e.Sources[i].Title))
	}
	rest := []document.Block{document.Heading{Level: 2, Text: m.say("What the numbers rest on")}, document.List{Items: items}}
	m.add(document.Fitting{Ways: [][]document.Block{rest, {document.Close{Blocks: rest}},
		{rest[0], document.Text{Tone: document.Fine, Text: strings.Join(items, " · ")}}},
		Fresh: true, Else: rest})
	return nil
}
