package api

import (
	"encoding/base64"
	"fmt"
	"sort"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// collection is one list of the catalogue as the interface shows it. Items come in the order of their keys.
type collection[T any] struct {
	path  string // of the list, without /v1/
	one   string // what one item is called
	name  string // of the path parameter
	units bool   // whether the answer's measures follow ?units=
	items func(*catalogue.Snapshot) ([]T, error)
	code  func(*T) string
	key   func(*T) string // sorts like the list; nil: the code
	// version counts the changes of an item
	version func(*T) int64
	write   func(*writer, *T, view)
}

// view is what the writing of an item needs besides the item.
type view struct {
	currency string
	today    catalogue.Date
}

// serve adds the routes of a collection.
func serve[T any](s *Server, c collection[T]) {
	if c.key == nil {
		c.key = c.code
	}
	s.echo.GET("/v1/"+c.path, func(e echo.Context) error { return listItems(s, e, c) })
	s.echo.GET("/v1/"+c.path+"/:"+c.name, func(e echo.Context) error { return getItem(s, e, c) })
}

func (s *Server) view(cat *catalogue.Snapshot) view {
	return view{currency: cat.Settings.Currency, today: s.today(cat)}
}

// known lists the query parameters of a path.
func (c collection[T]) known(more ...string) []string {
	if c.units {
		return append(more, "units")
	}
	return more
}

func listItems[T any](s *Server, e echo.Context, c collection[T]) error {
	q := queryOf(e, c.known("limit", "cursor")...)
	w := newWriter(q.units())
	defer w.free()
	limit, after := q.limit(), q.cursor(c.path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	items, err := c.items(cat)
	if err != nil {
		return err
	}
	look := s.view(cat)
	writePage(w, c.path, items, c.key, after, limit, func(item *T) { c.write(w, item, look) })
	return sendTagged(e, echo.MIMEApplicationJSON, tag(w.buf))
}

// writePage writes the items whose keys come after one, at most limit, and where the next page starts.
func writePage[T any](w *writer, path string, items []T, key func(*T) string, after string, limit int, write func(*T)) {
	first := sort.Search(len(items), func(i int) bool { return key(&items[i]) > after })
	last := min(first+limit, len(items))
	w.open()
	writeAll(w, "items", items[first:last], write)
	if last < len(items) {
		w.text("next_cursor", cursorAfter(path, key(&items[last-1])))
	} else {
		w.null("next_cursor")
	}
	w.close()
}

func getItem[T any](s *Server, e echo.Context, c collection[T]) error {
	q := queryOf(e, c.known()...)
	w := newWriter(q.units())
	defer w.free()
	if err := q.faults.Err(); err != nil {
		return err
	}
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	items, err := c.items(cat)
	if err != nil {
		return err
	}
	item, err := find(items, c.code, e.Param(c.name), c.one)
	if err != nil {
		return err
	}
	c.write(w, item, s.view(cat))
	return sendTagged(e, echo.MIMEApplicationJSON, versioned(tag(w.buf), c.version(item)))
}

// find returns the item of a code, or a fault that names the nearest ones.
func find[T any](items []T, code func(*T) string, wanted, one string) (*T, error) {
	codes := make([]string, len(items))
	for i := range items {
		if codes[i] = code(&items[i]); codes[i] == wanted {
			return &items[i], nil
		}
	}
	f := &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no %s %q.", one, cut(wanted, 64))}
	if hint := didYouMean(wanted, codes); hint != "" {
		f.Fix = strings.ToUpper(hint[:1]) + hint[1:]
	}
	return nil, f
}

// cursorAfter makes the opaque text that a page starts with: the list and the last key of the page before.
func cursorAfter(path, key string) string {
	return base64.RawURLEncoding.EncodeToString([]byte(path + "\n" + key))
}

// cursor reads the key after which a page of the list starts; empty for the first page.
func (q *query) cursor(path string) string {
	if !q.values.Has("cursor") {
		return ""
	}
	raw, err := base64.RawURLEncoding.DecodeString(q.values.Get("cursor"))
	key, ours := strings.CutPrefix(string(raw), path+"\n")
	if err != nil || !ours || key == "" {
		q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		return ""
	}
	return key
}
