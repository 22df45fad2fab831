package measure

import (
	"math"
	"strconv"
)

// In returns the length in the system's unit of length, inches or millimetres, not rounded.
func (l Length) In(unit System) float64 {
	if unit == Millimetres {
		return l.Millimetres()
	}
	return l.Inches()
}

// Round rounds to so many decimal places (0–15), half away from zero. A value within a millionth of
// the last place (or 1e-15 of itself, when that is more) under a half counts as the half, so that the
// noise of floating point does not flip it: 1.005 gives 1.01. It never gives -0. What is not finite,
// or has no decimals left at its size, comes back as it is.
func Round(x float64, places int) float64 {
	scale := math.Pow10(min(max(places, 0), 15))
	n := nearest(x * scale)
	if !(math.Abs(n) < wholeLimit) {
		return x
	}
	return n / scale
}

// Scaled returns a number in units of the last of so many decimal places (0–15): a whole number, rounded as Round does it.
func Scaled(x float64, places int) float64 { return nearest(x * math.Pow10(min(max(places, 0), 15))) }

// nearest is the whole number nearest to x, as Round describes it.
func nearest(x float64) float64 {
	size := math.Abs(x)
	n := math.Floor(size + 0.5 + max(1e-6, size*1e-15))
	if n == 0 {
		return 0
	}
	return math.Copysign(n, x)
}

// Number returns the length for an answer: inches to 4 decimals or millimetres to 2.
func (l Length) Number(unit System) float64 { return Round(l.In(unit), answerPlaces(unit)) }

func answerPlaces(unit System) int {
	if unit == Millimetres {
		return 2
	}
	return 4
}

// Span is how far it is from one length to another, told beside both of them: between what is printed of them with so many
// decimals, so that what a reader adds up comes out to the last digit. It differs from the rounded true distance by at most
// one step of that digit.
func Span(from, to Length, unit System, places int) Length {
	step := Inch
	if unit == Millimetres {
		step = Millimetre
	}
	return Length(Round(Round(to.In(unit), places)-Round(from.In(unit), places), places)) * step
}

// AnswerSpan is the Span of two lengths that an answer gives as Number does.
func AnswerSpan(from, to Length, unit System) Length { return Span(from, to, unit, answerPlaces(unit)) }

// FinePlaces is how many decimals a movement is told with where its parts stand beside the whole: thousandths of an inch, hundredths
// of a millimetre.
func FinePlaces(unit System) int {
	if unit == Millimetres {
		return 2
	}
	return 3
}

// Fine writes a movement with FinePlaces and its unit.
func (l Length) Fine(unit System) string {
	places := FinePlaces(unit)
	return strconv.FormatFloat(Round(l.In(unit), places), 'f', places, 64) + " " + unit.String()
}

// Number returns the area for an answer: square feet or square metres, to 4 decimals.
func (a Area) Number(unit System) float64 {
	if unit == Millimetres {
		return Round(a.SquareMetres(), 4)
	}
	return Round(a.SquareFeet(), 4)
}

// Number returns the mass for an answer: pounds or kilograms, to 1 decimal.
func (m Mass) Number(unit System) float64 {
	if unit == Millimetres {
		return Round(m.Kilograms(), 1)
	}
	return Round(m.Pounds(), 1)
}

// Whole is the mass as papers tell it: in whole pounds or kilograms, without the unit. It is the answer's number that is rounded, half
// away from zero, so that no paper says 94 where another says 94.5 and a third 95.
func (m Mass) Whole(unit System) string {
	return strconv.FormatFloat(Round(m.Number(unit), 0), 'f', 0, 64)
}

// Number returns the force for an answer: pounds-force or newtons, to 1 decimal.
func (f Force) Number(unit System) float64 {
	if unit == Millimetres {
		return Round(f.Newtons(), 1)
	}
	return Round(f.PoundsForce(), 1)
}

// Number returns the pressure for an answer: pounds-force per square inch or kilopascals, to 1 decimal.
func (p Pressure) Number(unit System) float64 {
	if unit == Millimetres {
		return Round(p.Kilopascals(), 1)
	}
	return Round(p.PoundsPerSquareInch(), 1)
}

// Number returns the angle for an answer: degrees to 4 decimals.
func (a Angle) Number() float64 { return Round(a.Degrees(), 4) }

// Text is the angle in degrees as a maker reads it: to two decimals, finer than any saw is set, without its unit.
func (a Angle) Text() string { return strconv.FormatFloat(Round(a.Degrees(), 2), 'f', -1, 64) }

// Size is what a length says, which decides to which side it may be rounded where a maker reads it.
type Size int

// The four sizes. Least and Bore are never printed smaller than they are, Most never larger.
const (
	Measured Size = iota // of a piece, a place, a part: the nearest 1/32 in or 0.5 mm
	Least                // a slot, gap, cover or clearance that must not come out too small: the next 1/32 in or 0.5 mm up
	// a hole or channel, which must not be much larger either: the next drill up, by 1/64 in or 0.1 mm
	Bore
	Most // a depth, or the wood that is left: the next 1/32 in or 0.5 mm down
)

// step is in how many parts of an inch or of a millimetre the size is written.
func (s Size) step(unit System) float64 {
	switch {
	case unit == Millimetres && s == Bore:
		return 10
	case unit == Millimetres:
		return 2
	case s == Bore:
		return 64
	default:
		return 32
	}
}

// steps rounds a length that is given in steps to the side that the size may be rounded to. What is within a millionth
// of a step counts as that step, so that the noise of floating point does not give a whole one more.
func (s Size) steps(x float64) float64 {
	const noise = 1e-6
	switch s {
	case Least, Bore:
		return math.Ceil(x-noise) + 0 // never -0
	case Most:
		return math.Floor(x+noise) + 0
	default:
		return nearest(x)
	}
}

// TextAs returns the length as a maker reads it on a list, without its unit: inches as a reduced fraction ("25-1/2",
// "5/8", "-1/8", "0"), millimetres with one decimal at most ("647.5", "648"). The size says in which steps and to which
// side it is rounded; every length that is printed in steps is rounded here. ParseLength reads it back when it is not
// negative.
func (l Length) TextAs(unit System, size Size) string {
	var room [phraseRoom]byte
	return string(l.AppendAs(room[:0], unit, size))
}

// AppendAs appends the length as TextAs writes it.
func (l Length) AppendAs(b []byte, unit System, size Size) []byte {
	step := size.step(unit)
	n := size.steps(l.In(unit) * step)
	switch {
	case unit == Millimetres:
		return strconv.AppendFloat(b, n/step, 'f', -1, 64)
	case !(math.Abs(n) < wholeLimit):
		return strconv.AppendFloat(b, l.Inches(), 'f', -1, 64)
	default:
		return appendFraction(b, int64(n), int64(step))
	}
}

// Text is a measure as TextAs writes it. A tie goes away from zero, as in Round.
func (l Length) Text(unit System) string { return l.TextAs(unit, Measured) }

// FeetText returns the length in feet and inches to the nearest 1/32 in: 7' 3-1/2". Feet are left out
// when there are none (3-1/2"), inches never (7' 0").
func (l Length) FeetText() string {
	const foot = 12 * 32
	n := Measured.steps(l.Inches() * 32)
	if !(math.Abs(n) < wholeLimit) {
		return shortest(l.Inches()) + `"`
	}
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	feet, rest := int64(n)/foot, int64(n)%foot
	if feet == 0 {
		return sign + thirtySeconds(rest) + `"`
	}
	return sign + strconv.FormatInt(feet, 10) + "' " + thirtySeconds(rest) + `"`
}

// StockText is the length of a board or panel as the caller's trade sells it: feet and inches (16' 0"), or millimetres with
// their unit (4876.8 mm is "4877 mm").
func (l Length) StockText(unit System) string {
	if unit == Millimetres {
		return l.Phrase(unit)
	}
	return l.FeetText()
}

// Phrase returns a measure with its unit, for a sentence. From 1/4 in (6 mm) up it is as in Text:
// "25-1/2 in", "648 mm". A smaller one, a movement or a gap, matters more finely: inches to the nearest
// 0.001 ("0.083 in"), unless they are whole 1/32 in, as sizes of edges and tools are ("3/16 in"); millimetres to the nearest 0.1 from 1 mm up and 0.01 below ("2.1 mm", "0.35 mm").
// What would round to nothing is "less than 0.001 in" or "less than 0.01 mm"; nothing is "0 in", "0 mm".
func (l Length) Phrase(unit System) string { return l.PhraseAs(unit, Measured) }

// PhraseAs is like Phrase, rounded to the side that the size may be rounded to.
func (l Length) PhraseAs(unit System, as Size) string {
	var room [phraseRoom]byte
	return string(l.AppendPhraseAs(room[:0], unit, as))
}

// phraseRoom is more than nearly any phrase takes.
const phraseRoom = 32

// AppendPhrase appends the measure as Phrase writes it.
func (l Length) AppendPhrase(b []byte, unit System) []byte {
	return l.AppendPhraseAs(b, unit, Measured)
}

// AppendPhraseAs appends the measure as PhraseAs writes it.
func (l Length) AppendPhraseAs(b []byte, unit System, as Size) []byte {
	size, small, places := math.Abs(l.In(unit)), 0.25, 3
	if unit == Millimetres {
		small, places = 6, 2
		if size >= 1 {
			places = 1
		}
	}
	if size == 0 || !(size < small) || unit == Inches && as.onMark(l.In(unit)) {
		b = l.AppendAs(b, unit, as)
	} else {
		scale := math.Pow10(places)
		rounded := as.steps(l.In(unit)*scale) / scale
		if rounded == 0 {
			b, rounded = append(b, "less than "...), math.Pow10(-places)
		}
		b = strconv.AppendFloat(b, rounded, 'f', -1, 64)
	}
	return append(append(b, ' '), unit.String()...)
}

// onMark tells whether a size in inches is a mark of the tape but for less than half a thousandth, so that 3/16 does not read 0.188.
func (s Size) onMark(inches float64) bool {
	n := s.steps(inches * 32)
	return n != 0 && math.Abs(n/32-inches) < 0.0005
}

// thirtySeconds writes n/32 as a whole number and a reduced fraction.
func thirtySeconds(n int64) string { return string(appendFraction(nil, n, 32)) }

// appendFraction writes n/under, under a power of two.
func appendFraction(b []byte, n, under int64) []byte {
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	whole, over := n/under, n%under
	for over != 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	if whole != 0 || over == 0 {
		b = strconv.AppendInt(b, whole, 10)
	}
	if over == 0 {
		return b
	}
	if whole != 0 {
		b = append(b, '-')
	}
	b = append(strconv.AppendInt(b, over, 10), '/')
	return strconv.AppendInt(b, under, 10)
}

// shortest writes a number with as few digits as tell it apart and no exponent.
func shortest(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
