package api

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/api/show"
	offerwords "seamwright/service/document/offer/words"
	"seamwright/service/estimate"
)

func (s *Server) viewRoutes() {
	s.echo.POST("/v1/estimates/:view", s.postView)
	s.echo.GET("/v1/quotes/:id/:view", s.getQuoteView)
}

// preferred are the views that POST /v1/estimates answers with when its Accept asks for their type instead of JSON.
var preferred = []struct{ media, view string }{
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
			for _, p := range preferred {
				if p.media == media {
					return p.view
				}
			}
		}
	}
	return ""
}

// postView works a top out and answers with a view of it; nothing is stored.
func (s *Server) postView(c echo.Context) error { return s.estimateView(c, c.Param("view")) }

func (s *Server) estimateView(c echo.Context, name string) error {
	q := queryOf(c, "corner", "run", "width", "language", "paper")
	o := viewOptions(q)
	if err := q.faults.Err(); err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	var est *estimate.Estimate
	err = s.withBody(c, func(raw []byte) (err error) {
		est, err = MakeEstimate(raw, cat, s.config.Now(), false)
		return err
	})
	if err != nil {
		return err
	}
	shop := &cat.Settings.ShopSettings
	logo, err := s.logoFor(c.Request().Context(), name)
	if err != nil {
		return err
	}
	return s.sendView(c, name, &show.Subject{Estimate: est, Shop: shop, Logo: logo, Terms: cat.Settings.QuoteTerms, Date: s.today(cat), Reference: est.Reference}, o)
}

// viewOptions reads what a call chooses of a view.
func viewOptions(q *query) show.Options {
	o := show.Options{Corner: q.count("corner", 5), Run: q.count("run", 6), Narrow: q.oneOf("width", "paper", "phone") == "phone",
		Language: q.oneOf("language", offerwords.Languages()...), Paper: q.oneOf("paper", "A4", "Letter")}
	return o
}

// count reads a number from 1; 0 when it is not there.
func (q *query) count(name string, most int) int {
	if !q.values.Has(name) {
		return 0
	}
	n, err := strconv.Atoi(q.values.Get(name))
	if err != nil || n < 1 || n > most {
		q.wrong(name, "Must be a whole number from 1 to "+strconv.Itoa(most)+".")
		return 0
	}
	return n
}

// getQuoteView answers with a view of a revision of an offer, from the figures that were kept.
func (s *Server) getQuoteView(c echo.Context) error {
	q := queryOf(c, "revision", "corner", "run", "width", "language", "paper")
	o := viewOptions(q)
	number := q.count("revision", 100000)
	if err := q.faults.Err(); err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	ctx := c.Request().Context()
	kept, err := s.config.Store.Offers.Quote(ctx, c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	r, err := s.config.Store.Offers.Revision(ctx, kept.ID, number)
	if err != nil {
		return s.reached(err)
	}
	est, err := ReadEstimate([]byte(r.Answer))
	if err != nil {
		return err
	}
	made, err := shopDay(r.CreatedAt, cat)
	if err != nil {
		return err
	}
	logo, err := s.logoFor(ctx, c.Param("view"))
	if err != nil {
		return err
	}
	subject := &show.Subject{Estimate: est, Shop: &cat.Settings.ShopSettings, Logo: logo, Terms: kept.Terms, Number: strconv.FormatInt(kept.Number, 10), Revision: r.Number,
		Date: made, ValidUntil: kept.ValidUntil, Reference: kept.Customer.Reference, Customer: lines(kept.Customer.Name, kept.Customer.Address)}
	return s.sendView(c, c.Param("view"), subject, o)
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

func (s *Server) sendView(c echo.Context, name string, subject *show.Subject, o show.Options) error {
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
