package api

import (
	"net/http"
	"regexp"

	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/store/lists"
)

// code is what a code of the catalogue looks like.
var code = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

func (s *listRoom) supplierRoutes() {
	s.serve("GET /v1/suppliers", s.listSuppliers)
	s.serve("GET /v1/suppliers/:code", s.getSupplier)
	s.serve("PUT /v1/suppliers/:code", s.putSupplier)
	s.serve("GET /v1/suppliers/:code/articles", s.listArticles)
	s.serve("PUT /v1/suppliers/:code/articles", s.putArticles)
	s.serve("DELETE /v1/suppliers/:code/articles", s.deleteArticle)
}

func (s *listRoom) listSuppliers(c *Call) error {
	list, err := s.Store.Lists.Suppliers(c.Ctx(), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, list, func(x *lists.Supplier) string { return x.Code }, (*writer).supplier))
}

func (s *listRoom) getSupplier(c *Call) error {
	x, err := s.Store.Lists.Supplier(c.Ctx(), c.Param("code"))
	if err != nil {
		return err
	}
	return c.Version(x.Version, func(w *writer) { w.supplier(&x) })
}

func (s *listRoom) putSupplier(c *Call) error {
	x, err := readBody(c, readSupplier)
	if err != nil {
		return err
	}
	if x.Code = c.Param("code"); !code.MatchString(x.Code) || len(x.Code) > 64 {
		return &refusal{kind: unfitPrices, faults: fault.List{{Kind: fault.Impossible, Detail: "A supplier's code is made of lower-case letters, digits and underscores, such as north_mill, at most 64."}}}
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
	return c.Saved(status, x.Version, func(w *writer) { w.supplier(&x) })
}

func readSupplier(o *object) lists.Supplier {
	limit := func(key string) *money.Rate {
		if o.fields[key] == nil {
			return nil // not there, or null
		}
		return o.rate(key)
	}
	return lists.Supplier{Name: o.text("name"), MoveLimit: limit("move_limit"), MissingLimit: limit("missing_limit"), HeldLimit: limit("held_limit")}
}

func (w *writer) supplier(x *lists.Supplier) {
	w.open()
	w.text("code", x.Code)
	w.text("name", x.Name)
	w.limit("move_limit", x.MoveLimit)
	w.limit("missing_limit", x.MissingLimit)
	w.limit("held_limit", x.HeldLimit)
	w.close()
}

func (w *writer) limit(name string, r *money.Rate) {
	if r == nil {
		w.null(name)
		return
	}
	w.literal(name, r.String())
}

func (s *listRoom) listArticles(c *Call) error {
	list, err := s.Store.Lists.Articles(c.Ctx(), c.Param("code"), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, list, func(a *lists.Article) string { return a.Article }, (*writer).article))
}

func (w *writer) article(a *lists.Article) {
	w.open()
	w.text("article", a.Article)
	w.text("item", a.Item)
	w.literal("pack_size", a.Size.String())
	w.close()
}

func (s *listRoom) putArticles(c *Call) error {
	list, err := readBody(c, readArticles)
	if err != nil {
		return err
	}
	if err := s.Store.Lists.PutArticles(c.Ctx(), c.Param("code"), list, c.Actor()); err != nil {
		return refusedPrices(err)
	}
	return c.Send(http.StatusOK, asObject(func(w *writer) { w.int("saved", int64(len(list))) }))
}

func readArticles(o *object) []lists.Article {
	return each(o.children("items"), func(o *object) lists.Article {
		a := lists.Article{Article: o.text("article"), Item: o.text("item")}
		if size := o.rate("pack_size"); size != nil {
			a.Size = money.Quantity(*size)
		}
		return a
	})
}

func (s *listRoom) deleteArticle(c *Call) error {
	article := c.Text("article")
	if article == "" {
		c.Wrong("article", "Is missing; name the article number to forget.")
		return c.Faults()
	}
	if err := s.Store.Lists.DeleteArticle(c.Ctx(), c.Param("code"), article, c.Actor()); err != nil {
		return err
	}
	return c.Gone()
}
