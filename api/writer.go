package api

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// writer writes an answer as JSON, in the caller's units. Domain values become wire values here: lengths numbers
// with as many decimals as the contract says, money decimal strings, what is unknown null.
type writer struct {
	buf   []byte
	units measure.System
	wrong error // what kept the answer from being written; whoever writes what can go wrong looks at it
}

var writers = sync.Pool{New: func() any { return &writer{buf: make([]byte, 0, 32<<10)} }}

// newWriter takes an empty writer from the pool; free gives it back, and its bytes with it.
func newWriter(units measure.System) *writer {
	w := writers.Get().(*writer)
	w.buf, w.units, w.wrong = w.buf[:0], units, nil
	return w
}

func (w *writer) free() {
	if cap(w.buf) <= 1<<20 {
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

func (w *writer) separate() { w.buf = comma(w.buf) }

// key writes the name of a property, which needs no escapes.
func (w *writer) key(name string) {
	b := append(comma(w.buf), '"')
	b = append(b, name...)
	w.buf = append(b, '"', ':')
}

// open begins an object that is an item of a list, or the whole; openAt one that is a property.
func (w *writer) open()              { w.separate(); w.buf = append(w.buf, '{') }
func (w *writer) openAt(name string) { w.key(name); w.buf = append(w.buf, '{') }
func (w *writer) close()             { w.buf = append(w.buf, '}') }

// list begins a list that is a property, item one inside a list; end ends either.
func (w *writer) list(name string) { w.key(name); w.buf = append(w.buf, '[') }
func (w *writer) item()            { w.separate(); w.buf = append(w.buf, '[') }
func (w *writer) end()             { w.buf = append(w.buf, ']') }

func (w *writer) null(name string) { w.key(name); w.buf = append(w.buf, "null"...) }

func (w *writer) bool(name string, truth bool) {
	w.key(name)
	w.buf = strconv.AppendBool(w.buf, truth)
}

func (w *writer) int(name string, n int64) {
	w.key(name)
	w.buf = strconv.AppendInt(w.buf, n, 10)
}

func (w *writer) text(name, text string) {
	w.key(name)
	w.quote(text)
}

// textOrNull writes null for empty text.
func (w *writer) textOrNull(name, text string) {
	if text == "" {
		w.null(name)
		return
	}
	w.text(name, text)
}

// textIfThere writes null for text that is not there; empty text is there.
func (w *writer) textIfThere(name string, text *string) {
	if text == nil {
		w.null(name)
		return
	}
	w.text(name, *text)
}

// momentOrNull writes a moment in UTC, to the second.
func (w *writer) momentOrNull(name string, at *time.Time) {
	if at == nil {
		w.null(name)
	} else {
		w.text(name, at.UTC().Format(time.RFC3339))
	}
}

// texts writes a list of texts.
func (w *writer) texts(name string, all []string) {
	w.list(name)
	for _, text := range all {
		w.separate()
		w.quote(text)
	}
	w.end()
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

// quote writes text in quotation marks with the escapes that RFC 8259 asks for. Bytes that are not UTF-8 become
// the replacement character.
func (w *writer) quote(text string) {
	b := append(w.buf, '"')
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
	w.buf = append(b, '"')
}

// number writes a property as a number with at most so many decimals.
func (w *writer) number(name string, x float64, places int) {
	w.key(name)
	w.decimal(x, places)
}

// numberOrNull writes null for zero, which stands for unknown.
func (w *writer) numberOrNull(name string, x float64, places int) {
	if x == 0 {
		w.null(name)
		return
	}
	w.number(name, x, places)
}

var powers = [...]float64{1, 10, 100, 1000, 1e4, 1e5, 1e6}

// decimal writes x rounded to so many decimals (at most 6), without trailing zeros. What is not finite has no
// number in JSON and becomes null; the spec then refuses it in the tests.
func (w *writer) decimal(x float64, places int) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		w.buf = append(w.buf, "null"...)
		return
	}
	scaled := measure.Scaled(x, places)
	if math.Abs(scaled) >= 1<<53 {
		w.buf = strconv.AppendFloat(w.buf, x, 'f', -1, 64)
		return
	}
	b, n := w.buf, int64(scaled)
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	for places > 0 && n%10 == 0 {
		n, places = n/10, places-1
	}
	whole, rest := n/int64(powers[places]), n%int64(powers[places])
	b = strconv.AppendInt(b, whole, 10)
	if places > 0 {
		b = append(b, '.')
		for p := places - 1; p > 0 && rest < int64(powers[p]); p-- {
			b = append(b, '0')
		}
		b = strconv.AppendInt(b, rest, 10)
	}
	w.buf = b
}

func (w *writer) lengthPlaces() int {
	if w.units == measure.Millimetres {
		return 2
	}
	return 4
}

// length writes a length as a number: inches to 4 decimals, millimetres to 2.
func (w *writer) length(name string, l measure.Length) {
	w.number(name, l.In(w.units), w.lengthPlaces())
}

// keyText writes the name of the property that stands beside another one as text.
func (w *writer) keyText(name string) {
	b := append(comma(w.buf), '"')
	b = append(b, name...)
	w.buf = append(b, `_text":`...)
}

// made writes a length as a number and beside it as a maker reads it.
func (w *writer) made(name string, l measure.Length) { w.sized(name, l, measure.Measured) }

// sized is like made for a length that may not be rounded to either side.
func (w *writer) sized(name string, l measure.Length, size measure.Size) {
	w.length(name, l)
	w.keyText(name)
	w.asMade(l, size)
}

// hourly writes the price of an hour: in cents, or with four decimals when it has parts of a cent.
func (w *writer) hourly(name string, p money.UnitPrice) {
	if cents := p.Amount().Round(2); cents.Cmp(p.Amount()) == 0 {
		w.amount(name, cents)
		return
	}
	w.unitPrice(name, p)
}

// asMade writes a length as a maker reads it.
func (w *writer) asMade(l measure.Length, size measure.Size) {
	w.buf = append(l.AppendAs(append(w.buf, '"'), w.units, size), '"')
}

// lengthOrNull, madeOrNull and sizedOrNull write null for zero, which stands for what a thing has not.
func (w *writer) lengthOrNull(name string, l measure.Length) {
	if l == 0 {
		w.null(name)
		return
	}
	w.length(name, l)
}

func (w *writer) madeOrNull(name string, l measure.Length) { w.sizedOrNull(name, l, measure.Measured) }

func (w *writer) sizedOrNull(name string, l measure.Length, size measure.Size) {
	if l == 0 {
		w.null(name)
		w.keyText(name)
		w.buf = append(w.buf, "null"...)
		return
	}
	w.sized(name, l, size)
}

// lengths writes a list of lengths, madeAll and sizedAll a second one beside it as a maker reads them.
func (w *writer) lengths(name string, all []measure.Length) {
	w.list(name)
	for _, l := range all {
		w.separate()
		w.decimal(l.In(w.units), w.lengthPlaces())
	}
	w.end()
}

func (w *writer) madeAll(name string, all []measure.Length) { w.sizedAll(name, all, measure.Measured) }

func (w *writer) sizedAll(name string, all []measure.Length, size measure.Size) {
	w.lengths(name, all)
	w.keyText(name)
	w.buf = append(w.buf, '[')
	for _, l := range all {
		w.separate()
		w.asMade(l, size)
	}
	w.end()
}

func (w *writer) angle(name string, a measure.Angle) { w.number(name, a.Degrees(), 4) }
func (w *writer) area(name string, a measure.Area)   { w.number(name, a.Number(w.units), 4) }
func (w *writer) mass(name string, m measure.Mass)   { w.number(name, m.Number(w.units), 1) }
func (w *writer) force(name string, f measure.Force) { w.number(name, f.Number(w.units), 1) }

// poundsPerSquareInch is one lbf/in² as a pressure; both units are exact (NIST SP 811, Appendix B.8).
const poundsPerSquareInch = measure.Pressure(measure.PoundForce) / (25.4 * 25.4) * measure.Megapascal

// pressure writes lbf/in² or kPa, to 1 decimal.
func (w *writer) pressure(name string, p measure.Pressure) {
	if w.units == measure.Inches {
		p /= poundsPerSquareInch
	}
	w.number(name, float64(p), 1)
}

// quantity writes an exact decimal as a number.
func (w *writer) quantity(name string, q money.Quantity) {
	w.key(name)
	w.buf = append(w.buf, q.String()...)
}

// rate writes exact hundredths as a number.
func (w *writer) rate(name string, r money.Rate) {
	w.key(name)
	w.buf = append(w.buf, r.String()...)
}

func (w *writer) amount(name string, a money.Amount) {
	w.key(name)
	w.buf = append(a.Append(append(w.buf, '"')), '"')
}

func (w *writer) unitPrice(name string, p money.UnitPrice) {
	w.key(name)
	w.buf = append(p.Append(append(w.buf, '"')), '"')
}

func (w *writer) date(name string, d catalogue.Date) { w.text(name, string(d)) }

// value writes what an assumption holds: text, a truth, a number, a length or an angle.
func (w *writer) value(name string, value any) {
	switch v := value.(type) {
	case measure.Length:
		w.length(name, v)
	case measure.Angle:
		w.angle(name, v)
	case money.Rate:
		w.rate(name, v)
	case money.Amount:
		w.amount(name, v)
	default:
		w.plainValue(name, reflect.ValueOf(value))
	}
}

func (w *writer) plainValue(name string, v reflect.Value) {
	switch {
	case v.Kind() == reflect.Bool:
		w.bool(name, v.Bool())
	case v.CanInt():
		w.int(name, v.Int())
	case v.CanFloat():
		w.number(name, v.Float(), 6)
	case v.Kind() == reflect.String:
		w.text(name, v.String())
	default:
		w.text(name, v.String()) // reflect names the type: the spec's tests then show the odd one
	}
}

// writeAll writes a list, item by item.
func writeAll[T any](w *writer, name string, items []T, write func(*writer, *T)) {
	w.list(name)
	for i := range items {
		write(w, &items[i])
	}
	w.end()
}

// literal writes a decimal as a number, null when there is none.
func (w *writer) literal(name, decimal string) {
	if decimal == "" {
		w.null(name)
		return
	}
	if strings.Contains(decimal, ".") {
		decimal = strings.TrimRight(strings.TrimRight(decimal, "0"), ".")
	}
	w.key(name)
	w.buf = append(w.buf, decimal...)
}

// raw writes JSON that is kept as text.
func (w *writer) raw(name, text string) {
	w.key(name)
	w.buf = append(w.buf, text...)
}

// timeOrNull writes a time in UTC, null for the zero time.
func (w *writer) timeOrNull(name string, t time.Time) {
	if t.IsZero() {
		w.null(name)
		return
	}
	w.text(name, t.UTC().Format(time.RFC3339))
}
