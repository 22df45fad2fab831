package leaflet

import (
	"math"
	"strconv"
	"strings"

	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// Installation says how a top is put in: weights and hands, base, gaps, seams, fixings, and in which order. It fails when there are no
// words in that language.
func Installation(in *Input) (*document.Document, error) {
	return make1(in, "inst_title", (*maker).installation)
}

func (m *maker) installation() error {
	m.add(document.Text{Tone: document.Lead, Text: m.Say("inst_lead",
		speak.With{"Wood": m.woods(), "Size": m.sizes(), "Thickness": m.length(m.e.Made.Thickness), "Mass": m.mass(m.e.WholeMass())},
		m.unit)})
	width, _ := m.Paper.Room()
	top, err := m.plan(width, 82)
	if err != nil {
		return err
	}
	m.add(top)
	m.pieces()
	m.wayIn()
	m.lifting()
	m.base()
	m.seams()
	m.fixings()
	m.order()
	return nil
}

// pieces are what is carried, with the gap that each leaves at its wall.
func (m *maker) pieces() {
	var rows []document.Row
	for i := range m.e.Runs {
		r := &m.e.Runs[i]
		people := "–"
		if r.People > 0 {
			people = strconv.Itoa(r.People)
		}
		if n := m.e.Lifters(i); n > 0 {
			people = m.Say("inst_people_lift", speak.With{"Carry": people, "Lift": n})
		}
		rows = append(rows, document.Row{Cells: []string{r.Name, m.length(r.Piece.LongEdge) + " × " + m.length(r.Depth),
			m.mass(r.Piece.Mass.Whole(m.e.Units)), people, m.least(r.GapAtWall()), m.cover(r)}})
	}
	m.add(document.Together{Blocks: []document.Block{document.Heading{Level: 2, Text: m.Say("inst_pieces")},
		document.Table{Caption: m.Say("inst_pieces"), Columns: []document.Column{
			{Title: m.Say("inst_piece"), Weight: 1}, {Title: m.Say("inst_size", m.unit), Weight: 1.6}, {Title: m.Say("inst_weight"), Weight: 0.9},
			{Title: m.Say("inst_people"), Weight: 1.1}, {Title: m.Say("inst_gap", m.unit), Weight: 1.1},
			{Title: m.Say("inst_cover"), Weight: 2.4}}, Rows: rows}}})
	items := []string{m.Say("inst_lift")}
	if len(m.e.Cutouts) > 0 {
		items = append(items, m.Say("inst_lift_cut"))
	}
	if len(m.e.Corners) > 0 {
		items = append(items, m.Say("inst_lift_seam"))
	}
	m.add(document.List{Items: append(items, m.Say("inst_gaps_text"))})
}

// wayIn says how the pieces get to their place; nothing where no way was told.
func (m *maker) wayIn() {
	c := m.e.Carrying
	if c == nil {
		return
	}
	items := []string{m.Drawings.Told(c.Text)}
	for i := range c.Pieces {
		for k := range c.Pieces[i].Way {
			items = append(items, c.Pieces[i].Run+": "+m.Drawings.Told(c.Pieces[i].Way[k].How))
		}
	}
	m.part("inst_way", items...)
}

// lifting says how heavy each piece and the joined top are and how many lift it; nothing where nobody asked.
func (m *maker) lifting() {
	items := m.e.LiftingTexts()
	if items == nil {
		return
	}
	for i := range items {
		items[i] = m.Drawings.Told(items[i])
	}
	m.part("inst_lifting", append([]string{m.Say("inst_lifting_text")}, items...)...)
}

func (m *maker) cover(r *estimate.RunResult) string {
	cover := r.WallJoint.Cover
	if cover == "" {
		cover = "plain"
	}
	return m.Say("cover_"+string(cover), speak.With{"Width": m.least(r.WallJoint.Strip)}, m.unit)
}

// How flat a base is (common practice).
var (
	flatOver = map[measure.System]measure.Length{measure.Inches: 72 * measure.Inch,
		measure.Millimetres: 2000 * measure.Millimetre}
	flatHollow = map[measure.System]measure.Length{measure.Inches: measure.Inch / 16,
		measure.Millimetres: 1.5 * measure.Millimetre}
)

func (m *maker) base() {
	unit := " " + m.Say("unit_"+m.e.Units.String())
	items := []string{m.Say("inst_base_level", speak.With{"Length": m.length(flatOver[m.e.Units]) + unit,
		"Hollow": m.length(flatHollow[m.e.Units]) + unit}), m.Say("inst_base_rails")}
	if len(m.e.Corners) > 0 {
		items = append(items, m.Say("inst_base_seam"))
	}
	if b := m.e.Base; b != nil {
		for i := range b.Props {
			text := m.Drawings.Told(b.Props[i].Text)
			if at := b.Props[i].Positions; len(at) > 0 {
				text += " " + m.Many("inst_props_at", len(at), speak.With{"Run": b.Props[i].Run, "Places": m.lengths(at)}, m.unit)
			}
			items = append(items, text)
		}
		for i := range b.Seams {
			items = append(items, m.Drawings.Told(b.Seams[i].Text))
		}
	}
	m.part("inst_base", append(items, m.Say("inst_base_steam"))...)
}

// lengths are lengths one after the other.
func (m *maker) lengths(all []measure.Length) string {
	texts := make([]string, len(all))
	for i := range all {
		texts[i] = m.length(all[i])
	}
	return strings.Join(texts, "; ")
}

// seams says how each corner is closed.
func (m *maker) seams() {
	var rows []document.Row
	for i := range m.e.Corners {
		c := chosen(&m.e.Corners[i])
		if c == nil {
			continue
		}
		var pulls []string
		for k := range c.Hardware.Pull.Groups {
			g := &c.Hardware.Pull.Groups[k]
			pulls = append(pulls, m.Many("inst_parts", g.Count, speak.With{"Name": m.Say("pull_" + string(g.Kind))}))
		}
		rows = append(rows, document.Row{Cells: []string{m.Say("corner_names",
			speak.With{"First": m.e.Runs[i].Name, "Second": m.e.Runs[i+1].Name}), m.Drawings.Say(c.Joint.Kind.Name()),
			m.Say("hold_" + string(c.Movement.HoldAt)), strings.Join(pulls, ", ")}})
	}
	if len(rows) == 0 {
		return
	}
	m.add(document.Together{Blocks: []document.Block{document.Heading{Level: 2, Text: m.Say("inst_seams")},
		document.Table{Caption: m.Say("inst_seams"), Columns: []document.Column{
			{Title: m.Say("inst_corner"), Weight: 1}, {Title: m.Drawings.Say("joint"), Weight: 1.2},
			{Title: m.Say("inst_held"), Weight: 1}, {Title: m.Say("inst_pulls"), Weight: 1.6}}, Rows: rows}}})
}

func chosen(c *estimate.CornerResult) *estimate.Candidate {
	for i := range c.Candidates {
		if c.Candidates[i].Joint == c.Chosen {
			return &c.Candidates[i]
		}
	}
	return nil
}

// fixings says of each run's rows whether they hold it or let it slide, and by how much.
func (m *maker) fixings() {
	if m.e.Fixing.Count == 0 {
		m.part("inst_fix", m.Say("inst_fix_none"))
		return
	}
	var rows []document.Row
	middle, swings := false, false
	for i := range m.e.Fixing.Runs {
		f := &m.e.Fixing.Runs[i]
		middle = middle || f.WithoutRow(m.e.Runs[i].Depth)
		for k := range f.Rows {
			name, line := f.Run, m.Say("line_"+string(f.FixedLine))
			if k > 0 {
				name, line = "", ""
			}
			count, across, along := m.inRow(f, k)
			swings = swings || along > 0
			rows = append(rows, document.Row{Cells: []string{name, line, m.length(f.Rows[k].FromFront), count,
				m.how(across, along)}})
		}
	}
	text := m.Say("inst_fix_text")
	if middle {
		text += " " + m.Say("inst_fix_middle")
	}
	if swings {
		text += " " + m.Say("inst_fix_swings")
	}
	m.add(document.Together{Blocks: []document.Block{document.Heading{Level: 2, Text: m.Say("inst_fix")},
		document.Text{Text: text}, document.Table{Caption: m.Say("inst_fix"), Columns: []document.Column{
			{Title: m.Say("inst_piece"), Weight: 1}, {Title: m.Say("inst_line"), Weight: 1}, {Title: m.Say("inst_row", m.unit), Weight: 1.4},
			{Title: m.Say("inst_count"), Weight: 1.3}, {Title: m.Say("inst_how"), Weight: 4}}, Rows: rows}}})
}

// inRow counts the fixings of a row, and finds the longest slot that one of them needs across the run and along it.
func (m *maker) inRow(f *estimate.RunFixing, k int) (count string, across, along measure.Length) {
	n := 0
	across = f.Rows[k].SlotLength
	for i := range f.Places {
		if p := &f.Places[i]; math.Abs(float64(p.FromFront-f.Rows[k].FromFront)) < 0.01 {
			n++
			across, along = max(across, p.SlotAcross), max(along, p.SlotAlong)
		}
	}
	if n == 0 { // kept before places were told
		return strconv.Itoa(f.Along), across, along
	}
	return strconv.Itoa(n), across, along
}

func (m *maker) how(across, along measure.Length) string {
	switch {
	case across == 0 && along == 0:
		return m.Say("inst_fixed")
	case along == 0:
		return m.Say("inst_slides", speak.With{"Slot": m.least(across)}, m.unit)
	}
	return m.Say("inst_slides_along", speak.With{"Slot": m.least(across), "Along": m.least(along)}, m.unit)
}

// order is the order of work, whose steps are numbered, with what to take care of: a caution never stands alone on a page.
func (m *maker) order() {
	making := m.Decimal(strconv.FormatFloat(measure.Round(float64(m.e.Runs[0].Moisture.Making), 1), 'f', -1, 64))
	steps := []string{m.Say("inst_step_rest", speak.With{"Moisture": making}), m.Say("inst_step_base")}
	if m.e.Labour.NoPromise != "" {
		steps = append([]string{m.Say("inst_rest_days")}, steps...)
	}
	if len(m.e.Corners) > 0 {
		lay := "inst_step_lay_all"
		for i := range m.e.Corners {
			if m.e.Corners[i].Chosen.RunsThrough() {
				lay = "inst_step_lay"
			}
		}
		steps = append(steps, m.Say(lay), m.Say("inst_step_join"))
	} else {
		steps = append(steps, m.Say("inst_step_lay_one"))
	}
	if m.e.Fixing.Count > 0 {
		steps = append(steps, m.Say("inst_step_fix"))
	}
	if len(m.e.Corners) > 0 && m.has("sink", "tap", "faucet") {
		steps = append(steps, m.Say("inst_step_seal"))
	}
	steps = append(steps, m.Say("inst_step_gap"))
	if len(m.e.Cutouts) > 0 {
		steps = append(steps, m.Say("inst_step_open"))
	}
	steps = append(steps, m.Say("inst_step_last"))
	var rows []document.Row
	for i, s := range steps {
		rows = append(rows, document.Row{Cells: []string{strconv.Itoa(i + 1), s}, Tick: true})
	}
	all := []document.Block{document.Heading{Level: 2, Text: m.Say("inst_order")}, document.Table{Caption: m.Say("inst_order"),
		Columns: []document.Column{{Title: m.Say("inst_step"), Weight: 1}, {Title: m.Say("inst_what"), Weight: 11}},
		Rows:    rows}, document.Text{Tone: document.Caution, Text: m.Say("inst_cautions")}}
	m.add(document.Fitting{Ways: [][]document.Block{all, {document.Close{Blocks: all}}}, Else: []document.Block{document.Together{Blocks: all}}})
}
