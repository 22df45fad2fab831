// Package document holds what is printed for people: a document is a list of blocks, made once and rendered as a web page
// or as a PDF. It knows nothing of tops and prices; offer and shopsheet say what stands in a document.
package document

import "slices"

// Document is what a renderer needs to know.
type Document struct {
	Title    string
	Language string // BCP 47, of the words in it
	Paper    Paper
	Letter   Letterhead // empty: none
	Blocks   []Block
	Foot     string // on every page, before the number of the page
	Page     string // words for "page %d of %d"
	Created  string // RFC 3339, for the file's own notes; empty: none
}

// Paper is a size of paper.
type Paper string

// The sizes.
const (
	A4     Paper = "A4"
	Letter Paper = "Letter"
)

// Letterhead is who sends a document.
type Letterhead struct {
	Name  string
	Lines []string // address, telephone, …
	Logo  []byte   // PNG or JPEG; nil: none
}

// Block is one part of a document: one of the types below.
type Block interface{ block() }

// Heading opens a part. Level 1 is the document's title, 2 a chapter, 3 a part of one.
type Heading struct {
	Level int
	Text  string
}

// Tone is how a text is meant.
type Tone int

// The tones.
const (
	Plain   Tone = iota
	Lead         // larger: what matters most
	Fine         // smaller: what is for the record
	Caution      // set apart: what can hurt
)

// Text is one paragraph.
type Text struct {
	Tone Tone
	Text string
}

// List is points one under the other.
type List struct{ Items []string }

// Facts are names and their values.
type Facts struct {
	Rows  [][2]string
	Names float64 // share of the width that the names take; 0: a usual one
}

// Table is rows of cells under titles.
type Table struct {
	Caption string // read out before the table; empty: none
	Columns []Column
	Rows    []Row
}

// Column is a table's column. Weight is its share of the width.
type Column struct {
	Title  string
	Weight float64
	Right  bool // figures stand to the right
}

// Row is a table's row. A tick box stands before the first cell when Tick is set.
type Row struct {
	Cells  []string
	Strong bool
	Tick   bool
	High   float64 // least height on paper, in millimetres: room to write in; 0: that of its texts
}

// Figure is a picture over the whole width, or over Share of it. A figure never breaks over two pages.
type Figure struct {
	Picture []byte // SVG, as package pen writes it
	Phone   []byte // stands in its place on the page of a phone; nil: none
	// stands in its place on paper, at its own size in millimetres, so that it can be measured; nil: Picture, made to fit
	Print   []byte
	Caption string
	Share   float64 // 0: all of the width
}

// Percent is the figure's share of the width.
func (f Figure) Percent() float64 { return f.Share * 100 }

// Signature is lines to sign on, each with what stands under it.
type Signature struct{ Under []string }

// Break begins a new page, unless this one is empty.
type Break struct{}

// Columns are two columns beside each other; they never break over two pages, unless they are longer than one. A phone has the right
// one under the left one.
type Columns struct {
	Left, Right []Block
	Share       float64 // of the left one, of the width without the gap
	Apart       bool    // they begin with headings that have the usual room over them
	Loose       bool    // where they have no room on the page, one stands under the other and they may break
}

// Percent is the left column's share.
func (c Columns) Percent() float64 { return c.Share * 100 }

// Rest is the right column's share.
func (c Columns) Rest() float64 { return 100 - c.Percent() }

// Together is blocks that stand on one page.
type Together struct{ Blocks []Block }

// Close is blocks whose lines stand closer on paper, in letters of the same size: for what would leave a few lines alone on a page.
type Close struct{ Blocks []Block }

// Fitting is the same matter in several ways, the roomiest first. On paper it is the first of them that has room on what is left of
// the page, and Else where none has; a screen, which has no pages, shows the first.
type Fitting struct {
	Ways  [][]Block // one at least
	After []Block   // what follows whichever way it is, but not Else
	Else  []Block   // nil: the first way
	// a page is begun for it where that makes room and little of this one is left blank
	Fresh bool
}

// First is the roomiest way, with what follows it.
func (f Fitting) First() []Block { return slices.Concat(f.Ways[0], f.After) }

// Notes is ruled room to write in, down to the end of a page that has some left; on a page of a screen there is none.
type Notes struct{ Title string }

func (Heading) block()   {}
func (Text) block()      {}
func (List) block()      {}
func (Facts) block()     {}
func (Table) block()     {}
func (Figure) block()    {}
func (Signature) block() {}
func (Break) block()     {}
func (Notes) block()     {}
func (Columns) block()   {}
func (Together) block()  {}
func (Fitting) block()   {}
func (Close) block()     {}
