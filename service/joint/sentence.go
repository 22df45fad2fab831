package joint

import (
	"strconv"

	"seamwright/service/measure"
	"seamwright/service/money"
)

// sentence is text being put together, with quantities in the caller's units.
type sentence struct {
	b     []byte
	units measure.System
}

func (w *sentence) text(parts ...string) *sentence {
	for _, p := range parts {
		w.b = append(w.b, p...)
	}
	return w
}

func (w *sentence) length(l measure.Length) *sentence {
	w.b = l.AppendPhrase(w.b, w.units)
	return w
}

// least is a length that must not be told smaller than it is, most one that must not be told larger.
func (w *sentence) least(l measure.Length) *sentence { return w.sized(l, measure.Least) }
func (w *sentence) most(l measure.Length) *sentence  { return w.sized(l, measure.Most) }

func (w *sentence) sized(l measure.Length, as measure.Size) *sentence {
	w.b = l.AppendPhraseAs(w.b, w.units, as)
	return w
}

func (w *sentence) number(x float64, places int) *sentence {
	w.b = strconv.AppendFloat(w.b, measure.Round(x, places), 'f', -1, 64)
	return w
}

func (w *sentence) amount(a money.Amount) *sentence {
	w.b = a.Append(w.b)
	return w
}

// force writes whole newtons or pounds-force: these are indications.
func (w *sentence) force(n measure.Force) *sentence {
	if w.units == measure.Millimetres {
		return w.number(n.Newtons(), 0).text(" N")
	}
	return w.number(n.PoundsForce(), 0).text(" lbf")
}
