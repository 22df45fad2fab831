package lists

import (
	"strings"
)

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
