package bench

import (
	"seamwright/service/document"
	"seamwright/service/drawing/saw"
)

// Boards makes the cutting plan: of every stock what to buy and how to rip it, then board after board, then the staves of each blank.
func Boards(in *Input) (*document.Document, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	p, err := saw.New(m.e, saw.Options{Speech: m.speech})
	if err != nil {
		return nil, err
	}
	title := m.say("Cutting plan, board by board")
	m.head(title)
	m.add(CuttingPlan(p, 2)...)
	return m.finish(title), nil
}

// CuttingPlan is the plan as blocks of a paper, under headings of a level.
func CuttingPlan(p *saw.Plan, level int) (blocks []document.Block) {
	figure := func(part *saw.Part) document.Figure {
		return document.Figure{Picture: part.Picture, Print: part.Picture}
	}
	for i := range p.Stocks {
		stock := &p.Stocks[i]
		blocks = append(blocks, document.Heading{Level: level, Text: stock.Name}, document.List{Items: stock.Facts})
		for n := range stock.Boards {
			blocks = append(blocks, figure(&stock.Boards[n]))
		}
	}
	if len(p.Blanks) > 0 {
		blocks = append(blocks, document.Heading{Level: level, Text: p.BlanksTitle()}, document.List{Items: p.Rings()})
		for i := range p.Blanks {
			blocks = append(blocks, figure(&p.Blanks[i].Part))
		}
	}
	return blocks
}
