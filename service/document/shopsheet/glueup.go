package shopsheet

import (
	"strconv"
	"strings"

	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// glueUp says how a slab is glued up: sections, steps, clamps and the way staves are turned.
func (m *maker) glueUp(g *estimate.GlueUp) string {
	var says []string
	if len(g.Sections) > 1 {
		parts := make([]string, len(g.Sections))
		for i, s := range g.Sections {
			parts[i] = m.speech.Count(s.Staves, "%s stave, %s wide", "%s staves, %s wide", strconv.Itoa(s.Staves), m.text(s.Width))
		}
		says = append(says, m.say("in sections that the planer takes, then these to each other: %s", strings.Join(parts, " | ")))
	}
	if g.Joints > 0 {
		at := m.say("all joints in one glue-up")
		if g.Count > 1 {
			at = m.say("%s glue-ups; the glue stays open for %s joints at a time", strconv.Itoa(g.Count), strconv.Itoa(g.AtOnce))
			if g.AtOnce == 1 {
				at = m.say("%s glue-ups; the glue stays open for one joint at a time", strconv.Itoa(g.Count))
			}
		}
		says = append(says, at,
			m.speech.Count(g.Clamps, "%s clamp each, every %s, %s on the joints", "%s clamps each, every %s, %s on the joints", strconv.Itoa(g.Clamps), m.text(g.Spacing), m.pressure(g.Pressure)),
			m.say("spread in %s minutes, clamped in %s", m.tenth(g.Spreading), m.tenth(g.Closing)))
	}
	switch g.Rings {
	case estimate.RingsAlternate:
		says = append(says, m.say("turn the staves' rings up and down by turns"))
	case estimate.RingsBarkUp:
		says = append(says, m.say("all staves bark side up"))
	case estimate.RingsHeartUp:
		says = append(says, m.say("all staves heart side up"))
	case estimate.RingsAny:
	}
	return strings.Join(says, "; ")
}

func (m *maker) tenth(x float64) string {
	return m.speech.Amount(strconv.FormatFloat(measure.Round(x, 1), 'f', -1, 64))
}

// pressure is a pressure as a maker reads it, to ten units.
func (m *maker) pressure(p measure.Pressure) string {
	if m.e.Units == measure.Inches {
		return m.say("%s lbf/in²", m.speech.Amount(strconv.Itoa(10*int(p.PoundsPerSquareInch()/10+0.5))))
	}
	return m.say("%s kPa", m.speech.Amount(strconv.Itoa(10*int(p.Kilopascals()/10+0.5))))
}
