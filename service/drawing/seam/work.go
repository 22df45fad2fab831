package seam

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/labour"
)

// steps lists the work on this seam in the order of the labour plan, with the plan's numbers.
func (s *sheet) steps(x, y, w float64) float64 {
	y = s.Headline(x, y, w, "Order of work")
	if !s.chosen {
		text := "The labour plan is that of the chosen joint, " + jointName(s.corner.Chosen, s.first, s.second) + ". Ask for an estimate with this joint to have its steps."
		return s.Paragraph(x, y, w, text, pen.Letters{Size: pen.Body}) + 3
	}
	for i := range s.est.Labour.Steps {
		step := &s.est.Labour.Steps[i]
		if !s.concerns(step) {
			continue
		}
		s.Rect(x, y+0.7, 2.6, 2.6, 0, pen.Stroke{Ink: pen.Ink, Width: 0.25})
		s.Text(x+8.5, y+3, strconv.Itoa(step.Number), pen.Letters{Size: pen.Body, Bold: true, At: pen.Right})
		y = s.Paragraph(x+10, y-0.1, w-10, step.Name, pen.Letters{Size: pen.Body})
		if note := noteOf(step); note != "" {
			l := pen.Letters{Size: pen.Small, Ink: pen.Faint}
			name := pen.Wrap(step.Name, w-10, pen.Letters{Size: pen.Body})
			if used := pen.Width(name[len(name)-1], pen.Letters{Size: pen.Body}) + 2; used+pen.Width(note, l) <= w-10 {
				s.Text(x+10+used, y-pen.Body*0.3, note, l)
			} else {
				y = s.Paragraph(x+10, y-0.3, w-10, note, l)
			}
		}
		y += 0.8
	}
	return s.Paragraph(x, y, w, "Numbers as in the labour plan of the whole top.", pen.Letters{Size: pen.Small}) + 3
}

func noteOf(step *labour.Step) string {
	if step.WaitHours > 0 {
		return strings.TrimSpace(step.Note + fmt.Sprintf(" Then wait %g h.", step.WaitHours))
	}
	return step.Note
}

// concerns reports whether a step is work on this seam.
func (s *sheet) concerns(step *labour.Step) bool {
	c := s.c
	if step.When == catalogue.Condition(c.Joint.Kind) || slices.ContainsFunc(s.marks, func(m mark) bool { return step.When == m.kind.Condition() }) {
		return true
	}
	switch step.When {
	case catalogue.IfCorner:
		return true
	case catalogue.IfTemplate:
		return c.Carry == estimate.CarryTemplate
	case catalogue.IfScribe:
		return c.Carry == estimate.CarryScribe
	case catalogue.IfProfileBefore:
		return c.Remedy == estimate.NoRemedy
	case catalogue.IfProfileAfter:
		return c.Remedy == estimate.RemedyRadius || c.Remedy == estimate.RemedyCarved
	case catalogue.IfCarvedCorner:
		return c.Remedy == estimate.RemedyCarved
	case catalogue.IfCopedCorner:
		return c.Remedy == estimate.RemedyCoped
	default:
		return false
	}
}

// cautions are those of the estimate and of this corner, after the one that matters most.
func (s *sheet) cautions(x, y, w float64) float64 {
	y = s.Headline(x, y, w, "Cautions")
	texts := []string{"No glue in this seam: the wood must slide, or it splits or the seam opens."}
	if s.chosen {
		at := fmt.Sprintf("/top/corners/%d", s.index)
		for _, warning := range s.est.Warnings {
			if warning.Severity != estimate.Info && (warning.Pointer == at || strings.HasPrefix(warning.Pointer, at+"/")) {
				texts = append(texts, warning.Text)
			}
		}
	}
	if note := s.c.Hardware.Pull.Note; note != "" && !slices.Contains(texts, note) {
		texts = append(texts, note)
	}
	texts = append(texts, s.est.Cautions...)
	half := w
	if !s.narrow {
		half = (w - gutter) / 2
	}
	lines := 0
	for _, text := range texts {
		lines += len(pen.Wrap(text, half-3, pen.Letters{Size: pen.Small}))
	}
	top, end, written := y, y, 0
	for _, text := range texts {
		if !s.narrow && written*2 >= lines { // the second column
			x, y, lines = x+half+gutter, top, math.MaxInt
		}
		s.Rect(x+0.3, y+1.3, 1.1, 1.1, 0, pen.Stroke{Fill: pen.Ink})
		y = s.Paragraph(x+3, y, half-3, text, pen.Letters{Size: pen.Small}) + 0.7
		end = max(end, y)
		written += len(pen.Wrap(text, half-3, pen.Letters{Size: pen.Small}))
	}
	return end + 2
}
