// Package wire writes answers as JSON and reads bodies against the published schemas. It knows no HTTP and no operation.
package wire

import (
	"math"
	"reflect"
	"strconv"
	"sync"
	"unicode/utf8"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Writer writes an answer as JSON, in the caller's units. Domain values become wire values here: lengths numbers
// with as many decimals as the contract says, money decimal strings, what is unknown null.
type Writer struct {
	Buf   []byte
	Units measure.System
	Wrong error // what kept the answer from being written; whoever writes what can go wrong looks at it
}

var writers = sync.Pool{New: func() any { return &Writer{Buf: make([]byte, 0, 32<<10)} }}

// NewWriter takes an empty writer from the pool; Free gives it back, and its bytes with it.
func NewWriter(units measure.System) *Writer {
	w := writers.Get().(*Writer)
	w.Buf, w.Units, w.Wrong = w.Buf[:0], units, nil
	return w
}

// Free gives a writer back, and its bytes with it.
func (w *Writer) Free() {
	if cap(w.Buf) <= 1<<20 {
		writers.Put(w)
	}
}

// The methods below work on a copy of the slice and store it once: a store into the heap is dear while the
// collector runs.

// comma puts a comma between two values of one object or list.
func comma(b []byte) []byte {
	if n := len(b); n > 0 {
		if last := b[n-1]; last != '{' && last != '[' && last != ':' {
			return append(b, ',')
		}
	}
	return b
}

// Separate puts a comma before a value that is not the first of its list.
func (w *Writer) Separate() { w.Buf = comma(w.Buf) }

// Key writes the name of a property, which needs no escapes.
func (w *Writer) Key(name string) {
	b := append(comma(w.Buf), '"')
	b = append(b, name...)
	w.Buf = append(b, '"', ':')
}

// Open begins an object that is an item of a list, or the whole; OpenAt one that is a property.
func (w *Writer) Open() { w.Separate(); w.Buf = append(w.Buf, '{') }

// OpenAt begins an object that is a property.
func (w *Writer) OpenAt(name string) { w.Key(name); w.Buf = append(w.Buf, '{') }

// Close ends an object.
func (w *Writer) Close() { w.Buf = append(w.Buf, '}') }

// List begins a list that is a property, Item one inside a list; End ends either.
func (w *Writer) List(name string) { w.Key(name); w.Buf = append(w.Buf, '[') }

// Item begins a list that is an item of a list.
func (w *Writer) Item() { w.Separate(); w.Buf = append(w.Buf, '[') }

// End ends a list.
func (w *Writer) End() { w.Buf = append(w.Buf, ']') }

// Null writes a property that is unknown.
func (w *Writer) Null(name string) { w.Key(name); w.Buf = append(w.Buf, "null"...) }

// Bool writes a truth.
func (w *Writer) Bool(name string, truth bool) {
	w.Key(name)
	w.Buf = strconv.AppendBool(w.Buf, truth)
}

// Int writes a whole number.
func (w *Writer) Int(name string, n int64) {
	w.Key(name)
	w.Buf = strconv.AppendInt(w.Buf, n, 10)
}

// pair writes two lengths as a list.
func (w *Writer) pair(a, b measure.Length) {
	w.Buf = append(w.Buf, '[')
	w.Decimal(a.In(w.Units), w.lengthPlaces())
	w.Buf = append(w.Buf, ',')
	w.Decimal(b.In(w.Units), w.lengthPlaces())
	w.Buf = append(w.Buf, ']')
}

// Ints writes a list of whole numbers.
func (w *Writer) Ints(name string, all []int) {
	w.List(name)
	for _, n := range all {
		w.Separate()
		w.Buf = strconv.AppendInt(w.Buf, int64(n), 10)
	}
	w.End()
}

// Text writes a text.
func (w *Writer) Text(name, text string) {
	w.Key(name)
	w.Quote(text)
}

// TextOrNull writes null for empty text.
func (w *Writer) TextOrNull(name, text string) {
	if text == "" {
		w.Null(name)
		return
	}
	w.Text(name, text)
}

// Texts writes a list of texts.
func (w *Writer) Texts(name string, all []string) {
	w.List(name)
	for _, text := range all {
		w.Separate()
		w.Quote(text)
	}
	w.End()
}

const hexadecimal = "0123456789abcdef"

// asIs are the bytes that stand for themselves in quoted text.
var asIs = func() (is [256]bool) {
	for c := ' '; c < utf8.RuneSelf; c++ {
		is[c] = c != '"' && c != '\\'
	}
	return is
}()

// eightAsIs reports whether eight bytes stand in JSON as they are: plain ASCII, no control character, no quotation mark, no
// backslash. All eight are looked at in one word; a byte that is met sets its own top bit. (H. S. Warren, Hacker's Delight, ch. 6,
// finding a byte in a word.)
func eightAsIs(text string) bool {
	const ones, tops = 0x0101010101010101, 0x8080808080808080
	_ = text[7]
	x := uint64(text[0]) | uint64(text[1])<<8 | uint64(text[2])<<16 | uint64(text[3])<<24 |
		uint64(text[4])<<32 | uint64(text[5])<<40 | uint64(text[6])<<48 | uint64(text[7])<<56
	mark, slash := x^(ones*'"'), x^(ones*'\\')
	return (x|(x-ones*' ')|(mark-ones)|(slash-ones))&tops == 0
}

// Quote writes text in quotation marks with the escapes that RFC 8259 asks for. Bytes that are not UTF-8 become
// the replacement character.
func (w *Writer) Quote(text string) {
	b := append(w.Buf, '"')
	start := 0
	for i := 0; i < len(text); {
		if i+8 <= len(text) && eightAsIs(text[i:i+8]) {
			i += 8
			continue
		}
		c := text[i]
		if asIs[c] {
			i++
			continue
		}
		if c >= utf8.RuneSelf {
			if r, n := utf8.DecodeRuneInString(text[i:]); r != utf8.RuneError || n > 1 {
				i += n
				continue
			}
		}
		b = append(b, text[start:i]...)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', c)
		case c == '\n':
			b = append(b, '\\', 'n')
		case c < ' ':
			b = append(b, '\\', 'u', '0', '0', hexadecimal[c>>4], hexadecimal[c&15])
		default:
			b = append(b, "\ufffd"...)
		}
		i++
		start = i
	}
	b = append(b, text[start:]...)
	w.Buf = append(b, '"')
}

// Number writes a property as a number with at most so many decimals.
func (w *Writer) Number(name string, x float64, places int) {
	w.Key(name)
	w.Decimal(x, places)
}

// NumberOrNull writes null for zero, which stands for unknown.
func (w *Writer) NumberOrNull(name string, x float64, places int) {
	if x == 0 {
		w.Null(name)
		return
	}
	w.Number(name, x, places)
}

// Decimal writes x rounded to so many decimals (at most 6), without trailing zeros. What is not finite has no
// number in JSON and becomes null; the spec then refuses it in the tests.
func (w *Writer) Decimal(x float64, places int) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		w.Buf = append(w.Buf, "null"...)
		return
	}
	scaled := measure.Scaled(x, places)
	if math.Abs(scaled) >= 1<<53 {
		w.Buf = strconv.AppendFloat(w.Buf, x, 'f', -1, 64)
		return
	}
	b, n := w.Buf, uint64(math.Abs(scaled))
	if scaled < 0 {
		b = append(b, '-')
	}
	for places > 0 && n%10 == 0 {
		n, places = n/10, places-1
	}
	var room [20]byte // the digits of 2⁵³, a point and a zero in front of it
	at := len(room)
	for i := 0; i <= places || n > 0; i++ {
		if i == places && i > 0 {
			at--
			room[at] = '.'
		}
		at--
		room[at] = byte('0' + n%10)
		n /= 10
	}
	w.Buf = append(b, room[at:]...)
}

// lengthPlaces is how many decimals a length has: 4 in inches, 2 in millimetres.
func (w *Writer) lengthPlaces() int {
	if w.Units == measure.Millimetres {
		return 2
	}
	return 4
}

// Length writes a length as a number: inches to 4 decimals, millimetres to 2.
func (w *Writer) Length(name string, l measure.Length) {
	w.Number(name, l.In(w.Units), w.lengthPlaces())
}

// keyText writes the name of the property that stands beside another one as text.
func (w *Writer) keyText(name string) {
	b := append(comma(w.Buf), '"')
	b = append(b, name...)
	w.Buf = append(b, `_text":`...)
}

// Made writes a length as a number and beside it as a maker reads it.
func (w *Writer) Made(name string, l measure.Length) { w.Sized(name, l, measure.Measured) }

// Sized is like Made for a length that may not be rounded to either side.
func (w *Writer) Sized(name string, l measure.Length, size measure.Size) {
	w.Length(name, l)
	w.keyText(name)
	w.asMade(l, size)
}

// Hourly writes the price of an hour: in cents, or with four decimals when it has parts of a cent.
func (w *Writer) Hourly(name string, p money.UnitPrice) {
	if cents := p.Amount().Round(2); cents.Cmp(p.Amount()) == 0 {
		w.Amount(name, cents)
		return
	}
	w.UnitPrice(name, p)
}

// asMade writes a length as a maker reads it.
func (w *Writer) asMade(l measure.Length, size measure.Size) {
	w.Buf = append(l.AppendAs(append(w.Buf, '"'), w.Units, size), '"')
}

// LengthOrNull writes null for zero, which stands for what a thing has not.
func (w *Writer) LengthOrNull(name string, l measure.Length) {
	if l == 0 {
		w.Null(name)
		return
	}
	w.Length(name, l)
}

// MadeOrNull is like Made with null for zero.
func (w *Writer) MadeOrNull(name string, l measure.Length) { w.SizedOrNull(name, l, measure.Measured) }

// SizedOrNull is like Sized with null for zero.
func (w *Writer) SizedOrNull(name string, l measure.Length, size measure.Size) {
	if l == 0 {
		w.Null(name)
		w.keyText(name)
		w.Buf = append(w.Buf, "null"...)
		return
	}
	w.Sized(name, l, size)
}

// Lengths writes a list of lengths, MadeAll and SizedAll a second one beside it as a maker reads them.
func (w *Writer) Lengths(name string, all []measure.Length) {
	w.List(name)
	for _, l := range all {
		w.Separate()
		w.Decimal(l.In(w.Units), w.lengthPlaces())
	}
	w.End()
}

// MadeAll writes a list of lengths, and beside it one as a maker reads them.
func (w *Writer) MadeAll(name string, all []measure.Length) { w.SizedAll(name, all, measure.Measured) }

// SizedAll is like MadeAll for lengths that may not be rounded to either side.
func (w *Writer) SizedAll(name string, all []measure.Length, size measure.Size) {
	w.Lengths(name, all)
	w.keyText(name)
	w.Buf = append(w.Buf, '[')
	for _, l := range all {
		w.Separate()
		w.asMade(l, size)
	}
	w.End()
}

// Angle writes degrees, to 4 decimals.
func (w *Writer) Angle(name string, a measure.Angle) { w.Number(name, a.Degrees(), 4) }

// Area writes square feet or square metres.
func (w *Writer) Area(name string, a measure.Area) { w.Number(name, a.Number(w.Units), 4) }

// Mass writes pounds or kilograms.
func (w *Writer) Mass(name string, m measure.Mass) { w.Number(name, m.Number(w.Units), 1) }

// Force writes pounds-force or newtons.
func (w *Writer) Force(name string, f measure.Force) { w.Number(name, f.Number(w.Units), 1) }

// Pressure writes lbf/in² or kPa.
func (w *Writer) Pressure(name string, p measure.Pressure) { w.Number(name, p.Number(w.Units), 1) }

// Quantity writes an exact decimal as a number.
func (w *Writer) Quantity(name string, q money.Quantity) {
	w.Key(name)
	w.Buf = q.Append(w.Buf)
}

// Rate writes exact hundredths as a number.
func (w *Writer) Rate(name string, r money.Rate) {
	w.Key(name)
	w.Buf = r.Append(w.Buf)
}

// Amount writes an amount of money.
func (w *Writer) Amount(name string, a money.Amount) {
	w.Key(name)
	w.Buf = append(a.Append(append(w.Buf, '"')), '"')
}

// UnitPrice writes the price of one unit.
func (w *Writer) UnitPrice(name string, p money.UnitPrice) {
	w.Key(name)
	w.Buf = append(p.Append(append(w.Buf, '"')), '"')
}

// Date writes a day.
func (w *Writer) Date(name string, d catalogue.Date) { w.Text(name, string(d)) }

// Value writes what an assumption holds: text, a truth, a number, a length or an angle.
func (w *Writer) Value(name string, value any) {
	switch v := value.(type) {
	case measure.Length:
		w.Length(name, v)
	case measure.Angle:
		w.Angle(name, v)
	case money.Rate:
		w.Rate(name, v)
	case money.Amount:
		w.Amount(name, v)
	default:
		w.plainValue(name, reflect.ValueOf(value))
	}
}

func (w *Writer) plainValue(name string, v reflect.Value) {
	switch {
	case v.Kind() == reflect.Bool:
		w.Bool(name, v.Bool())
	case v.CanInt():
		w.Int(name, v.Int())
	case v.CanFloat():
		w.Number(name, v.Float(), 6)
	case v.Kind() == reflect.String:
		w.Text(name, v.String())
	default:
		w.Text(name, v.String()) // reflect names the type: the spec's tests then show the odd one
	}
}

// All writes a list, item by item.
func All[T any](w *Writer, name string, items []T, write func(*Writer, *T)) {
	w.List(name)
	for i := range items {
		write(w, &items[i])
	}
	w.End()
}

// Raw writes JSON that is there already.
func (w *Writer) Raw(name, text string) {
	w.Key(name)
	w.Buf = append(w.Buf, text...)
}

// RawOrNull is Raw, and null where there is nothing.
func (w *Writer) RawOrNull(name string, raw []byte) {
	if raw == nil {
		w.Null(name)
		return
	}
	w.Raw(name, string(raw))
}

// Encode returns what write writes.
func Encode(units measure.System, write func(*Writer)) []byte {
	w := NewWriter(units)
	defer w.Free()
	write(w)
	return append([]byte(nil), w.Buf...)
}
