package summary

import (
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// base prints what of the top carries itself on what stands under it.
func (p *printer) base(e *estimate.Estimate) {
	if e.Base == nil {
		return
	}
	p.title("What carries the top")
	rows := [][]string{{"run", "stretch", "from", "to", "length", "sags in time", "at most", "holds", "up to"}}
	for i := range e.Base.Runs {
		for k := range e.Base.Runs[i].Strips {
			s := &e.Base.Runs[i].Strips[k]
			what := string(s.Support) + " " + string(s.Direction)
			if s.Side != "" {
				what += ", " + string(s.Side)
			}
			if s.Props {
				what += ", on brackets or legs"
			}
			holds, up := "no", "any"
			if s.Holds {
				holds = "yes"
			}
			if s.Greatest > 0 {
				up = s.Greatest.TextAs(p.units, measure.Most)
			}
			rows = append(rows, []string{e.Base.Runs[i].Run, what, p.text(s.From), p.text(s.To), p.text(s.Lengths[s.Worst]),
				s.LongTerm.PhraseAs(p.units, measure.Least), s.Limit.PhraseAs(p.units, measure.Most), holds, up})
		}
	}
	p.table(rows...)
	for i := range e.Base.Props {
		p.prose(2, "  %s", e.Base.Props[i].Text)
	}
	for i := range e.Base.Ways {
		p.prose(2, "  Instead: %s", e.Base.Ways[i].Text)
	}
	for i := range e.Base.Seams {
		p.prose(2, "  %s", e.Base.Seams[i].Text)
	}
}
