package offer

import (
	"slices"
	"strings"

	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/plan"
	"seamwright/service/drawing/qr"
	"seamwright/service/drawing/view"
	"seamwright/service/measure"
)

// restHigh is what the rest of a first page needs beside the pictures, in millimetres: with it what is included has room under them, and
// the whole offer on two pages.
const restHigh = 187.0

// shortHigh are the heights of the pictures of the short form, of which it takes the first with which all has room on one page.
var shortHigh = []float64{96, 82, 68, 52}

// plenty is the room for the pictures on the first page of the offer in full.
func (o *maker) plenty() float64 {
	_, high := o.Paper.Room()
	return high - restHigh
}

// head says for whom it is and until when, and where it is on the web.
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
	if !o.short { // beside the price it stands again
		fact("valid_until", o.Day(o.ValidUntil))
	}
	if o.Address == "" || o.Number == "" {
		o.add(document.Facts{Rows: facts})
		return
	}
	fact("web", o.Address)
	const share = 0.82
	_, wide := o.Paper.Columns(share)
	code, err := qr.Draw(o.Address, min(wide, 26), o.Say("code"))
	if err != nil { // too long for a code: the address stands among the facts
		o.add(document.Facts{Rows: facts})
		return
	}
	o.add(document.Columns{Share: share, Left: []document.Block{document.Facts{Rows: facts}},
		Right: []document.Block{document.Figure{Picture: code, Print: code}}})
}

// sizes are the lengths of the runs along the walls.
func (o *maker) sizes() string {
	var sizes []string
	for _, length := range o.e.LegLengths() {
		sizes = append(sizes, o.Length(length, o.e.Units))
	}
	return strings.Join(sizes, " + ")
}

// woods are the names of the woods within a sentence.
func (o *maker) woods() string {
	var woods []string
	for i := range o.e.Runs {
		if name := o.Drawings.Name(o.e.Runs[i].Wood); !slices.Contains(woods, name) {
			woods = append(woods, name)
		}
	}
	return strings.Join(woods, o.Say("and"))
}

// top says in one sentence what it is.
func (o *maker) top() {
	say := speak.With{"Wood": o.woods(), "Size": o.sizes(), "Depth": o.Length(o.e.FinishedDepth(0), o.e.Units),
		"Thickness": o.Length(o.e.Made.Thickness, o.e.Units)}
	turns := o.e.Turns()
	if turns == 0 {
		o.add(document.Text{Tone: document.Lead, Text: o.Say("lead_straight", say, o.unit)})
		return
	}
	o.add(document.Text{Tone: document.Lead, Text: o.Many("lead_corner", turns, say, o.unit)})
}

// planShare is the share of the width that the plan takes beside the view and the price.
const planShare = 0.6

// lower is by how much the pictures of a first page are lower than there is room for usually, in millimetres: the least with which
// what is included stands under them.
var lower = []float64{-18, 0, 14, 28}

// first is the first page: the pictures with the price, and what is included.
func (o *maker) first() error {
	var page document.Fitting
	for _, less := range lower {
		pictures, err := o.pictures(o.plenty() - less)
		if err != nil {
			return err
		}
		page.Ways = append(page.Ways, append(slices.Clone(pictures), o.lists(false)))
		if less >= 0 { // lines closer, before the pictures are lower still
			page.Ways = append(page.Ways, append(slices.Clone(pictures), document.Close{Blocks: []document.Block{o.lists(false)}}))
		}
		if page.Else == nil {
			page.Else = append(slices.Clone(pictures), o.lists(true))
		}
	}
	o.add(page)
	return nil
}

// pictures are the plan, the view and the price: beside each other, or for a long top the plan over the others.
func (o *maker) pictures(high float64) ([]document.Block, error) {
	room, _ := o.Paper.Room()
	left, right := o.Paper.Columns(planShare)
	if o.long() {
		left, high = room, high*0.6
	}
	seen := view.Options{Width: right, Height: high * 0.55, Speech: o.Drawings}
	if o.long() {
		l, _ := o.Paper.Columns(1 - planShare)
		seen.Width = l
	}
	top, err := plan.ForCustomer(o.e, plan.Options{Width: left, Height: high, Speech: o.Drawings})
	if err != nil {
		return nil, err
	}
	phone, err := plan.ForCustomer(o.e, plan.Options{Narrow: true, Speech: o.Drawings})
	if err != nil {
		return nil, err
	}
	fromRoom, err := view.Draw(o.e, seen)
	if err != nil {
		return nil, err
	}
	plans := document.Figure{Picture: top, Phone: phone, Print: top, Caption: o.Say("plan", o.unit)}
	views := document.Figure{Picture: fromRoom, Print: fromRoom, Caption: o.Say("view")}
	if o.long() {
		return []document.Block{plans, document.Columns{Share: 1 - planShare, Left: []document.Block{views}, Right: o.price()}}, nil
	}
	return []document.Block{document.Columns{Share: planShare, Left: []document.Block{plans},
		Right: append([]document.Block{views}, o.price()...)}}, nil
}

// long reports whether the plan is much wider than it is high, and there is room for it over the whole width.
func (o *maker) long() bool {
	lo, hi := o.e.Outline[0], o.e.Outline[0]
	for _, p := range o.e.Outline {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	return !o.short && hi.X-lo.X > 2.2*max(hi.Y-lo.Y, measure.Millimetre)
}
