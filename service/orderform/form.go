// Package orderform is the shop's counter: what a customer may choose, the customer's words turned into an order,
// and of an estimate only what a customer may see. It is pure.
package orderform

import (
	"math"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Choice is one thing to choose: the word that a request sends, and what a person reads.
type Choice struct {
	Word  string
	Title string
	// inside is the title as it stands in a sentence.
	inside string
	code   string // what it stands for in the catalogue; never shown
	heats  bool   // of a finish: rags with it can heat up and catch fire
}

// Thickness is one thickness on offer.
type Thickness struct {
	Word  string // such as "1-1/2" or "38"
	Title string // with its unit, in the form's language
	exact measure.Length
}

// Form is what a shop offers online, in one system of units.
type Form struct {
	Units       measure.System
	Shapes      []Choice
	Turns       []Choice
	Woods       []Choice
	Thicknesses []Thickness
	Edges       []Choice
	Finishes    []Choice
	Rooms       []Choice
	Openings    []Choice
	Below       []Choice // what can stand below a side
	LeastLength measure.Length
	MostLength  measure.Length
	LeastDepth  measure.Length
	MostDepth   measure.Length
	Currency    string
	TaxIncluded bool
	Exact       bool // one price is shown; false: a range
	ValidDays   int
	Compares    string // what else is priced beside a top: none, wood or thickness
	Intro       string
	Included    string
	SiteNote    string
	Next        string

	speech  pen.Speech
	clear   measure.Length // of openings, from the line where two sides meet
	roundTo money.Amount
	spread  money.Rate
	deposit money.Rate
}

// Limits of a form that no setting changes.
const (
	LeastCorner  = 60  // degrees
	MostCorner   = 150 // degrees
	MostOpenings = 4
	MostBelow    = 12
	// MostMeasure bounds the measures of openings and of what stands below in either unit; whether one fits is seen when the top is laid out.
	MostMeasure = 12000
)

// shapes in the order of their sides: 1, 2, 3.
var shapes = []Choice{{Word: "straight", Title: "Straight"}, {Word: "l", Title: "L-shaped, one corner"},
	{Word: "u", Title: "U-shaped, two corners"}}

// turns are the two ways that a top can turn.
var turns = []Choice{{Word: "right", Title: "To the right"}, {Word: "left", Title: "To the left"}}

// openingShapes and mounts are how an opening can be made, the plain one first: one of which nothing is said.
var (
	openingShapes = []Choice{{Word: "rectangle", Title: "Rectangle"}, {Word: "round", Title: "Round"},
		{Word: "oval", Title: "Oval"}}
	mounts = []Choice{{Word: "top", Title: "Its rim lies on the top"}, {Word: "under", Title: "It hangs below the top"},
		{Word: "apron", Title: "It has a front of its own, before the top's"}}
)

var openings = []Choice{{Word: "sink", Title: "Sink"}, {Word: "hob", Title: "Hob (cooktop)"},
	{Word: "other", Title: "Something else", code: "other"}}

// below is what a customer can know of a base, as estimates call it.
var below = []Choice{{Word: string(base.Cabinet), Title: "Cabinet"}, {Word: string(base.Open), Title: "Open (nothing below)"},
	{Word: string(base.Appliance), Title: "Appliance (dishwasher, oven)"}}

// profiles are the edges that a form can offer. The other ones need a size that a customer would have to name.
var profiles = []string{"square", "eased", "chamfer", "roundover", "bullnose", "cove", "ogee"}

// inside are two bounds on the marks of a tape, whole millimetres or sixteenths of an inch, none of them beyond what the shop set:
// 12 in are at least 305 mm. What is shown, what the schema says and what is accepted are the same two lengths.
func inside(least, most measure.Length, units measure.System) (from, to measure.Length) {
	const noise = 1e-6
	step := measure.Inch / 16
	if units == measure.Millimetres {
		step = measure.Millimetre
	}
	from = measure.Length(math.Ceil(float64(least/step)-noise)) * step
	to = measure.Length(math.Floor(float64(most/step)+noise)) * step
	if from > to { // nearer to each other than the marks
		return least, most
	}
	return from, to
}

// New makes the form from the shop's settings, in a language, with the words that the shop has for it. What the
// settings list and the catalogue does not have is not offered, so that what is retired leaves the form by itself.
func New(cat *catalogue.Snapshot, units measure.System, speech pen.Speech) (*Form, error) {
	set := &cat.Settings
	f := &Form{Units: units, speech: speech,
		LeastLength: set.FormLeastLength, MostLength: set.FormMostLength, LeastDepth: set.FormLeastDepth,
		MostDepth: set.FormMostDepth,
		Currency:  set.Currency, TaxIncluded: set.Tax.Cmp(money.RateOf(0)) > 0, Exact: set.FormPrice == "exact",
		ValidDays: set.FormValidDays, Compares: set.FormCompares,
		clear:   set.CutoutClear,
		roundTo: set.FormRoundTo, spread: set.FormRange, deposit: set.Deposit}
	f.LeastLength, f.MostLength = inside(f.LeastLength, f.MostLength, units)
	f.LeastDepth, f.MostDepth = inside(f.LeastDepth, f.MostDepth, units)
	f.Shapes, f.Turns = f.titled(shapes[:min(max(set.FormMostSides, 1), len(shapes))]), f.titled(turns)
	f.Openings, f.Below = f.titled(openings), f.titled(below)
	own := set.Texts(speech.Language)
	f.Intro, f.Included, f.SiteNote, f.Next = own.FormIntro, own.FormIncluded, own.FormSiteNote, own.FormNext
	lengths, err := catalogue.Lengths(set.FormThicknesses)
	if err != nil {
		return nil, err
	}
	for _, l := range lengths {
		word := l.Text(units)
		if n := len(f.Thicknesses); n == 0 || f.Thicknesses[n-1].Word != word {
			f.Thicknesses = append(f.Thicknesses, Thickness{word, f.phrase(l), l})
		}
	}
	lists := []struct {
		text  string
		into  *[]Choice
		title func(word, code string) (title, inside string) // empty: not on sale
	}{
		{set.FormWoods, &f.Woods, func(_, code string) (title, inside string) { return f.nameOf(cat.SpeciesByCode(code)) }},
		{set.FormEdges, &f.Edges, func(word, code string) (title, inside string) {
			return f.titleIf(slices.Contains(profiles, code), word)
		}},
		{set.FormFinishes, &f.Finishes, func(word, code string) (title, inside string) {
			return f.titleIf(code == "none" || cat.FinishOf(code) != nil, word)
		}},
		{set.FormRooms, &f.Rooms, func(word, code string) (title, inside string) { return f.titleIf(cat.ClimateByCode(code) != nil, word) }},
	}
	for _, list := range lists {
		words, err := catalogue.Words(list.text)
		if err != nil {
			return nil, err
		}
		for _, w := range words {
			if title, inside := list.title(w.Word, w.Code); title != "" {
				*list.into = append(*list.into, Choice{Word: w.Word, Title: title, inside: inside, code: w.Code})
			}
		}
	}
	for i := range f.Finishes {
		if m := cat.FinishOf(f.Finishes[i].code); m != nil {
			f.Finishes[i].heats = m.Finish.SelfHeat
		}
	}
	return f, nil
}

func find(choices []Choice, word string) (Choice, bool) {
	for _, c := range choices {
		if c.Word == word {
			return c, true
		}
	}
	return Choice{}, false
}

func wordsOf(choices []Choice) []string {
	words := make([]string, len(choices))
	for i, c := range choices {
		words[i] = c.Word
	}
	return words
}

// Open reports whether there is at least one of everything that must be chosen.
func (f *Form) Open() bool {
	return len(f.Woods) > 0 && len(f.Thicknesses) > 0 && len(f.Edges) > 0 && len(f.Finishes) > 0 && len(f.Rooms) > 0
}
