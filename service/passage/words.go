package passage

import (
	"seamwright/service/measure"
)

// How says in one plain sentence how a piece passes a step, or what stops it, with lengths in a system's units.
func How(s *Step, v *Verdict, units measure.System) string {
	most := func(l measure.Length) string { return l.PhraseAs(units, measure.Most) }
	if !v.Passes {
		if v.Longest <= 0 && v.EndUp <= 0 {
			return "It does not pass " + s.name() + ", however short: depth and thickness are too large for it."
		}
		text := "It does not pass " + s.name() + ": at this depth and thickness at most " + most(v.Longest) + " passes"
		if v.EndUp > v.Longest+Touching {
			text += ", with one end raised " + orAny(v.EndUp, units)
		}
		return text + "."
	}
	switch held, name := holding[v.Hold], s.name(); {
	case v.Longest == Unlimited:
		return held + " it passes " + name + ", whatever its length."
	case s.Kind == Lift && v.Straight+Touching < v.Longest:
		return held + " it passes " + name + ", up to a length of " + most(v.Longest) + "; longer than " + most(v.Straight) +
			" it must be turned up on its way through the door."
	default:
		return held + " it passes " + name + ", up to a length of " + most(v.Longest) + "."
	}
}

// holding begins a sentence on a piece that is held so.
var holding = map[Hold]string{
	OnEdge: "Carried on edge",
	Flat:   "Carried flat",
	Tilted: "Tilted about its length",
	Across: "Carried sideways",
	EndUp:  "With one end raised",
}

func orAny(l measure.Length, units measure.System) string {
	if l == Unlimited {
		return "any length"
	}
	return l.PhraseAs(units, measure.Most)
}

// name names a step in a sentence.
func (s *Step) name() string {
	switch s.Kind {
	case Door:
		return "the door"
	case Turn:
		return "the turn of the corridor"
	case Lift:
		return "the lift"
	}
	return "the way"
}
