// Package summary prints an estimate for someone who reads it on a terminal.
package summary

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"seamwright/service/drawing/letters"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// planColumns is how wide the plan gets: it fits into the usual 80 columns.
const planColumns = 64

// Write prints the whole estimate, in the units it was asked in; with colour for a terminal that shows it. It returns the
// writer's error.
func Write(w io.Writer, e *estimate.Estimate, colour bool) error {
	p := &printer{units: e.Units}
	p.head(e)
	p.plan(e)
	p.runs(e)
	for k := range e.Corners {
		p.corner(e, k)
	}
	p.wood(e)
	p.bill(e)
	p.labour(e)
	p.price(e)
	p.notes(e)
	text := p.b.String()
	if colour {
		text = paint(text)
	}
	_, err := io.WriteString(w, text)
	return err
}

func (p *printer) plan(e *estimate.Estimate) {
	p.line("")
	for _, line := range letters.Plan(e, planColumns) {
		p.line("  %s", line)
	}
	p.line("  Seen from above, the first run's wall at the top. Slanted edges are drawn as steps.")
}

type printer struct {
	b     strings.Builder
	units measure.System
}

func (p *printer) line(format string, args ...any) { fmt.Fprintf(&p.b, format+"\n", args...) }

func (p *printer) title(text string) {
	p.line("\n%s\n%s", text, strings.Repeat("─", len([]rune(text))))
}

// table prints rows of cells in aligned columns.
func (p *printer) table(rows ...[]string) {
	t := tabwriter.NewWriter(&p.b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(t, "  "+strings.TrimRight(strings.Join(r, "\t"), "\t"))
	}
	_ = t.Flush() // into memory: it cannot fail
}

func (p *printer) text(l measure.Length) string { return l.Text(p.units) }

func (p *printer) head(e *estimate.Estimate) {
	name := e.Reference
	if name == "" {
		name = "Estimate"
	}
	p.line("%s", name)
	p.line("%s", strings.Repeat("═", len([]rune(name))))
	unit := "millimetres"
	if e.Units == measure.Inches {
		unit = "inches"
	}
	p.line("Lengths in %s. Prices of %s in %s, catalogue revision %d.", unit, e.PricedAsOf, e.Currency, e.Revision)
	area, mass := fmt.Sprintf("%.1f ft²", e.Area.SquareFeet()), fmt.Sprintf("%.0f lb", e.Mass.Pounds())
	if p.units == measure.Millimetres {
		area, mass = fmt.Sprintf("%.2f m²", e.Area.SquareMetres()), fmt.Sprintf("%.0f kg", e.Mass.Kilograms())
	}
	p.line("The top: %s, %s. Price %s %s including tax (8 in 10 such tops stay under %s).", area, mass, e.Price.Total, e.Currency, e.Price.Range.P80)
}

func (p *printer) runs(e *estimate.Estimate) {
	p.title("Runs")
	rows := [][]string{{"run", "wood", "wall edge", "front edge", "ends", "blank", "staves", "moisture made/dry/humid", "moves dry / humid", "gap at wall"}}
	for i := range e.Runs {
		r := &e.Runs[i]
		staves := "ready-made panel"
		if r.Blank.Staves > 0 {
			staves = fmt.Sprintf("%d of %s × %s", r.Blank.Staves, p.text(r.Blank.StaveRip), p.text(r.Blank.StaveLength))
		}
		rows = append(rows, []string{r.Name, r.Species + ", " + string(r.Sawn), p.text(r.Piece.WallEdge), p.text(r.Piece.FrontEdge),
			r.Piece.StartAngle.Text() + "° / " + r.Piece.EndAngle.Text() + "°",
			p.text(r.Blank.Length) + " × " + p.text(r.Blank.Width), staves,
			fmt.Sprintf("%.1f / %.1f / %.1f %%", float64(r.Moisture.Making), float64(r.Moisture.Dry), float64(r.Moisture.Humid)),
			r.Movement.ToDry.Phrase(p.units) + " / " + r.Movement.ToHumid.Phrase(p.units), r.GapAtWall().TextAs(p.units, measure.Least)})
	}
	p.table(rows...)
}

func (p *printer) corner(e *estimate.Estimate, k int) {
	c := &e.Corners[k]
	p.title(fmt.Sprintf("Corner %s–%s, %s°", e.Runs[k].Name, e.Runs[k+1].Name, c.Angle.Text()))
	p.line("%s", c.Why)
	if c.Close.Text != "" {
		p.line("%s", c.Close.Text)
	}
	rows := [][]string{{"joint", "score", "seam", "slip", "opening", "cost against it", "hours"}}
	for i := range c.Candidates {
		rows = append(rows, p.candidate(e, k, &c.Candidates[i], c.Candidates[i].Joint == c.Chosen))
	}
	p.table(rows...)
	for i := range c.Candidates {
		if o := &c.Candidates[i]; o.Joint == c.Chosen {
			p.findings(o)
			p.hardware(o)
		}
	}
}

func (p *printer) candidate(e *estimate.Estimate, k int, o *estimate.Candidate, chosen bool) []string {
	name := Joint(o.Joint, e.Runs[k].Name, e.Runs[k+1].Name)
	if chosen {
		name += " ◄"
	}
	if !o.Feasible {
		return []string{name, "–", excluded(o)}
	}
	slip := max(o.Movement.Dry.MaxSlip, -o.Movement.Dry.MaxSlip, o.Movement.Humid.MaxSlip, -o.Movement.Humid.MaxSlip)
	opening := max(o.Movement.Dry.MaxOpening, -o.Movement.Dry.MaxOpening, o.Movement.Humid.MaxOpening, -o.Movement.Humid.MaxOpening)
	return []string{name, fmt.Sprint(o.Score), p.text(o.Geometry.SeamLength), slip.Phrase(p.units), opening.Phrase(p.units), o.CostDifference.String(), fmt.Sprintf("%.1f", o.LabourHours)}
}

// Joint names a joint and its through run.
func Joint(j plan.Joint, first, second string) string {
	if run := j.ThroughRun(first, second); run != "" {
		return j.Kind.Name() + ", " + run + " through"
	}
	return j.Kind.Name()
}

func excluded(o *estimate.Candidate) string {
	for _, f := range o.Findings {
		if f.Effect == "excludes" {
			return "excluded: " + f.Text
		}
	}
	return "not feasible"
}

func (p *printer) findings(o *estimate.Candidate) {
	for _, f := range o.Findings {
		points := "" // a fact that weighs neither way
		if f.Points != 0 {
			points = fmt.Sprintf("%+d", f.Points)
		}
		p.line("  %4s  %s", points, f.Text)
	}
}

func (p *printer) hardware(o *estimate.Candidate) {
	g := &o.Geometry
	p.line("  Cut: first run %s° (saw %s° off square), second run %s° (saw %s°); held flush at the %s.",
		g.First.CutAngle.Text(), g.First.SawSetting.Text(), g.Second.CutAngle.Text(), g.Second.SawSetting.Text(), o.Movement.HoldAt)
	a := &o.Hardware.Alignment
	if a.Count > 0 {
		p.line("  %d × %s at %s from the front; slots %s long.", a.Count, a.Item, p.list(a.Positions), p.sizes(a.SlotWidths, measure.Least))
	}
	for i := range o.Hardware.Pull.Groups {
		p.group(&o.Hardware.Pull.Groups[i])
	}
	if n := o.Hardware.Pull.Note; n != "" {
		p.line("  %s", n)
	}
}

func (p *printer) group(g *hardware.PullGroup) {
	what, sizes := g.Cuts()
	p.line("  %d × %s at %s from the front; %s %s wide.", g.Count, g.Item, p.list(g.Positions), what, p.sizes(sizes, measure.Bore))
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

// sizes are those that all parts share, or one for each.
func (p *printer) sizes(all []measure.Length, size measure.Size) string {
	texts := p.texts(all, size)
	if len(slices.Compact(slices.Clone(texts))) == 1 {
		texts = texts[:1]
	}
	return strings.Join(texts, ", ")
}

func (p *printer) wood(e *estimate.Estimate) {
	p.title("Cutting plan")
	for i := range e.Lumber {
		l := &e.Lumber[i]
		proof := "proved the cheapest"
		if !l.Optimal {
			proof = "best found; none under " + l.LowerBound.String()
		}
		if l.NetBoardFeet > 0 {
			p.line("  %s: %.1f board feet net, %.1f by the grade's yield; buy %.1f (%s), %.1f of them in the plan.", l.Material, l.NetBoardFeet, l.YieldBoardFeet, l.BuyBoardFeet, proof, l.PlanBoardFeet)
		} else {
			p.line("  %s: purchase %s.", l.Material, proof)
		}
		rows := [][]string{{"buy", "length", "in the plan"}}
		for _, b := range l.Boards {
			rows = append(rows, []string{fmt.Sprint(b.Buy), b.Length.FeetText(), fmt.Sprint(b.Planned)})
		}
		p.table(rows...)
		for _, s := range l.Strips {
			if len(s.Pieces) > 0 {
				p.line("    %d × strip %s: %s; leaves %s", s.Count, p.text(s.Length), p.pieces(s.Pieces), p.text(s.Leftover))
			}
		}
	}
}

func (p *printer) pieces(list []estimate.StripPiece) string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = x.Run + " " + p.text(x.Length)
	}
	return strings.Join(out, " + ")
}

func (p *printer) bill(e *estimate.Estimate) {
	p.title("To buy")
	rows := [][]string{{"", "item", "need", "buy", "price", "amount"}}
	for i := range e.Bill {
		l := &e.Bill[i]
		buy := l.Buy.String() + " " + string(l.Unit)
		if l.Packs > 0 {
			buy = fmt.Sprintf("%d × %s %s", l.Packs, l.PackSize, l.Unit)
		}
		rows = append(rows, []string{fmt.Sprint(l.Line), l.Description, l.Need.String(), buy, l.UnitPrice.String(), l.Amount.String()})
	}
	p.table(rows...)
}

func (p *printer) labour(e *estimate.Estimate) {
	p.title("Labour")
	rows := [][]string{{"", "step", "who", "minutes", "low–high", "wait h", "after", "day", "amount"}}
	for i := range e.Labour.Steps {
		s := &e.Labour.Steps[i]
		who := s.Role
		if s.Crew > 1 {
			who = fmt.Sprintf("%d × %s", s.Crew, s.Role)
		}
		wait := ""
		if s.WaitHours > 0 {
			wait = fmt.Sprintf("%g", s.WaitHours)
		}
		after := strings.Trim(strings.Join(strings.Fields(fmt.Sprint(s.After)), ","), "[]")
		rows = append(rows, []string{fmt.Sprint(s.Number), s.Name, who, fmt.Sprintf("%.0f", s.Minutes.Expected),
			fmt.Sprintf("%.0f–%.0f", s.Minutes.Low, s.Minutes.High), wait, after, fmt.Sprint(s.Day), s.Amount.String()})
	}
	p.table(rows...)
	if e.Labour.NoPromise != "" {
		p.line("  %.1f hours of work. %s", e.Labour.Hours, e.Labour.NoPromise)
		return
	}
	p.line("  %.1f hours of work, %.1f hours along the critical path with waits, %d working days.", e.Labour.Hours, e.Labour.CriticalPathHours, e.Labour.WorkingDays)
}

func (p *printer) price(e *estimate.Estimate) {
	p.title("Price")
	x := &e.Price
	t := tabwriter.NewWriter(&p.b, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, r := range [][2]string{{"materials", x.Materials.String()}, {"hardware", x.Hardware.String()}, {"consumables", x.Consumables.String()}, {"labour", x.Labour.String()},
		{"overhead", x.Overhead.String()}, {"contingency", x.Contingency.String()}, {"cost", x.Cost.String()}, {fmt.Sprintf("margin (%s %s %%)", x.Basis, x.Rate), x.Margin.String()},
		{"net", x.Net.String()}, {fmt.Sprintf("tax (%s %%)", x.TaxRate), x.Tax.String()}, {"total", x.Total.String() + " " + e.Currency}, {"deposit", x.Deposit.String()}} {
		fmt.Fprintf(t, "%s\t%s\t\n", r[0], r[1])
	}
	_ = t.Flush() // into memory: it cannot fail
	p.line("  Range of the total: half of such tops stay under %s, 8 in 10 under %s, 9 in 10 under %s.", x.Range.P50, x.Range.P80, x.Range.P90)
}

func (p *printer) notes(e *estimate.Estimate) {
	if len(e.Warnings) > 0 {
		p.title("Warnings")
		for _, w := range e.Warnings {
			p.line("  %s: %s", w.Severity, w.Text)
		}
	}
	p.title("Assumed")
	rows := make([][]string, 0, len(e.Assumptions))
	for _, a := range e.Assumptions {
		rows = append(rows, []string{a.Pointer, p.value(a.Value), a.Why})
	}
	p.table(rows...)
	p.title("Take care")
	for _, c := range e.Cautions {
		p.line("  • %s", c)
	}
	p.title("Sources")
	for _, s := range e.Sources {
		p.line("  %s: %s", s.ID, s.Title)
	}
}

func (p *printer) value(v any) string {
	switch x := v.(type) {
	case measure.Length:
		return x.Phrase(p.units)
	case measure.Angle:
		return x.Text() + "°"
	}
	return fmt.Sprint(v)
}
