package wire

import (
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Fields walks the fields of an answer in their order, to write them or to read them back: what an answer consists of is said once, and
// holds in both directions. When it reads, a field that is not there, as in an answer from before it was told, stays as it is.
type Fields struct {
	Units measure.System
	w     *Writer // nil: the fields are read
	kept
}

// WriteFields walks an answer that is written.
func WriteFields(w *Writer) *Fields { return &Fields{Units: w.Units, w: w} }

// ReadFields walks an answer that was kept. What is wrong with it is told by End.
func ReadFields(answer string) *Fields { return &Fields{kept: kept{text: answer}} }

// Writer is where the fields are written; nil when they are read. It is for what follows from other fields and need not be read.
func (f *Fields) Writer() *Writer { return f.w }

// Reads tells that the fields are read.
func (f *Fields) Reads() bool { return f.w == nil }

// Open begins an object that is an item of a list, or the whole; Close ends any object.
func (f *Fields) Open() {
	if f.w != nil {
		f.w.Open()
		return
	}
	f.open()
}

// Close ends an object.
func (f *Fields) Close() {
	if f.w != nil {
		f.w.Close()
		return
	}
	f.close()
}

// OpenAt begins an object that is a property, and tells whether it is there.
func (f *Fields) OpenAt(name string) bool {
	if f.w != nil {
		f.w.OpenAt(name)
		return true
	}
	return f.openAt(name)
}

// OpenOrNull is OpenAt for an object that is null unless there is one.
func (f *Fields) OpenOrNull(name string, there bool) bool {
	if f.w != nil && !there {
		f.w.Null(name)
		return false
	}
	return f.OpenAt(name)
}

// OpenIf is OpenAt for an object that is left out unless there is one.
func (f *Fields) OpenIf(name string, there bool) bool {
	return (f.w == nil || there) && f.OpenAt(name)
}

// List walks a list, item by item.
func List[T any](f *Fields, name string, items *[]T, walk func(*Fields, *T)) {
	if w := f.w; w != nil {
		w.List(name)
		for i := range *items {
			walk(f, &(*items)[i])
		}
		w.End()
		return
	}
	if !f.openList(name) {
		return
	}
	for f.more() {
		*items = append(*items, *new(T))
		walk(f, &(*items)[len(*items)-1])
	}
}

// Word walks a text of any type.
func Word[T ~string](f *Fields, name string, word *T) {
	if f.w != nil {
		f.w.Text(name, string(*word))
	} else if f.find(name) {
		*word = T(f.string())
	}
}

// WordOrNull walks a text that is null when it is empty.
func WordOrNull[T ~string](f *Fields, name string, word *T) {
	if f.w != nil {
		f.w.TextOrNull(name, string(*word))
	} else if f.find(name) {
		*word = T(f.string())
	}
}

// Texts walks a list of texts.
func (f *Fields) Texts(name string, all *[]string) {
	if f.w != nil {
		f.w.Texts(name, *all)
	} else if f.openList(name) {
		for f.more() {
			*all = append(*all, f.string())
		}
	}
}

// Bool walks a truth.
func (f *Fields) Bool(name string, truth *bool) {
	if f.w != nil {
		f.w.Bool(name, *truth)
	} else if f.find(name) {
		*truth = f.truth()
	}
}

// Int walks a whole number.
func Int[T int | int64](f *Fields, name string, n *T) {
	if f.w != nil {
		f.w.Int(name, int64(*n))
	} else if f.find(name) {
		*n = T(f.whole())
	}
}

// IntOrNull walks a whole number that is null when it is zero, which stands for unknown.
func IntOrNull[T int | int64](f *Fields, name string, n *T) {
	switch {
	case f.w != nil && *n == 0:
		f.w.Null(name)
	case f.w != nil:
		f.w.Int(name, int64(*n))
	case f.find(name):
		*n = T(f.whole())
	}
}

// Ints walks a list of whole numbers.
func (f *Fields) Ints(name string, all *[]int) {
	if f.w != nil {
		f.w.Ints(name, *all)
	} else if f.openList(name) {
		for f.more() {
			*all = append(*all, int(f.whole()))
		}
	}
}

// Number walks a number with at most so many decimals.
func Number[T ~float64](f *Fields, name string, x *T, places int) {
	if f.w != nil {
		f.w.Number(name, float64(*x), places)
	} else if f.find(name) {
		*x = T(f.number())
	}
}

// NumberOrNull walks a number that is null when it is zero, which stands for unknown.
func NumberOrNull[T ~float64](f *Fields, name string, x *T, places int) {
	if f.w != nil {
		f.w.NumberOrNull(name, float64(*x), places)
	} else if f.find(name) {
		*x = T(f.number())
	}
}

// Length walks a length; Made and Sized write beside it how a maker reads it, which is not read.
func (f *Fields) Length(name string, l *measure.Length) {
	if f.w != nil {
		f.w.Length(name, *l)
	} else if f.find(name) {
		*l = f.length()
	}
}

// Span walks how far it is between two lengths that are told beside it: between what is written of them.
func (f *Fields) Span(name string, l *measure.Length, from, to measure.Length) {
	if f.w != nil {
		f.w.Length(name, measure.AnswerSpan(from, to, f.w.Units))
	} else if f.find(name) {
		*l = f.length()
	}
}

// Made walks a length of which the nearest figure is for makers.
func (f *Fields) Made(name string, l *measure.Length) { f.Sized(name, l, measure.Measured) }

// Sized walks a length that may not be rounded to either side for makers.
func (f *Fields) Sized(name string, l *measure.Length, size measure.Size) {
	if f.w != nil {
		f.w.Sized(name, *l, size)
	} else if f.find(name) {
		*l = f.length()
	}
}

// LengthOrNull walks a length that is null when it is zero, which stands for what a thing has not; so do MadeOrNull and SizedOrNull.
func (f *Fields) LengthOrNull(name string, l *measure.Length) {
	if f.w != nil {
		f.w.LengthOrNull(name, *l)
	} else if f.find(name) {
		*l = f.length()
	}
}

// MadeOrNull is Made for what a thing may have not.
func (f *Fields) MadeOrNull(name string, l *measure.Length) {
	f.SizedOrNull(name, l, measure.Measured)
}

// SizedOrNull is Sized for what a thing may have not.
func (f *Fields) SizedOrNull(name string, l *measure.Length, size measure.Size) {
	if f.w != nil {
		f.w.SizedOrNull(name, *l, size)
	} else if f.find(name) {
		*l = f.length()
	}
}

// Lengths walks a list of lengths; MadeAll and SizedAll write a second one beside it as a maker reads them.
func (f *Fields) Lengths(name string, all *[]measure.Length) {
	if f.w != nil {
		f.w.Lengths(name, *all)
	} else if f.openList(name) {
		for f.more() {
			*all = append(*all, f.length())
		}
	}
}

// MadeAll walks a list of lengths of which the nearest figures are for makers.
func (f *Fields) MadeAll(name string, all *[]measure.Length) { f.SizedAll(name, all, measure.Measured) }

// SizedAll walks a list of lengths that may not be rounded to either side for makers.
func (f *Fields) SizedAll(name string, all *[]measure.Length, size measure.Size) {
	if f.w != nil {
		f.w.SizedAll(name, *all, size)
		return
	}
	f.Lengths(name, all)
}

// Angle walks an angle in degrees.
func (f *Fields) Angle(name string, a *measure.Angle) {
	if f.w != nil {
		f.w.Angle(name, *a)
	} else if f.find(name) {
		*a = measure.Angle(f.number()) * measure.Degree
	}
}

// Area walks an area.
func (f *Fields) Area(name string, a *measure.Area) {
	if f.w != nil {
		f.w.Area(name, *a)
	} else if f.find(name) {
		*a = measure.Area(f.number()) * either(f.Units, measure.SquareFoot, measure.SquareMetre)
	}
}

// Mass walks a mass.
func (f *Fields) Mass(name string, m *measure.Mass) {
	if f.w != nil {
		f.w.Mass(name, *m)
	} else if f.find(name) {
		*m = measure.Mass(f.number()) * either(f.Units, measure.Pound, measure.Kilogram)
	}
}

// Force walks a force, ForceOrNull one that is null when it is zero, which stands for unknown.
func (f *Fields) Force(name string, force *measure.Force) {
	if f.w != nil {
		f.w.Force(name, *force)
	} else if f.find(name) {
		*force = measure.Force(f.number()) * either(f.Units, measure.PoundForce, measure.Newton)
	}
}

// ForceOrNull walks a force that may be unknown.
func (f *Fields) ForceOrNull(name string, force *measure.Force) {
	if f.w != nil && force.Number(f.Units) == 0 {
		f.w.Null(name)
		return
	}
	f.Force(name, force)
}

// Pressure walks a pressure.
func (f *Fields) Pressure(name string, p *measure.Pressure) {
	if f.w != nil {
		f.w.Pressure(name, *p)
	} else if f.find(name) {
		*p = measure.Pressure(f.number()) * either(f.Units, measure.PoundPerSquareInch, measure.Kilopascal)
	}
}

// PressureOrNull walks a pressure that is null when it is zero, which stands for unknown.
func (f *Fields) PressureOrNull(name string, p *measure.Pressure) {
	if f.w != nil && p.Number(f.Units) == 0 {
		f.w.Null(name)
		return
	}
	f.Pressure(name, p)
}

// Amount walks an amount of money, Hourly the price of an hour, UnitPrice that of a unit.
func (f *Fields) Amount(name string, a *money.Amount) {
	if f.w != nil {
		f.w.Amount(name, *a)
	} else if f.find(name) {
		*a = read(f, f.string(), money.ParseAmount)
	}
}

// Hourly walks the price of an hour.
func (f *Fields) Hourly(name string, p *money.UnitPrice) {
	if f.w != nil {
		f.w.Hourly(name, *p)
	} else if f.find(name) {
		*p = read(f, f.string(), money.ParseUnitPrice)
	}
}

// UnitPrice walks the price of a unit.
func (f *Fields) UnitPrice(name string, p *money.UnitPrice) {
	if f.w != nil {
		f.w.UnitPrice(name, *p)
	} else if f.find(name) {
		*p = read(f, f.string(), money.ParseUnitPrice)
	}
}

// Quantity walks an exact decimal, Rate exact hundredths.
func (f *Fields) Quantity(name string, q *money.Quantity) {
	if f.w != nil {
		f.w.Quantity(name, *q)
	} else if f.find(name) {
		*q = read(f, f.literal(), money.ParseQuantity)
	}
}

// Rate walks exact hundredths.
func (f *Fields) Rate(name string, r *money.Rate) {
	if f.w != nil {
		f.w.Rate(name, *r)
	} else if f.find(name) {
		*r = read(f, f.literal(), money.ParseRate)
	}
}

// Pair walks a list of two lengths, PairItem one that is an item of a list.
func (f *Fields) Pair(name string, a, b *measure.Length) {
	if f.w != nil {
		f.w.Key(name)
		f.w.pair(*a, *b)
	} else if f.openList(name) {
		f.pair(a, b)
	}
}

// PairItem walks a list of two lengths that is an item of a list.
func (f *Fields) PairItem(a, b *measure.Length) {
	if f.w != nil {
		f.w.Separate()
		f.w.pair(*a, *b)
		return
	}
	f.openItem()
	f.pair(a, b)
}

func (f *Fields) pair(a, b *measure.Length) {
	*a = f.length()
	f.must(',')
	*b = f.length()
	f.must(']')
}

// length reads a length in the answer's units.
func (f *Fields) length() measure.Length {
	return measure.Length(f.number()) * either(f.Units, measure.Inch, measure.Millimetre)
}

func either[T any](units measure.System, inches, millimetres T) T {
	if units == measure.Inches {
		return inches
	}
	return millimetres
}

// read parses what was kept; what cannot be parsed is wrong, never zero.
func read[T any](f *Fields, text string, parse func(string) (T, error)) (value T) {
	value, err := parse(text)
	if err != nil {
		f.fail(err)
	}
	return value
}

// Has tells whether a field of the object at hand is there, be it null, when fields are read.
func (f *Fields) Has(name string) bool {
	at := f.at
	there := f.seek(name)
	if f.err == nil {
		f.at = at
	}
	return there
}
