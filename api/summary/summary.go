// Package summary prints an estimate, or why there is none, for someone who reads it on a terminal.
package summary

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"seamwright/service/drawing/letters"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/template"
)

// planColumns is how wide the plan gets: it fits into the usual 80 columns.
const planColumns = 64

// Screen is what it is printed on.
type Screen struct {
	Columns int // 0: not known
	Colour  bool
}

// Write prints the whole estimate, in the units it was asked in. It returns the writer's error.
func Write(w io.Writer, e *estimate.Estimate, screen Screen) error {
	p := newPrinter(e.Units, screen.Columns)
	p.head(e)
	p.plan(e)
	p.runs(e)
	p.walls(e)
	p.cutouts(e)
	for k := range e.Corners {
		p.corner(e, k)
	}
	p.base(e)
	p.fixing(e)
	p.carrying(e)
	p.lifting(e)
	p.wood(e)
	p.bill(e)
	p.labour(e)
	p.price(e)
	p.notes(e)
	text := p.b.String()
	if screen.Colour {
		text = paint(text)
	}
	_, err := io.WriteString(w, text)
	return err
}

func (p *printer) plan(e *estimate.Estimate) {
	p.line("")
	for _, line := range letters.Plan(e, min(planColumns, p.columns-2)) {
		p.line("  %s", line)
	}
	p.prose(2, "  Seen from above, the first run's wall at the top. Slanted edges are drawn as steps.")
}

func (p *printer) text(l measure.Length) string { return l.Text(p.units) }

func (p *printer) head(e *estimate.Estimate) {
	name := e.Reference
	if name == "" {
		name = "Estimate"
	}
	p.ruled(name, "═")
	unit := "millimetres"
	if e.Units == measure.Inches {
		unit = "inches"
	}
	p.prose(0, "Lengths in %s. Prices of %s in %s, catalogue revision %d.", unit, e.PricedAsOf, e.Currency, e.Revision)
	area, mass := fmt.Sprintf("%.1f ft²", e.Area.SquareFeet()), e.WholeMass()+" lb"
	if p.units == measure.Millimetres {
		area, mass = fmt.Sprintf("%.2f m²", e.Area.SquareMetres()), e.WholeMass()+" kg"
	}
	p.prose(0, "The top: %s thick, %s, %s. Price %s %s including tax (8 in 10 such tops stay under %s).",
		p.text(e.Made.Thickness), area, mass, e.Price.Total, e.Currency, e.Price.Range.P80)
	if e.Made.Build == estimate.BuiltUp {
		p.prose(0, "Its slabs are %s thick, built up below at edges, ends, seams and supports.", p.text(e.Made.Layer))
	}
	for i := range e.Builds {
		p.prose(0, "Instead: %s", e.Builds[i].Text)
	}
}

// runs prints the pieces, and below them what their wood does and is made of.
func (p *printer) runs(e *estimate.Estimate) {
	p.title("Runs")
	along := make([]measure.Length, len(e.Runs))
	if len(e.Outline) == 2*len(e.Runs)+2 {
		along = e.WallLengths()
	}
	pieces := [][]string{{"run", "wood", "along wall × depth", "wall edge", "front edge", "ends", "weight"}}
	wood := [][]string{{"run", "moisture made / dry / humid", "moves dry / humid", "gap at wall"}}
	for i := range e.Runs {
		r := &e.Runs[i]
		weight := r.Piece.Mass.Whole(e.Units) + " lb"
		if p.units == measure.Millimetres {
			weight = r.Piece.Mass.Whole(e.Units) + " kg"
		}
		pieces = append(pieces, []string{r.Name, woodOf(r.Wood) + ", " + string(r.Sawn) + "-sawn",
			p.text(along[i]) + " × " + p.text(r.Depth), p.text(r.Piece.WallEdge), p.text(r.Piece.FrontEdge),
			r.Piece.StartAngle.Text() + "° / " + r.Piece.EndAngle.Text() + "°", weight})
		wood = append(wood, []string{r.Name, fmt.Sprintf("%.1f / %.1f / %.1f %%", float64(r.Moisture.Making),
			float64(r.Moisture.Dry), float64(r.Moisture.Humid)),
			r.Movement.ToDry.Phrase(p.units) + " / " + r.Movement.ToHumid.Phrase(p.units),
			r.GapAtWall().TextAs(p.units, measure.Least)})
	}
	p.table(pieces...)
	p.line("")
	p.table(wood...)
}

// cutouts prints where the holes lie in their pieces, from ends and edges that these have.
func (p *printer) cutouts(e *estimate.Estimate) {
	if len(e.Cutouts) == 0 {
		return
	}
	p.title("Cut-outs")
	rows := [][]string{{"", "what", "run", "long × deep", "from the left", "from the right", "from the front",
		"from the wall"}}
	for i := range e.Cutouts {
		c := &e.Cutouts[i]
		what := plainly(c.Kind)
		if c.Making != nil {
			what += madeSo(c.Making, p.text)
		}
		if len(c.OpenAt) > 0 {
			what += ", open at the " + strings.Join(c.OpenAt, " and the ")
		}
		row := []string{fmt.Sprint(i + 1), what, c.Run}
		if at, known := template.PlaceCutout(e, i); known {
			row = append(row, p.text(at.Length)+" × "+p.text(at.Depth), p.text(at.LeftAtFront), p.text(at.RightAtFront),
				p.text(at.FromFront), p.text(at.FromWall))
		}
		rows = append(rows, row)
	}
	p.table(rows...)
	p.prose(2, "  Along the front edge of the piece, from its own ends, as one stands before it.")
}

// madeSo tells how a cut-out is made.
func madeSo(m *estimate.CutoutMaking, text func(measure.Length) string) string {
	words := ""
	switch {
	case m.Shape != plan.Rectangle:
		words = ", " + string(m.Shape)
	case m.CornerRadius > 0:
		words = ", corners R " + text(m.CornerRadius)
	}
	if m.Turned != 0 {
		words += ", turned " + m.Turned.Text() + "°"
	}
	if m.Mount == estimate.MountUnder {
		words += ", hung below"
	}
	return words
}

// fixing prints how the top is held to its base.
func (p *printer) fixing(e *estimate.Estimate) {
	f := &e.Fixing
	if f.Count == 0 {
		return
	}
	p.title("Fixing to the base")
	p.prose(2, "  %d × %s.", f.Count, nameOf(e, f.Item))
	rows := [][]string{{"run", "fixed at", "row from front", "slot across", "along the run, from its start"}}
	for i := range f.Runs {
		r := &f.Runs[i]
		for _, row := range r.Rows {
			slot := "fixed"
			if row.SlotLength > 0 {
				slot = row.SlotLength.TextAs(p.units, measure.Least)
			}
			var along []measure.Length
			for _, at := range r.Places {
				if at.FromFront.Near(row.FromFront) {
					along = append(along, at.Along)
				}
			}
			rows = append(rows, []string{r.Run, string(r.FixedLine), p.text(row.FromFront), slot, p.list(along)})
		}
	}
	p.table(rows...)
	if f.Note != "" {
		p.prose(2, "  %s", f.Note)
	}
}

// walls prints the scribe table of each wall that is not straight.
func (p *printer) walls(e *estimate.Estimate) {
	titled := false
	for i := range e.Runs {
		for k := range e.Runs[i].Walls {
			if !titled {
				p.title("Walls as they are")
				titled = true
			}
			p.scribing(&e.Runs[i].Walls[k])
		}
	}
}

func (p *printer) scribing(c *estimate.Crooked) {
	p.prose(2, "  %s", c.Text)
	if c.Left {
		return
	}
	at, remove := []string{"station"}, []string{"take off"}
	for _, s := range c.Stations {
		at, remove = append(at, p.text(s.At)), append(remove, p.text(s.Remove))
	}
	p.table(at, remove)
}

// carrying prints how the top gets to its place.
func (p *printer) carrying(e *estimate.Estimate) {
	c := e.Carrying
	if c == nil {
		return
	}
	p.title("The way in")
	p.prose(2, "  %s", c.Text)
	rows := [][]string{{"what", "size", "step", "passes", "longest"}}
	add := func(what string, of *estimate.Carried) {
		for i := range of.Way {
			s := &of.Way[i]
			longest, passes := "any", "no"
			if s.Longest != passage.Unlimited {
				longest = s.Longest.TextAs(p.units, measure.Most)
			}
			if s.Passes {
				passes = "yes, " + plainly(string(s.Hold))
			}
			rows = append(rows, []string{what, p.text(of.Size.Length) + " × " + p.text(of.Size.Depth),
				fmt.Sprintf("%d %s", i+1, s.Kind), passes, longest})
		}
	}
	for i := range c.Pieces {
		add(c.Pieces[i].Run, &c.Pieces[i])
	}
	if c.Joined != nil {
		add("joined", c.Joined)
	}
	p.table(rows...)
}

// lifting prints how heavy pieces are and who lifts them.
func (p *printer) lifting(e *estimate.Estimate) {
	t := e.Lifting
	if t == nil {
		return
	}
	p.title("Lifting")
	for _, text := range e.LiftingTexts() {
		p.prose(2, "  %s", text)
	}
	m := &t.Multipliers
	limit := fmt.Sprintf("%.1f lb", t.Limit.Pounds())
	if p.units == measure.Millimetres {
		limit = fmt.Sprintf("%.1f kg", t.Limit.Kilograms())
	}
	p.prose(2, "  One person: %s, by HM %.2f, VM %.2f, DM %.2f, AM %.2f, FM %.2f, CM %.2f.", limit, m.Reach, m.Height, m.Travel, m.Twist,
		m.Frequency, m.Coupling)
}

func (p *printer) list(positions []measure.Length) string {
	return strings.Join(p.texts(positions, measure.Measured), ", ")
}

func (p *printer) texts(all []measure.Length, size measure.Size) []string {
	out := make([]string, len(all))
	for i, l := range all {
		out[i] = l.TextAs(p.units, size)
	}
	return out
}

// nameOf is what the bill calls an item.
func nameOf(e *estimate.Estimate, code string) string {
	at := slices.IndexFunc(e.Bill, func(l estimate.BillLine) bool { return l.Item == code })
	if at < 0 {
		return plainly(code)
	}
	return e.Bill[at].Description
}

// woodOf is a wood's name without what comes after its comma, which is for the trade's lists.
func woodOf(name string) string {
	short, _, _ := strings.Cut(name, ",")
	return short
}

// plainly is a code as words.
func plainly(code string) string {
	if code == "" {
		return "cut-out"
	}
	return strings.ReplaceAll(code, "_", " ")
}

func (p *printer) price(e *estimate.Estimate) {
	p.title("Price")
	x := &e.Price
	t := tabwriter.NewWriter(&p.b, 0, 0, 2, ' ', tabwriter.AlignRight)
	rows := [][2]string{{"materials", x.Materials.String()}, {"hardware", x.Hardware.String()},
		{"consumables", x.Consumables.String()}, {"labour", x.Labour.String()},
		{"overhead", x.Overhead.String()}, {"contingency", x.Contingency.String()}}
	if a := x.Adjusted; a != nil {
		rows = append(rows, [2]string{"extra lines", a.LinesCost.String()})
	}
	rows = append(rows, [][2]string{{"cost", x.Cost.String()},
		{fmt.Sprintf("margin (%s %s %%)", x.Basis, x.Rate), x.Margin.String()}}...)
	rows = append(append(rows, sold(x)...), [2]string{"net", x.Net.String()})
	for i, part := range x.Taxes() {
		of := part.Rate.String() + " %"
		if i == 0 && x.Region != nil {
			of += ", " + x.Region.Name
		}
		rows = append(rows, [2]string{"tax (" + of + ")", part.Tax.String()})
	}
	for _, r := range append(rows, [][2]string{{"total", x.Total.String() + " " + e.Currency}, {"deposit", x.Deposit.String()}}...) {
		fmt.Fprintf(t, "%s\t%s\t\n", r[0], r[1])
	}
	_ = t.Flush() // into memory: it cannot fail
	p.prose(2, "  Range of the total: half of such tops stay under %s, 8 in 10 under %s, 9 in 10 under %s.", x.Range.P50,
		x.Range.P80, x.Range.P90)
}

// sold are discounts and extra lines, with the top that they go with.
func sold(x *price.Price) (rows [][2]string) {
	a := x.Adjusted
	if a == nil {
		return nil
	}
	rows = append(rows, [2]string{"top", a.Top.String()})
	for i := range a.Discounts {
		rows = append(rows, [2]string{"discount: " + a.Discounts[i].Reason, "-" + a.Discounts[i].Amount.String()})
	}
	for i := range a.Lines {
		rows = append(rows, [2]string{a.Lines[i].Text, a.Lines[i].Net.String()})
	}
	if !a.Rounding.IsZero() {
		rows = append(rows, [2]string{"rounding", a.Rounding.String()})
	}
	return rows
}

func (p *printer) notes(e *estimate.Estimate) {
	if len(e.Warnings) > 0 {
		p.title("Warnings")
		for _, w := range e.Warnings {
			p.prose(4, "  %s: %s%s", w.Severity, about(e, w.Pointer), w.Text)
		}
	}
	p.title("Assumed")
	for _, a := range e.Assumptions {
		p.prose(4, "  • %s: %s (%s)", p.value(a.Value), a.Why, a.Pointer)
	}
	p.title("Take care")
	for _, c := range e.Cautions {
		p.prose(4, "  • %s", c)
	}
	p.title("Sources")
	for _, s := range e.Sources {
		p.prose(4, "  %s: %s", s.ID, s.Title)
	}
}

// about says which of several corners a warning is about; nothing when there is but one.
func about(e *estimate.Estimate, pointer string) string {
	if k := e.CornerAt(pointer); k >= 0 && len(e.Corners) > 1 {
		return fmt.Sprintf("Corner %s–%s: ", e.Runs[k].Name, e.Runs[k+1].Name)
	}
	return ""
}

func (p *printer) value(v any) string {
	switch x := v.(type) {
	case measure.Length:
		return x.Phrase(p.units)
	case measure.Angle:
		return x.Text() + "°"
	case string:
		return plainly(x)
	}
	return fmt.Sprint(v)
}
