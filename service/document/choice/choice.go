// Package choice makes the page that shows a customer the same top in several woods, thicknesses and finishes: what
// each
// costs, how it moves, what it weighs. Of each it has one joint, the best ranked. It shows no cost and no margin.
package choice

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/plan"
	"seamwright/service/estimate"
	"seamwright/service/options"
)

// Input is what the page is made of.
type Input struct {
	Set      *options.Set
	Top      *estimate.Estimate // of one of the options: what all have in common is shown of it
	Shop     document.Letterhead
	Date     catalogue.Date
	Language string // one of words.Languages
	Paper    document.Paper
}

// Most is how many options a customer is shown; more make no choice easier.
const Most = 24

type maker struct {
	*Input
	*speak.Speaker
}

// New makes the page. It fails when there are no words in that language.
func New(in *Input) (*document.Document, error) {
	s, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	m := &maker{in, s}
	unit := speak.With{
		"Unit":     s.Say("unit_" + in.Set.Units.String()),
		"UnitName": s.Say("unit_name_" + in.Set.Units.String()),
	}
	d := &document.Document{
		Title:    s.Say("choice_title"),
		Language: in.Language,
		Paper:    in.Paper,
		Letter:   in.Shop,
		Page:     s.Say("page"),
		Foot: s.Say(
			"foot_plain",
			speak.With{"Shop": in.Shop.Name, "Date": s.Day(in.Date)},
		),
		Created: string(in.Date) + "T00:00:00Z",
	}
	d.Blocks = append(d.Blocks, document.Heading{Level: 1, Text: d.Title})
	if in.Set.Reference != "" {
		d.Blocks = append(d.Blocks, document.Facts{Rows: [][2]string{{s.Say("reference"), in.Set.Reference}}})
	}
	var top [2][]byte // for paper and for a telephone
	for i := range top {
		if top[i], err = plan.ForCustomer(in.Top, plan.Options{Narrow: i == 1, Speech: s.Drawings}); err != nil {
			return nil, err
		}
	}
	shown := m.shown()
	d.Blocks = append(d.Blocks,
		document.Text{Tone: document.Lead, Text: s.Many("choice_lead", len(shown), unit)},
		document.Figure{Picture: top[0], Phone: top[1], Caption: s.Say("plan", unit), Share: 0.6},
		m.table(shown, unit),
		document.Text{Text: s.Say("choice_movement")},
		document.Text{Tone: document.Fine, Text: s.Say("choice_fine", speak.With{"Date": s.Day(in.Set.PricedAsOf)})})
	return d, s.Missing()
}

// shown are the best ranked of each wood, thickness and finish: how the corner is made is the shop's to say.
func (m *maker) shown() (list []options.Option) {
	for i := range m.Set.Options {
		o := &m.Set.Options[i]
		like := func(p options.Option) bool {
			return p.Species == o.Species && p.Thickness == o.Thickness && p.Finish == o.Finish
		}
		if len(list) < Most && !slices.ContainsFunc(list, like) {
			list = append(list, *o)
		}
	}
	return list
}

func (m *maker) table(list []options.Option, unit speak.With) document.Table {
	t := document.Table{Caption: m.Say("choice_title"), Columns: []document.Column{
		{
			Title:  "",
			Weight: 1,
			Right:  true,
		},
		{Title: m.Say("choice_what"), Weight: 8},
		{Title: m.Say("choice_moves", unit), Weight: 3, Right: true},
		{
			Title:  m.Say("choice_weighs"),
			Weight: 3,
			Right:  true,
		},
		{Title: m.Say("choice_days"), Weight: 2.4, Right: true},
		{Title: m.Say("total") + ", " + m.Set.Currency, Weight: 3.4, Right: true},
	}}
	for i := range list {
		o := &list[i]
		days := "–"
		if o.WorkingDays > 0 {
			days = strconv.Itoa(o.WorkingDays)
		}
		t.Rows = append(
			t.Rows,
			document.Row{
				Cells: []string{
					strconv.Itoa(i + 1),
					m.what(o),
					m.Length(o.Movement, m.Set.Units),
					m.mass(o),
					days,
					m.Amount(o.Total.String()),
				},
			},
		)
	}
	return t
}

// what is an option in the customer's words.
func (m *maker) what(o *options.Option) string {
	parts := []string{
		m.Drawings.Name(o.Wood),
		m.Length(o.Thickness, m.Set.Units) + " " + m.Say("unit_"+m.Set.Units.String()),
	}
	for i, k := range o.Joints {
		if i == 0 || k != o.Joints[i-1] {
			parts = append(parts, m.Drawings.Say(k.Name()))
		}
	}
	finish := m.Say("choice_bare")
	if o.FinishName != "" {
		finish = m.Drawings.Name(o.FinishName)
	}
	return strings.Join(append(parts, finish), ", ")
}

func (m *maker) mass(o *options.Option) string {
	return m.Say(
		"mass_"+m.Set.Units.String(),
		speak.With{"Number": m.Amount(o.WholeWeight)},
	)
}
