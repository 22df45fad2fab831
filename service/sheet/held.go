package sheet

import (
	"strings"

	"seamwright/service/catalogue"
)

// Held is where a cell lies besides in its sheet. A cell has one such place, but for the species of a material, which
// lumber and panels have.
type Held struct {
	Table string // the database's table; of packs and of what a step follows one whose rows hang on the thing's
	In    string // its column there
	Path  string // in answers and bodies: names joined by dots
	// Field points to it in a thing of the part; nil where the thing is of another kind. There is no Field when the
	// catalogue's type does not have it: answers do not show it, and a body may leave it out.
	Field func(thing any) any
}

// If points to a number or text that counts only while There is as Is says; otherwise it is not known.
type If struct {
	Value any
	There *bool
	Is    bool
}

// of says which field of the catalogue's type has the cell. Words of a type of their own are pointed to as text.
func of[T any](c Column, field func(*T) any) Column {
	return c.change(func(h *Held) { h.Field = func(thing any) any { return field(thing.(*T)) } })
}

// in names the column of the table where it is not that of the sheet, at what answers and bodies call it.
func (c Column) in(column string) Column { return c.change(func(h *Held) { h.In = column }) }
func (c Column) at(path string) Column   { return c.change(func(h *Held) { h.Path = path }) }
func (c Column) on(table string) Column  { return c.change(func(h *Held) { h.Table = table }) }

func (c Column) change(how func(*Held)) Column {
	held := append(make([]Held, 0, 1), c.Held...) // of its own
	if len(held) == 0 {
		held = held[:1]
	}
	how(&held[0])
	c.Held = held
	return c
}

// onTable puts columns on a table that hangs on the part's own.
func onTable(table string, columns []Column) []Column {
	for i := range columns {
		columns[i] = columns[i].on(table)
	}
	return columns
}

// ofKind makes columns of what only one kind of material has: a table and an object of that name.
func ofKind[T any](kind string, has func(*catalogue.Material) *T, columns ...Column) []Column {
	for i := range columns {
		c := &columns[i]
		c.For = kind
		h := &c.Held[0]
		if h.Path == "" {
			h.Path = stem(c.Name)
		}
		*h = heldBy(kind, has, *h)
	}
	return columns
}

func heldBy[T any](kind string, has func(*catalogue.Material) *T, h Held) Held {
	field := h.Field
	return Held{Table: kind, In: h.In, Path: kind + "." + h.Path, Field: func(thing any) any {
		if part := has(thing.(*catalogue.Material)); part != nil {
			return field(part)
		}
		return nil
	}}
}

// stem is a column's name without the unit that its numbers are kept in.
func stem(name string) string {
	for _, unit := range []string{"_mm", "_m2", "_n"} {
		name = strings.TrimSuffix(name, unit)
	}
	return name
}

// complete fills in what its columns do not say.
func complete(p Part) *Part {
	for i := range p.Columns {
		c := &p.Columns[i]
		if c.Held == nil {
			c.Held = make([]Held, 1)
		}
		for j := range c.Held {
			h := &c.Held[j]
			if h.Table == "" {
				h.Table = p.Table
			}
			if h.In == "" {
				h.In = c.Name
			}
			if h.Path == "" {
				h.Path = stem(c.Name)
			}
		}
	}
	return &p
}

// Shown is a value that answers show: a column, or what goes with all things of a part (units, currency).
type Shown struct {
	Object string // the object that it stands in; empty: the thing's own
	Name   string
	Column *Column // nil: no column
	Held   *Held
}

// Answer lists what answers show of a thing, in their order: as in the sheet, but for what the part puts first and
// last.
func (p *Part) Answer() []Shown {
	byPath := map[string]Shown{}
	var middle, list []Shown
	apart := map[string]bool{}
	for _, path := range append(p.First, p.Last...) {
		apart[path] = true
	}
	for i := range p.Columns {
		c := &p.Columns[i]
		for j := range c.Held {
			h := &c.Held[j]
			if h.Field == nil {
				continue
			}
			s := shownAt(h.Path)
			s.Column, s.Held = c, h
			byPath[h.Path] = s
			if !apart[h.Path] {
				middle = append(middle, s)
			}
		}
	}
	pick := func(paths []string) {
		for _, path := range paths {
			if s, there := byPath[path]; there {
				list = append(list, s)
			} else {
				list = append(list, shownAt(path))
			}
		}
	}
	pick(p.First)
	list = append(list, middle...)
	pick(p.Last)
	return list
}

func shownAt(path string) Shown {
	object, name, nested := strings.Cut(path, ".")
	if !nested {
		object, name = "", path
	}
	return Shown{Object: object, Name: name}
}
