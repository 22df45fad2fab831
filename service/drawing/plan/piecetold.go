package plan

import (
	"math"
	"strconv"

	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// PieceCutout is a cut-out as a tape finds it on its piece. A distance is empty where the cut-out is open at that side.
type PieceCutout struct {
	Name, Size                              string
	FromStart, FromEnd, FromFront, FromWall string // to its nearer side; from the piece's tips and edges
	CentreStart, CentreFront                string // to its middle
}

// PieceRow is a row of base fixings.
type PieceRow struct {
	FromFront string
	FromStart []string       // from the piece's tip at its start
	Play      measure.Length // across the run, at least
	Along     measure.Length // along the run, at least, where all places of the row need as much
	Varied    bool           // each place has its own play in brackets, across × along
	Fixed     bool           // it has none
}

// tell writes down what stands beside the drawing.
func (p *piece) tell() {
	s, r := p.sheet, &p.runs[p.index]
	var far [4]local // wall start, wall end, front start, front end
	from, to := p.frontEdge()
	depth := s.est.Runs[p.index].Depth
	far = [4]local{{r.piece.wallFrom, depth}, {r.piece.wallTo, depth}, {from, 0}, {to, 0}}
	across := func(a, b local) string {
		return s.text(measure.Length(math.Hypot(float64(b.along-a.along), float64(b.front-a.front))))
	}
	p.out.Diagonals = [2]string{across(far[0], far[3]), across(far[1], far[2])}
	for n, c := range p.local {
		p.out.Corners = append(p.out.Corners, [3]string{strconv.Itoa(n + 1), s.text(c.along), s.text(c.front)})
	}
	p.out.VisibleFront, p.out.Ends, p.out.Free = s.text(r.frontLength), p.ends(),
		[2]bool{p.index == 0, p.index == len(s.est.Corners)}
	for i := range p.holes {
		h := &p.holes[i]
		wall := depth - h.fromFront - h.depth
		told := func(l measure.Length, side int) string {
			if h.open[side] {
				return s.say("open")
			}
			return s.text(l)
		}
		p.out.Cutouts = append(p.out.Cutouts, PieceCutout{Name: h.name, Size: s.holeSize(h),
			FromStart: told(h.fromStart, 3), FromEnd: told(h.fromEnd, 1), FromFront: told(h.fromFront, 0),
			FromWall:    told(wall, 2),
			CentreStart: s.text(h.fromStart + h.length/2), CentreFront: s.text(h.fromFront + h.depth/2)})
	}
	for i := range s.est.Fixing.Runs {
		f := &s.est.Fixing.Runs[i]
		if f.Run != s.est.Runs[p.index].Name {
			continue
		}
		for _, row := range f.Rows {
			one := PieceRow{FromFront: s.text(row.FromFront), Play: row.SlotLength, Fixed: row.SlotLength == 0}
			places := inRow(f.Places, row.FromFront)
			one.Varied = s.varied(places)
			for k := range places {
				text := s.text(places[k].Along - r.piece.from)
				if one.Varied {
					text += " (" + s.least(places[k].SlotAcross) + " × " + s.least(places[k].SlotAlong) + ")"
				} else {
					one.Along = max(one.Along, places[k].SlotAlong)
				}
				one.FromStart = append(one.FromStart, text)
			}
			if len(f.Places) == 0 { // answers from before places were told
				one.FromStart = []string{s.say("%s, evenly", strconv.Itoa(f.Along))}
			}
			p.out.Fixings = append(p.out.Fixings, one)
		}
	}
}

// varied says whether places of a row that slide along the run, too, read differently.
func (s *sheet) varied(places []estimate.FixingPlace) bool {
	told := func(p *estimate.FixingPlace) [2]string { return [2]string{s.least(p.SlotAcross), s.least(p.SlotAlong)} }
	slides, same := false, true
	for i := range places {
		slides = slides || places[i].SlotAlong > 0
		same = same && told(&places[i]) == told(&places[0])
	}
	return slides && !same
}

// inRow are the places that stand at one distance from the front.
func inRow(places []estimate.FixingPlace, front measure.Length) (list []estimate.FixingPlace) {
	for i := range places {
		if places[i].FromFront.Near(front) {
			list = append(list, places[i])
		}
	}
	return list
}
