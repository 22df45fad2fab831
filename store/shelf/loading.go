package shelf

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/sheet"
	"seamwright/store/codetable"
)

// loading is a snapshot in the making, and what is needed on the way.
type loading struct {
	snapshot   catalogue.Snapshot
	items      loadedItems
	places     []int // of items, by number: where the snapshot's materials have them; -1: it is none
	settings   map[string]string
	texts      texts
	lengths    map[string][]measure.Length // by what the database sends
	boards     slab[catalogue.Lumber]
	properties []sheet.Property
	problems   []string
}

func newLoading() *loading {
	return &loading{
		snapshot:   catalogue.Snapshot{SettingVersions: make(map[string]int64)},
		settings:   make(map[string]string),
		texts:      make(texts),
		lengths:    make(map[string][]measure.Length),
		properties: sheet.Properties(),
	}
}

func (l *loading) cells() *cells { return &cells{texts: l.texts} }

// wrong notes what is wrong with a value: table, row, column and what it should be.
func (l *loading) wrong(table, row, column, format string, args ...any) {
	l.problems = append(l.problems, fmt.Sprintf("table %s, row %s, column %s: ", table, row, column)+
		fmt.Sprintf(format, args...))
}

// loadedItems has the items while a catalogue is read, numbered as they come. The tables of their kinds come in about
// the same order.
type loadedItems struct {
	codes     codetable.Table
	at        codetable.Cursor
	materials []catalogue.Material // by number, without their codes; a fastener has nothing of a kind
}

func (t *loadedItems) reserve(items int) {
	t.codes.Reserve(items)
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
