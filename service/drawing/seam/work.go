package seam

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/labour"
)

// Step is one step of the work on a seam, with its number in the labour plan of the whole top.
type Step struct {
	Number     int
	Name, Note string
}

// list is the work on this seam in the order of the labour plan; empty for a joint that was not chosen.
func (s *sheet) list() (out []Step) {
	if !s.chosen {
		return nil
	}
	for i := range s.est.Labour.Steps {
		if step := &s.est.Labour.Steps[i]; s.concerns(step) {
			out = append(out, Step{step.Number, s.speech.Told(step.Name), s.noteOf(step)})
		}
	}
	return out
}

// stepsNote says whose numbers the steps have, or why there are none.
func (s *sheet) stepsNote() string {
	if !s.chosen {
		return s.say("The labour plan is that of the chosen joint, %s. Ask for an estimate with this joint to have its steps.", s.jointName(s.corner.Chosen))
	}
	return s.say("Numbers as in the labour plan of the whole top.")
}

// steps writes the work on this seam.
func (s *sheet) steps(x, y, w float64) float64 {
	y = s.Headline(x, y, w, s.say("Order of work"))
	for _, step := range s.list() {
		s.Rect(x, y+0.9, 2.6, 2.6, 0, pen.Stroke{Ink: pen.Ink, Width: 0.25})
		s.Text(x+9, y+3.4, strconv.Itoa(step.Number), pen.Letters{Size: pen.Body, Bold: true, At: pen.Right})
		y = s.Paragraph(x+10.5, y, w-10.5, step.Name, pen.Letters{Size: pen.Body})
		if step.Note != "" {
			y = s.Paragraph(x+10.5, y-0.3, w-10.5, step.Note, pen.Letters{Size: pen.Small, Ink: pen.Faint})
		}
		y += 0.8
	}
	return s.Paragraph(x, y, w, s.stepsNote(), pen.Letters{Size: pen.Small}) + 3
}

func (s *sheet) noteOf(step *labour.Step) string {
	note := s.speech.Told(step.Note)
	if step.WaitHours > 0 {
		note = strings.TrimSpace(note + " " + s.say("Then wait %s h.",
			s.speech.Number(strconv.FormatFloat(step.WaitHours, 'g', -1, 64))))
	}
	return note
}

// concerns reports whether a step is work on this seam.
func (s *sheet) concerns(step *labour.Step) bool {
	c := s.c
	if step.When == catalogue.Condition(c.Joint.Kind) || slices.ContainsFunc(s.marks,
		func(m mark) bool { return step.When == m.kind.Condition() }) {
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

// warnings are the cautions of this corner, after the one that matters most.
func (s *sheet) warnings() []string {
	texts := []string{s.say("No glue in this seam: the wood must slide, or it splits or the seam opens.")}
	if s.corner.InLine != nil {
		texts[0] = s.say("No glue in this seam: end grain on end grain holds little, and the seam could not be taken apart.")
	}
	if s.chosen {
		for _, warning := range s.est.Warnings {
			if warning.Severity != estimate.Info && s.est.CornerAt(warning.Pointer) == s.index {
				texts = append(texts, s.speech.Told(warning.Text))
			}
		}
	}
	if note := s.speech.Told(s.c.Hardware.Pull.Note); note != "" && !slices.Contains(texts, note) {
		texts = append(texts, note)
	}
	return texts
}

// cautions are those of this corner and the general ones.
func (s *sheet) cautions(x, y, w float64) float64 {
	y = s.Headline(x, y, w, s.say("Cautions"))
	texts := s.warnings()
	for _, c := range s.est.Cautions {
		texts = append(texts, s.speech.Told(c))
	}
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
