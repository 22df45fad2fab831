package api

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/store"
	"seamwright/store/db"
)

// unfitPrices is a list, a decision or a supplier that has the published form and cannot be taken.
var unfitPrices = &kind{http.StatusUnprocessableEntity, "unfit-price-list", "This list, decision or supplier cannot be taken",
	"The request has the published form, but its dates, lines or packs do not fit what there is. Every reason is listed."}

const priceUpdatesPath = "/v1/price-updates"

func (s *Server) priceUpdateRoutes() {
	e := s.echo
	e.POST(priceUpdatesPath, s.postPriceUpdate)
	e.GET(priceUpdatesPath, s.listPriceUpdates)
	e.GET(priceUpdatesPath+"/:id", s.getPriceUpdate)
	e.GET(priceUpdatesPath+"/:id/rows", s.listPriceUpdateRows)
	e.POST(priceUpdatesPath+"/:id/approve", func(c echo.Context) error { return s.decidePrices(c, true) })
	e.POST(priceUpdatesPath+"/:id/dismiss", func(c echo.Context) error { return s.decidePrices(c, false) })
	e.GET("/v1/suppliers", s.listSuppliers)
	e.GET("/v1/suppliers/:code", s.getSupplier)
	e.PUT("/v1/suppliers/:code", s.putSupplier)
	e.GET("/v1/suppliers/:code/articles", s.listArticles)
	e.PUT("/v1/suppliers/:code/articles", s.putArticles)
	e.DELETE("/v1/suppliers/:code/articles", s.deleteArticle)
}

// PriceUpload is a price list on its way in. Texts are as the sender wrote them; what is empty is not said.
type PriceUpload struct {
	Body          io.Reader // as stated by MediaType, not compressed
	MediaType     string    // text/csv, application/x-ndjson or application/json
	Supplier      string
	Currency      string // empty: the catalogue's
	ListDate      string // YYYY-MM-DD; empty: today
	EffectiveFrom string // YYYY-MM-DD; empty: the list date
	Unit          string // of rows that name none
	Separator     string // CSV: comma, semicolon or tab; empty: recognised
	DecimalSign   string // CSV: point or comma; empty: recognised
	DryRun        bool
	Replace       bool
	Key           string // Idempotency-Key
	By            string // who sends it
}

// UpdatePrices takes in a price list, as POST /v1/price-updates does. The catalogue serves the effect on the reference
// tops and the shop's time zone. It fails with faults, or with what went wrong below.
func UpdatePrices(ctx context.Context, st *store.Store, cat *catalogue.Snapshot, clock Clock, up PriceUpload) (*store.PriceUpdate, error) {
	day, err := shopDay(clock(), cat)
	if err != nil {
		return nil, err
	}
	if err := up.openJSON(); err != nil {
		return nil, err
	}
	list, options, err := up.read(day, cat.Settings.Currency)
	if err != nil {
		return nil, err
	}
	list.Now = clock()
	list.EffectItems = basket.Items(cat)
	list.Effect = func(changes []store.PriceChange) ([]store.TopEffect, error) {
		return effectOf(cat, changes, list.EffectiveFrom)
	}
	reader, err := pricelist.Open(up.Body, options)
	if err != nil {
		return nil, err
	}
	list.Rows, list.Understood = reader, reader.Understood
	update, err := st.UpdatePrices(ctx, list)
	return update, refusedPrices(err)
}

// refusedPrices gives faults about what cannot be their own kind of problem.
func refusedPrices(err error) error {
	if err == nil {
		return nil
	}
	var reused *db.KeyReusedError
	if errors.As(err, &reused) {
		return &refusal{kind: keyReused, detail: reused.Detail}
	}
	if errors.Is(err, db.ErrKeyInUse) {
		return &refusal{kind: keyInUse, detail: "A list with this Idempotency-Key is being worked on. Send it again in a moment."}
	}
	faults := fault.All(err)
	if kindOf(faults) != fault.Impossible {
		return err
	}
	return &refusal{kind: unfitPrices, faults: faults}
}

func effectOf(cat *catalogue.Snapshot, changes []store.PriceChange, day catalogue.Date) ([]store.TopEffect, error) {
	mine := make([]basket.Change, len(changes))
	for i, c := range changes {
		size, err := money.ParseQuantity(c.Size)
		if err != nil {
			return nil, err
		}
		mine[i] = basket.Change{Item: c.Item, Size: size, Price: c.Price}
	}
	effects := basket.Effects(cat, mine, day)
	out := make([]store.TopEffect, len(effects))
	for i, e := range effects {
		if out[i] = (store.TopEffect{Reference: e.Reference, Reason: e.Reason}); e.Reason == "" {
			out[i].CostBefore, out[i].CostAfter, out[i].Percent = e.Before.String(), e.After.String(), e.Percent
		}
	}
	return out, nil
}

func (s *Server) postPriceUpdate(c echo.Context) error {
	q := queryOf(c, "supplier", "currency", "list_date", "effective_from", "unit", "separator", "decimal_sign", "dry_run", "replace")
	about, err := writingOf(c, q)
	up := PriceUpload{
		Supplier: q.values.Get("supplier"), Currency: q.values.Get("currency"), ListDate: q.values.Get("list_date"), EffectiveFrom: q.values.Get("effective_from"),
		Unit: q.values.Get("unit"), Separator: q.values.Get("separator"), DecimalSign: q.values.Get("decimal_sign"),
		DryRun: q.flag("dry_run"), Replace: q.flag("replace"), Key: c.Request().Header.Get("Idempotency-Key"), By: about.actor,
	}
	if err == nil {
		err = q.faults.Err()
	}
	if err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	close, err := s.openUpload(c, &up)
	if err != nil {
		return err
	}
	defer close()
	update, err := UpdatePrices(c.Request().Context(), s.config.Store, cat, s.config.Now, up)
	if err != nil {
		return s.uploadFailed(c, err)
	}
	status := http.StatusOK
	if update.ID != "" && !update.Repeated {
		status = http.StatusCreated
		c.Response().Header().Set(echo.HeaderLocation, priceUpdatesPath+"/"+update.ID)
	}
	return s.sendPriceUpdate(c, status, update)
}

func (s *Server) sendPriceUpdate(c echo.Context, status int, u *store.PriceUpdate) error {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.priceUpdate(u, true)
	return send(c, status, echo.MIMEApplicationJSON, w.buf)
}

func (s *Server) getPriceUpdate(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	u, err := s.config.Store.PriceUpdate(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.priceUpdate(u, true)
	return sendTagged(c, echo.MIMEApplicationJSON, tag(w.buf))
}

func (s *Server) listPriceUpdates(c echo.Context) error {
	const path = "price-updates"
	q := queryOf(c, "supplier", "status", "limit", "cursor")
	supplier, status, limit := q.values.Get("supplier"), q.oneOf("status", store.PricesApplied, store.PricesUnchanged, store.PricesHeld, store.PricesDismissed), q.limit()
	after := q.numberAfter(path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, next, err := s.config.Store.PriceUpdates(c.Request().Context(), supplier, status, after, limit)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if next > 0 {
		cursor = cursorAfter(path, strconv.FormatInt(next, 10))
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(u **store.PriceUpdate) { w.priceUpdate(*u, false) })
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) listPriceUpdateRows(c echo.Context) error {
	path := "price-updates/" + c.Param("id") + "/rows"
	q := queryOf(c, "status", "limit", "cursor")
	status, limit := q.oneOf("status", store.RowHeld, store.RowRejected, store.RowApproved, store.RowDismissed), q.limit()
	after := q.numberAfter(path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	rows, err := s.config.Store.PriceUpdateRows(c.Request().Context(), c.Param("id"), status, int(after), limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(rows) > limit {
		rows = rows[:limit]
		cursor = cursorAfter(path, strconv.Itoa(rows[limit-1].Place))
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", rows, w.priceUpdateRow)
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) sendPage(c echo.Context, write func(*writer)) error {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	write(w)
	w.close()
	if w.wrong != nil {
		return w.wrong
	}
	return sendTagged(c, echo.MIMEApplicationJSON, tag(w.buf))
}

// oneOf reads a word that must be one of those named; empty when it is not there.
func (q *query) oneOf(name string, words ...string) string {
	word := q.values.Get(name)
	for _, w := range words {
		if w == word {
			return word
		}
	}
	if q.values.Has(name) {
		q.wrong(name, "Must be "+inWords(words)+".")
	}
	return ""
}

// numberAfter reads a cursor whose key is a number; 0 for the first page.
func (q *query) numberAfter(path string) int64 {
	key := q.cursor(path)
	if key == "" {
		return 0
	}
	n, err := strconv.ParseInt(key, 10, 32)
	if err != nil || n < 1 {
		q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
	}
	return n
}
