package hardware

import (
	"cmp"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Mark is one place on a seam where something is cut.
type Mark struct {
	Number int // from the front end
	Kind   catalogue.FastenerKind
	Part   *catalogue.Fastener
	Rows   int            // of alignment parts, one over the other; 1 for pull parts
	At     measure.Length // from the front end, along the seam
	Size   measure.Length // slot's length, exit hole's diameter or channel's width, along the seam
	Recess measure.Length // length along the seam of an elongated recess; 0: round
}

// Marks lists everything that is cut into the seam, from its front end. Parts at one place are listed as the answer lists
// them: alignment first.
func (p *Plan) Marks() []Mark {
	if !p.Feasible {
		return nil
	}
	var out []Mark
	for i, at := range p.Alignment.Positions {
		out = append(out, Mark{Kind: p.Alignment.Kind, Part: &p.Alignment.Part, Rows: p.Alignment.Rows, At: at,
			Size: p.Alignment.SlotWidths[i]})
	}
	for k := range p.Pull.Groups {
		g := &p.Pull.Groups[k]
		_, sizes := g.Cuts()
		for i, at := range g.Positions {
			m := Mark{Kind: g.Kind, Part: &g.Part, Rows: 1, At: at, Size: sizes[i]}
			if i < len(g.Recesses) {
				m.Recess = g.Recesses[i]
			}
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b Mark) int { return cmp.Compare(a.At, b.At) })
	for i := range out {
		out[i].Number = i + 1
	}
	return out
}
