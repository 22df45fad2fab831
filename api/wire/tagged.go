package wire

import (
	"bytes"
	"encoding/json"
	"strings"
	"time"

	"seamwright/service/measure"
)

// Tagged writes a value as the tags of its type say (encoding/json). It takes twice as long as the walk over an estimate, and is for all
// other answers: what one consists of is said by its type alone.
func (w *Writer) Tagged(v any) {
	w.Separate()
	w.Buf = append(w.Buf, w.encoded(v)...)
}

// TaggedAt is Tagged for a property.
func (w *Writer) TaggedAt(name string, v any) {
	w.Key(name)
	w.Buf = append(w.Buf, w.encoded(v)...)
}

// Fields writes the fields of a tagged struct into the object that is open.
func (w *Writer) Fields(v any) {
	if raw := w.encoded(v); len(raw) > len("{}") {
		w.Separate()
		w.Buf = append(w.Buf, raw[1:len(raw)-1]...)
	}
}

func (w *Writer) encoded(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // nobody puts an answer into a page as it is
	if err := e.Encode(v); err != nil {
		w.Wrong = err
		return nil
	}
	return sameEscapes(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}

// escapes are what encoding/json makes of some characters, and what Quote does.
var escapes = map[string]string{"\\b": "\\u0008", "\\t": "\\u0009", "\\f": "\\u000c", "\\r": "\\u000d",
	"\\u2028": "\u2028", "\\u2029": "\u2029", "\\ufffd": "\ufffd"}

// sameEscapes writes texts as Quote does: an answer has one form, whichever way it is written.
func sameEscapes(raw []byte) []byte {
	if !bytes.ContainsRune(raw, '\\') {
		return raw
	}
	out := make([]byte, 0, len(raw))
	for i := 0; i < len(raw); {
		n := 1
		if raw[i] == '\\' {
			if n = 2; raw[i+1] == 'u' {
				n = 6
			}
		}
		if other, ok := escapes[string(raw[i:i+n])]; ok {
			out = append(out, other...)
		} else {
			out = append(out, raw[i:i+n]...)
		}
		i += n
	}
	return out
}

// Item writes an item of a list as show has it.
func Item[T, V any](show func(*T) V) func(*Writer, *T) {
	return func(w *Writer, item *T) { w.Tagged(show(item)) }
}

// Moment is a time in UTC, to the second.
func Moment(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// TextOrNil is null where there is no text.
func TextOrNil(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

// MaybeMoment is Moment, or null for none.
func MaybeMoment(t *time.Time) *string {
	if t == nil {
		return nil
	}
	text := Moment(*t)
	return &text
}

// Maybe is a text or another word, or null for an empty one.
func Maybe[T ~string](text T) *T {
	if text == "" {
		return nil
	}
	return &text
}

// Listed is a list that is empty rather than null when there is none.
func Listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Shown is a list of what show makes of each item.
func Shown[T, V any](list []T, show func(*T) V) []V {
	out := make([]V, len(list))
	for i := range list {
		out[i] = show(&list[i])
	}
	return out
}

// Rounded is a number with at most so many decimals.
func Rounded(x float64, places int) float64 { return measure.Round(x, places) + 0 } // never -0

// Literal is a decimal that is written as a number, without zeros that say nothing; null when it is empty.
type Literal string

// MarshalJSON writes it.
func (l Literal) MarshalJSON() ([]byte, error) {
	if l == "" {
		return []byte("null"), nil
	}
	text := string(l)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return []byte(text), nil
}
