// Package offer says what stands in an offer to a customer: what is made, what it costs, why the corner is made as it is,
// how the wood will move, and what to sign. It shows no cost and no margin.
package offer

import (
	"math"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Input is what an offer is made of.
type Input struct {
	Estimate   *estimate.Estimate
	Shop       document.Letterhead
	Number     string // of the quote; empty: an estimate that was not stored
	Revision   int
	Date       catalogue.Date
	ValidUntil catalogue.Date // empty: not said
	Reference  string
	Customer   []string // name and address, line by line
	Terms      string
	Language   string // one of Languages
	Paper      document.Paper
	Plan       []byte // picture; nil: none
	Season     []byte

	PlanPhone, SeasonPhone []byte // the same for a phone; nil: none
}

// New makes the offer. It fails when there are no words in that language.
func New(in *Input) (*document.Document, error) {
	s, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	o := &maker{Input: in, Speaker: s, e: in.Estimate}
	o.unit = speak.With{"Unit": s.Say("unit_" + in.Estimate.Units.String())}
	d := &document.Document{Title: o.title(), Language: in.Language, Paper: in.Paper, Letter: in.Shop, Page: s.Say("page"), Created: string(in.Date) + "T00:00:00Z"}
	d.Foot = s.Say("foot_plain", speak.With{"Shop": in.Shop.Name, "Date": o.Day(in.Date)})
	if in.Number != "" {
		d.Foot = s.Say("foot", speak.With{"Shop": in.Shop.Name, "Number": in.Number, "Revision": in.Revision, "Date": o.Day(in.Date)})
	}
	o.head()
	o.included()
	o.price()
	o.corner()
	o.movement()
	o.closing()
	d.Blocks = o.blocks
	return d, s.Missing()
}

type maker struct {
	*Input
	*speak.Speaker
	e      *estimate.Estimate
	unit   speak.With
	blocks []document.Block
}

func (o *maker) add(blocks ...document.Block) { o.blocks = append(o.blocks, blocks...) }

func (o *maker) chapter(id string) {
	o.add(document.Heading{Level: 2, Text: o.Say(id)})
}

func (o *maker) title() string {
	if o.Number != "" {
		return o.Say("title_number", speak.With{"Number": o.Number})
	}
	return o.Say("title_draft")
}

func (o *maker) length(l measure.Length) string { return o.Length(l, o.e.Units) }

// wood is the name of a run's wood within a sentence.
func (o *maker) wood(r *estimate.RunResult) string { return o.Drawings.Name(r.Wood) }

func (o *maker) head() {
	o.add(document.Heading{Level: 1, Text: o.title()})
	facts := [][2]string{}
	fact := func(id, value string) {
		if value != "" {
			facts = append(facts, [2]string{o.Say(id), value})
		}
	}
	fact("for", strings.Join(o.Customer, "\n"))
	fact("reference", o.Reference)
	fact("date", o.Day(o.Date))
	fact("valid_until", o.Day(o.ValidUntil))
	o.add(document.Facts{Rows: facts})
	var sizes, woods []string
	walls := o.e.WallLengths()
	for i := range o.e.Runs {
		r := &o.e.Runs[i]
		sizes = append(sizes, o.length(walls[i]+o.e.MouldedEnd(i)))
		if name := o.wood(r); len(woods) == 0 || woods[len(woods)-1] != name {
			woods = append(woods, name)
		}
	}
	say := speak.With{"Wood": strings.Join(woods, o.Say("and")), "Size": strings.Join(sizes, " + "), "Thickness": o.length(o.e.Made.Thickness)}
	if len(o.e.Corners) == 0 {
		o.add(document.Text{Tone: document.Lead, Text: o.Say("lead_straight", say, o.unit)})
	} else {
		o.add(document.Text{Tone: document.Lead, Text: o.Many("lead_corner", len(o.e.Corners), say, o.unit)})
	}
	if o.Plan != nil {
		o.add(document.Figure{Picture: o.Plan, Phone: o.PlanPhone, Caption: o.Say("plan", o.unit)})
	}
}

func (o *maker) included() {
	o.chapter("included")
	m := &o.e.Made
	var items []string
	for i := range o.e.Runs {
		r := &o.e.Runs[i]
		items = append(items, o.Say("piece", speak.With{"Name": r.Name, "Length": o.length(r.Piece.LongEdge + o.e.MouldedEnd(i)), "Depth": o.length(o.e.FinishedDepth(i)), "Wood": o.wood(r)}, o.unit))
	}
	items = append(items, o.Say("made_"+string(m.Construction)), o.Say("edge_"+string(m.Profile), speak.With{"Size": o.length(m.ProfileSize)}, o.unit))
	if m.Moulding > 0 {
		items = append(items, o.Say("edge_moulding", speak.With{"Size": o.length(m.Moulding)}, o.unit))
	}
	if m.FinishName == "" {
		items = append(items, o.Say("finish_none"))
	} else {
		items = append(items, o.Many("finish_"+string(m.Faces), m.Coats, speak.With{"Name": o.Drawings.Name(m.FinishName)}))
	}
	if n := len(o.e.Cutouts); n > 0 {
		items = append(items, o.Many("cutouts", n))
	}
	if o.e.Fixing.Count > 0 {
		items = append(items, o.Say("fixing"))
	}
	included, left := o.e.Services()
	for _, s := range included {
		items = append(items, o.Say("service_"+string(s)))
	}
	if o.e.Labour.NoPromise != "" {
		items = append(items, o.Say("no_days"))
	} else {
		items = append(items, o.Many("days", o.e.Labour.WorkingDays))
	}
	missing := ""
	for _, s := range left {
		missing += o.Say("not_"+string(s)) + ", "
	}
	o.add(document.List{Items: items}, document.Text{Tone: document.Fine, Text: o.Say("not_included", speak.With{"Missing": missing})})
}

func (o *maker) price() {
	o.chapter("price")
	p := &o.e.Price
	rows := []document.Row{{Cells: []string{o.Say("net"), o.Amount(p.Net.String())}}}
	if !p.Tax.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.Say("tax", speak.With{"Rate": o.Decimal(p.TaxRate.String())}), o.Amount(p.Tax.String())}})
	}
	rows = append(rows, document.Row{Cells: []string{o.Say("total"), o.Amount(p.Total.String())}, Strong: true})
	if !p.Deposit.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.Say("deposit"), o.Amount(p.Deposit.String())}})
	}
	o.add(document.Table{Caption: o.Say("price"), Columns: []document.Column{{Title: o.Say("line"), Weight: 3}, {Title: o.Say("amount", speak.With{"Currency": o.e.Currency}), Weight: 1, Right: true}}, Rows: rows})
}

func (o *maker) corner() {
	if len(o.e.Corners) == 0 {
		return
	}
	o.chapter("corner")
	said := map[plan.JointKind]bool{}
	for i := range o.e.Corners {
		if kind := o.e.Corners[i].Chosen.Kind; !said[kind] {
			said[kind] = true
			o.add(document.Text{Text: o.Say("corner_"+string(kind)) + " " + o.Say("corner_hold")})
		}
	}
}

func (o *maker) movement() {
	o.chapter("movement")
	most := measure.Length(0)
	for i := range o.e.Runs {
		most = max(most, o.e.Runs[i].Movement.Range)
	}
	o.add(document.Text{Text: o.Say("movement_text", speak.With{"Range": o.length(most)}, o.unit)})
	if o.Season != nil {
		o.add(document.Figure{Picture: o.Season, Phone: o.SeasonPhone, Caption: o.Say("season"), Share: 0.8})
	}
	o.chapter("care")
	var items []string
	for _, id := range []string{"care_list_damp", "care_list_wet", "care_list_hot", "care_list_clean", "care_list_free"} {
		items = append(items, o.Say(id))
	}
	items = append(items, o.Say("care_list_steam"), o.Say("care_list_first"))
	switch days := int(math.Ceil(o.e.Made.CureDays)); {
	case o.e.Made.FinishName == "":
		items = append(items, o.Say("care_list_bare"))
	case days > 0:
		items = append(items, o.Many("care_list_cure", days))
	default:
		items = append(items, o.Say("care_list_cured"))
	}
	o.add(document.List{Items: items})
}

func (o *maker) closing() {
	o.chapter("visit")
	if o.e.Labour.Gives(catalogue.Measuring) {
		o.add(document.Text{Text: o.Say("visit_text")})
	} else {
		o.add(document.Text{Text: o.Say("visit_text_given")})
	}
	if o.Terms != "" {
		o.chapter("terms")
		o.add(document.Text{Text: o.Terms})
	}
	o.add(document.Text{Tone: document.Fine, Text: o.Say("cautions")})
	if o.Number != "" {
		o.chapter("accept")
		o.add(document.Text{Text: o.Say("accept_text")}, document.Signature{Under: []string{o.Say("sign_place"), o.Say("sign_customer")}})
	}
}
