package lists

import (
	"io"
)

// packLines is a reader of lines made of packs.
type packLines struct {
	known *knownItems
	line  func(b []byte, pack int) []byte // appends the pack's line, or nothing
	next  int                             // pack
	buf   []byte                          // of which what stands from at on has not been read
	at    int
}

// Read gives the next lines.
func (l *packLines) Read(p []byte) (int, error) {
	if l.at == len(l.buf) {
		l.buf, l.at = l.buf[:0], 0
		for len(l.buf) < 60<<10 && l.next < len(l.known.packs) {
			l.buf = l.line(l.buf, l.next)
			l.next++
		}
		if len(l.buf) == 0 {
			return 0, io.EOF
		}
	}
	n := copy(p, l.buf[l.at:])
	l.at += n
	return n, nil
}

// appendPack appends a pack's item and content.
func (k *knownItems) appendPack(b []byte, p *knownPack) []byte {
	b = append(append(b, k.code(p)...), '\t')
	return append(b, k.sizes.at(p.size)...)
}

// appendSaid appends what the list said of a pack: price, unit, and why the row must be held.
func (k *knownItems) appendSaid(b []byte, p *knownPack) []byte {
	b = appendTenThousandths(append(b, '\t'), p.amount)
	b = appendWord(append(b, '\t'), k.words.at(p.per))
	return appendWord(append(b, '\t'), k.words.at(p.hold))
}

func appendWord(b []byte, word string) []byte {
	if word == "" {
		return append(b, null...)
	}
	return append(b, word...)
}
