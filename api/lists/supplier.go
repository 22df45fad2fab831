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
	s.Serve("DELETE /v1/suppliers/:code", s.deleteSupplier)
	s.Serve("GET /v1/suppliers/:code/articles", s.listArticles)
	s.Serve("PUT /v1/suppliers/:code/articles", s.putArticles)
	s.Serve("DELETE /v1/suppliers/:code/articles", s.deleteArticle)
}

func (s *room) listSuppliers(c *web.Call) error {
	list, err := s.Store.Lists.Suppliers(c.Ctx(), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(x *lists.Supplier) string { return x.Code }, wire.Item(shownSupplier)))
}

func (s *room) getSupplier(c *web.Call) error {
	x, err := s.Store.Lists.Supplier(c.Ctx(), c.Param("code"))
	if err != nil {
		return err
	}
	return c.Version(x.Version, web.Value(shownSupplier(&x)))
}

func (s *room) putSupplier(c *web.Call) error {
	entry, err := web.Read(c, readSupplier)
	if err != nil {
		return err
	}
	x := entry.Supplier
	if err := checkLayout(x.Layout); err != nil {
		return err
	}
	if x.Code = c.Param("code"); !code.MatchString(x.Code) || len(x.Code) > 64 {
		return web.RefuseAll(web.UnfitPrices, fault.List{{Kind: fault.Impossible,
			Detail: "A supplier's code is made of lower-case letters, digits and underscores, such as north_mill, at most 64."}})
	}
	x, created, err := s.Store.Lists.PutSupplier(c.Ctx(), x, entry.keepLayout, c.Actor(),
		func(version int64) error { return c.Allows(version > 0, version) })
	if err != nil {
		return err
	}
	status := http.StatusOK
	if created {
		status = http.StatusCreated
		c.Made(c.Request().URL.EscapedPath())
	}
	return c.Saved(status, x.Version, web.Value(shownSupplier(&x)))
}

// deleteSupplier takes a supplier out of use.
func (s *room) deleteSupplier(c *web.Call) error {
	code := c.Param("code")
	revision, err := s.Store.Lists.Retire(c.Ctx(), code, c.Actor(),
		func(version int64) error { return c.Allows(true, version) })
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(struct {
		Code     string `json:"code"`
		Revision int64  `json:"revision"`
	}{code, revision}))
}

// supplierEntry is a supplier as it shall be.
type supplierEntry struct {
	lists.Supplier
	keepLayout bool // the body says nothing of it
}

func readSupplier(o *wire.Object) supplierEntry {
	limit := func(key string) *money.Rate {
		if o.Null(key) {
			return nil // not there, or null
		}
		return o.Rate(key)
	}
	x := lists.Supplier{Name: o.Line("name"), MoveLimit: limit("move_limit"), MissingLimit: limit("missing_limit"),
		HeldLimit: limit("held_limit"), Layout: readLayout(o)}
	return supplierEntry{x, !o.Has("list_layout")}
}

// supplier is a supplier as answers show it; a limit of its own, or null.
type supplier struct {
	Code         string      `json:"code"`
	Name         string      `json:"name"`
	MoveLimit    *money.Rate `json:"move_limit"`
	MissingLimit *money.Rate `json:"missing_limit"`
	HeldLimit    *money.Rate `json:"held_limit"`
	Layout       *layout     `json:"list_layout"`
}

func shownSupplier(x *lists.Supplier) supplier {
	return supplier{x.Code, x.Name, x.MoveLimit, x.MissingLimit, x.HeldLimit, shownLayout(x.Layout)}
}

func (s *room) listArticles(c *web.Call) error {
	list, err := s.Store.Lists.Articles(c.Ctx(), c.Param("code"), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(a *lists.Article) string { return a.Article }, wire.Item(shownArticle)))
}

// article is a supplier's number for a pack as answers show it.
type article struct {
	Article string         `json:"article"`
	Item    string         `json:"item"`
	Size    money.Quantity `json:"pack_size"`
}

func shownArticle(a *lists.Article) article { return article{a.Article, a.Item, a.Size} }

func (s *room) putArticles(c *web.Call) error {
	list, err := web.Read(c, readArticles)
	if err != nil {
		return err
	}
	if err := s.Store.Lists.PutArticles(c.Ctx(), c.Param("code"), list, c.Actor()); err != nil {
		return refusedPrices(err)
	}
	return c.Send(http.StatusOK, web.Value(map[string]int{"saved": len(list)}))
}

func readArticles(o *wire.Object) []lists.Article {
	return wire.Each(o.Children("items"), func(o *wire.Object) lists.Article {
		a := lists.Article{Article: o.Line("article"), Item: o.Line("item")}
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
