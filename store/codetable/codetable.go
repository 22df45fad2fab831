// Package codetable numbers texts, of which there may be a million.
package codetable

import (
	"hash/maphash"
	"strings"
)

// Table numbers different texts from 0 on, in the order in which they come, and finds them again. However many
// they are, it lies in a few large pieces, which the collector of garbage need not go through one by one.
type Table struct {
	text strings.Builder // all texts, one behind the other
	ends []uint32        // of each text
	// number + 1 of the text that stands there, by hash; 0: none. A power of two, half empty at least
	slots []uint32
	seed  maphash.Seed
}

// Reserve makes room for about so many texts.
func (t *Table) Reserve(n int) {
	slots := 1 << 10
	for slots < 2*n {
		slots *= 2
	}
	if t.slots == nil {
		t.seed = maphash.MakeSeed()
		t.ends = make([]uint32, 0, n)
		t.text.Grow(16 * n)
	}
	t.slots = make([]uint32, slots)
	for i := range t.ends {
		slot, _ := t.slot(t.At(i))
		t.slots[slot] = uint32(i + 1)
	}
}

// At returns a text by its number.
func (t *Table) At(n int) string {
	var start uint32
	if n > 0 {
		start = t.ends[n-1]
	}
	return t.text.String()[start:t.ends[n]]
}

// slot finds where a text stands, or should.
func (t *Table) slot(text string) (slot int, found bool) {
	last := uint64(len(t.slots) - 1)
	for at := maphash.String(t.seed, text) & last; ; at = (at + 1) & last {
		n := t.slots[at]
		if n == 0 || t.At(int(n-1)) == text {
			return int(at), n != 0
		}
	}
}

// FindText returns the number of a text, or -1.
func (t *Table) FindText(text string) int {
	if len(t.ends) == 0 {
		return -1
	}
	slot, found := t.slot(text)
	if !found {
		return -1
	}
	return int(t.slots[slot]) - 1
}

// Add returns the number of a text, a new one if it was not there.
func (t *Table) Add(text []byte) int {
	if 2*len(t.ends) >= len(t.slots) {
		t.Reserve(2*len(t.ends) + 1)
	}
	slot, found := t.slot(string(text))
	if found {
		return int(t.slots[slot]) - 1
	}
	t.text.Write(text)
	t.ends = append(t.ends, uint32(t.text.Len()))
	t.slots[slot] = uint32(len(t.ends))
	return len(t.ends) - 1
}

// Cursor finds texts that come in about the order in which they were added: it tries the one behind the last one
// first, and the last one again, which lie near in memory.
type Cursor struct {
	Table *Table
	next  int
}

// Find returns the number of a text, or -1.
func (c *Cursor) Find(text []byte) int { return c.FindText(string(text)) }

// FindText is Find.
func (c *Cursor) FindText(text string) int {
	n := c.next
	if n >= len(c.Table.ends) || c.Table.At(n) != text {
		if n > 0 && c.Table.At(n-1) == text {
			return n - 1
		}
		n = c.Table.FindText(text)
	}
	if n >= 0 {
		c.next = n + 1
	}
	return n
}

// All returns the texts by their numbers.
func (t *Table) All() []string {
	list := make([]string, len(t.ends))
	for i := range list {
		list[i] = t.At(i)
	}
	return list
}
