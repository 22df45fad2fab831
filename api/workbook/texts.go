package workbook

import (
	"strconv"
	"unicode/utf8"
)

const (
	// mostTexts is how many bytes the workbook's shared texts may have together.
	mostTexts = 48 << 20
	// mostText is how many bytes of one text are kept: more than a row of a list may have, so that what is longer is refused there.
	// A cell has at most 32,767 characters (Microsoft, "Excel specifications and limits").
	mostText = 128 << 10
)

// texts are the texts that cells share, one behind the other.
type texts struct {
	all  string
	ends []uint32
}

// at returns the text of that number.
func (x *texts) at(n int) (string, bool) {
	if n < 0 || n >= len(x.ends) {
		return "", false
	}
	start := uint32(0)
	if n > 0 {
		start = x.ends[n-1]
	}
	return x.all[start:x.ends[n]], true
}

// texts reads the shared texts. Without the part there is none.
func (p *parts) texts(name string) (*texts, error) {
	x := &texts{}
	if name == "" {
		return x, nil
	}
	var all []byte
	var one written
	err := p.whole(name, func(t *tokens) error {
		switch {
		case t.starts("si"):
			one.begin()
		case t.ends("si"):
			all = append(all, unescaped(one.text)...)
			x.ends = append(x.ends, uint32(len(all)))
		default:
			one.take(t)
		}
		if len(all)+4*len(x.ends) > mostTexts {
			return invalid("The workbook's texts have more than %d bytes; send so long a list as CSV.", mostTexts)
		}
		return nil
	})
	x.all = string(all)
	return x, err
}

// written gathers a text that may be written in several pieces, each in a look of its own; how it is pronounced does not belong to it.
type written struct {
	text     []byte
	inside   bool // of a piece
	phonetic bool
}

func (w *written) begin() { w.text, w.inside, w.phonetic = w.text[:0], false, false }

func (w *written) take(t *tokens) {
	switch {
	case t.starts("rPh"):
		w.phonetic = true
	case t.ends("rPh"):
		w.phonetic = false
	case t.starts("t"):
		w.inside = true
	case t.ends("t"):
		w.inside = false
	case w.inside && !w.phonetic:
		b := t.text()
		w.text = append(w.text, b[:min(len(b), mostText-len(w.text))]...)
	}
}

// unescaped puts letters in place of _xHHHH_, as which workbooks write what XML cannot hold, and the underscore of what only looks
// like that (ISO/IEC 29500-1, section 22.9.2.19). It changes text.
func unescaped(text []byte) []byte {
	out := text[:0]
	for i := 0; i < len(text); i++ {
		if r, ok := escape(text[i:]); ok {
			out = utf8.AppendRune(out, r)
			i += len("_xHHHH_") - 1
			continue
		}
		out = append(out, text[i])
	}
	return out
}

func escape(text []byte) (rune, bool) {
	if len(text) < len("_xHHHH_") || text[0] != '_' || text[1] != 'x' || text[6] != '_' {
		return 0, false
	}
	n, err := strconv.ParseUint(string(text[2:6]), 16, 16)
	return rune(n), err == nil
}
