package api

import (
	"fmt"
	"net/http"

	"seamwright/api/body"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

// keep adds the writing of a collection's items: PUT makes or replaces one, DELETE retires it; a setting gets its default
// back.
func keep[T any](s *shelfRoom, c collection[T], k keeping) {
	s.serve("PUT /v1/"+c.path+"/:"+c.name, func(e *Call) error { return putItem(s, e, c, k) })
	s.serve("DELETE /v1/"+c.path+"/:"+c.name, func(e *Call) error { return deleteItem(s, e, c, k) })
}

func putItem[T any](s *shelfRoom, e *Call, c collection[T], k keeping) error {
	form, err := s.readEntry(e, k, e.Param(c.name))
	if err != nil {
		return err
	}
	done, err := s.Store.Shelf.Edit(e.Ctx(), shelf.Edit{Part: k.part, Keys: []string{form.code}, Actor: e.Actor(), Decide: putting(e, form)})
	if err != nil {
		return k.explain(err)
	}
	return sendSaved(s, e, c, form, done)
}

// decide says what an edit does with the rows that there are.
type decide = func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error)

// putting decides about the row that a body describes.
func putting(e *Call, form *entry) decide {
	return func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
		present, there := now[form.code]
		if form.part == sheet.Settings && !there {
			return nil, nil, noSetting(form.code, e.Cat)
		}
		if err := e.Allows(there && present.Live, present.Version); err != nil {
			return nil, nil, err
		}
		row, wrong := form.row(present)
		return []shelf.Write{{Row: row}}, wrong, nil
	}
}

// sendSaved answers with the item as it is now, the catalogue's revision, and what is odd about the item. Its units are the
// body's when the call names none.
func sendSaved[T any](s *shelfRoom, e *Call, c collection[T], form *entry, done *shelf.Edited) error {
	items, err := c.items(done.Snapshot)
	if err != nil {
		return err
	}
	item, err := find(items, c.code, e.Param(c.name), c.one)
	if err != nil {
		return err
	}
	status := http.StatusOK
	if done.Created > 0 {
		status = http.StatusCreated
		e.Made(e.Request().URL.EscapedPath())
	}
	return e.Send(status, asObject(func(w *writer) {
		if !e.Has("units") {
			w.units = form.units
		}
		w.key("item")
		start := len(w.buf)
		c.write(w, item, s.view(done.Snapshot))
		e.Response().Header().Set("ETag", versioned(tag(w.buf[start:]), c.version(item)).etag)
		w.int("revision", done.Snapshot.Revision)
		w.oddities(form.keeping, done.Odd)
	}))
}

func (w *writer) oddities(k keeping, odd []sheet.Wrong) {
	writeAll(w, "warnings", odd, func(w *writer, o *sheet.Wrong) {
		w.open()
		w.text("pointer", k.pointer(o.Column))
		w.text("text", o.Detail)
		w.close()
	})
}

func deleteItem[T any](s *shelfRoom, e *Call, c collection[T], k keeping) error {
	code := e.Param(c.name)
	done, err := s.Store.Shelf.Edit(e.Ctx(), shelf.Edit{Part: k.part, Keys: []string{code}, Actor: e.Actor(), Decide: retiring(e, k.part, code, c.one)})
	if err != nil {
		return k.explain(err)
	}
	return e.Send(http.StatusOK, asObject(func(w *writer) {
		w.text("code", code)
		w.int("revision", done.Snapshot.Revision)
	}))
}

// retiring decides about the row of a code that is taken away. The program needs every setting: its default comes back.
func retiring(e *Call, part *sheet.Part, code, one string) decide {
	return func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
		present, there := now[code]
		if !there || !present.Live {
			return nil, nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no %s %q.", one, cut(code, 64))}
		}
		row, retire := part.Empty(), part != sheet.Settings
		if row.Cells[0] = code; !retire {
			row.Set("value", defaultOf(code))
		}
		return []shelf.Write{{Row: row, Retire: retire}}, nil, e.Allows(true, present.Version)
	}
}

// readEntry reads a body that describes a thing, with every check that needs no database.
func (s *shelfRoom) readEntry(c *Call, k keeping, code string) (form *entry, err error) {
	against, err := c.Form()
	if err != nil {
		return nil, err
	}
	err = c.Body(func(raw []byte) error {
		value, err := body.Parse(raw)
		if err != nil {
			return err
		}
		if found := against.check(value); len(found) > 0 {
			return found.Err()
		}
		form = newEntry(k, value, code)
		form.unchangeable(c.Cat, s.view(c.Cat))
		return form.faults.Err()
	})
	return form, err
}

// noSetting is the fault of a setting that the program does not know.
func noSetting(key string, cat *catalogue.Snapshot) error {
	all, err := settingsNow(cat)
	if err != nil {
		return err
	}
	_, err = find(all, func(v *settingNow) string { return v.Key }, key, "setting")
	return err
}
