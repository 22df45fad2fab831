package shopsheet

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/document"
	"seamwright/service/drawing/plan"
	"seamwright/service/estimate"
)

// pieceHigh are what the wood may take in each picture of a piece, in millimetres: the largest at which its sheet is one page.
var pieceHigh = []float64{46, 36, 28, 22}

// sheets are one page for each piece: what hangs at the bench while it is made.
func (m *maker) sheets() error {
	width, _ := m.Paper.Room()
	for i := range m.e.Runs {
		screen, err := plan.Piece(m.e, i, plan.Options{Width: width, Screen: true, Speech: m.speech})
		if err != nil {
			return err
		}
		phone, err := plan.Piece(m.e, i, plan.Options{Narrow: true, Speech: m.speech})
		if err != nil {
			return err
		}
		var page document.Fitting
		for _, high := range pieceHigh {
			print, err := plan.Piece(m.e, i, plan.Options{Width: width, Height: high, Speech: m.speech})
			if err != nil {
				return err
			}
			drawn, told := m.sheet(i, print, screen, phone)
			if page.Else == nil {
				page.Else = slices.Concat(drawn, []document.Block{document.Break{}}, told)
			}
			page.Ways = append(page.Ways, slices.Concat(drawn, told))
		}
		for _, way := range page.Ways[2:] { // closer before a second page
			page.Ways = append(page.Ways, []document.Block{document.Close{Blocks: way}})
		}
		m.add(document.Break{}, page, document.Notes{Title: m.say("Notes")})
	}
	m.add(document.Break{})
	return nil
}

// sheet is what a piece's sheet shows: the piece with its figures, and the tables that a second page has where one does not hold all.
func (m *maker) sheet(i int, p, screen, phone *plan.PieceSheet) (drawn, told []document.Block) {
	r := &m.e.Runs[i]
	drawn = []document.Block{
		document.Heading{Level: 2, Text: m.say("Piece %s, %s of %s: %s", r.Name, strconv.Itoa(i+1), strconv.Itoa(len(m.e.Runs)),
			m.woodOf(r))},
		document.Figure{Picture: screen.Above, Phone: phone.Above, Print: p.Above},
		document.Figure{Picture: screen.Below, Phone: phone.Below, Print: p.Below}}
	if len(p.Marks) > 0 {
		drawn = append(drawn, document.List{Items: p.Marks})
	}
	drawn = append(drawn, document.Facts{Rows: m.pieceFacts(i, p), Names: factNames})
	return drawn, append(m.cutouts(p), m.moisture(r))
}

// builtUp says what lies under a slab with a built-up edge.
func (m *maker) builtUp(b *estimate.Blank) string {
	u := &b.Under
	lengths := make([]string, u.Count)
	for i, length := range u.Fields() {
		lengths[i] = m.text(length)
	}
	return m.speech.Count(u.Across, "below it strips of %s (front) and %s (wall), fields of %s block: %s",
		"below it strips of %s (front) and %s (wall), fields of %s blocks: %s", m.text(u.Front), m.text(u.Wall), strconv.Itoa(u.Across), strings.Join(lengths, ", "))
}

// factNames is the share of the width that the names of a piece's facts take: the facts are long.
const factNames = 0.2

// pieceFacts are what is to be known of a piece beside its drawing.
func (m *maker) pieceFacts(run int, p *plan.PieceSheet) [][2]string {
	r := &m.e.Runs[run]
	rough := m.say("ready-made panel")
	if r.Blank.Staves > 0 {
		rough = m.speech.Count(r.Blank.Staves, "%s stave, ripped %s, of %s rough, %s long", "%s staves, ripped %s, of %s rough, %s long", strconv.Itoa(r.Blank.Staves), m.text(r.Blank.StaveRip),
			m.text(r.Blank.Rough), m.text(r.Blank.StaveLength))
	}
	switch {
	case r.Blank.BuiltUp():
		rough += "; " + m.builtUp(&r.Blank)
	case r.Blank.Layers > 0:
		rough += "; " + m.say("%s layers, each %s", strconv.Itoa(r.Blank.Layers), m.text(r.Blank.Layer))
	}
	if n := r.Blank.Joined.Count; n > 0 {
		rough += "; " + m.say("each stave of %s pieces, finger-jointed", strconv.Itoa(n))
	}
	points := make([]string, len(p.Corners))
	for i, c := range p.Corners {
		points[i] = c[0] + ": " + c[1] + " | " + c[2]
	}
	weight := m.mass(r.Piece.Mass.Whole(m.e.Units))
	if r.People > 0 {
		weight = m.say("%s; people to carry it: %s", weight, strconv.Itoa(r.People))
	}
	if n := m.e.Lifters(run); n > 0 {
		weight = m.say("%s; to lift it as told: %s", weight, strconv.Itoa(n))
	}
	facts := [][2]string{
		{m.say("Weight"), weight},
		{m.say("Blank"), m.text(r.Blank.Length) + " × " + m.text(r.Blank.Width) + "; " + rough},
	}
	if len(r.Piece.Hollows) > 0 {
		hollows := make([]string, len(r.Piece.Hollows))
		for i := range r.Piece.Hollows {
			h := &r.Piece.Hollows[i]
			hollows[i] = m.say("%s to %s, %s to %s from front", m.text(h.From), m.text(h.To), m.text(h.Front), m.text(h.Back))
		}
		facts = append(facts, [2]string{m.say("Hollow below"), m.say("dash and dot, the slab %s thick: %s", m.text(m.e.Made.SlabThickness()), strings.Join(hollows, "; "))})
	}
	if r.GlueUp != nil {
		facts = append(facts, [2]string{m.say("Glue-up"), m.glueUp(r.GlueUp)})
	}
	facts = append(facts, [][2]string{
		{m.say("Corners"), m.say("from start tip | from front edge:") + " " + strings.Join(points, ", ")},
		{m.say("Diagonals"), m.say("%s from the wall at the start to the far front, %s the other way", p.Diagonals[0], p.Diagonals[1])},
		{m.say("Edges"), m.edges(p) + "; " +
			m.say("the run's visible front is %s, the gap at its wall %s", p.VisibleFront, m.least(r.GapAtWall()))},
	}...)
	for _, row := range p.Fixings {
		facts = append(facts, [2]string{m.say("Fixings ×"), m.say("%s from front", row.FromFront) + "; " +
			m.say("from start tip: %s", strings.Join(row.FromStart, ", ")) + m.play(row)})
	}
	return facts
}

// play is how far a row of fixings must let the wood go across the run, and along it where its leg swings: a clip has it, the
// slot of a screw is made for it.
func (m *maker) play(row plan.PieceRow) string {
	slotted := m.e.Fixing.Kind.Slotted()
	switch {
	case row.Varied && slotted:
		return "; " + m.say("in brackets the slot, across × along the run")
	case row.Varied:
		return "; " + m.say("in brackets the play, across × along the run")
	case row.Fixed:
		return "; " + m.say("fixed")
	case row.Along > 0 && slotted:
		return "; " + m.say("slot across the run %s long, along it %s", m.least(row.Play), m.least(row.Along))
	case row.Along > 0:
		return "; " + m.say("play across the run %s, along it %s", m.least(row.Play), m.least(row.Along))
	case slotted:
		return "; " + m.say("slot across the run %s long", m.least(row.Play))
	default:
		return "; " + m.say("play across the run %s", m.least(row.Play))
	}
}

// edges says which edges get the profile: the front that shows, and the free ends unless they are left square.
func (m *maker) edges(p *plan.PieceSheet) string {
	where := m.say("visible front")
	for i, free := range p.Free {
		if free && !m.e.Made.SquareEnds {
			where += ", " + [2]string{m.say("its free start"), m.say("its free end")}[i]
		}
	}
	square := m.say("square: wall edge and joint faces")
	if p.Free[0] && p.Free[1] {
		square = m.say("square: wall edge")
	}
	return m.profile() + ": " + where + "; " + square
}

// cutouts is the table of a piece's cut-outs.
func (m *maker) cutouts(p *plan.PieceSheet) []document.Block {
	if len(p.Cutouts) == 0 {
		return nil
	}
	t := document.Table{Caption: m.say("Cut-outs"), Columns: []document.Column{{Title: m.say("Cut-out"), Weight: 1.6},
		{Title: m.say("Along × across"), Weight: 1.7, Right: true},
		{Title: m.say("From start tip"), Weight: 1.1, Right: true}, {Title: m.say("From end tip"), Weight: 1.1, Right: true},
		{Title: m.say("From front edge"), Weight: 1, Right: true}, {Title: m.say("From wall edge"), Weight: 1, Right: true},
		{Title: m.say("Centre: start | front"), Weight: 1.7, Right: true}}}
	for _, c := range p.Cutouts {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{c.Name, c.Size, c.FromStart, c.FromEnd, c.FromFront,
			c.FromWall, c.CentreStart + " | " + c.CentreFront}})
	}
	return []document.Block{t}
}

// moisture is the table to write the piece's moisture into, under what it ought to be.
func (m *maker) moisture(r *estimate.RunResult) document.Table {
	t := document.Table{Caption: m.say("Moisture content"),
		Columns: []document.Column{{Title: m.say("Moisture measured: %s %% when made, %s to %s %% in use",
			m.decimal(float64(r.Moisture.Making), 1), m.decimal(float64(r.Moisture.Dry), 1),
			m.decimal(float64(r.Moisture.Humid), 1)), Weight: 4.6}, {Title: m.say("Date"), Weight: 1},
			{Title: m.say("Start"), Weight: 0.7}, {Title: m.say("Middle"), Weight: 0.7}, {Title: m.say("End"), Weight: 0.7},
			{Title: m.say("By"), Weight: 0.7}}}
	rough := []string{m.say("boards, before gluing"), m.say("blank, before it is cut to size")}
	if r.Blank.Staves == 0 {
		rough = []string{m.say("panel, before it is cut to size")}
	}
	for _, when := range append(rough, m.say("piece, before the finish")) {
		t.Rows = append(t.Rows, document.Row{Tick: true, High: 6, Cells: []string{when, "", "", "", "", ""}})
	}
	return t
}
