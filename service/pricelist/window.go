package pricelist

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// block is how much is read at once.
const block = 64 << 10

// window is the part of a list that is in memory: a block and what was left over of the one before. Texts cut from it
// stay valid, as each block becomes a string of its own.
type window struct {
	r       io.Reader
	maxLine int
	buffer  []byte // for reading; used again
	text    string
	pos     int  // in text: what stands before has been used
	done    bool // r is at its end
	plain   bool // text is ASCII without NUL: nothing to check line by line
	mark    bool // the list began with a byte order mark
	line    int  // lines used so far
}

// rest is what is in memory and has not been used.
func (w *window) rest() string { return w.text[w.pos:] }

// fill reads one more block behind the rest. After the end of the list it does nothing but say so in done.
func (w *window) fill() error {
	kept := copy(w.room(len(w.text)-w.pos+block), w.text[w.pos:])
	n := kept
	for empty := 0; n < kept+block && !w.done; {
		more, err := w.r.Read(w.buffer[n : kept+block])
		n += more
		switch {
		case errors.Is(err, io.EOF):
			w.done = true
		case err != nil:
			return fmt.Errorf("reading the price list after line %d: %w", w.line, err)
		case more > 0:
			empty = 0
		default:
			if empty++; empty == 100 {
				return fmt.Errorf("reading the price list after line %d: %w", w.line, io.ErrNoProgress)
			}
		}
	}
	w.text, w.pos, w.plain = string(w.buffer[:n]), 0, isPlain(w.buffer[:n])
	return nil
}

func (w *window) room(n int) []byte {
	if len(w.buffer) < n {
		w.buffer = make([]byte, max(n, 2*block))
	}
	return w.buffer
}

// isPlain reports whether all bytes are ASCII and none is NUL.
func isPlain(b []byte) bool {
	if bytes.IndexByte(b, 0) >= 0 {
		return false
	}
	var all uint64
	for ; len(b) >= 8; b = b[8:] {
		all |= binary.LittleEndian.Uint64(b)
	}
	for _, c := range b {
		all |= uint64(c)
	}
	return all&0x8080808080808080 == 0
}

// A list's beginnings that tell what it is when it is not UTF-8 text.
var beginnings = []struct{ prefix, is string }{
	{"\xff\xfe", "text in UTF-16: save it in UTF-8"},
	{"\xfe\xff", "text in UTF-16: save it in UTF-8"},
	{"\x1f\x8b", "compressed with gzip: say so as its content encoding, or send it as it is"},
	{"PK\x03\x04", "a workbook or an archive: send a workbook as " + WorkbookType + ", or save its sheet as CSV in UTF-8"},
	{"%PDF", "a PDF document: send the list as CSV, NDJSON or JSON"},
}

// open reads the first block and refuses what its beginning shows not to be UTF-8 text.
func (w *window) open() error {
	if err := w.fill(); err != nil {
		return err
	}
	for _, b := range beginnings {
		if strings.HasPrefix(w.text, b.prefix) {
			return invalid("The list is not readable text; it looks like %s.", b.is)
		}
	}
	if strings.HasPrefix(w.text, "\ufeff") {
		w.mark, w.pos = true, len("\ufeff")
	}
	if start := w.rest(); strings.IndexByte(start[:min(4, len(start))], 0) >= 0 {
		return invalid("The list begins with NUL bytes; it looks like text in UTF-16 or UTF-32 without a byte order mark, or like no text at all: save it in UTF-8.")
	}
	if strings.Trim(w.rest(), "\r\n \t") == "" && w.done {
		return invalid("The list is empty.")
	}
	return nil
}

// foreign reports why a row is no UTF-8 text, or nothing.
func (w *window) foreign(text string) string {
	switch {
	case w.plain:
		return ""
	case strings.IndexByte(text, 0) >= 0:
		return "the line holds NUL bytes"
	case !utf8.ValidString(text):
		return "the line is not in UTF-8: save the list in UTF-8"
	}
	return ""
}

// peek returns the next line without its end, and how many bytes it takes with it. It uses nothing; tooLong says that
// the line has more bytes than are allowed, and then only its start is returned. At the end of the list the error is
// io.EOF.
func (w *window) peek() (line string, size int, tooLong bool, err error) {
	for {
		rest := w.text[w.pos:]
		end := strings.IndexByte(rest, '\n')
		switch {
		case end > w.maxLine+1 || end < 0 && len(rest) > w.maxLine+1: // one more for a carriage return
			return rest[:w.maxLine], 0, true, nil
		case end >= 0:
			line, size = rest[:end], end+1
		case !w.done:
			if err := w.fill(); err != nil {
				return "", 0, false, err
			}
			continue
		case rest == "":
			return "", 0, false, io.EOF
		default:
			line, size = rest, len(rest)
		}
		if n := len(line); n > 0 && line[n-1] == '\r' {
			line = line[:n-1]
		}
		return line, size, len(line) > w.maxLine, nil
	}
}

// use passes over so many bytes that hold so many lines.
func (w *window) use(size, lines int) {
	w.pos += size
	w.line += lines
}

// skipLine passes over the rest of a line of any length, a block at a time.
func (w *window) skipLine() error {
	w.line++
	for {
		if end := strings.IndexByte(w.rest(), '\n'); end >= 0 {
			w.pos += end + 1
			return nil
		}
		w.pos = len(w.text)
		if w.done {
			return nil
		}
		if err := w.fill(); err != nil {
			return err
		}
	}
}

// tooLongReason says how long a row may be.
func (w *window) tooLongReason() string {
	return fmt.Sprintf("the row has more than %d bytes", w.maxLine)
}
