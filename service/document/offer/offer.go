// Package offer says what stands in an offer to a customer: what is made, what it costs, why the corner is made as it is,
// how the wood will move, and what to sign. It shows no cost and no margin.
package offer

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/estimate"
)

// Input is what an offer is made of.
type Input struct {
	Estimate   *estimate.Estimate
	Shop       document.Letterhead
	Number     string // the quote's short reference; empty: an estimate that was not stored
	Revision   int
	Date       catalogue.Date
	ValidUntil catalogue.Date // empty: not said
	Reference  string
	Customer   []string // name and address, line by line
	Terms      string   // of an offer; an estimate has none
	Address    string   // where the customer finds the quote; empty: nowhere
	Language   string   // one of words.Languages
	Paper      document.Paper
}

// New makes the offer. It fails when there are no words in that language.
func New(in *Input) (*document.Document, error) {
	o, d, err := begin(in)
	if err != nil {
		return nil, err
	}
	o.head()
	o.top()
	if err := o.first(); err != nil {
		return nil, err
	}
	o.corners()
	if err := o.movement(o.closing()); err != nil {
		return nil, err
	}
	d.Blocks = o.blocks
	return d, o.Missing()
}

// Short makes the form of the offer that has room on one page: what it is, what it costs, what is included, and where to sign.
func Short(in *Input) (*document.Document, error) {
	o, d, err := begin(in)
	if err != nil {
		return nil, err
	}
	o.short = true
	d.Letter.Lines = []string{strings.Join(in.Shop.Lines, " · ")}
	o.head()
	o.top()
	included, left := o.scope()
	rest := append([]document.Block{
		document.Text{Text: o.Say("short_included", speak.With{"List": strings.Join(included, " ")})},
		document.Text{Text: o.Say("short_not", speak.With{"List": strings.Join(left, " ")})}}, o.signedShort()...)
	var page document.Fitting
	for _, high := range shortHigh {
		pictures, err := o.pictures(high)
		if err != nil {
			return nil, err
		}
		page.Ways = append(page.Ways, append(pictures, rest...))
	}
	page.Else = page.Ways[len(page.Ways)-1]
	o.add(page)
	d.Blocks = o.blocks
	return d, o.Missing()
}

func begin(in *Input) (*maker, *document.Document, error) {
	s, err := speak.In(in.Language)
	if err != nil {
		return nil, nil, err
	}
	o := &maker{Input: in, Speaker: s, e: in.Estimate}
	o.unit = speak.With{"Unit": s.Say("unit_" + in.Estimate.Units.String()),
		"UnitName": s.Say("unit_name_" + in.Estimate.Units.String())}
	d := &document.Document{Title: o.title(), Language: in.Language, Paper: in.Paper, Letter: in.Shop, Page: s.Say("page"),
		Created: string(in.Date) + "T00:00:00Z"}
	d.Foot = s.Say("foot_plain", speak.With{"Shop": in.Shop.Name, "Date": o.Day(in.Date)})
	if in.Number != "" {
		d.Foot = s.Say("foot", speak.With{"Shop": in.Shop.Name, "Number": in.Number, "Revision": in.Revision,
			"Date": o.Day(in.Date)})
	}
	return o, d, nil
}

type maker struct {
	*Input
	*speak.Speaker
	e      *estimate.Estimate
	short  bool // the form of one page
	unit   speak.With
	blocks []document.Block
}

func (o *maker) add(blocks ...document.Block) { o.blocks = append(o.blocks, blocks...) }

func (o *maker) chapter(text string) { o.add(document.Heading{Level: 2, Text: text}) }

func (o *maker) title() string {
	if o.Number != "" {
		return o.Say("title_number", speak.With{"Number": o.Number})
	}
	return o.Say("title_draft")
}

// money writes an amount with its currency.
func (o *maker) money(amount string) string {
	return o.Say("money", speak.With{"Amount": o.Amount(amount), "Currency": o.e.Currency})
}
