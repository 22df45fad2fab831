package api

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

func (s *Server) quoteRoutes() {
	e := s.echo
	e.GET("/v1/quotes", s.listQuotes)
	e.POST("/v1/quotes", s.postQuote)
	e.GET("/v1/quotes/:id", s.getQuote)
	e.PUT("/v1/quotes/:id", s.putQuote)
	e.DELETE("/v1/quotes/:id/customer", s.deleteCustomer)
	e.POST("/v1/quotes/:id/status", s.postStatus)
	e.POST("/v1/quotes/:id/reprice", s.repriceQuote)
	e.GET("/v1/quotes/:id/revisions", s.listRevisions)
	e.POST("/v1/quotes/:id/revisions", s.postRevision)
	e.GET("/v1/quotes/:id/revisions/:number", s.getRevision)
	e.GET("/v1/quotes/:id/revisions/:number/difference", s.getDifference)
}

// getQuote answers with an offer and its newest revision, to the letter as it was given.
func (s *Server) getQuote(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	ctx := c.Request().Context()
	q, err := s.config.Store.Offers.Quote(ctx, c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	r, err := s.config.Store.Offers.Revision(ctx, q.ID, q.Revision)
	if err != nil {
		return s.reached(err)
	}
	moves, err := s.config.Store.Offers.Moves(ctx, q.ID)
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.offer(&q, s.shopToday())
	writeAll(w, "moves", moves, w.quoteMove)
	w.raw("estimate", r.Answer)
	w.close()
	if w.wrong != nil {
		return w.wrong
	}
	return sendTagged(c, echo.MIMEApplicationJSON, versioned(tag(w.buf), q.Version))
}

// shopToday is the shop's day; without a catalogue the day in UTC.
func (s *Server) shopToday() catalogue.Date {
	if cat := s.config.Snapshot(); cat != nil {
		return s.today(cat)
	}
	return today(s.config.Now().UTC())
}

// ShopDay is the day that now is in the shop's time zone.
func (s *Server) ShopDay() catalogue.Date { return s.shopToday() }

const quotesPath = "quotes"

func (s *Server) listQuotes(c echo.Context) error {
	q := queryOf(c, "number", "reference", "customer", "status", "species", "from", "to", "total_from", "total_to", "expiring_within", "drifted", "moved", "limit", "cursor")
	wanted := s.quoteQuery(q)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	limit := wanted.Limit
	wanted.Limit++ // one more tells whether there is another page
	ctx := c.Request().Context()
	list, err := s.config.Store.Offers.List(ctx, wanted)
	if err != nil {
		return s.reached(err)
	}
	unchecked := int64(0)
	if wanted.MovedAtLeast != nil {
		cat, err := s.snapshot()
		if err != nil {
			return err
		}
		if unchecked, err = s.config.Store.Offers.Unchecked(ctx, cat.Revision, wanted.Today); err != nil {
			return s.reached(err)
		}
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list[:min(limit, len(list))], func(one *offers.Quote) { w.open(); w.offer(one, wanted.Today); w.close() })
		if len(list) > limit {
			w.text("next_cursor", cursorAfter(quotesPath, placeText(&list[limit-1])))
		} else {
			w.null("next_cursor")
		}
		if wanted.MovedAtLeast != nil {
			w.int("unchecked", unchecked)
		}
	})
}

// quoteQuery reads the filters of a list of offers.
func (s *Server) quoteQuery(q *query) offers.Query {
	wanted := offers.Query{Reference: q.short("reference", 200), Customer: q.short("customer", 200), Species: q.short("species", 64), Limit: q.limit(), Today: s.shopToday()}
	if q.values.Has("number") {
		n, err := strconv.ParseInt(q.values.Get("number"), 10, 64)
		if wanted.Number = n; err != nil || n < 1 {
			q.wrong("number", "Must be the number of a quote.")
		}
	}
	if q.values.Has("status") {
		for status := range strings.SplitSeq(q.values.Get("status"), ",") {
			if !slices.Contains(quote.Statuses(), quote.Status(status)) {
				q.wrong("status", "Must be one of draft, sent, accepted, declined, expired and withdrawn, or several joined by commas.")
				break
			}
			wanted.Statuses = append(wanted.Statuses, status)
		}
	}
	from, to := q.date("from"), q.date("to")
	if from != "" && to != "" && from > to {
		q.wrong("to", "Must not be before from.")
	}
	wanted.From, wanted.Before = dayStart(string(from), 0), dayStart(string(to), 1)
	wanted.TotalFrom, wanted.TotalTo = q.amount("total_from"), q.amount("total_to")
	if q.values.Has("expiring_within") {
		days, err := strconv.Atoi(q.values.Get("expiring_within"))
		if err != nil || days < 0 || days > 3650 {
			q.wrong("expiring_within", "Must be a whole number of days from 0 to 3650.")
		}
		wanted.ExpiringUntil = wanted.Today.Before(-days)
	}
	wanted.MovedAtLeast = s.movedAtLeast(q)
	wanted.After = q.quoteCursor()
	return wanted
}

// movedAtLeast reads drifted and moved: the percent by which a cost must have moved, nil when that is not asked.
func (s *Server) movedAtLeast(q *query) *float64 {
	drifted := q.flag("drifted")
	if !q.values.Has("moved") {
		if !drifted {
			return nil
		}
		limit := 5.0
		if cat := s.config.Snapshot(); cat != nil {
			limit = cat.Settings.QuoteDriftLimit.Float()
		}
		return &limit
	}
	percent, err := strconv.ParseFloat(q.values.Get("moved"), 64)
	if err != nil || percent < 0 || percent > 1000 {
		q.wrong("moved", "Must be a number of percent from 0 to 1000.")
	}
	return &percent
}

// placeText writes where a page ended.
func placeText(q *offers.Quote) string {
	return strconv.FormatInt(q.CreatedAt.UnixMicro(), 10) + " " + strconv.FormatInt(q.Number, 10)
}

func (q *query) quoteCursor() *offers.Place {
	after := q.cursor(quotesPath)
	if after == "" {
		return nil
	}
	made, number, _ := strings.Cut(after, " ")
	at, wrong := strconv.ParseInt(made, 10, 64)
	n, err := strconv.ParseInt(number, 10, 64)
	if wrong != nil || err != nil || n < 1 || at < 0 || at > 1<<53 {
		q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
	}
	return &offers.Place{CreatedAt: time.UnixMicro(at), Number: n}
}

// short reads a text of bounded length.
func (q *query) short(name string, longest int) string {
	text := q.values.Get(name)
	if q.values.Has(name) && !plainText(text, longest) {
		q.wrong(name, "Must be 1 to "+strconv.Itoa(longest)+" visible characters.")
	}
	return text
}

// amount reads an amount of money, empty when it is not there.
func (q *query) amount(name string) string {
	if !q.values.Has(name) {
		return ""
	}
	a, err := money.ParseAmount(q.values.Get(name))
	if err != nil || a.Float() > 1e11 {
		q.wrong(name, "Must be an amount such as 1250.00.")
	}
	return a.String()
}

func (s *Server) listRevisions(c echo.Context) error {
	path := "quotes/" + c.Param("id") + "/revisions"
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(path)
	from := 0
	if after != "" {
		n, err := strconv.Atoi(after)
		if from = n; err != nil {
			q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	ctx := c.Request().Context()
	if _, err := s.config.Store.Offers.Quote(ctx, c.Param("id")); err != nil {
		return s.reached(err)
	}
	list, err := s.config.Store.Offers.Revisions(ctx, c.Param("id"), from, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		cursor = cursorAfter(path, strconv.Itoa(list[limit-1].Number))
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(r *offers.Revision) { w.open(); w.revision(r); w.close() })
		w.textOrNull("next_cursor", cursor)
	})
}

// revisionParam reads the number of a revision from the path.
func revisionParam(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return -1 // no revision has it
	}
	return n
}

func (s *Server) getRevision(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	r, err := s.config.Store.Offers.Revision(c.Request().Context(), c.Param("id"), revisionParam(c.Param("number")))
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.revision(&r)
	w.raw("request", r.Request)
	w.raw("estimate", r.Answer)
	w.close()
	return sendTagged(c, echo.MIMEApplicationJSON, tag(w.buf))
}

// getDifference explains what changed from one revision to another.
func (s *Server) getDifference(c echo.Context) error {
	q := queryOf(c, "from")
	number := revisionParam(c.Param("number"))
	from := number - 1
	if q.values.Has("from") {
		if from = revisionParam(q.values.Get("from")); from < 1 {
			q.wrong("from", "Must be the number of a revision.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	ctx := c.Request().Context()
	after, err := s.config.Store.Offers.Revision(ctx, c.Param("id"), number)
	if err != nil {
		return s.reached(err)
	}
	before := after // the first revision differs in nothing from what was before it
	if from >= 1 {
		if before, err = s.config.Store.Offers.Revision(ctx, c.Param("id"), from); err != nil {
			return s.reached(err)
		}
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.int("from", int64(before.Number))
	w.int("to", int64(after.Number))
	if err := w.difference(&before, &after); err != nil {
		return err
	}
	w.close()
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}
