package store

import (
	"seamwright/service/catalogue"
	"seamwright/store/codetable"
)

// loadedItems has the items while a catalogue is read, numbered as they come. The tables of their kinds come in about the same order.
type loadedItems struct {
	codes     codetable.Table
	at        codetable.Cursor
	materials []catalogue.Material // by number, without their codes; a fastener has nothing of a kind
}

func (t *loadedItems) room(items int) {
	t.codes.Room(items)
	t.at.Table = &t.codes
	t.materials = make([]catalogue.Material, 0, items)
}

func (t *loadedItems) add(code []byte, m catalogue.Material) {
	t.codes.Add(code)
	t.materials = append(t.materials, m)
}

// material returns the item to be changed, or nil if there is none, as it is retired.
func (t *loadedItems) material(code []byte) *catalogue.Material {
	if n := t.at.Find(code); n >= 0 {
		return &t.materials[n]
	}
	return nil
}
