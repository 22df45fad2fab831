package api

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/api/show"
	"seamwright/service/catalogue"
	offerwords "seamwright/service/document/offer/words"
	"seamwright/store/offers"
)

// byMedia are the views that POST /v1/estimates answers with when its Accept asks for their type instead of JSON.
var byMedia = []struct{ media, view string }{
	{"image/svg+xml", "plan.svg"}, {"application/pdf", "offer.pdf"}, {"text/html", "offer.html"}, {"text/csv", "bill.csv"},
}

// viewWanted is the view that an Accept header asks for; empty: JSON will do. A type with quality 0 is not asked for.
func viewWanted(accept []string) string {
	for _, header := range accept {
		for one := range strings.SplitSeq(header, ",") {
			media, parameters, _ := strings.Cut(strings.TrimSpace(one), ";")
			if quality, found := strings.CutPrefix(strings.TrimSpace(parameters), "q="); found && strings.Trim(quality, "0.") == "" {
				continue
			}
			switch media = strings.TrimSpace(media); media {
			case "application/json", "*/*", "application/*":
				return ""
			}
			for _, p := range byMedia {
				if p.media == media {
					return p.view
				}
			}
		}
	}
	return ""
}

// postView works a top out and answers with a view of it; nothing is stored.
func (s *Server) postView(c *Call, name string) error {
	o, err := viewOptions(c)
	if err != nil {
		return err
	}
	order, err := readBody(c, readOrder)
	if err != nil {
		return err
	}
	now, err := inShop(s.Now(), c.Cat)
	if err != nil {
		return err
	}
	est, err := makeEstimate(order, c.Cat, now)
	if err != nil {
		return err
	}
	return s.sendView(c, name, &show.Subject{Estimate: est, Shop: &c.Cat.Settings.ShopSettings, Terms: c.Cat.Settings.QuoteTerms, Date: s.today(c.Cat), Reference: est.Reference}, o)
}

// viewOptions reads what a call chooses of a view.
func viewOptions(c *Call) (show.Options, error) {
	languages := offerwords.Languages()
	if c.Has("language") && !slices.Contains(languages, c.Text("language")) {
		c.Wrong("language", "Must be "+inWords(languages)+".")
	}
	return show.Options{Corner: c.Number("corner"), Run: c.Number("run"), Narrow: c.Text("width") == "phone", Language: c.Text("language"), Paper: c.Text("paper")}, c.Faults()
}

// getQuoteView answers with a view of a revision of an offer, from the figures that were kept.
func (s *Server) getQuoteView(c *Call) error {
	o, err := viewOptions(c)
	if err != nil {
		return err
	}
	q, err := s.Store.Offers.Quote(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	r, err := s.Store.Offers.Revision(c.Ctx(), q.ID, c.Number("revision"))
	if err != nil {
		return err
	}
	subject, err := subjectOf(&q, &r, c.Cat)
	if err != nil {
		return err
	}
	return s.sendView(c, c.Param("view"), subject, o)
}

// subjectOf is what the views of a revision show.
func subjectOf(q *offers.Quote, r *offers.Revision, cat *catalogue.Snapshot) (*show.Subject, error) {
	est, err := ReadEstimate([]byte(r.Answer))
	if err != nil {
		return nil, err
	}
	made, err := shopDay(r.CreatedAt, cat)
	return &show.Subject{Estimate: est, Shop: &cat.Settings.ShopSettings, Terms: q.Terms, Number: strconv.FormatInt(q.Number, 10), Revision: r.Number,
		Date: made, ValidUntil: q.ValidUntil, Reference: q.Customer.Reference, Customer: lines(q.Customer.Name, q.Customer.Address)}, err
}

// lines are the lines of some texts that are not empty.
func lines(texts ...string) (all []string) {
	for _, text := range texts {
		for line := range strings.SplitSeq(text, "\n") {
			if line = strings.TrimSpace(line); line != "" {
				all = append(all, line)
			}
		}
	}
	return all
}

// documentPolicy lets a browser show a document that stands by itself, and load and run nothing.
const documentPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox"

func (s *Server) sendView(c *Call, name string, subject *show.Subject, o show.Options) error {
	logo, err := s.logoFor(c.Ctx(), name)
	if err != nil {
		return err
	}
	subject.Logo = logo
	raw, err := show.Make(name, subject, o)
	if err != nil {
		return err
	}
	header := c.Response().Header()
	header.Set("Content-Security-Policy", documentPolicy)
	if !slices.Contains([]string{"svg", "html"}, name[strings.LastIndex(name, ".")+1:]) {
		header.Set(echo.HeaderContentDisposition, `attachment; filename="`+fileName(subject)+name+`"`)
	}
	header.Add("Vary", "Accept")
	return send(c, http.StatusOK, show.Media(name), raw)
}

// fileName begins the name of a file that a browser saves.
func fileName(s *show.Subject) string {
	if s.Number == "" {
		return ""
	}
	return "quote-" + s.Number + "-" + strconv.Itoa(s.Revision) + "-"
}
