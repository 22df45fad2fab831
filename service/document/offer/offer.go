// Package offer says what stands in an offer to a customer: what is made, what it costs, why the corner is made as it is,
// how the wood will move, and what to sign. It shows no cost and no margin.
package offer

import (
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/drawing/pen"
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
	s, err := speakerOf(in.Language)
	if err != nil {
		return nil, err
	}
	names, err := Speech(in.Language)
	if err != nil {
		return nil, err
	}
	o := &maker{Input: in, speaker: s, e: in.Estimate, names: names}
	o.unit = with{"Unit": s.say("unit_" + in.Estimate.Units.String())}
	d := &document.Document{Title: o.title(), Language: in.Language, Paper: in.Paper, Letter: in.Shop, Page: s.say("page"), Created: string(in.Date) + "T00:00:00Z"}
	d.Foot = s.say("foot_plain", with{"Shop": in.Shop.Name, "Date": o.day(in.Date)})
	if in.Number != "" {
		d.Foot = s.say("foot", with{"Shop": in.Shop.Name, "Number": in.Number, "Revision": in.Revision, "Date": o.day(in.Date)})
	}
	o.head()
	o.included()
	o.price()
	o.corner()
	o.movement()
	o.closing()
	d.Blocks = o.blocks
	return d, s.missing
}

type maker struct {
	*Input
	*speaker
	e      *estimate.Estimate
	names  pen.Speech
	unit   with
	blocks []document.Block
}

func (o *maker) add(blocks ...document.Block) { o.blocks = append(o.blocks, blocks...) }

func (o *maker) chapter(id string) {
	o.add(document.Heading{Level: 2, Text: o.say(id)})
}

func (o *maker) title() string {
	if o.Number != "" {
		return o.say("title_number", with{"Number": o.Number})
	}
	return o.say("title_draft")
}

func (o *maker) day(d catalogue.Date) string {
	day, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	return day.Format(o.date)
}

// length writes a length as the language writes numbers.
func (o *maker) length(l measure.Length) string { return o.decimal(l.Text(o.e.Units)) }

// decimal puts the language's sign into a number.
func (o *maker) decimal(text string) string { return strings.ReplaceAll(text, ".", o.point) }

// money writes an amount with thousands set apart.
func (o *maker) money(text string) string {
	whole, cents, _ := strings.Cut(text, ".")
	digits := strings.TrimPrefix(whole, "-")
	var b strings.Builder
	b.WriteString(strings.TrimSuffix(whole, digits))
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(o.thousands)
		}
		b.WriteRune(r)
	}
	return b.String() + o.point + cents
}

// wood is the name of a run's wood within a sentence.
func (o *maker) wood(r *estimate.RunResult) string {
	name := o.names.Name(r.Wood)
	if o.Language != "en" {
		return name
	}
	first, size := utf8.DecodeRuneInString(name)
	return string(unicode.ToLower(first)) + name[size:]
}

func (o *maker) head() {
	o.add(document.Heading{Level: 1, Text: o.title()})
	facts := [][2]string{}
	fact := func(id, value string) {
		if value != "" {
			facts = append(facts, [2]string{o.say(id), value})
		}
	}
	fact("for", strings.Join(o.Customer, "\n"))
	fact("reference", o.Reference)
	fact("date", o.day(o.Date))
	fact("valid_until", o.day(o.ValidUntil))
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
	say := with{"Wood": strings.Join(woods, o.say("and")), "Size": strings.Join(sizes, " + "), "Thickness": o.length(o.e.Made.Thickness)}
	if len(o.e.Corners) == 0 {
		o.add(document.Text{Tone: document.Lead, Text: o.say("lead_straight", say, o.unit)})
	} else {
		o.add(document.Text{Tone: document.Lead, Text: o.many("lead_corner", len(o.e.Corners), say, o.unit)})
	}
	if o.Plan != nil {
		o.add(document.Figure{Picture: o.Plan, Phone: o.PlanPhone, Caption: o.say("plan", o.unit)})
	}
}

func (o *maker) included() {
	o.chapter("included")
	m := &o.e.Made
	var items []string
	for i := range o.e.Runs {
		r := &o.e.Runs[i]
		items = append(items, o.say("piece", with{"Name": r.Name, "Length": o.length(r.Piece.LongEdge + o.e.MouldedEnd(i)), "Depth": o.length(o.e.FinishedDepth(i)), "Wood": o.wood(r)}, o.unit))
	}
	items = append(items, o.say("made_"+string(m.Construction)), o.say("edge_"+string(m.Profile), with{"Size": o.length(m.ProfileSize)}, o.unit))
	if m.Moulding > 0 {
		items = append(items, o.say("edge_moulding", with{"Size": o.length(m.Moulding)}, o.unit))
	}
	if m.FinishName == "" {
		items = append(items, o.say("finish_none"))
	} else {
		items = append(items, o.many("finish_"+string(m.Faces), m.Coats, with{"Name": o.names.Name(m.FinishName)}))
	}
	if n := len(o.e.Cutouts); n > 0 {
		items = append(items, o.many("cutouts", n))
	}
	if o.e.Fixing.Count > 0 {
		items = append(items, o.say("fixing"))
	}
	included, left := o.e.Services()
	for _, s := range included {
		items = append(items, o.say("service_"+string(s)))
	}
	if o.e.Labour.NoPromise != "" {
		items = append(items, o.say("no_days"))
	} else {
		items = append(items, o.many("days", o.e.Labour.WorkingDays))
	}
	missing := ""
	for _, s := range left {
		missing += o.say("not_"+string(s)) + ", "
	}
	o.add(document.List{Items: items}, document.Text{Tone: document.Fine, Text: o.say("not_included", with{"Missing": missing})})
}

func (o *maker) price() {
	o.chapter("price")
	p := &o.e.Price
	rows := []document.Row{{Cells: []string{o.say("net"), o.money(p.Net.String())}}}
	if !p.Tax.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.say("tax", with{"Rate": o.decimal(p.TaxRate.String())}), o.money(p.Tax.String())}})
	}
	rows = append(rows, document.Row{Cells: []string{o.say("total"), o.money(p.Total.String())}, Strong: true})
	if !p.Deposit.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.say("deposit"), o.money(p.Deposit.String())}})
	}
	o.add(document.Table{Caption: o.say("price"), Columns: []document.Column{{Title: o.say("line"), Weight: 3}, {Title: o.say("amount", with{"Currency": o.e.Currency}), Weight: 1, Right: true}}, Rows: rows})
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
			o.add(document.Text{Text: o.say("corner_"+string(kind)) + " " + o.say("corner_hold")})
		}
	}
}

func (o *maker) movement() {
	o.chapter("movement")
	most := measure.Length(0)
	for i := range o.e.Runs {
		most = max(most, o.e.Runs[i].Movement.Range)
	}
	o.add(document.Text{Text: o.say("movement_text", with{"Range": o.length(most)}, o.unit)})
	if o.Season != nil {
		o.add(document.Figure{Picture: o.Season, Phone: o.SeasonPhone, Caption: o.say("season"), Share: 0.8})
	}
	o.chapter("care")
	var items []string
	for _, id := range []string{"care_list_damp", "care_list_wet", "care_list_hot", "care_list_clean", "care_list_free"} {
		items = append(items, o.say(id))
	}
	items = append(items, o.say("care_list_steam"), o.say("care_list_first"))
	switch days := int(math.Ceil(o.e.Made.CureDays)); {
	case o.e.Made.FinishName == "":
		items = append(items, o.say("care_list_bare"))
	case days > 0:
		items = append(items, o.many("care_list_cure", days))
	default:
		items = append(items, o.say("care_list_cured"))
	}
	o.add(document.List{Items: items})
}

func (o *maker) closing() {
	o.chapter("visit")
	if o.e.Labour.Gives(catalogue.Measuring) {
		o.add(document.Text{Text: o.say("visit_text")})
	} else {
		o.add(document.Text{Text: o.say("visit_text_given")})
	}
	if o.Terms != "" {
		o.chapter("terms")
		o.add(document.Text{Text: o.Terms})
	}
	o.add(document.Text{Tone: document.Fine, Text: o.say("cautions")})
	if o.Number != "" {
		o.chapter("accept")
		o.add(document.Text{Text: o.say("accept_text")}, document.Signature{Under: []string{o.say("sign_place"), o.say("sign_customer")}})
	}
}
