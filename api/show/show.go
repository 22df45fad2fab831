// Package show makes what a person looks at of an estimate: drawings, the shop sheet, the offer, and tables. The interface
// and the command line share it.
package show

import (
	"fmt"
	"sort"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/leaflet"
	"seamwright/service/document/offer"
	"seamwright/service/document/shopsheet"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/compare"
	"seamwright/service/drawing/plan"
	"seamwright/service/drawing/seam"
	"seamwright/service/drawing/season"
	"seamwright/service/drawing/view"
	"seamwright/service/estimate"
	"seamwright/service/fault"
)

// Subject is the estimate to look at, and what a document says beside it.
type Subject struct {
	Estimate   *estimate.Estimate
	Shop       *catalogue.ShopSettings
	Logo       []byte
	Terms      string
	Number     string // of the quote; empty: not stored
	Revision   int
	Date       catalogue.Date
	ValidUntil catalogue.Date
	Reference  string
	Customer   []string
}

// Options are what a call may choose. Corner and Run count from 1; 0: the first.
type Options struct {
	Corner   int
	Run      int
	Below    bool // of what is drawn at true size: from below
	Narrow   bool // for a phone
	Language string
	Paper    string
}

// media are the media types of views by the end of their names.
var media = map[string]string{"svg": "image/svg+xml", "pdf": "application/pdf", "html": "text/html; charset=utf-8",
	"csv": "text/csv; charset=utf-8"}

// Views make what there is to look at, by name.
type Views map[string]func(*Subject, Options) ([]byte, error)

// views are all views of an estimate.
var views = Views{
	"plan.svg":          shopPlan,
	"plan-customer.svg": customerPlan,
	"seam.svg":          seamSheet,
	"season.svg":        runSeason,
	"opening.svg":       seamSeason,
	"comparison.svg":    comparison,
	"shop-sheet.pdf":    pdf(shopSheet),
	"shop-sheet.html":   html(shopSheet),
	"offer.pdf":         pdf(offered),
	"offer.html":        html(offered),
	"offer-short.pdf":   pdf(offeredShort),
	"offer-short.html":  html(offeredShort),
	"care.pdf":          pdf(care),
	"care.html":         html(care),
	"installation.pdf":  pdf(installation),
	"installation.html": html(installation),
	"view.svg":          seen,
	"bill.csv":          bill,
	"price.csv":         sold,
	"pieces.csv":        pieces,
	"labour.csv":        work,
	"template.svg":      trueTemplate,
	"template.pdf":      pdf(templateTiles),
	"stick.svg":         stick,
	"stick.pdf":         pdf(stickTiles),
	"points.csv":        points,
	"cutouts.csv":       cutouts,
	"boards.svg":        boards,
	"boards.pdf":        pdf(boardPlan),
	"boards.csv":        cuts,
	"labels.pdf":        pdf(labels),
}

// Names lists the views of an estimate, sorted.
func Names() []string { return views.Names() }

// Names lists the views, sorted.
func (v Views) Names() []string {
	names := make([]string, 0, len(v))
	for name := range v {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// Media is the media type of a view.
func Media(name string) string {
	_, end, _ := strings.Cut(name, ".")
	return media[end]
}

// Make makes a view of an estimate; see Views.Make.
func Make(name string, s *Subject, o Options) ([]byte, error) { return views.Make(name, s, o) }

// Make makes a view. It returns a NotFound fault for a name, corner or run that there is not, and an Invalid one for a
// language or paper.
func (v Views) Make(name string, s *Subject, o Options) ([]byte, error) {
	if o.Paper != "" && o.Paper != string(document.A4) && o.Paper != string(document.Letter) {
		return nil, &fault.Fault{Kind: fault.Invalid, Parameter: "paper",
			Detail: fmt.Sprintf("There is no paper %q.", o.Paper), Fix: "There are A4 and Letter."}
	}
	view := v[name]
	if view == nil {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no view %q.", name),
			Fix: "There are " + strings.Join(v.Names(), ", ") + "."}
	}
	return view(s, o)
}

func place(n int) int { return max(n-1, 0) }

func shopPlan(s *Subject, o Options) ([]byte, error) {
	speaker, err := speak.In(language(s, o))
	if err != nil {
		return nil, err
	}
	return plan.Draw(s.Estimate, plan.Options{Narrow: o.Narrow, Number: s.Number, Date: speaker.Day(s.Date), Speech: speaker.Drawings})
}

func customerPlan(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return plan.ForCustomer(s.Estimate, plan.Options{Narrow: o.Narrow, Speech: words})
}

func seen(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return view.Draw(s.Estimate, view.Options{Speech: words})
}

func seamSheet(s *Subject, o Options) ([]byte, error) {
	in, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return seam.Draw(s.Estimate, place(o.Corner), seam.Options{Narrow: o.Narrow, Speech: in})
}

func runSeason(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return season.Draw(s.Estimate, place(o.Run), season.Options{Narrow: o.Narrow, Speech: words})
}

func seamSeason(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return season.DrawSeam(s.Estimate, place(o.Corner), season.Options{Narrow: o.Narrow, Speech: words})
}

func comparison(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	return compare.Draw(s.Estimate, compare.Options{Narrow: o.Narrow, Speech: words})
}

type maker func(*Subject, Options) (*document.Document, error)

func pdf(of maker) func(*Subject, Options) ([]byte, error) {
	return func(s *Subject, o Options) ([]byte, error) {
		d, err := of(s, o)
		if err != nil {
			return nil, err
		}
		return d.PDF()
	}
}

func html(of maker) func(*Subject, Options) ([]byte, error) {
	return func(s *Subject, o Options) ([]byte, error) {
		d, err := of(s, o)
		if err != nil {
			return nil, err
		}
		return d.HTML()
	}
}

// PaperWork is what a document needs besides what stands in it.
type PaperWork struct {
	Letter   document.Letterhead
	Language string
	Paper    document.Paper
}

// PaperOf is that of a view.
func PaperOf(s *Subject, o Options) PaperWork {
	return PaperWork{letterhead(s), language(s, o), paper(s, o)}
}

// paper is the paper of a document: what the call says, else the shop, else what goes with the units.
func paper(s *Subject, o Options) document.Paper {
	for _, wish := range []string{o.Paper, s.Shop.ShopPaper} {
		if wish == string(document.A4) || wish == string(document.Letter) {
			return document.Paper(wish)
		}
	}
	if s.Estimate.Units.String() == "in" {
		return document.Letter
	}
	return document.A4
}

func letterhead(s *Subject) document.Letterhead {
	l := document.Letterhead{Name: s.Shop.ShopName, Logo: s.Logo}
	for _, text := range []string{s.Shop.ShopAddress, s.Shop.ShopContact} {
		for line := range strings.SplitSeq(text, ";") {
			if line = strings.TrimSpace(line); line != "" {
				l.Lines = append(l.Lines, line)
			}
		}
	}
	return l
}

func shopSheet(s *Subject, o Options) (*document.Document, error) {
	return shopsheet.New(&shopsheet.Input{Estimate: s.Estimate, Shop: letterhead(s), Number: s.Number,
		Revision: s.Revision, Date: s.Date, Paper: paper(s, o), Language: language(s, o)})
}

func offerOf(s *Subject, o Options) *offer.Input {
	tag := language(s, o)
	in := &offer.Input{Estimate: s.Estimate, Shop: letterhead(s), Number: s.Number, Revision: s.Revision, Date: s.Date,
		ValidUntil: s.ValidUntil,
		Reference:  s.Reference, Customer: s.Customer, Language: tag, Paper: paper(s, o)}
	if s.Number != "" {
		in.Terms, in.Address = s.Shop.TermsIn(tag, s.Terms), s.Shop.QuoteAddress(s.Number)
	}
	return in
}

func offered(s *Subject, o Options) (*document.Document, error) { return offer.New(offerOf(s, o)) }

func offeredShort(s *Subject, o Options) (*document.Document, error) {
	return offer.Short(offerOf(s, o))
}

func leafletOf(s *Subject, o Options) *leaflet.Input {
	return &leaflet.Input{Estimate: s.Estimate, Shop: letterhead(s), Number: s.Number, Revision: s.Revision, Date: s.Date,
		Reference: s.Reference, Customer: s.Customer,
		Language: language(s, o), Paper: paper(s, o)}
}

func care(s *Subject, o Options) (*document.Document, error) { return leaflet.Care(leafletOf(s, o)) }

func installation(s *Subject, o Options) (*document.Document, error) {
	return leaflet.Installation(leafletOf(s, o))
}
