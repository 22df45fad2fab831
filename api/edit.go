package api

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/api/body"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store"
	"seamwright/store/db"
)

// keep adds the writing of a collection's items: PUT makes or replaces one, DELETE retires it; a setting gets its default
// back.
func keep[T any](s *Server, c collection[T], k keeping) {
	s.echo.PUT("/v1/"+c.path+"/:"+c.name, func(e echo.Context) error { return putItem(s, e, c, k) })
	s.echo.DELETE("/v1/"+c.path+"/:"+c.name, func(e echo.Context) error { return deleteItem(s, e, c, k) })
}

func putItem[T any](s *Server, e echo.Context, c collection[T], k keeping) error {
	q := queryOf(e, c.known()...)
	about, err := writingOf(e, q)
	if err != nil {
		return err
	}
	return s.withBody(e, func(raw []byte) error {
		form, err := s.readEntry(raw, k, e.Param(c.name))
		if err != nil {
			return err
		}
		done, err := s.edit(e, store.Edit{Part: k.part, Keys: []string{form.code}, Actor: about.actor,
			Decide: func(now map[string]store.Present) ([]store.Write, []sheet.Wrong, error) {
				present, there := now[form.code]
				if k.part == sheet.Settings && !there {
					return nil, nil, s.noSetting(form.code)
				}
				if err := about.allows(there && present.Live, present.Version); err != nil {
					return nil, nil, err
				}
				row, wrong := form.row(present)
				return []store.Write{{Row: row}}, wrong, nil
			}})
		if err != nil {
			return k.explain(err)
		}
		if !q.values.Has("units") {
			about.units = form.units
		}
		return sendSaved(s, e, c, k, done, about.units)
	})
}

// sendSaved answers with the item as it is now, the catalogue's revision, and what is odd about the item.
func sendSaved[T any](s *Server, e echo.Context, c collection[T], k keeping, done *store.Edited, units measureSystem) error {
	items, err := c.items(done.Snapshot)
	if err != nil {
		return err
	}
	item, err := find(items, c.code, e.Param(c.name), c.one)
	if err != nil {
		return err
	}
	w := newWriter(units)
	defer w.free()
	w.open()
	w.key("item")
	start := len(w.buf)
	c.write(w, item, s.view(done.Snapshot))
	e.Response().Header().Set("ETag", versioned(tag(w.buf[start:]), c.version(item)).etag)
	w.int("revision", done.Snapshot.Revision)
	writeAll(w, "warnings", done.Odd, func(o *sheet.Wrong) {
		w.open()
		w.text("pointer", k.pointer(o.Column))
		w.text("text", o.Detail)
		w.close()
	})
	w.close()
	if done.Created > 0 {
		e.Response().Header().Set(echo.HeaderLocation, e.Request().URL.EscapedPath())
		return send(e, http.StatusCreated, echo.MIMEApplicationJSON, w.buf)
	}
	return send(e, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}

func deleteItem[T any](s *Server, e echo.Context, c collection[T], k keeping) error {
	about, err := writingOf(e, queryOf(e))
	if err != nil {
		return err
	}
	code := e.Param(c.name)
	row := k.part.Empty()
	row.Cells[0] = code
	retire := k.part != sheet.Settings // the program needs every setting: the default comes back
	done, err := s.edit(e, store.Edit{Part: k.part, Keys: []string{code}, Actor: about.actor,
		Decide: func(now map[string]store.Present) ([]store.Write, []sheet.Wrong, error) {
			present, there := now[code]
			if !there || !present.Live {
				return nil, nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no %s %q.", c.one, cut(code, 64))}
			}
			if !retire {
				row.Set("value", defaultOf(code))
			}
			return []store.Write{{Row: row, Retire: retire}}, nil, about.allows(true, present.Version)
		}})
	if err != nil {
		return k.explain(err)
	}
	w := newWriter(about.units)
	defer w.free()
	w.open()
	w.text("code", code)
	w.int("revision", done.Snapshot.Revision)
	w.close()
	return send(e, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}

// edit runs an edit. A database that is away is no fault of the sender.
func (s *Server) edit(e echo.Context, what store.Edit) (*store.Edited, error) {
	if s.config.Store == nil {
		return nil, noDatabase()
	}
	done, err := s.config.Store.Edit(e.Request().Context(), what)
	return done, s.reached(err)
}

// reached turns the error of a database that is away into the fault that says so, and logs its cause.
func (s *Server) reached(err error) error {
	if errors.Is(err, context.Canceled) || !db.Away(err) {
		return err
	}
	s.config.Log.Warn("database away", slog.String("cause", err.Error()))
	return noDatabase()
}

func noDatabase() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, and this needs it.", Fix: "Try again in a moment."}
}

// readEntry reads a body that describes a thing, with every check that needs no database.
func (s *Server) readEntry(raw []byte, k keeping, code string) (*entry, error) {
	value, err := body.Parse(raw)
	if err != nil {
		return nil, err
	}
	against, err := schema(k.form)
	if err != nil {
		return nil, err
	}
	if found := check(against, value); len(found) > 0 {
		return nil, found.Err()
	}
	cat, err := s.snapshot()
	if err != nil {
		return nil, err
	}
	form := newEntry(k, value, code)
	form.unchangeable(cat, s.view(cat))
	return form, form.faults.Err()
}

// noSetting is the fault of a setting that the program does not know.
func (s *Server) noSetting(key string) error {
	cat, err := s.snapshot()
	if err != nil {
		return err
	}
	all, err := settingsNow(cat)
	if err != nil {
		return err
	}
	_, err = find(all, func(v *settingNow) string { return v.Key }, key, "setting")
	return err
}
