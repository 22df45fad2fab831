package store

import "seamwright/service/catalogue"

// packTable has the packs of items while a catalogue is read. Packs, their prices and the items come in about the same order.
type packTable struct {
	codes codeTable // of items
	lists [][]catalogue.Pack
	at    codeCursor
}

func (t *packTable) room(items int) {
	t.codes.room(items)
	t.lists = make([][]catalogue.Pack, 0, items)
	t.at.table = &t.codes
}

// add returns the packs of an item to be changed, also of one that had none.
func (t *packTable) add(item []byte) *[]catalogue.Pack {
	n := t.codes.add(item)
	if n == len(t.lists) {
		t.lists = append(t.lists, nil)
	}
	return &t.lists[n]
}

// of returns the packs of an item.
func (t *packTable) of(item string) []catalogue.Pack {
	if n := t.at.findText(item); n >= 0 {
		return t.lists[n]
	}
	return nil
}
