// Package shopsheet says what stands on the sheet for the workbench: pieces and blanks, the cutting plan, what to get, the
// seams, the fixings, the work with its waits, and what to take care of.
package shopsheet

import (
	"fmt"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/drawing/days"
	"seamwright/service/drawing/plan"
	"seamwright/service/drawing/seam"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// Input is what a shop sheet is made of.
type Input struct {
	Estimate *estimate.Estimate
	Shop     document.Letterhead
	Number   string // of the quote; empty: an estimate that was not stored
	Revision int
	Date     catalogue.Date
	Paper    document.Paper
}

// New makes the sheet.
func New(in *Input) (*document.Document, error) {
	m := &maker{Input: in, e: in.Estimate}
	name := m.e.Reference
	if name == "" {
		name = "Shop sheet"
	}
	d := &document.Document{Title: name, Language: "en", Paper: in.Paper, Letter: document.Letterhead{Name: in.Shop.Name}, Page: "Page %d of %s",
		Foot: m.foot(), Created: string(in.Date) + "T00:00:00Z"}
	if err := m.head(name); err != nil {
		return nil, err
	}
	m.pieces()
	if err := m.sheets(); err != nil {
		return nil, err
	}
	if err := m.wood(); err != nil {
		return nil, err
	}
	m.toGet()
	if err := m.seams(); err != nil {
		return nil, err
	}
	m.fixing()
	m.work()
	m.notes()
	d.Blocks = m.blocks
	return d, nil
}

type maker struct {
	*Input
	e      *estimate.Estimate
	blocks []document.Block
}

func (m *maker) add(blocks ...document.Block) { m.blocks = append(m.blocks, blocks...) }

func (m *maker) chapter(text string) { m.add(document.Heading{Level: 2, Text: text}) }

func (m *maker) text(l measure.Length) string { return l.Text(m.e.Units) }

func (m *maker) foot() string {
	foot := fmt.Sprintf("Shop sheet · %s · catalogue revision %d, prices of %s", m.Date, m.e.Revision, m.e.PricedAsOf)
	if m.Number != "" {
		foot = fmt.Sprintf("Shop sheet · quote %s, revision %d · %s", m.Number, m.Revision, m.Date)
	}
	return foot
}

func (m *maker) mass(mass measure.Mass) string {
	if m.e.Units == measure.Millimetres {
		return fmt.Sprintf("%.0f kg", mass.Kilograms())
	}
	return fmt.Sprintf("%.0f lb", mass.Pounds())
}

func unitName(units measure.System) string {
	if units == measure.Millimetres {
		return "millimetres"
	}
	return "inches"
}

// named is what the bill calls a material; its code when the bill has none.
func (m *maker) named(code string) string {
	for i := range m.e.Bill {
		if m.e.Bill[i].Item == code {
			return m.e.Bill[i].Description
		}
	}
	return code
}

// planHeight is what the plan may take of a page, in millimetres: under it there is room for what the top is made of.
const planHeight = 160.0

// plan is the plan for paper, true to scale, for a screen and for a phone, and what its marks mean.
func (m *maker) plan() error {
	width, _ := m.Paper.Room()
	print, marks, err := plan.Picture(m.e, plan.Options{Width: width, Height: planHeight})
	if err != nil {
		return err
	}
	screen, _, err := plan.Picture(m.e, plan.Options{Width: width, Height: planHeight, Screen: true})
	if err != nil {
		return err
	}
	phone, _, err := plan.Picture(m.e, plan.Options{Narrow: true})
	if err != nil {
		return err
	}
	m.add(document.Figure{Picture: screen, Phone: phone, Print: print})
	if len(marks) > 0 {
		m.add(document.List{Items: marks})
	}
	return nil
}

func (m *maker) head(name string) error {
	made := &m.e.Made
	m.add(document.Heading{Level: 1, Text: name})
	if err := m.plan(); err != nil {
		return err
	}
	edge := string(made.Profile)
	if made.ProfileSize > 0 {
		edge += " " + m.text(made.ProfileSize)
	}
	finish := "none"
	if made.FinishName != "" {
		finish = fmt.Sprintf("%s, %d coats, %s", made.FinishName, made.Coats, map[estimate.Faces]string{estimate.BothFaces: "both faces", estimate.TopFace: "upper face only"}[made.Faces])
	}
	days := fmt.Sprintf("%.1f hours, %d working days", m.e.Labour.Hours, m.e.Labour.WorkingDays)
	if m.e.Labour.NoPromise != "" {
		days = fmt.Sprintf("%.1f hours. %s", m.e.Labour.Hours, m.e.Labour.NoPromise)
	}
	facts := [][2]string{
		{"Lengths", "in " + unitName(m.e.Units)},
		{"Thickness", m.text(made.Thickness)},
		{"Made of", strings.ReplaceAll(string(made.Construction), "_", "-")},
		{"Edge", strings.ReplaceAll(edge, "_", " ")},
		{"Finish", finish},
		{"Whole top", m.mass(m.e.Mass)},
		{"Work", days},
	}
	included, left := m.e.Services()
	for _, row := range []struct {
		name string
		what []catalogue.Service
	}{{"Priced besides", included}, {"Not priced", left}} {
		if len(row.what) > 0 {
			facts = append(facts, [2]string{row.name, list(row.what)})
		}
	}
	m.add(document.Facts{Rows: facts})
	for i := range m.e.Warnings {
		if w := &m.e.Warnings[i]; w.Severity != estimate.Info {
			m.add(document.Text{Tone: document.Caution, Text: w.Text})
		}
	}
	return nil
}

func list(services []catalogue.Service) string {
	words := make([]string, len(services))
	for i, s := range services {
		words[i] = string(s)
	}
	return strings.Join(words, ", ")
}

func (m *maker) pieces() {
	m.chapter("Pieces")
	t := document.Table{Caption: "Pieces", Columns: []document.Column{{Title: "Piece", Weight: 2.2}, {Title: "Wall edge", Weight: 1.2, Right: true}, {Title: "Front edge", Weight: 1.2, Right: true}, {Title: "Visible front", Weight: 1.2, Right: true},
		{Title: "Depth", Weight: 1.1, Right: true}, {Title: "Ends", Weight: 1.5, Right: true}, {Title: "Moisture made · dry · humid", Weight: 2, Right: true}, {Title: "Gap at wall", Weight: 1.2, Right: true}, {Title: "Weight", Weight: 1, Right: true}}}
	for i := range m.e.Runs {
		r := &m.e.Runs[i]
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{r.Name + ", " + r.Wood + ", " + string(r.Sawn), m.text(r.Piece.WallEdge), m.text(r.Piece.FrontEdge), m.text(r.Depth),
			r.Piece.StartAngle.Text() + "° / " + r.Piece.EndAngle.Text() + "°",
			fmt.Sprintf("%.1f · %.1f · %.1f %%", float64(r.Moisture.Making), float64(r.Moisture.Dry), float64(r.Moisture.Humid)),
			r.GapAtWall().TextAs(m.e.Units, measure.Least), m.mass(r.Piece.Mass)}})
	}
	m.add(t)
	for i := range m.e.Runs {
		if r := &m.e.Runs[i]; r.WallJoint.Text != "" {
			m.add(document.Text{Tone: document.Fine, Text: "Wall of " + r.Name + ": " + r.WallJoint.Text})
		}
	}
}

func (m *maker) toGet() {
	m.chapter("To get")
	t := document.Table{Caption: "To get", Columns: []document.Column{{Title: "What", Weight: 4}, {Title: "Need", Weight: 1.4, Right: true}, {Title: "Buy", Weight: 1.4, Right: true}, {Title: "Unit", Weight: 1.3}, {Title: "From", Weight: 1.2}}}
	for i := range m.e.Bill {
		l := &m.e.Bill[i]
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{l.Description, l.Need.String(), l.Buy.String(), strings.ReplaceAll(string(l.Unit), "_", " "), l.Supplier}})
	}
	m.add(t)
}

func (m *maker) seams() error {
	width, _ := m.Paper.Room()
	for i := range m.e.Corners {
		b, err := seam.New(m.e, i, width, seam.Options{})
		if err != nil {
			return fmt.Errorf("seam %d: %w", i+1, err)
		}
		m.seam(b)
	}
	if len(m.e.Corners) > 0 {
		m.add(document.Break{})
	}
	return nil
}

// seam is one seam's sheet: the drawing and the table to mark out by, then cuts, sections and the order of work.
func (m *maker) seam(b *seam.Bench) {
	m.add(document.Break{}, document.Heading{Level: 2, Text: b.Title})
	for _, text := range b.Against {
		m.add(document.Text{Tone: document.Caution, Text: text})
	}
	m.add(document.Text{Text: b.About}, strap("The seam in figures", b.Figures), figure(b.Views))
	if len(b.Marking.Rows) > 0 {
		m.add(document.Heading{Level: 3, Text: "Marking out, from the front end"}, marking(&b.Marking))
		for _, note := range b.Marking.Notes {
			m.add(document.Text{Tone: document.Fine, Text: note})
		}
	}
	m.add(document.Heading{Level: 3, Text: "Cuts"}, threes(b.Cuts, b.Names[0], b.Names[1]), document.Text{Tone: document.Fine, Text: b.CutNote})
	m.add(document.Heading{Level: 3, Text: "What the seasons do"}, threes(b.Seasons, "dry", "humid"), document.Text{Tone: document.Fine, Text: b.SeasonNote})
	if len(b.Kinds) > 0 {
		m.add(document.Heading{Level: 3, Text: "Sections across the seam, underside up"}, figure(b.Sections), document.Facts{Rows: b.Kinds})
	}
	m.add(document.Heading{Level: 3, Text: "Order of work"})
	t := document.Table{Caption: "Order of work", Columns: []document.Column{{Title: "Step", Weight: 1}, {Title: "How", Weight: 1}}}
	for _, step := range b.Steps {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{fmt.Sprintf("%d  %s", step.Number, step.Name), step.Note}})
	}
	if len(t.Rows) > 0 {
		m.add(t)
	}
	m.add(document.Text{Tone: document.Fine, Text: b.StepsNote})
	for _, text := range b.Cautions {
		m.add(document.Text{Tone: document.Caution, Text: text})
	}
	m.add(document.Notes{Title: "Notes"})
}

func figure(p seam.Picture) document.Figure {
	return document.Figure{Picture: p.Screen, Phone: p.Phone, Print: p.Print}
}

// strap is figures under their names, in one row.
func strap(caption string, figures [][2]string) document.Table {
	t := document.Table{Caption: caption, Rows: []document.Row{{Strong: true}}}
	for _, f := range figures {
		t.Columns = append(t.Columns, document.Column{Title: f[0], Weight: 1})
		t.Rows[0].Cells = append(t.Rows[0].Cells, f[1])
	}
	return t
}

// marking is the table by which a seam is marked out, with a box to tick for each place.
func marking(m *seam.Marking) document.Table {
	t := document.Table{Caption: "Marking out"}
	for i, head := range m.Heads {
		c := document.Column{Title: head, Weight: 1.3, Right: true}
		switch i {
		case 0:
			c = document.Column{Title: head, Weight: 0.9}
		case 1:
			c = document.Column{Title: head, Weight: 1.6}
		case len(m.Heads) - 3:
			c = document.Column{Title: head, Weight: 2}
		}
		t.Columns = append(t.Columns, c)
	}
	for _, row := range m.Rows {
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: row})
	}
	return t
}

// threes are rows of a name and two figures.
func threes(rows [][3]string, first, second string) document.Table {
	t := document.Table{Columns: []document.Column{{Weight: 2}, {Title: first, Weight: 1, Right: true}, {Title: second, Weight: 1, Right: true}}}
	for _, r := range rows {
		t.Rows = append(t.Rows, document.Row{Cells: r[:]})
	}
	return t
}

func (m *maker) fixing() {
	f := &m.e.Fixing
	if f.Count == 0 {
		return
	}
	m.chapter("Fixing to the base")
	m.add(document.Text{Text: f.Note})
}

func (m *maker) work() {
	m.chapter("Work")
	t := document.Table{Caption: "Work", Columns: []document.Column{{Title: "Step", Weight: 4.6}, {Title: "Who", Weight: 1.2}, {Title: "Minutes", Weight: 1, Right: true}, {Title: "Wait", Weight: 0.9, Right: true}, {Title: "Day", Weight: 0.6, Right: true}, {Title: "After", Weight: 1, Right: true}}}
	for i := range m.e.Labour.Steps {
		s := &m.e.Labour.Steps[i]
		name := fmt.Sprintf("%d  %s", s.Number, s.Name)
		if s.Note != "" {
			name += "\n" + s.Note
		}
		who := strings.ReplaceAll(s.Role, "_", " ")
		if s.Crew > 1 {
			who = fmt.Sprintf("%d × %s", s.Crew, who)
		}
		wait := ""
		if s.WaitHours > 0 {
			wait = fmt.Sprintf("%.4g h", s.WaitHours)
		}
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{name, who, fmt.Sprintf("%.0f", s.Minutes.Expected), wait, fmt.Sprint(s.Day), strings.Trim(strings.ReplaceAll(fmt.Sprint(s.After), " ", ", "), "[]")}})
	}
	m.add(t, document.Figure{Picture: days.Draw(&m.e.Labour, "days")})
}

func (m *maker) notes() {
	m.chapter("Take care")
	for _, c := range m.e.Cautions {
		m.add(document.Text{Tone: document.Caution, Text: c})
	}
	m.chapter("What the numbers rest on")
	var items []string
	for i := range m.e.Sources {
		items = append(items, m.e.Sources[i].Title)
	}
	m.add(document.List{Items: items})
}
