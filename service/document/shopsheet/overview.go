package shopsheet

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/drawing/plan"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// planHeights are what the plan may take of a page, in millimetres: the largest with which the first page holds all that is to be known
// of the top. The smallest is not for the notes under the table: rather they go on on the next page than the plan half as large.
var planHeights = []float64{160, 132, 110, 94}

// overview is the first page: the plan, what the top is made of, its warnings and its pieces.
func (m *maker) overview(name string) error {
	width, _ := m.Paper.Room()
	screen, _, err := plan.Picture(m.e, plan.Options{Width: width, Height: planHeights[0], Screen: true, Speech: m.speech})
	if err != nil {
		return err
	}
	phone, _, err := plan.Picture(m.e, plan.Options{Narrow: true, Speech: m.speech})
	if err != nil {
		return err
	}
	made, table, notes := append(m.made(), m.warnings()...), m.pieces(), m.pieceNotes()
	var ways [][]document.Block
	for _, high := range planHeights {
		print, marks, err := plan.Picture(m.e, plan.Options{Width: width, Height: high, Speech: m.speech})
		if err != nil {
			return err
		}
		way := []document.Block{document.Figure{Picture: screen, Phone: phone, Print: print}}
		if len(marks) > 0 {
			way = append(way, document.List{Items: marks})
		}
		ways = append(ways, append(way, made...))
	}
	with := func(more ...document.Block) (list [][]document.Block) {
		for _, way := range ways {
			list = append(list, slices.Concat(way, more))
		}
		return list
	}
	noted, last := with(slices.Concat(table, notes)...), len(ways)-1
	closed := make([][]document.Block, len(noted)) // before a note goes on to the next page, lines stand closer
	for i, way := range noted {
		closed[i] = []document.Block{document.Close{Blocks: way}}
	}
	alone := with(table...)
	or := func(f document.Fitting, otherwise document.Fitting) document.Fitting {
		f.Else = []document.Block{otherwise}
		return f
	}
	m.add(document.Heading{Level: 1, Text: name}, or(document.Fitting{Ways: slices.Concat(noted[:last], closed[:last])},
		or(document.Fitting{Ways: alone[:last], After: notes}, or(document.Fitting{Ways: closed[last:]},
			or(document.Fitting{Ways: alone[last:], After: notes},
				document.Fitting{Ways: ways, After: append([]document.Block{document.Together{Blocks: table}}, notes...)})))))
	return nil
}

// made is what the whole top is made of, and how long it takes: facts in two columns.
func (m *maker) made() []document.Block {
	made := &m.e.Made
	finish := m.say("none")
	if made.FinishName != "" {
		faces := map[estimate.Faces]string{estimate.BothFaces: m.say("both faces"),
			estimate.TopFace: m.say("upper face only")}
		finish = m.speech.Count(made.Coats, "%s, %s coat, %s", "%s, %s coats, %s", m.speech.Name(made.FinishName), strconv.Itoa(made.Coats), faces[made.Faces])
	}
	days := m.speech.Count(m.e.Labour.WorkingDays, "%s hours, %s working day", "%s hours, %s working days", m.decimal(m.e.Labour.Hours, 1), strconv.Itoa(m.e.Labour.WorkingDays))
	if m.e.Labour.NoPromise != "" {
		days = m.say("%s hours.", m.decimal(m.e.Labour.Hours, 1)) + " " + m.told(m.e.Labour.NoPromise)
	}
	facts := [][2]string{
		{m.say("Lengths"), m.say("in %s", m.unitName())},
		{m.say("Thickness"), m.text(made.Thickness)},
		{m.say("Made of"), m.say(map[estimate.Construction]string{estimate.EdgeGlued: "staves, edge-glued", estimate.Panel: "ready-made panels"}[made.Construction])},
		{m.say("Edge"), m.profile()},
		{m.say("Finish"), finish},
		{m.say("Whole top"), m.mass(m.e.WholeMass())},
		{m.say("Work"), days},
	}
	included, left := m.e.Services()
	for _, row := range []struct {
		name string
		what []catalogue.Service
	}{{m.say("Also in the price"), included}, {m.say("Not priced"), left}} {
		if len(row.what) > 0 {
			words := make([]string, len(row.what))
			for i, s := range row.what {
				words[i] = m.say(string(s))
			}
			facts = append(facts, [2]string{row.name, strings.Join(words, ", ")})
		}
	}
	half := (len(facts) + 1) / 2
	return []document.Block{document.Columns{Share: 0.5, Loose: true, Left: []document.Block{document.Facts{Rows: facts[:half]}},
		Right: []document.Block{document.Facts{Rows: facts[half:]}}}}
}

// warnings are those that are not about one corner: these stand with its seam.
func (m *maker) warnings() (blocks []document.Block) {
	for i := range m.e.Warnings {
		w := &m.e.Warnings[i]
		if w.Severity == estimate.Info || m.e.CornerAt(w.Pointer) >= 0 {
			continue
		}
		text := m.told(w.Text)
		if place := m.place(w.Pointer); place != "" {
			text = place + ": " + text
		}
		blocks = append(blocks, document.Text{Tone: document.Caution, Text: text})
	}
	return blocks
}

// pieces are the table of pieces.
func (m *maker) pieces() []document.Block {
	t := document.Table{Caption: m.say("Pieces"), Columns: []document.Column{{Title: m.say("Piece"), Weight: 1.3},
		{Title: m.say("Wood"), Weight: 3.2}, {Title: m.say("Wall edge"), Weight: 1.6, Right: true},
		{Title: m.say("Front edge"), Weight: 1.8, Right: true}, {Title: m.say("Visible front"), Weight: 1.8, Right: true},
		{Title: m.say("Depth"), Weight: 1, Right: true}, {Title: m.say("Ends"), Weight: 1.6, Right: true},
		{Title: m.say("Gap at wall"), Weight: 1.2, Right: true}, {Title: m.say("Weight"), Weight: 1.2, Right: true}}}
	_, front := m.e.Chain()
	for i := range m.e.Runs {
		r := &m.e.Runs[i]
		t.Rows = append(t.Rows, document.Row{Tick: true, Cells: []string{r.Name, m.woodOf(r), m.text(r.Piece.WallEdge),
			m.text(r.Piece.FrontEdge), m.text(front[i].Distance(front[i+1])), m.text(r.Depth),
			m.speech.Number(r.Piece.StartAngle.Text()) + "° / " + m.speech.Number(r.Piece.EndAngle.Text()) + "°",
			m.least(r.GapAtWall()), m.mass(r.Piece.Mass.Whole(m.e.Units))}})
	}
	return []document.Block{document.Heading{Level: 2, Text: m.say("Pieces")}, t}
}

// pieceNotes are what is to be known of all pieces.
func (m *maker) pieceNotes() []document.Block {
	fine := func(text string) document.Text { return document.Text{Tone: document.Fine, Text: text} }
	blocks := []document.Block{fine(m.say("Wall edge and front edge are the piece's own; the visible front is its run's in the finished top, from corner to corner: at an outer corner the end of the next piece can be part of it."))}
	for _, joint := range m.wallJoints() {
		blocks = append(blocks, fine(m.say("Wall of %s: %s", strings.Join(joint.runs, ", "), m.told(joint.text))))
	}
	if len(m.e.Cutouts) > 0 {
		least := "1/2 in"
		if m.e.Units == measure.Millimetres {
			least = "12 mm"
		}
		blocks = append(blocks, fine(m.say("Corner radius of cut-outs: as the appliance's template has it, and nowhere under %s, or the wood tears from the corner (common practice). Check every cut-out against the appliance itself before cutting.", m.speech.Phrase(least))))
	}
	return blocks
}

// wallJoint is how some runs meet their walls.
type wallJoint struct {
	text string
	runs []string
}

// wallJoints are those of all runs, each said once.
func (m *maker) wallJoints() (list []wallJoint) {
	at := map[string]int{}
	for i := range m.e.Runs {
		r := &m.e.Runs[i]
		if r.WallJoint.Text == "" {
			continue
		}
		k, known := at[r.WallJoint.Text]
		if !known {
			k = len(list)
			at[r.WallJoint.Text] = k
			list = append(list, wallJoint{text: r.WallJoint.Text})
		}
		list[k].runs = append(list[k].runs, r.Name)
	}
	return list
}
