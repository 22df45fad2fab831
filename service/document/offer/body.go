package offer

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/season"
	"seamwright/service/plan"
)

// corners says of each kind of joint at which corners it is, and why.
func (o *maker) corners() {
	n := len(o.e.Corners)
	if n == 0 {
		return
	}
	switch turns := o.e.Turns(); turns {
	case 0:
		o.chapter(o.Say("straight_seam"))
	case n:
		o.chapter(o.Many("corner", turns))
	default:
		o.chapter(o.Say("corner_and_straight"))
	}
	var kinds []plan.JointKind
	names := map[plan.JointKind][]string{}
	for i := range o.e.Corners {
		kind := o.e.Corners[i].Chosen.Kind
		if names[kind] == nil {
			kinds = append(kinds, kind)
		}
		names[kind] = append(names[kind],
			o.Say("corner_names", speak.With{"First": o.e.Runs[i].Name, "Second": o.e.Runs[i+1].Name}))
	}
	var rows [][2]string
	for _, kind := range kinds {
		rows = append(rows, [2]string{strings.Join(names[kind], ", "), o.Say("corner_" + string(kind))})
	}
	o.add(document.Facts{Rows: rows}, document.Text{Text: o.Say("corner_hold")})
}

// movement says how the wood moves, and shows it; with a low chart where the place to sign would have no room on the page otherwise.
func (o *maker) movement(closing []document.Block) error {
	most := 0
	for i := range o.e.Runs {
		if o.e.Runs[i].Movement.Range > o.e.Runs[most].Movement.Range {
			most = i
		}
	}
	text := o.Say("movement_text", speak.With{"Range": o.Length(o.e.Runs[most].Movement.Range, o.e.Units)}, o.unit)
	if len(o.e.Corners) > 0 {
		text += " " + o.Say("movement_seam")
	}
	phone, err := season.Draw(o.e, most, season.Options{Narrow: true, Picture: true, Speech: o.Drawings})
	if err != nil {
		return err
	}
	width, _ := o.Paper.Room()
	var page document.Fitting
	for _, low := range []bool{false, true} {
		chart, err := season.Draw(o.e, most, season.Options{Width: width, Picture: true, Low: low, Speech: o.Drawings})
		if err != nil {
			return err
		}
		page.Ways = append(page.Ways, append([]document.Block{
			document.Together{Blocks: []document.Block{document.Heading{Level: 2, Text: o.Say("movement")},
				document.Text{Text: text}, document.Figure{Picture: chart, Phone: phone, Print: chart}}},
			document.Text{Text: o.Say("care_comes")}}, closing...))
	}
	o.add(page)
	return nil
}

// closing is what the site visit may change, and the place to sign.
func (o *maker) closing() []document.Block {
	visit := "visit_text_given"
	if o.e.Labour.Gives(catalogue.Measuring) {
		visit = "visit_text"
	}
	return o.signed(document.Heading{Level: 2, Text: o.Say("visit")}, document.Text{Text: o.Say(visit)})
}

// longTerms are terms of so many letters that they stand before the signature, not with it; shortTerms are too long for the short form.
const (
	longTerms  = 1600
	shortTerms = 350
)

// signed are what the site visit may change, the terms, the cautions and the place to sign, which never stands on a page by
// itself: where it begins a page, that page says all that is agreed on.
func (o *maker) signed(visit ...document.Block) (blocks []document.Block) {
	cautions := document.Text{Tone: document.Fine, Text: o.Say("cautions")}
	if o.Number == "" {
		return append(visit, cautions)
	}
	last := visit
	if terms := []document.Block{document.Heading{Level: 2, Text: o.Say("terms")},
		document.Text{Text: o.Terms}}; len(o.Terms) > longTerms {
		blocks, last = append(visit, terms...), nil
	} else if o.Terms != "" {
		last = append(last, terms...)
	}
	last = append(last, cautions, document.Heading{Level: 2, Text: o.Say("accept")})
	return append(blocks, document.Together{Blocks: append(last, o.signature()...)})
}

func (o *maker) signature() []document.Block {
	return []document.Block{document.Text{Text: o.Say("accept_text",
		speak.With{"Number": o.Number, "Revision": o.Revision, "Total": o.money(o.e.Price.Total.String())})},
		document.Signature{Under: []string{o.Say("sign_place"), o.Say("sign_customer")}}}
}

// signedShort is the same on a page that has little room.
func (o *maker) signedShort() []document.Block {
	if o.Number == "" {
		return []document.Block{document.Text{Tone: document.Fine, Text: o.Say("cautions")}}
	}
	terms := o.Terms
	if len(terms) > shortTerms {
		terms = o.Say("terms_elsewhere")
	}
	return append([]document.Block{document.Text{Tone: document.Fine, Text: strings.TrimSpace(terms + " " + o.Say("cautions"))}},
		o.signature()...)
}
