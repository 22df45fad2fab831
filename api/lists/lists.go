// Package lists takes in suppliers' price lists, shows what came of them, and keeps the suppliers.
package lists

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/lists"
)

const priceUpdatesPath = "/v1/price-updates"

// Open adds the operations about price lists and suppliers. Largest is how many bytes a list may have; 0: 512 MiB.
func Open(w *web.Server, largest int64) {
	if largest <= 0 {
		largest = largestList
	}
	s := &room{w, largest}
	s.supplierRoutes()
	s.Serve("POST /v1/price-updates", s.postPriceUpdate)
	s.Serve("GET /v1/price-updates", s.listPriceUpdates)
	s.Serve("GET /v1/price-updates/:id", s.getPriceUpdate)
	s.Serve("GET /v1/price-updates/:id/rows", s.listPriceUpdateRows)
	// has a connection of its own
	own := web.Way{Long: true}
	if s.Store != nil {
		own.Lend = s.Store.Lists.Lend
	}
	s.Serve("POST /v1/price-updates/:id/approve", func(c *web.Call) error { return s.postDecision(c, true) }, own)
	s.Serve("POST /v1/price-updates/:id/dismiss", func(c *web.Call) error { return s.postDecision(c, false) }, own)
}

// TakeIn takes in a price list, as POST /v1/price-updates does. The catalogue serves the effect on the reference
// tops and the shop's time zone. It fails with faults, or with what went wrong below.
func TakeIn(ctx context.Context, st *store.Store, cat *catalogue.Snapshot, now func() time.Time,
	up Upload) (*lists.Update, error) {
	day, err := web.ShopDay(now(), cat)
	if err != nil {
		return nil, err
	}
	if err := up.openJSON(); err != nil {
		return nil, err
	}
	up.DryRun = up.DryRun || up.Test
	layout, err := up.follow(ctx, st.Lists)
	if err != nil {
		return nil, err
	}
	list, options, err := up.read(day, cat.Settings.Currency)
	if err != nil {
		return nil, err
	}
	options.Layout = layout
	list.Now = now()
	list.EffectItems = basket.Items(cat)
	list.Effect = func(changes []lists.Change) ([]lists.TopEffect, error) {
		return effectOf(cat, changes, list.EffectiveFrom)
	}
	reader, end, err := up.open(ctx, options)
	if err != nil {
		return nil, err
	}
	defer end()
	list.Rows, list.Understood, list.Cell = reader, reader.Understood, reader.Cell
	update, err := st.Lists.TakeIn(ctx, list)
	return update, refusedPrices(err)
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
func uploadOf(c *web.Call) Upload {
	return Upload{
		Supplier: c.Text("supplier"), Currency: c.Text("currency"), ListDate: c.Text("list_date"),
		EffectiveFrom: c.Text("effective_from"),
		Unit:          c.Text("unit"), Separator: c.Text("separator"), DecimalSign: c.Text("decimal_sign"), Sheet: c.Text("sheet"),
		DryRun: c.Flag("dry_run"), Replace: c.Flag("replace"), Key: c.Key(), By: c.Actor(), Test: web.CallerOf(c).Test,
	}
}

func (s *room) postPriceUpdate(c *web.Call) error {
	up := uploadOf(c)
	end, err := s.openUpload(c, &up)
	if err != nil {
		return err
	}
	defer end()
	update, err := TakeIn(c.Ctx(), s.Store, c.Cat, s.Now, up)
	if err != nil {
		web.Drain(c.Request())
		return err
	}
	status := http.StatusOK
	if update.ID != "" && !update.Repeated {
		status = http.StatusCreated
		c.Made(priceUpdatesPath + "/" + update.ID)
	}
	return c.Send(status, web.Value(shownReport(update)))
}

func (s *room) getPriceUpdate(c *web.Call) error {
	u, err := s.Store.Lists.Update(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Current(web.Value(shownReport(u)))
}

func (s *room) listPriceUpdates(c *web.Call) error {
	after, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, next, err := s.Store.Lists.Updates(c.Ctx(), c.Text("supplier"), web.Several[lists.Status](c, "status"), after, c.Limit())
	if err != nil {
		return err
	}
	return c.Current(web.Object(func(w *wire.Writer) {
		wire.All(w, "items", list, wire.Item(shownUpdate))
		web.NextNumber(w, c, next)
	}))
}

func (s *room) listPriceUpdateRows(c *web.Call) error {
	after, err := c.NumberAfter()
	if err != nil {
		return err
	}
	rows, err := s.Store.Lists.Rows(c.Ctx(), c.Param("id"), web.Several[lists.RowStatus](c, "status"), int(after), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, rows, func(r *lists.Row) string { return strconv.Itoa(r.Place) }, wire.Item(shownRow)))
}
