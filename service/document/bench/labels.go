package bench

import (
	"seamwright/service/document"
	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/saw"
)

// Labels makes sheets of labels to cut apart: one for each piece, then one for each stave in the order in which they come from the boards.
func Labels(in *Input) (*document.Document, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	w, h := m.Paper.Size()
	sheets, err := saw.Labels(m.e, saw.LabelOptions{Width: w, Height: h, Job: pen.Isolate(m.e.Reference), Quote: m.quote(), Speech: m.speech})
	if err != nil {
		return nil, err
	}
	title := m.say("Labels")
	for _, sheet := range sheets {
		m.add(document.Sheet{Picture: sheet})
	}
	return m.finish(title), nil
}
