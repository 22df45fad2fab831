package api

import (
	"net/http"
	"regexp"
	"strconv"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store"
)

var (
	supplierForm = formOf("SupplierEntry")
	articlesForm = formOf("ArticleEntries")
)

// code is what a code of the catalogue looks like.
var code = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)

func (s *Server) listSuppliers(c echo.Context) error {
	const path = "suppliers"
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Suppliers(c.Request().Context(), after, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		cursor = cursorAfter(path, list[limit-1].Code)
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, w.supplier)
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) getSupplier(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	x, err := s.config.Store.Supplier(c.Request().Context(), c.Param("code"))
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.supplier(&x)
	return sendTagged(c, echo.MIMEApplicationJSON, versioned(tag(w.buf), x.Version))
}

func (s *Server) putSupplier(c echo.Context) error {
	q := queryOf(c)
	about, err := writingOf(c, q)
	if err != nil {
		return err
	}
	var x store.Supplier
	err = s.withBody(c, func(raw []byte) (err error) {
		x, err = bind(raw, supplierForm, readSupplier)
		return err
	})
	if err != nil {
		return err
	}
	if x.Code = c.Param("code"); !code.MatchString(x.Code) || len(x.Code) > 64 {
		return &refusal{kind: unfitPrices, faults: fault.List{{Kind: fault.Impossible, Detail: "A supplier's code is made of lower-case letters, digits and underscores, such as north_mill, at most 64."}}}
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	x, created, err := s.config.Store.PutSupplier(c.Request().Context(), x, about.actor, func(version int64) error { return about.allows(version > 0, version) })
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.supplier(&x)
	c.Response().Header().Set("ETag", versioned(tag(w.buf), x.Version).etag)
	if created {
		c.Response().Header().Set(echo.HeaderLocation, c.Request().URL.EscapedPath())
		return send(c, http.StatusCreated, echo.MIMEApplicationJSON, w.buf)
	}
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}

func readSupplier(o *object) store.Supplier {
	limit := func(key string) string {
		if o.fields[key] == nil {
			return "" // not there, or null
		}
		if r := o.rate(key); r != nil {
			return r.String()
		}
		return ""
	}
	return store.Supplier{Name: o.text("name"), MoveLimit: limit("move_limit"), MissingLimit: limit("missing_limit"), HeldLimit: limit("held_limit")}
}

func (w *writer) supplier(x *store.Supplier) {
	w.open()
	w.text("code", x.Code)
	w.text("name", x.Name)
	w.literal("move_limit", x.MoveLimit)
	w.literal("missing_limit", x.MissingLimit)
	w.literal("held_limit", x.HeldLimit)
	w.close()
}

func (s *Server) listArticles(c echo.Context) error {
	path := "suppliers/" + c.Param("code") + "/articles"
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Articles(c.Request().Context(), c.Param("code"), after, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		cursor = cursorAfter(path, list[limit-1].Article)
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(a *store.Article) {
			w.open()
			w.text("article", a.Article)
			w.text("item", a.Item)
			w.literal("pack_size", a.Size)
			w.close()
		})
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) putArticles(c echo.Context) error {
	about, err := writingOf(c, queryOf(c))
	if err != nil {
		return err
	}
	var list []store.Article
	err = s.withBody(c, func(raw []byte) (err error) {
		list, err = bind(raw, articlesForm, readArticles)
		return err
	})
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	if err := s.config.Store.PutArticles(c.Request().Context(), c.Param("code"), list, about.actor); err != nil {
		return s.reached(refusedPrices(err))
	}
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, []byte(`{"saved":`+strconv.Itoa(len(list))+`}`))
}

func readArticles(o *object) []store.Article {
	return each(o.children("items"), func(o *object) store.Article {
		a := store.Article{Article: o.text("article"), Item: o.text("item")}
		if size := o.rate("pack_size"); size != nil {
			a.Size = size.String()
		}
		return a
	})
}

func (s *Server) deleteArticle(c echo.Context) error {
	q := queryOf(c, "article")
	about, err := writingOf(c, q)
	if err != nil {
		return err
	}
	article := q.values.Get("article")
	if article == "" {
		q.wrong("article", "Is missing; name the article number to forget.")
		return q.faults.Err()
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	if err := s.config.Store.DeleteArticle(c.Request().Context(), c.Param("code"), article, about.actor); err != nil {
		return s.reached(err)
	}
	return c.NoContent(http.StatusNoContent)
}
