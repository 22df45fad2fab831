package store

import (
	"hash/maphash"
	"strings"
)

// codeTable numbers different texts from 0 on, in the order in which they come, and finds them again. However many
// they are, it lies in a few large pieces, which the collector of garbage need not go through one by one.
type codeTable struct {
	text  strings.Builder // all texts, one behind the other
	ends  []uint32        // of each text
	slots []uint32        // number + 1 of the text that stands there, by hash; 0: none. A power of two, half empty at least
	seed  maphash.Seed
}

// room makes room for about so many texts.
func (t *codeTable) room(n int) {
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
		slot, _ := t.slot(t.at(i))
		t.slots[slot] = uint32(i + 1)
	}
}

// at returns a text by its number.
func (t *codeTable) at(n int) string {
	var start uint32
	if n > 0 {
		start = t.ends[n-1]
	}
	return t.text.String()[start:t.ends[n]]
}

// slot finds where a text stands, or should.
func (t *codeTable) slot(text string) (slot int, found bool) {
	last := uint64(len(t.slots) - 1)
	for at := maphash.String(t.seed, text) & last; ; at = (at + 1) & last {
		n := t.slots[at]
		if n == 0 || t.at(int(n-1)) == text {
			return int(at), n != 0
		}
	}
}

// findText returns the number of a text, or -1.
func (t *codeTable) findText(text string) int {
	if len(t.ends) == 0 {
		return -1
	}
	slot, found := t.slot(text)
	if !found {
		return -1
	}
	return int(t.slots[slot]) - 1
}

// add returns the number of a text, a new one if it was not there.
func (t *codeTable) add(text []byte) int {
	if 2*len(t.ends) >= len(t.slots) {
		t.room(2*len(t.ends) + 1)
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

// codeCursor finds texts that come in about the order in which they were added: it tries the one behind the last one
// first, and the last one again, which lie near in memory.
type codeCursor struct {
	table *codeTable
	next  int
}

// find returns the number of a text, or -1.
func (c *codeCursor) find(text []byte) int { return c.findText(string(text)) }

func (c *codeCursor) findText(text string) int {
	n := c.next
	if n >= len(c.table.ends) || c.table.at(n) != text {
		if n > 0 && c.table.at(n-1) == text {
			return n - 1
		}
		n = c.table.findText(text)
	}
	if n >= 0 {
		c.next = n + 1
	}
	return n
}

// all returns the texts by their numbers.
func (t *codeTable) all() []string {
	list := make([]string, len(t.ends))
	for i := range list {
		list[i] = t.at(i)
	}
	return list
}

// wordTable numbers texts of which there are few different ones.
type wordTable struct {
	numbers map[string]int32
	words   []string
}

func (t *wordTable) at(n int32) string { return t.words[n] }

func (t *wordTable) number(word string) int32 {
	if n, ok := t.numbers[word]; ok {
		return n
	}
	return t.add(strings.Clone(word))
}

func (t *wordTable) of(word []byte) int32 {
	if n, ok := t.numbers[string(word)]; ok {
		return n
	}
	return t.add(string(word))
}

func (t *wordTable) add(word string) int32 {
	if t.numbers == nil {
		t.numbers = make(map[string]int32)
	}
	n := int32(len(t.words))
	t.numbers[word] = n
	t.words = append(t.words, word)
	return n
}
