package summary

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

func (p *printer) wood(e *estimate.Estimate) {
	p.title("Cutting plan")
	blanks := [][]string{{"run", "blank", "staves"}}
	for i := range e.Runs {
		b, staves := &e.Runs[i].Blank, "ready-made panel"
		if b.Staves > 0 {
			staves = fmt.Sprintf("%d of %s × %s", b.Staves, p.text(b.StaveRip), p.text(b.StaveLength))
			if b.Joined.Count > 0 {
				staves += fmt.Sprintf(", each of %d finger-jointed pieces", b.Joined.Count)
			}
			switch {
			case b.BuiltUp():
				staves += fmt.Sprintf(", built up below with %d blocks", b.BlockCount())
			case b.Layers > 0:
				staves += fmt.Sprintf(", %d layers", b.Layers)
			}
		}
		blanks = append(blanks, []string{e.Runs[i].Name, p.text(b.Length) + " × " + p.text(b.Width), staves})
	}
	p.table(blanks...)
	p.glueUps(e)
	for i := range e.Lumber {
		l := &e.Lumber[i]
		proof := "proved the cheapest"
		if !l.Optimal {
			proof = "best found; none under " + l.LowerBound.String()
		}
		if l.NetBoardFeet > 0 {
			unit, volume := "board feet", func(feet float64) string {
				amount, places := l.InUnit(feet)
				return strconv.FormatFloat(amount, 'f', places, 64)
			}
			if l.Unit == catalogue.CubicMetre {
				unit = "m³"
			}
			p.prose(4, "  %s: %s %s net, %s by the grade's yield; buy %s (%s), %s of them in the plan.",
				nameOf(e, l.Material), volume(l.NetBoardFeet), unit, volume(l.YieldBoardFeet), volume(l.BuyBoardFeet), proof,
				volume(l.PlanBoardFeet))
			if l.MeasuredWidth > 0 {
				p.prose(4, "  Unedged boards, measured %s wide; %s is left between straight edges.", p.text(l.MeasuredWidth),
					p.text(l.BoardWidth))
			}
		} else {
			p.prose(4, "  %s: purchase %s.", nameOf(e, l.Material), proof)
		}
		rows, spare := [][]string{{"buy", "of length", "cut by the plan"}}, false
		for _, b := range l.Boards {
			rows = append(rows, []string{fmt.Sprint(b.Buy), b.Length.StockText(p.units), fmt.Sprint(b.Planned)})
			spare = spare || b.Buy > b.Planned
		}
		p.table(rows...)
		if spare {
			p.prose(2, "  What is bought beyond the plan stands in for wood that is not clear.")
		}
		for _, s := range l.Strips {
			if len(s.Pieces) > 0 {
				p.prose(6, "    %d × strip of %s: %s; leaves %s", s.Count, p.text(s.Length), p.pieces(s.Pieces), p.text(s.Leftover))
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
		need, buy := p.needed(l)
		rows = append(rows, []string{fmt.Sprint(l.Line), l.Description, need, buy, l.UnitPrice.String(), l.Amount.String()})
	}
	p.table(rows...)
}

// unitNames are what follows an amount; pieces have nothing.
var unitNames = map[catalogue.Unit]string{catalogue.BoardFoot: "board feet", catalogue.CubicMetre: "m³", catalogue.Litre: "l",
	catalogue.Metre: "m"}

// needed is what a line needs in the job's units, and what is bought of it as it is sold; what that is in the job's units stands
// behind it, as on the papers.
func (p *printer) needed(l *estimate.BillLine) (need, buy string) {
	amount, times := l.Buy, ""
	if l.Packs > 0 {
		amount, times = l.PackSize, fmt.Sprintf("%d × ", l.Packs)
	}
	need, buy = l.Need.String(), times+amount.String()
	if unit := unitNames[l.Unit]; unit != "" {
		buy += " " + unit
	}
	if own, other := takeoff.InOther(l.Unit, p.units); other {
		need = own.Least(l.Need.Float()) + " " + own.Name
		buy += " (" + own.About(amount.Float()) + " " + own.Name + ")"
	}
	return need, buy
}

func (p *printer) labour(e *estimate.Estimate) {
	p.title("Labour")
	if p.columns < labourColumns {
		p.steps(e)
	} else {
		p.stepTable(e)
	}
	if e.Labour.NoPromise != "" {
		p.prose(2, "  %.1f hours of work. %s", e.Labour.Hours, e.Labour.NoPromise)
		return
	}
	p.prose(2, "  %.1f hours of work, %.1f hours along the critical path with waits, %d working days.", e.Labour.Hours,
		e.Labour.CriticalPathHours, e.Labour.WorkingDays)
}

// labourColumns is from where on the steps stand in a table.
const labourColumns = 110

// steps prints each step in two lines: what it is, and the rest.
func (p *printer) steps(e *estimate.Estimate) {
	for i := range e.Labour.Steps {
		s := &e.Labour.Steps[i]
		p.prose(5, "  %2d %s", s.Number, s.Name)
		more := fmt.Sprintf("%s, %.0f min (%.0f–%.0f), day %d", whoOf(s), s.Minutes.Expected, s.Minutes.Low, s.Minutes.High,
			s.Day)
		if len(s.After) > 0 {
			more += ", after " + numbers(s.After)
		}
		if wait := waitOf(s); wait != "" {
			more += ", then " + wait + " of waiting"
		}
		p.prose(5, "     %s: %s", more, s.Amount)
	}
}

// waitOf is how long nothing can be done after a step; empty: nobody waits.
func waitOf(s *labour.Step) string {
	switch amount, inDays := s.Wait(); {
	case amount == 0:
		return ""
	case inDays:
		return strconv.FormatFloat(measure.Round(amount, 1), 'f', -1, 64) + " days"
	default:
		return fmt.Sprintf("%g h", amount)
	}
}

func whoOf(s *labour.Step) string {
	if s.Crew > 1 {
		return fmt.Sprintf("%d × %s", s.Crew, plainly(s.Role))
	}
	return plainly(s.Role)
}

func numbers(list []int) string {
	return strings.Trim(strings.Join(strings.Fields(fmt.Sprint(list)), ", "), "[]")
}

func (p *printer) stepTable(e *estimate.Estimate) {
	rows := [][]string{{"", "step", "who", "minutes", "low–high", "wait", "after", "day", "amount"}}
	for i := range e.Labour.Steps {
		s := &e.Labour.Steps[i]
		rows = append(rows, []string{fmt.Sprint(s.Number), s.Name, whoOf(s), fmt.Sprintf("%.0f", s.Minutes.Expected),
			fmt.Sprintf("%.0f–%.0f", s.Minutes.Low, s.Minutes.High), waitOf(s), numbers(s.After), fmt.Sprint(s.Day),
			s.Amount.String()})
	}
	p.table(rows...)
}
