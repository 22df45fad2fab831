package hardware

import (
	"math"
	"strconv"

	"seamwright/service/measure"
)

// sentence is text being put together, with quantities in the caller's units.
type sentence struct {
	b     []byte
	units measure.System
}

// sentence begins a sentence in the chooser's memory.
func (c *Chooser) sentence() sentence { return sentence{b: c.text[:0], units: c.units} }

// finished is the finished sentence; its memory is free for the next one.
func (c *Chooser) finished(w *sentence) string {
	c.text = w.b
	return w.String()
}

func (w *sentence) text(parts ...string) *sentence {
	for _, p := range parts {
		w.b = append(w.b, p...)
	}
	return w
}

func (w *sentence) number(x float64, unit string) *sentence {
	w.b = append(appendNumber(w.b, x), ' ')
	w.b = append(w.b, unit...)
	return w
}

// length writes a length as finely as papers tell a movement (0.359 in, 9.11 mm): holes are compared more finely than a rule reads.
func (w *sentence) length(l measure.Length) *sentence { return w.against(l, l) }

// against writes a length that the sentence holds against another: with more decimals where the two would read as one.
func (w *sentence) against(l, other measure.Length) *sentence {
	places := measure.FinePlaces(w.units)
	for l != other && places < appended && measure.Round(l.In(w.units), places) == measure.Round(other.In(w.units), places) {
		places++
	}
	return w.number(measure.Round(l.In(w.units), places), w.units.String())
}

func (w *sentence) mass(m measure.Mass) *sentence {
	if w.units == measure.Millimetres {
		return w.number(m.Number(w.units), "kg")
	}
	return w.number(m.Number(w.units), "lb")
}

// force writes whole newtons or pounds-force: these are indications.
func (w *sentence) force(f measure.Force) *sentence {
	if w.units == measure.Millimetres {
		return w.number(measure.Round(f.Newtons(), 0), "N")
	}
	return w.number(measure.Round(f.PoundsForce(), 0), "lbf")
}

func (w *sentence) people(n int) *sentence {
	if n == 1 {
		return w.text("1 person")
	}
	return w.number(float64(n), "people")
}

// String returns the sentence written so far.
func (w *sentence) String() string { return string(w.b) }

// appended is how many decimals appendNumber writes fast.
const appended = 4

// appendNumber writes a number in the fewest digits that tell it from all others. One of at most four decimals is
// written as a whole number with a point: up to fifteen digits no two such numbers are the same one, so these are the
// fewest digits.
func appendNumber(b []byte, x float64) []byte {
	const scale = 10_000 // of appended decimals
	n := math.RoundToEven(x * scale)
	if !(math.Abs(n) < 1e15) || n/scale != x || n == 0 {
		return strconv.AppendFloat(b, x, 'f', -1, 64)
	}
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	whole := int64(n)
	b = strconv.AppendInt(b, whole/scale, 10)
	if rest := whole % scale; rest > 0 {
		b = append(b, '.', byte('0'+rest/1000), byte('0'+rest/100%10), byte('0'+rest/10%10), byte('0'+rest%10))
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
	}
	return b
}
