package lists

import (
	"net/http"
	"regexp"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/store/lists"
)

// code is what a code of the catalogue looks like.
var code = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

func (s *room) supplierRoutes() {
	s.Serve("GET /v1/suppliers", s.listSuppliers)
	s.Serve("GET /v1/suppliers/:code", s.getSupplier)
	s.Serve("PUT /v1/suppliers/:code", s.putSupplier)
	s.Serve("GET /v1/suppliers/:code/articles", s.listArticles)
	s.Serve("PUT /v1/suppliers/:code/articles", s.putArticles)
	s.Serve("DELETE /v1/suppliers/:code/articles", s.deleteArticle)
}

func (s *room) listSuppliers(c *web.Call) error {
	list, err := s.Store.Lists.Suppliers(c.Ctx(), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(x *lists.Supplier) string { return x.Code }, writeSupplier))
}

func (s *room) getSupplier(c *web.Call) error {
	x, err := s.Store.Lists.Supplier(c.Ctx(), c.Param("code"))
	if err != nil {
		return err
	}
	return c.Version(x.Version, func(w *wire.Writer) { writeSupplier(w, &x) })
}

func (s *room) putSupplier(c *web.Call) error {
	x, err := web.Read(c, readSupplier)
	if err != nil {
		return err
	}
	if x.Code = c.Param("code"); !code.MatchString(x.Code) || len(x.Code) > 64 {
		return web.RefuseAll(web.UnfitPrices, fault.List{{Kind: fault.Impossible, Detail: "A supplier's code is made of lower-case letters, digits and underscores, such as north_mill, at most 64."}})
	}
	x, created, err := s.Store.Lists.PutSupplier(c.Ctx(), x, c.Actor(), func(version int64) error { return c.Allows(version > 0, version) })
	if err != nil {
		return err
	}
	status := http.StatusOK
	if created {
		status = http.StatusCreated
		c.Made(c.Request().URL.EscapedPath())
	}
	return c.Saved(status, x.Version, func(w *wire.Writer) { writeSupplier(w, &x) })
}

func readSupplier(o *wire.Object) lists.Supplier {
	limit := func(key string) *money.Rate {
		if o.Null(key) {
			return nil // not there, or null
		}
		return o.Rate(key)
	}
	return lists.Supplier{Name: o.Text("name"), MoveLimit: limit("move_limit"), MissingLimit: limit("missing_limit"), HeldLimit: limit("held_limit")}
}

func writeSupplier(w *wire.Writer, x *lists.Supplier) {
	w.Open()
	w.Text("code", x.Code)
	w.Text("name", x.Name)
	writeLimit(w, "move_limit", x.MoveLimit)
	writeLimit(w, "missing_limit", x.MissingLimit)
	writeLimit(w, "held_limit", x.HeldLimit)
	w.Close()
}

func writeLimit(w *wire.Writer, name string, r *money.Rate) {
	if r == nil {
		w.Null(name)
		return
	}
	w.Literal(name, r.String())
}

func (s *room) listArticles(c *web.Call) error {
	list, err := s.Store.Lists.Articles(c.Ctx(), c.Param("code"), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(a *lists.Article) string { return a.Article }, writeArticle))
}

func writeArticle(w *wire.Writer, a *lists.Article) {
	w.Open()
	w.Text("article", a.Article)
	w.Text("item", a.Item)
	w.Literal("pack_size", a.Size.String())
	w.Close()
}

func (s *room) putArticles(c *web.Call) error {
	list, err := web.Read(c, readArticles)
	if err != nil {
		return err
	}
	if err := s.Store.Lists.PutArticles(c.Ctx(), c.Param("code"), list, c.Actor()); err != nil {
		return refusedPrices(err)
	}
	return c.Send(http.StatusOK, web.Object(func(w *wire.Writer) { w.Int("saved", int64(len(list))) }))
}

func readArticles(o *wire.Object) []lists.Article {
	return wire.Each(o.Children("items"), func(o *wire.Object) lists.Article {
		a := lists.Article{Article: o.Text("article"), Item: o.Text("item")}
		if size := o.Rate("pack_size"); size != nil {
			a.Size = money.Quantity(*size)
		}
		return a
	})
}

func (s *room) deleteArticle(c *web.Call) error {
	if err := s.Store.Lists.DeleteArticle(c.Ctx(), c.Param("code"), c.Text("article"), c.Actor()); err != nil {
		return err
	}
	return c.Gone()
}
