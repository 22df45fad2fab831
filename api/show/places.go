package show

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/template"
)

// decimals are lengths as numbers that a spreadsheet can add, to the digits that answers have.
func decimals(unit measure.System, lengths ...measure.Length) []string {
	out := make([]string, len(lengths))
	for i, l := range lengths {
		out[i] = strconv.FormatFloat(l.Number(unit), 'f', -1, 64)
	}
	return out
}

// points lists every point of the templates, of all runs or of one: x from the piece's leftmost point, y from its front edge, as one sees
// them who stands before it.
func points(s *Subject, o Options) ([]byte, error) {
	rows := [][]string{{"piece", "seen_from", "layer", "feature", "corner", "number", "point", "x_mm", "y_mm", "radius_mm",
		"x_in", "y_in", "radius_in", "x_in_text", "y_in_text"}}
	from := "above"
	if o.Below {
		from = "below"
	}
	for run := range s.Estimate.Runs {
		if o.Run > 0 && run != place(o.Run) {
			continue
		}
		t, err := template.OfRun(s.Estimate, run, template.Side(o.Below))
		if err != nil {
			return nil, err
		}
		for i := range t.Shapes {
			k := &t.Shapes[i]
			radius := []string{"", ""}
			if k.Radius > 0 {
				radius = append(decimals(measure.Millimetres, k.Radius), decimals(measure.Inches, k.Radius)...)
			}
			for n, p := range k.Points {
				row := []string{s.Estimate.Runs[run].Name, from, string(k.Layer), string(k.Feature), orNone(k.Corner),
					orNone(k.Number), strconv.Itoa(n + 1)}
				row = append(append(row, decimals(measure.Millimetres, p.X, p.Y)...), radius[0])
				row = append(append(row, decimals(measure.Inches, p.X, p.Y)...), radius[1], p.X.Text(measure.Inches),
					p.Y.Text(measure.Inches))
				rows = append(rows, row)
			}
		}
	}
	if len(rows) == 1 {
		if _, err := template.OfRun(s.Estimate, place(o.Run), template.Above); err != nil {
			return nil, err
		}
	}
	return Table(rows)
}

// orNone is a number that counts from 1; nothing for 0.
func orNone(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// cutouts lists the cut-outs with their distances from the ends and edges of their own pieces.
func cutouts(s *Subject, _ Options) ([]byte, error) {
	unit := s.Estimate.Units
	names := []string{"length", "depth", "from_left_at_front", "from_right_at_front", "from_left_at_wall",
		"from_right_at_wall", "from_front", "from_wall", "centre_from_left_at_front", "centre_from_front"}
	head := []string{"cut_out", "piece", "kind", "open_at", "unit"}
	for _, name := range names {
		head = append(head, name, name+"_text")
	}
	shaped := slices.ContainsFunc(s.Estimate.Cutouts, func(c estimate.CutoutResult) bool { return c.Making != nil })
	if shaped {
		head = append(head, makingColumns...)
	}
	rows := [][]string{head}
	for i := range s.Estimate.Cutouts {
		p, known := template.PlaceCutout(s.Estimate, i)
		c := &s.Estimate.Cutouts[i]
		row := []string{strconv.Itoa(i + 1), c.Run, c.Kind, strings.Join(c.OpenAt, " "), unit.String()}
		for _, l := range []measure.Length{p.Length, p.Depth, p.LeftAtFront, p.RightAtFront, p.LeftAtWall, p.RightAtWall,
			p.FromFront, p.FromWall, p.LeftAtFront + p.Length/2, p.FromFront + p.Depth/2} {
			if known {
				row = append(row, decimals(unit, l)[0], l.Text(unit))
			} else {
				row = append(row, "", "")
			}
		}
		if shaped {
			row = append(row, makingOf(c, unit)...)
		}
		rows = append(rows, row)
	}
	return Table(rows)
}

// makingColumns say how cut-outs are made; they are there when the order says it of one of them.
var makingColumns = []string{"shape", "mount", "own_length", "own_depth", "corner_radius", "corner_radius_text", "turned",
	"edge_length", "edge_length_text"}

func makingOf(c *estimate.CutoutResult, unit measure.System) []string {
	m := c.Making
	if m == nil {
		return make([]string, len(makingColumns))
	}
	row := []string{string(m.Shape), string(m.Mount)}
	row = append(row, decimals(unit, m.Length, m.Depth)...)
	if m.CornerRadius > 0 {
		row = append(row, decimals(unit, m.CornerRadius)[0], m.CornerRadius.Text(unit))
	} else {
		row = append(row, "", "")
	}
	return append(row, m.Turned.Text(), decimals(unit, m.Edge)[0], m.Edge.Text(unit))
}
