package bench

import (
	"strconv"

	"seamwright/service/document"
	"seamwright/service/drawing/truesize"
)

// OfRun makes the template of run's piece in tiles, from 0.
func OfRun(in *Input, run int, below bool) (*document.Document, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	d, err := truesize.OfRun(m.e, run, truesize.Options{Below: below, Speech: m.speech})
	if err != nil {
		return nil, err
	}
	return m.tiles(d), nil
}

// OfCorner makes the template of a corner in tiles, from 0.
func OfCorner(in *Input, corner int, below bool) (*document.Document, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	d, err := truesize.OfCorner(m.e, corner, truesize.Options{Below: below, Speech: m.speech})
	if err != nil {
		return nil, err
	}
	return m.tiles(d), nil
}

// OfStick makes the storey stick of a corner's seam in tiles, from 0.
func OfStick(in *Input, corner int) (*document.Document, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	d, err := truesize.OfStick(m.e, corner, truesize.Options{Speech: m.speech})
	if err != nil {
		return nil, err
	}
	return m.tiles(d), nil
}

// tiles makes the paper of a drawing at true size: a first page with what must be known and where each tile lies, then the tiles.
func (m *maker) tiles(d *truesize.Drawing) *document.Document {
	t := d.Tile(m.sheet(), m.job())
	m.head(d.Title)
	m.add(document.List{Items: d.About})
	m.add(document.Heading{Level: 3, Text: m.say("Printing and joining")})
	steps := []string{
		m.say("Print at 100 %: no fitting to the page, no borders added. Lay a rule on the check line of every sheet; if one is off, do not use them."),
		m.say("Trim a sheet along its dashed line on the right or below, or lay the next sheet over it, until the crosses lie on each other. Fix it with tape and go on along the outline."),
		m.say("Paper grows with damp air: before you cut, check the longest edge by tape against the sheet of the piece."),
	}
	if t.Empty > 0 {
		steps = append(steps, m.say("Grey in the plan: nothing is drawn there, so these sheets are not printed. Blank sheets in their place make the template stiffer."))
	}
	m.add(document.List{Items: steps})
	m.add(document.Figure{Picture: t.Key, Print: t.Key, Caption: m.speech.Count(len(t.Tiles), "%s sheet.",
		"%s sheets: columns are letters, rows are numbers.", strconv.Itoa(len(t.Tiles)))})
	for i := range t.Tiles {
		m.add(document.Sheet{Picture: t.Tiles[i].Picture, Landscape: t.Landscape})
	}
	return m.finish(d.Title)
}
