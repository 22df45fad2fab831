package summary

import (
	"fmt"
	"strings"

	"seamwright/service/estimate"
)

// glueUps tells how slabs are glued up, where they are.
func (p *printer) glueUps(e *estimate.Estimate) {
	rows := [][]string{{"run", "sections", "glue-ups", "clamps", "rings"}}
	for i := range e.Runs {
		g := e.Runs[i].GlueUp
		if g == nil || g.Joints == 0 {
			continue
		}
		parts := make([]string, len(g.Sections))
		for k, s := range g.Sections {
			parts[k] = fmt.Sprintf("%d staves", s.Staves)
		}
		rows = append(rows, []string{e.Runs[i].Name, strings.Join(parts, " + "), fmt.Sprint(g.Count),
			fmt.Sprintf("%d every %s", g.Clamps, p.text(g.Spacing)), strings.ReplaceAll(string(g.Rings), "_", " ")})
	}
	if len(rows) > 1 {
		p.table(rows...)
	}
}
