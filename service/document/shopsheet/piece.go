package shopsheet

import (
	"fmt"
	"strings"

	"seamwright/service/document"
	"seamwright/service/drawing/plan"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// sheets are one page for each piece: what hangs at the bench while it is made.
func (m *maker) sheets() error {
	width, _ := m.Paper.Room()
	for i := range m.e.Runs {
		print, err := plan.Piece(m.e, i, plan.Options{Width: width})
		if err != nil {
			return err
		}
		screen, err := plan.Piece(m.e, i, plan.Options{Width: width, Screen: true})
		if err != nil {
			return err
		}
		phone, err := plan.Piece(m.e, i, plan.Options{Narrow: true})
		if err != nil {
			return err
		}
		m.sheet(i, print, screen, phone)
	}
	if len(m.e.Runs) > 0 {
		m.add(document.Break{})
	}
	return nil
}

func (m *maker) sheet(i int, p, screen, phone *plan.PieceSheet) {
	r := &m.e.Runs[i]
	m.add(document.Break{}, document.Heading{Level: 2, Text: fmt.Sprintf("Piece %s, %d of %d: %s, %s sawn", r.Name, i+1, len(m.e.Runs), r.Wood, r.Sawn)})
	m.add(document.Figure{Picture: screen.Above, Phone: phone.Above, Print: p.Above}, document.Figure{Picture: screen.Below, Phone: phone.Below, Print: p.Below})
	if len(p.Marks) > 0 {
		m.add(document.List{Items: p.Marks})
	}
	carried := "–"
	if r.People > 0 {
		carried = fmt.Sprint(r.People)
	}
	m.add(strap("The piece in figures", [][2]string{{"Visible front", p.VisibleFront}, {"Gap at wall", r.GapAtWall().TextAs(m.e.Units, measure.Least)}, {"Weight", m.mass(r.Piece.Mass)}, {"People to carry it", carried}}),
		document.Facts{Rows: m.pieceFacts(r, p)})
	m.cutouts(p)
	m.moisture(r)
	m.add(document.Notes{Title: "Notes"})
}

// pieceFacts are what is to be known of a piece beside its drawing.
func (m *maker) pieceFacts(r *estimate.RunResult, p *plan.PieceSheet) [][2]string {
	rough := "ready-made panel"
	if r.Blank.Staves > 0 {
		rough = fmt.Sprintf("%d staves, ripped %s, of %s rough, %s long", r.Blank.Staves, m.text(r.Blank.StaveRip), m.text(r.Blank.Rough), m.text(r.Blank.StaveLength))
	}
	points := make([]string, len(p.Corners))
	for i, c := range p.Corners {
		points[i] = fmt.Sprintf("%s: %s | %s", c[0], c[1], c[2])
	}
	facts := [][2]string{
		{"Blank", fmt.Sprintf("%s × %s; %s", m.text(r.Blank.Length), m.text(r.Blank.Width), rough)},
		{"Corners", "from start tip | from front edge: " + strings.Join(points, ", ")},
		{"Diagonals", fmt.Sprintf("%s from the wall at the start to the far front, %s the other way", p.Diagonals[0], p.Diagonals[1])},
		{"Edges", m.edges(p)},
	}
	for _, row := range p.Fixings {
		facts = append(facts, [2]string{"Fixings ×, " + row.FromFront + " from front", strings.Join(row.FromStart, ", ") + " from start tip"})
	}
	return facts
}

// edges says which edges get the profile: the front, and the free ends unless they are left square.
func (m *maker) edges(p *plan.PieceSheet) string {
	profile := strings.ReplaceAll(string(m.e.Made.Profile), "_", " ")
	if m.e.Made.ProfileSize > 0 {
		profile += " " + m.text(m.e.Made.ProfileSize)
	}
	where := "visible front"
	for i, end := range p.Ends {
		if end == "free" && !m.e.Made.SquareEnds {
			where += map[int]string{0: ", free start", 1: ", free end"}[i]
		}
	}
	return profile + ": " + where + "; square: wall edge and joint faces"
}

// cutouts is the table of a piece's cut-outs.
func (m *maker) cutouts(p *plan.PieceSheet) {
	if len(p.Cutouts) == 0 {
		return
	}
	t := document.Table{Caption: "Cut-outs", Columns: []document.Column{{Title: "Cut-out", Weight: 1.6}, {Title: "Along × across", Weight: 1.7, Right: true}, {Title: "From start tip", Weight: 1.1, Right: true}, {Title: "From end tip", Weight: 1.1, Right: true},
		{Title: "From front", Weight: 1, Right: true}, {Title: "From wall edge", Weight: 1, Right: true}, {Title: "Centre: start | front", Weight: 1.7, Right: true}}}
	for _, c := range p.Cutouts {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{c.Name, c.Size, c.FromStart, c.FromEnd, c.FromFront, c.FromWall, c.CentreStart + " | " + c.CentreFront}})
	}
	least := "1/2 in"
	if m.e.Units == measure.Millimetres {
		least = "12 mm"
	}
	m.add(t, document.Text{Tone: document.Fine, Text: "Corner radius: as the appliance's template has it, and nowhere under " + least + ", or the wood tears from the corner (common practice). Check every cut-out against the appliance itself before cutting."})
}

// moisture is the table to write the piece's moisture into.
func (m *maker) moisture(r *estimate.RunResult) {
	t := document.Table{Caption: "Moisture", Columns: []document.Column{{Title: "Moisture content", Weight: 2.4}, {Title: "Date", Weight: 1}, {Title: "Start", Weight: 0.8}, {Title: "Middle", Weight: 0.8}, {Title: "End", Weight: 0.8}, {Title: "By", Weight: 0.8}}}
	for _, when := range []string{"boards, before gluing", "blank, before it is cut to size", "piece, before the finish"} {
		t.Rows = append(t.Rows, document.Row{Tick: true, High: 7, Cells: []string{when, "", "", "", "", ""}})
	}
	m.add(document.Heading{Level: 3, Text: fmt.Sprintf("Moisture measured: %.1f %% when made, %.1f to %.1f %% in use", float64(r.Moisture.Making), float64(r.Moisture.Dry), float64(r.Moisture.Humid))}, t)
}
