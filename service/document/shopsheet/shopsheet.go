// Package shopsheet says what stands on the sheet for the workbench: pieces and blanks, the cutting plan, what to get, the
// seams, the fixings, the work with its waits, and what to take care of.
package shopsheet

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/plan"
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
	Language string // one of words.Languages
}

// New makes the sheet. It returns an Invalid fault for a language that there is not.
func New(in *Input) (*document.Document, error) {
	speaker, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	m := &maker{Input: in, e: in.Estimate, speaker: speaker, speech: speaker.Drawings}
	name := m.e.Reference
	if name == "" {
		name = m.say("Shop sheet")
	}
	for _, part := range []func() error{func() error { return m.head(name) }, m.pieces, m.sheets, m.wood, m.toGet, m.seams, m.fixing, m.work, m.notes} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	return &document.Document{Title: name, Language: in.Language, Paper: in.Paper, Letter: document.Letterhead{Name: in.Shop.Name}, Page: speaker.Say("page"),
		Foot: m.foot(), Created: string(in.Date) + "T00:00:00Z", Blocks: m.blocks}, nil
}

type maker struct {
	*Input
	e       *estimate.Estimate
	speaker *speak.Speaker
	speech  pen.Speech
	blocks  []document.Block
}

func (m *maker) add(blocks ...document.Block) { m.blocks = append(m.blocks, blocks...) }

func (m *maker) chapter(text string) { m.add(document.Heading{Level: 2, Text: text}) }

// say says a text in the sheet's language, told a sentence of the answer.
func (m *maker) say(english string, values ...any) string { return m.speech.Say(english, values...) }
func (m *maker) told(sentence string) string              { return m.speech.Told(sentence) }

func (m *maker) text(l measure.Length) string { return m.speech.Number(l.Text(m.e.Units)) }

func (m *maker) least(l measure.Length) string {
	return m.speech.Number(l.TextAs(m.e.Units, measure.Least))
}

// foot names the job on every page: its reference, the quote and its revision, and what the prices rest on when it has none.
func (m *maker) foot() string {
	foot := m.say("Shop sheet")
	if m.e.Reference != "" {
		foot += " · " + pen.Short(m.e.Reference, 40)
	}
	if m.Number != "" {
		return foot + " · " + m.say("quote %s, revision %s", m.Number, strconv.Itoa(m.Revision)) + " · " + m.speaker.Day(m.Date)
	}
	return foot + " · " + m.speaker.Day(m.Date) + " · " + m.say("catalogue revision %s, prices of %s", strconv.FormatInt(m.e.Revision, 10), m.speaker.Day(m.e.PricedAsOf))
}

func (m *maker) mass(mass measure.Mass) string {
	if m.e.Units == measure.Millimetres {
		return fmt.Sprintf("%.0f kg", mass.Kilograms())
	}
	return fmt.Sprintf("%.0f lb", mass.Pounds())
}

func (m *maker) unitName() string {
	if m.e.Units == measure.Millimetres {
		return m.say("millimetres")
	}
	return m.say("inches")
}

// decimal is a number with so many places at most.
func (m *maker) decimal(x float64, places int) string {
	return m.speech.Number(strconv.FormatFloat(measure.Round(x, places), 'f', -1, 64))
}

// named is what the bill calls a material; its code when the bill has none.
func (m *maker) named(code string) string {
	for i := range m.e.Bill {
		if m.e.Bill[i].Item == code {
			return m.told(m.e.Bill[i].Description)
		}
	}
	return code
}

// place names what in the order a warning is about: a corner, a piece or a cut-out; empty for the whole.
func (m *maker) place(pointer string) string {
	rest, found := strings.CutPrefix(pointer, "/top/")
	if !found {
		return ""
	}
	parts := strings.Split(rest, "/")
	if len(parts) < 2 {
		return ""
	}
	n, err := strconv.Atoi(parts[1])
	if err != nil || n < 0 {
		return ""
	}
	switch {
	case parts[0] == "corners" && n < len(m.e.Corners):
		return m.say("Corner %s", strconv.Itoa(n+1))
	case parts[0] == "runs" && n < len(m.e.Runs):
		return m.say("Piece %s", pen.Short(m.e.Runs[n].Name, 24))
	case parts[0] == "cutouts" && n < len(m.e.Cutouts):
		return m.say("Cut-out %s in %s", strconv.Itoa(n+1), pen.Short(m.e.Cutouts[n].Run, 24))
	}
	return ""
}

// planHeight is what the plan may take of a page, in millimetres: under it there is room for what the top is made of.
const planHeight = 160.0

// plan is the plan for paper, true to scale, for a screen and for a phone, and what its marks mean.
func (m *maker) plan() error {
	width, _ := m.Paper.Room()
	print, marks, err := plan.Picture(m.e, plan.Options{Width: width, Height: planHeight, Speech: m.speech})
	if err != nil {
		return err
	}
	screen, _, err := plan.Picture(m.e, plan.Options{Width: width, Height: planHeight, Screen: true, Speech: m.speech})
	if err != nil {
		return err
	}
	phone, _, err := plan.Picture(m.e, plan.Options{Narrow: true, Speech: m.speech})
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
	finish := m.say("none")
	if made.FinishName != "" {
		faces := map[estimate.Faces]string{estimate.BothFaces: m.say("both faces"), estimate.TopFace: m.say("upper face only")}
		finish = m.say("%s, %s coats, %s", m.speech.Name(made.FinishName), strconv.Itoa(made.Coats), faces[made.Faces])
	}
	days := m.say("%s hours, %s working days", m.decimal(m.e.Labour.Hours, 1), strconv.Itoa(m.e.Labour.WorkingDays))
	if m.e.Labour.NoPromise != "" {
		days = m.say("%s hours.", m.decimal(m.e.Labour.Hours, 1)) + " " + m.told(m.e.Labour.NoPromise)
	}
	facts := [][2]string{
		{m.say("Lengths"), m.say("in %s", m.unitName())},
		{m.say("Thickness"), m.text(made.Thickness)},
		{m.say("Made of"), m.say(map[estimate.Construction]string{estimate.EdgeGlued: "staves, edge-glued", estimate.Panel: "ready-made panels"}[made.Construction])},
		{m.say("Edge"), m.profile()},
		{m.say("Finish"), finish},
		{m.say("Whole top"), m.mass(m.e.Mass)},
		{m.say("Work"), days},
	}
	included, left := m.e.Services()
	for _, row := range []struct {
		name string
		what []catalogue.Service
	}{{m.say("Priced besides"), included}, {m.say("Not priced"), left}} {
		if len(row.what) > 0 {
			words := make([]string, len(row.what))
			for i, s := range row.what {
				words[i] = m.say(string(s))
			}
			facts = append(facts, [2]string{row.name, strings.Join(words, ", ")})
		}
	}
	m.add(document.Facts{Rows: facts})
	m.warnings()
	return nil
}

// profile is the edges' profile with its size.
func (m *maker) profile() string {
	text := m.say(string(m.e.Made.Profile))
	if m.e.Made.ProfileSize > 0 {
		text += " " + m.text(m.e.Made.ProfileSize)
	}
	return text
}

// warnings are those that are not about one corner: these stand with its seam.
func (m *maker) warnings() {
	for i := range m.e.Warnings {
		w := &m.e.Warnings[i]
		if w.Severity == estimate.Info || strings.HasPrefix(w.Pointer, "/top/corners/") {
			continue
		}
		text := m.told(w.Text)
		if place := m.place(w.Pointer); place != "" {
			text = place + ": " + text
		}
		m.add(document.Text{Tone: document.Caution, Text: text})
	}
}

func (m *maker) pieces() error {
	m.chapter(m.say("Pieces"))
	t := document.Table{Caption: m.say("Pieces"), Columns: []document.Column{{Title: m.say("Piece"), Weight: 1.3}, {Title: m.say("Wood"), Weight: 1.9}, {Title: m.say("Wall edge"), Weight: 1.6, Right: true}, {Title: m.say("Front edge"), Weight: 1.8, Right: true}, {Title: m.say("Visible front"), Weight: 1.8, Right: true},
		{Title: m.say("Depth"), Weight: 1, Right: true}, {Title: m.say("Ends"), Weight: 1.6, Right: true}, {Title: m.say("Gap at wall"), Weight: 1.2, Right: true}, {Title: m.say("Weight"), Weight: 1.2, Right: true}}}
	_, front := m.e.Chain()
	for i := range m.e.Runs {
		r := &m.e.Runs[i]
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{r.Name, m.woodOf(r), m.text(r.Piece.WallEdge), m.text(r.Piece.FrontEdge), m.text(front[i].Distance(front[i+1])), m.text(r.Depth),
			m.speech.Number(r.Piece.StartAngle.Text()) + "° / " + m.speech.Number(r.Piece.EndAngle.Text()) + "°", m.least(r.GapAtWall()), m.mass(r.Piece.Mass)}})
	}
	m.add(t, document.Text{Tone: document.Fine, Text: m.say("Wall edge and front edge are the piece's own; the visible front is its run's in the finished top, from corner to corner: at an outer corner the end of the next piece can be part of it.")})
	for i := range m.e.Runs {
		if r := &m.e.Runs[i]; r.WallJoint.Text != "" {
			m.add(document.Text{Tone: document.Fine, Text: m.say("Wall of %s: %s", r.Name, m.told(r.WallJoint.Text))})
		}
	}
	m.add(document.Notes{Title: m.say("Notes")})
	return nil
}

// woodOf is a piece's wood and how it is sawn.
func (m *maker) woodOf(r *estimate.RunResult) string {
	return m.speech.Name(r.Wood) + ", " + m.say(string(r.Sawn)+"-sawn")
}
