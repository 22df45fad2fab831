package api

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strconv"
	"time"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
	"seamwright/store"
	"seamwright/store/answers"
	"seamwright/store/db"
	"seamwright/store/lists"
)

const priceUpdatesPath = "/v1/price-updates"

// listRoom takes in suppliers' price lists.
type listRoom struct {
	*webServer
	largest int64 // bytes of a list, as it is sent and when it is expanded
}

// openLists adds the operations about price lists and suppliers. Largest is how many bytes a list may have; 0: 512 MiB.
func openLists(w *webServer, largest int64) {
	if largest <= 0 {
		largest = largestList
	}
	s := &listRoom{w, largest}
	s.supplierRoutes()
	s.serve("POST /v1/price-updates", s.postPriceUpdate)
	s.serve("GET /v1/price-updates", s.listPriceUpdates)
	s.serve("GET /v1/price-updates/:id", s.getPriceUpdate)
	s.serve("GET /v1/price-updates/:id/rows", s.listPriceUpdateRows)
	own := way{once: func(ctx context.Context, id [32]byte, now time.Time, work answers.Work) error { // has a connection of its own
		return s.Store.Lists.Lend(ctx, func(on db.Starter) error { return answers.OnceOn(ctx, on, id, now, work) })
	}}
	s.serve("POST /v1/price-updates/:id/approve", func(c *Call) error { return s.postDecision(c, true) }, own)
	s.serve("POST /v1/price-updates/:id/dismiss", func(c *Call) error { return s.postDecision(c, false) }, own)
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
func UpdatePrices(ctx context.Context, st *store.Store, cat *catalogue.Snapshot, clock Clock, up PriceUpload) (*lists.Update, error) {
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
	list.Effect = func(changes []lists.Change) ([]lists.TopEffect, error) {
		return effectOf(cat, changes, list.EffectiveFrom)
	}
	reader, err := pricelist.Open(up.Body, options)
	if err != nil {
		return nil, err
	}
	list.Rows, list.Understood = reader, reader.Understood
	update, err := st.Lists.TakeIn(ctx, list)
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

func effectOf(cat *catalogue.Snapshot, changes []lists.Change, day catalogue.Date) ([]lists.TopEffect, error) {
	mine := make([]basket.Change, len(changes))
	for i, c := range changes {
		mine[i] = basket.Change{Item: c.Item, Size: c.Size, Price: c.Price}
	}
	effects := basket.Effects(cat, mine, day)
	out := make([]lists.TopEffect, len(effects))
	for i, e := range effects {
		if out[i] = (lists.TopEffect{Reference: e.Reference, Reason: e.Reason}); e.Reason == "" {
			out[i].CostBefore, out[i].CostAfter, out[i].Percent = e.Before.String(), e.After.String(), e.Percent
		}
	}
	return out, nil
}

// uploadOf is what a call says of the list in its body.
func uploadOf(c *Call) PriceUpload {
	return PriceUpload{
		Supplier: c.Text("supplier"), Currency: c.Text("currency"), ListDate: c.Text("list_date"), EffectiveFrom: c.Text("effective_from"),
		Unit: c.Text("unit"), Separator: c.Text("separator"), DecimalSign: c.Text("decimal_sign"),
		DryRun: c.Flag("dry_run"), Replace: c.Flag("replace"), Key: c.Request().Header.Get(keyHeader), By: c.Actor(),
	}
}

func (s *listRoom) postPriceUpdate(c *Call) error {
	up := uploadOf(c)
	end, err := s.openUpload(c, &up)
	if err != nil {
		return err
	}
	defer end()
	update, err := UpdatePrices(c.Ctx(), s.Store, c.Cat, s.Now, up)
	if err != nil {
		return uploadFailed(c, err)
	}
	status := http.StatusOK
	if update.ID != "" && !update.Repeated {
		status = http.StatusCreated
		c.Made(priceUpdatesPath + "/" + update.ID)
	}
	return c.Send(status, func(w *writer) { w.priceUpdate(update, true) })
}

func (s *listRoom) getPriceUpdate(c *Call) error {
	u, err := s.Store.Lists.Update(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Current(func(w *writer) { w.priceUpdate(u, true) })
}

func (s *listRoom) listPriceUpdates(c *Call) error {
	after, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, next, err := s.Store.Lists.Updates(c.Ctx(), c.Text("supplier"), lists.Status(c.Text("status")), after, c.Limit())
	if err != nil {
		return err
	}
	return c.Current(asObject(func(w *writer) {
		writeAll(w, "items", list, func(w *writer, u **lists.Update) { w.priceUpdate(*u, false) })
		nextNumber(w, c, next)
	}))
}

func (s *listRoom) listPriceUpdateRows(c *Call) error {
	after, err := c.NumberAfter()
	if err != nil {
		return err
	}
	rows, err := s.Store.Lists.Rows(c.Ctx(), c.Param("id"), lists.RowStatus(c.Text("status")), int(after), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, rows, func(r *lists.Row) string { return strconv.Itoa(r.Place) }, (*writer).priceUpdateRow))
}
