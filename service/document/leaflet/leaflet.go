// Package leaflet makes the papers that go with a top: how it is put in, and how it is looked after. Their numbers are the
// estimate's; they say nothing of money.
package leaflet

import (
	"slices"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/plan"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// Input is what a leaflet is made of.
type Input struct {
	Estimate  *estimate.Estimate
	Shop      document.Letterhead
	Number    string // the quote's short reference; empty: not stored
	Revision  int
	Date      catalogue.Date
	Reference string
	Customer  []string // name and address, line by line
	Language  string   // one of words.Languages
	Paper     document.Paper
}

type maker struct {
	*Input
	*speak.Speaker
	e      *estimate.Estimate
	unit   speak.With
	blocks []document.Block
}

// make1 makes a leaflet of that title; fill puts in what it says.
func make1(in *Input, title string, fill func(*maker) error) (*document.Document, error) {
	s, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	m := &maker{Input: in, Speaker: s, e: in.Estimate}
	m.unit = speak.With{"Unit": s.Say("unit_" + in.Estimate.Units.String()),
		"UnitName": s.Say("unit_name_" + in.Estimate.Units.String())}
	say := speak.With{"Shop": in.Shop.Name, "Title": s.Say(title), "Number": in.Number, "Revision": in.Revision,
		"Date": s.Day(in.Date)}
	d := &document.Document{Title: s.Say(title), Language: in.Language, Paper: in.Paper, Letter: in.Shop,
		Page: s.Say("page"), Foot: s.Say("foot_of", say), Created: string(in.Date) + "T00:00:00Z"}
	if in.Number != "" {
		d.Foot = s.Say("foot_of_number", say)
	}
	m.add(document.Heading{Level: 1, Text: d.Title})
	m.facts()
	d.Letter.Lines = []string{strings.Join(in.Shop.Lines, " · ")}
	if err := fill(m); err != nil {
		return nil, err
	}
	d.Blocks = m.blocks
	return d, s.Missing()
}

func (m *maker) add(blocks ...document.Block) { m.blocks = append(m.blocks, blocks...) }

func (m *maker) facts() {
	var rows [][2]string
	for _, row := range [][2]string{{"for", strings.Join(m.Customer, "\n")}, {"reference", m.Reference}} {
		if row[1] != "" {
			rows = append(rows, [2]string{m.Say(row[0]), row[1]})
		}
	}
	m.add(document.Facts{Rows: rows})
}

// part is a heading and its points: a few on one page, many on as many as they take.
func (m *maker) part(title string, items ...string) {
	const short = 6 // points; more, kept together, would leave much of the page before blank
	blocks := []document.Block{document.Heading{Level: 2, Text: m.Say(title)}, document.List{Items: items}}
	if len(items) > short {
		m.add(blocks...)
		return
	}
	m.add(document.Together{Blocks: blocks})
}

func (m *maker) length(l measure.Length) string { return m.Length(l, m.e.Units) }

// least is a size that must not be less.
func (m *maker) least(l measure.Length) string {
	return m.Decimal(l.TextAs(m.e.Units, measure.Least))
}

func (m *maker) mass(whole string) string {
	return m.Say("mass_"+m.e.Units.String(), speak.With{"Number": m.Amount(whole)})
}

func (m *maker) sizes() string {
	var sizes []string
	for _, length := range m.e.LegLengths() {
		sizes = append(sizes, m.length(length))
	}
	return strings.Join(sizes, " + ")
}

func (m *maker) woods() string {
	var woods []string
	for i := range m.e.Runs {
		if name := m.Drawings.Name(m.e.Runs[i].Wood); !slices.Contains(woods, name) {
			woods = append(woods, name)
		}
	}
	return strings.Join(woods, m.Say("and"))
}

// has reports whether a cut-out is of one of those kinds.
func (m *maker) has(kinds ...string) bool {
	return slices.ContainsFunc(m.e.Cutouts, func(c estimate.CutoutResult) bool { return slices.Contains(kinds, c.Kind) })
}

func (m *maker) plan(width, high float64) (document.Figure, error) {
	top, err := plan.ForCustomer(m.e, plan.Options{Width: width, Height: high, Speech: m.Drawings})
	if err != nil {
		return document.Figure{}, err
	}
	phone, err := plan.ForCustomer(m.e, plan.Options{Narrow: true, Speech: m.Drawings})
	return document.Figure{Picture: top, Phone: phone, Print: top, Caption: m.Say("plan", m.unit)}, err
}
