package shopsheet

import (
	"seamwright/service/document"
	"seamwright/service/document/bench"
	"seamwright/service/drawing/saw"
)

// wood is the cutting plan, board by board, with the staves of each blank.
func (m *maker) wood() error {
	if len(m.e.Lumber) == 0 {
		return nil
	}
	p, err := saw.New(m.e, saw.Options{Speech: m.speech})
	if err != nil {
		return err
	}
	m.chapter(m.say("Cutting plan"))
	m.add(bench.CuttingPlan(p, 3)...)
	for i := range m.e.Lumber {
		if l := &m.e.Lumber[i]; !l.Optimal {
			m.add(document.Text{Tone: document.Fine,
				Text: m.say("%s: not proved the cheapest purchase; none can cost less than %s %s.", m.named(l.Material),
					m.speaker.Amount(l.LowerBound.String()), m.e.Currency)})
		}
	}
	return nil
}
