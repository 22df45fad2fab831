package shelf

import (
	"fmt"
	"sort"
	"strings"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// collection is one list of the catalogue as the interface shows it. Items come in the order of their keys.
type collection[T any] struct {
	keeping
	items func(*catalogue.Snapshot) ([]T, error)
	code  func(*T) string
	key   func(*T) string // sorts like the list; nil: the code
	// version counts the changes of an item
	version func(*T) int64
	write   func(*wire.Writer, *T, view) // nil: as the part's columns say
}

// view is what the writing of an item needs besides the item.
type view struct {
	currency string
	today    catalogue.Date
}

// name is that of the path's parameter.
func (c collection[T]) name() string { return c.part.Columns[0].Name }

// serve adds the routes of a collection: its list and items are shown, PUT makes or replaces an item, DELETE retires it; a
// setting gets its default back.
func serve[T any](s *room, c collection[T]) collection[T] {
	if c.key == nil {
		c.key = c.code
	}
	if c.write == nil {
		c.write = writing[T](c.part)
	}
	list := "/v1/" + c.part.Name
	item := list + "/:" + c.name()
	s.Serve("GET "+list, func(e *web.Call) error { return listItems(s, e, c) })
	s.Serve("GET "+item, func(e *web.Call) error { return getItem(s, e, c) })
	s.Serve("PUT "+item, func(e *web.Call) error { return putItem(s, e, c) })
	s.Serve("DELETE "+item, func(e *web.Call) error { return deleteItem(s, e, c) })
	return c
}

func (s *room) view(cat *catalogue.Snapshot) view {
	return view{currency: cat.Settings.Currency, today: s.Today(cat)}
}

func listItems[T any](s *room, e *web.Call, c collection[T]) error {
	items, err := c.items(e.Cat)
	if err != nil {
		return err
	}
	look := s.view(e.Cat)
	return e.Current(web.Page(e, itemsAfter(e, items, c.key), c.key,
		func(w *wire.Writer, item *T) { c.write(w, item, look) }))
}

// itemsAfter is one page of items that come in the order of their keys, and one item more.
func itemsAfter[T any](e *web.Call, items []T, key func(*T) string) []T {
	after := e.After()
	first := sort.Search(len(items), func(i int) bool { return key(&items[i]) > after })
	return items[first:min(first+e.Limit()+1, len(items))]
}

func getItem[T any](s *room, e *web.Call, c collection[T]) error {
	items, err := c.items(e.Cat)
	if err != nil {
		return err
	}
	item, err := find(items, c.code, e.Param(c.name()), c.part.One)
	if err != nil {
		return err
	}
	return e.Version(c.version(item), func(w *wire.Writer) { c.write(w, item, s.view(e.Cat)) })
}

// find returns the item of a code, or a fault that names the nearest ones.
func find[T any](items []T, code func(*T) string, wanted, one string) (*T, error) {
	codes := make([]string, len(items))
	for i := range items {
		if codes[i] = code(&items[i]); codes[i] == wanted {
			return &items[i], nil
		}
	}
	f := &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no %s %q.", one, fault.Cut(wanted, 64))}
	if hint := wire.DidYouMean(wanted, codes); hint != "" {
		f.Fix = strings.ToUpper(hint[:1]) + hint[1:]
	}
	return nil, f
}
