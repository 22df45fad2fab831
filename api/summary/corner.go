package summary

import (
	"fmt"
	"slices"
	"strings"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

func (p *printer) corner(e *estimate.Estimate, k int) {
	c := &e.Corners[k]
	if c.InLine != nil {
		p.title(fmt.Sprintf("Straight seam %s–%s", e.Runs[k].Name, e.Runs[k+1].Name))
	} else {
		p.title(fmt.Sprintf("Corner %s–%s, %s°", e.Runs[k].Name, e.Runs[k+1].Name, c.Angle.Text()))
	}
	p.prose(0, "%s", c.Why)
	if c.Close.Text != "" {
		p.prose(0, "%s", c.Close.Text)
	}
	rows := [][]string{{"  joint", "score", "seam", "slip", "opening", "dearer by", "hours"}}
	for i := range c.Candidates {
		rows = append(rows, p.candidate(e, k, &c.Candidates[i], c.Candidates[i].Joint == c.Chosen))
	}
	p.table(rows...)
	for i := range c.Candidates {
		if o := &c.Candidates[i]; !o.Feasible {
			p.prose(4, "  %s: %s", Joint(o.Joint, e.Runs[k].Name, e.Runs[k+1].Name), excluded(o))
		}
	}
	o := c.ChosenCandidate()
	if o == nil {
		return
	}
	p.findings(o)
	p.hardware(e, k, o)
	p.tolerances(c.Tolerances)
}

// tolerances prints how tight a seam will be, by how its corner comes to the wood; nothing where nobody asked.
func (p *printer) tolerances(t *estimate.Tolerances) {
	if t == nil {
		return
	}
	p.prose(2, "  How tight it will be: gaps that 19 of 20 such seams keep to. %s", t.Text)
	rows := [][]string{{"  carried by", "front / wall", "drawn tight", "at worst", "most of it", "minutes", "recut"}}
	for i := range t.Ways {
		x := &t.Ways[i]
		least := func(l measure.Length) string { return l.TextAs(p.units, measure.Least) }
		name := "  " + strings.TrimPrefix(strings.TrimPrefix(x.Way.Name(), "the "), "a ")
		if x.Way == t.Reckoned {
			name = "* " + name[2:]
		}
		rows = append(rows, []string{name, least(x.Front.Expected) + " / " + least(x.Wall.Expected), least(x.Drawn.Expected),
			least(x.Drawn.Worst), plainly(string(x.Dominant)), fmt.Sprintf("%.0f", x.Minutes), fmt.Sprintf("%.0f %%", 100*x.Chance)})
	}
	p.table(rows...)
}

func (p *printer) candidate(e *estimate.Estimate, k int, o *estimate.Candidate, chosen bool) []string {
	name := "  " + Joint(o.Joint, e.Runs[k].Name, e.Runs[k+1].Name)
	if chosen {
		name = chosenMark + name[1:]
	}
	if !o.Feasible {
		return []string{name, "–"}
	}
	slip := max(o.Movement.Dry.MaxSlip, -o.Movement.Dry.MaxSlip, o.Movement.Humid.MaxSlip, -o.Movement.Humid.MaxSlip)
	opening := o.Movement.Opening()
	return []string{name, fmt.Sprint(o.Score), p.text(o.Geometry.SeamLength), slip.Phrase(p.units),
		opening.Phrase(p.units), o.CostDifference.String(), fmt.Sprintf("%.1f", o.LabourHours)}
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
	p.line("")
	for _, f := range o.Findings {
		points := "" // a fact that weighs neither way
		if f.Points != 0 {
			points = fmt.Sprintf("%+d", f.Points)
		}
		p.prose(7, "  %4s %s", points, f.Text)
	}
}

// hardware prints how the seam is cut and where its parts stand. What a warning says as well is not said twice.
func (p *printer) hardware(e *estimate.Estimate, k int, o *estimate.Candidate) {
	g := &o.Geometry
	p.line("")
	p.prose(4, "  Cut: run %s %s° (saw %s° off square), run %s %s° (saw %s°); held flush at the %s.",
		e.Runs[k].Name, g.First.CutAngle.Text(), g.First.SawSetting.Text(), e.Runs[k+1].Name, g.Second.CutAngle.Text(),
		g.Second.SawSetting.Text(), o.Movement.HoldAt)
	turn := measure.Length(0)
	if o.Joint.Kind.Turns() {
		turn = g.FrontKeep
		p.prose(4, "  The seam turns %s from its front end: behind it, measure from the turn.", p.text(turn))
	}
	a := &o.Hardware.Alignment
	if a.Count > 0 {
		p.parts(fmt.Sprintf("%d × %s", a.Count, a.Part.Name), "slot long", a.Positions, turn,
			p.texts(a.SlotWidths, measure.Least))
	}
	for i := range o.Hardware.Pull.Groups {
		g := &o.Hardware.Pull.Groups[i]
		what, sizes := g.Cuts()
		p.parts(fmt.Sprintf("%d × %s", g.Count, g.Part.Name), what+" wide", g.Positions, turn, p.texts(sizes, measure.Bore))
	}
	note := o.Hardware.Pull.Note
	if note != "" && !slices.ContainsFunc(e.Warnings,
		func(w estimate.Warning) bool { return strings.Contains(w.Text, note) }) {
		p.prose(2, "  %s", note)
	}
}

// parts prints one kind of a seam's parts: a column for each place.
func (p *printer) parts(name, size string, at []measure.Length, turn measure.Length, sizes []string) {
	p.prose(4, "  %s", name)
	rows := [][]string{append([]string{"from front"}, p.texts(at, measure.Measured)...)}
	if turn > 0 {
		from := make([]string, len(at))
		for i, l := range at {
			from[i] = "–"
			if l >= turn {
				from[i] = p.text(l - turn)
			}
		}
		rows = append(rows, append([]string{"from the turn"}, from...))
	}
	if len(sizes) == len(at) {
		rows = append(rows, append([]string{size}, sizes...))
	}
	p.across(rows)
}

// across prints rows that run over the page: so many columns at a time as it holds.
func (p *printer) across(rows [][]string) {
	head, cell := 0, 0
	for _, row := range rows {
		head = max(head, width(row[0]))
		for _, text := range row[1:] {
			cell = max(cell, width(text))
		}
	}
	all := len(rows[0]) - 1
	each := max((p.columns-4-head)/(cell+gap), 1)
	for from := 0; from < all; from += each {
		to := min(from+each, all)
		for _, row := range rows {
			line := fmt.Sprintf("    %-*s", head, row[0])
			for _, text := range row[1+from : 1+to] {
				line += strings.Repeat(" ", gap+cell-width(text)) + text
			}
			p.line("%s", line)
		}
	}
}
