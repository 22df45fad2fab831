package pricelist

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"

	"seamwright/service/fault"
)

// charset is the encoding that a list is said to have: nil for UTF-8, of which US-ASCII is a part. Only encodings of one byte
// a letter are read, by the names that the Encoding Standard of the WHATWG knows; what is not said is never guessed.
func charset(name string) (*charmap.Charmap, error) {
	if strings.EqualFold(name, "utf-8") || strings.EqualFold(name, "us-ascii") {
		return nil, nil
	}
	found, err := htmlindex.Get(name)
	if set, single := found.(*charmap.Charmap); err == nil && single {
		return set, nil
	}
	return nil, invalid("The list is said to be in the encoding %s; send it in UTF-8, or in one of one byte a letter such as windows-1252.",
		printable(name))
}

// decoded reads a text of an encoding as UTF-8.
type decoded struct {
	from io.Reader
	set  *charmap.Charmap
	raw  [4096]byte
	text []byte // decoded and not yet given
	read int64  // bytes of the list
	err  error  // after the text
}

// Read gives the text as UTF-8. Its errors are those of the list it reads from, and an Invalid fault that names the first byte
// that the declared encoding does not have.
func (d *decoded) Read(p []byte) (int, error) {
	for len(d.text) == 0 {
		if d.err != nil {
			return 0, d.err
		}
		d.fill()
	}
	n := copy(p, d.text)
	d.text = d.text[n:]
	return n, nil
}

// fill decodes the next bytes.
func (d *decoded) fill() {
	n, err := d.from.Read(d.raw[:])
	d.text, d.err = d.text[:0], err
	for _, b := range d.raw[:n] {
		d.read++
		letter := d.set.DecodeByte(b)
		if letter == utf8.RuneError {
			d.err = &fault.Fault{Kind: fault.Invalid, Detail: fmt.Sprintf(
				"Byte %d of the list is 0x%02X, which %s does not have: it is in another encoding.", d.read, b, d.set)}
			return
		}
		d.text = utf8.AppendRune(d.text, letter)
	}
}
