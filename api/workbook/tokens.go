package workbook

import (
	"encoding/xml"
	"errors"
	"io"

	"seamwright/service/fault"
)

const (
	// mostToken is how many bytes one text or tag may have.
	mostToken = 1 << 20
	// mostElements is how many elements the parts that are read may have together; a cell with a value is two.
	mostElements = 32_000_000
	// mostDepth is how many elements may stand in each other.
	mostDepth = 32
)

// tokens reads the elements of a part one by one. Its memory is bounded by the longest of them.
type tokens struct {
	part    *part
	decoder *xml.Decoder
	read    int64 // bytes that the decoder took
	behind  int64 // where the last token ended
	token   xml.Token
	depth   int
}

func newTokens(p *part) *tokens {
	t := &tokens{part: p}
	t.decoder = xml.NewDecoder(t)
	t.decoder.Strict = true
	return t
}

func (t *tokens) close() {
	if t != nil {
		_ = t.part.from.Close() // what closing could say, reading has said
	}
}

// Read hands the part on to the decoder, as long as no token grows too long.
func (t *tokens) Read(b []byte) (int, error) {
	if t.read-t.behind > mostToken {
		return 0, invalid("The workbook's part %s has an element or a text of more than %d bytes.", shown(t.part.name), mostToken)
	}
	n, err := t.part.Read(b[:min(len(b), mostToken)])
	t.read += int64(n)
	return n, err
}

// next goes on to the next element's start, its end, or text. It fails with io.EOF behind the end of the part, and with Invalid faults.
func (t *tokens) next() error {
	for {
		token, err := t.decoder.Token()
		if err != nil {
			return t.failed(err)
		}
		t.behind = t.decoder.InputOffset()
		switch token.(type) {
		case xml.StartElement:
			if t.part.parts.elements++; t.part.parts.elements > mostElements {
				return invalid("The workbook has more than %d elements; send so long a list as CSV.", mostElements)
			}
			if t.depth++; t.depth > mostDepth {
				return invalid("The workbook's part %s has elements in each other more than %d deep.", shown(t.part.name), mostDepth)
			}
		case xml.EndElement:
			t.depth--
		case xml.CharData:
		case xml.Directive:
			return invalid("The workbook's part %s declares a document type, which no workbook does.", shown(t.part.name))
		default: // comments, and what is told to programs
			continue
		}
		t.token = token
		return nil
	}
}

// failed says what is wrong with a part, unless reading has said it.
func (t *tokens) failed(err error) error {
	var known *fault.Fault
	if errors.Is(err, io.EOF) || errors.As(err, &known) {
		return err
	}
	return damaged(t.part.name, err)
}

// starts reports whether an element of that name starts here.
func (t *tokens) starts(name string) bool {
	x, ok := t.token.(xml.StartElement)
	return ok && x.Name.Local == name
}

// ends reports whether an element of that name ends here.
func (t *tokens) ends(name string) bool {
	x, ok := t.token.(xml.EndElement)
	return ok && x.Name.Local == name
}

// attribute is an attribute of the element that starts here; empty: it is not there.
func (t *tokens) attribute(name string) string {
	x, _ := t.token.(xml.StartElement)
	for i := range x.Attr {
		if x.Attr[i].Name.Local == name {
			return x.Attr[i].Value
		}
	}
	return ""
}

// text is the text that stands here.
func (t *tokens) text() []byte {
	x, _ := t.token.(xml.CharData)
	return x
}
