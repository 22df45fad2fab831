// Package sheet describes the parts of the catalogue as sheets: rows of text cells with named columns, as a
// spreadsheet has them. It reads and checks cells and whole rows, and writes and reads them as CSV and as JSON. It
// is the one list of the columns in which the catalogue is edited, exported and audited.
package sheet

import "slices"

// Part is one part of the catalogue.
type Part struct {
	Name      string // in paths: labour-standards
	One       string // what one row is called: labour standard
	Keys      int    // so many columns, the first, name a row and never change
	Versioned bool   // rows count their changes; the CSV then ends with the column version
	Columns   []Column
	Table     string     // of the database: has the row, and what no other table has
	New       func() any // a thing of the part with room for every column, as a pointer; nil: rows are no things
	// First and Last are the paths that stand apart from the order of the columns in answers.
	First, Last []string
}

// Row is one row of a part. Its cells are texts in the canonical form that Column.Read gives, in the order of the
// part's columns.
type Row struct {
	Part  *Part
	Cells []string
}

// Wrong is what is wrong with a cell, or with a whole row when Column is empty.
type Wrong struct {
	Row    int // the caller's number of the row
	Column string
	Detail string
}

// Find returns the part of a name, or nil.
func Find(name string) *Part {
	for _, p := range Parts() {
		if p.Name == name {
			return p
		}
	}
	return nil
}

// Parts returns every part, in the order in which one may refer to those before it.
func Parts() []*Part {
	return []*Part{Species, Fasteners, Materials, LabourRoles, LabourStandards, ClimateProfiles, Places, TaxRegions, Settings, Prices}
}

// index returns the place of a column, or -1.
func (p *Part) index(name string) int {
	return slices.IndexFunc(p.Columns, func(c Column) bool { return c.Name == name })
}

// Column returns the column of a name, or nil.
func (p *Part) Column(name string) *Column {
	if i := p.index(name); i >= 0 {
		return &p.Columns[i]
	}
	return nil
}

// Names returns the names of the columns.
func (p *Part) Names() []string {
	names := make([]string, len(p.Columns))
	for i := range p.Columns {
		names[i] = p.Columns[i].Name
	}
	return names
}

// Empty returns a row without content.
func (p *Part) Empty() Row { return Row{p, make([]string, len(p.Columns))} }

// Get returns the cell of a column, empty when the part has none of that name.
func (r Row) Get(column string) string {
	if i := r.Part.index(column); i >= 0 {
		return r.Cells[i]
	}
	return ""
}

// Set puts a text into the cell of a column that the part has.
func (r Row) Set(column, text string) { r.Cells[r.Part.index(column)] = text }

// Key names the row within its part.
func (r Row) Key() string { return Key(r.Cells[:r.Part.Keys]) }

// Key joins the cells that name a row.
func Key(cells []string) string {
	key := cells[0]
	for _, c := range cells[1:] {
		key += " " + c
	}
	return key
}

// Same reports whether two rows have the same content.
func (r Row) Same(other Row) bool { return slices.Equal(r.Cells, other.Cells) }
