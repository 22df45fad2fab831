package shelf

import (
	"fmt"
	"net/http"

	"seamwright/api/body"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

func putItem[T any](s *room, e *web.Call, c collection[T]) error {
	form, err := s.readEntry(e, c.keeping, e.Param(c.name()))
	if err != nil {
		return err
	}
	done, err := s.Store.Shelf.Edit(e.Ctx(), shelf.Edit{Part: c.part, Keys: []string{form.code}, Actor: e.Actor(),
		Known: e.Cat, Decide: putting(e, form)})
	if err != nil {
		return c.explain(err)
	}
	return sendSaved(s, e, c, form, done)
}

// decide says what an edit does with the rows that there are.
type decide = func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error)

// putting decides about the row that a body describes.
func putting(e *web.Call, form *entry) decide {
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
func sendSaved[T any](s *room, e *web.Call, c collection[T], form *entry, done *shelf.Edited) error {
	items, err := c.items(done.Snapshot)
	if err != nil {
		return err
	}
	item, err := find(items, c.code, e.Param(c.name()), c.part.One)
	if err != nil {
		return err
	}
	status := http.StatusOK
	if done.Created > 0 {
		status = http.StatusCreated
		e.Made(e.Request().URL.EscapedPath())
	}
	return e.Send(status, web.Object(func(w *wire.Writer) {
		if !e.Has("units") {
			w.Units = form.units
		}
		w.Key("item")
		start := len(w.Buf)
		c.write(w, item, s.view(done.Snapshot))
		e.Tag(w.Buf[start:], c.version(item))
		w.Int("revision", done.Snapshot.Revision)
		w.TaggedAt("warnings", wire.Shown(done.Odd,
			func(o *sheet.Wrong) oddValue { return oddValue{form.pointer(o.Column), form.inJSON(o.Detail)} }))
	}))
}

// oddValue is what is odd about a value of a body, but may be so.
type oddValue struct {
	Pointer string `json:"pointer"`
	Text    string `json:"text"`
}

func deleteItem[T any](s *room, e *web.Call, c collection[T]) error {
	code := e.Param(c.name())
	done, err := s.Store.Shelf.Edit(e.Ctx(), shelf.Edit{Part: c.part, Keys: []string{code}, Actor: e.Actor(),
		Decide: retiring(e, c.part, code)})
	if err != nil {
		return c.explain(err)
	}
	return e.Send(http.StatusOK, web.Value(struct {
		Code     string `json:"code"`
		Revision int64  `json:"revision"`
	}{code, done.Snapshot.Revision}))
}

// retiring decides about the row of a code that is taken away. The program needs every setting: its default comes back.
func retiring(e *web.Call, part *sheet.Part, code string) decide {
	return func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
		present, there := now[code]
		if !there || !present.Live {
			return nil, nil, &fault.Fault{Kind: fault.NotFound,
				Detail: fmt.Sprintf("There is no %s %q.", part.One, fault.Cut(code, 64))}
		}
		row, retire := part.Empty(), part != sheet.Settings
		if row.Cells[0] = code; !retire {
			row.Set("value", defaultOf(code))
		}
		return []shelf.Write{{Row: row, Retire: retire}}, nil, e.Allows(true, present.Version)
	}
}

// readEntry reads a body that describes a thing, with every check that needs no database.
func (s *room) readEntry(c *web.Call, k keeping, code string) (form *entry, err error) {
	against, err := c.Form()
	if err != nil {
		return nil, err
	}
	err = c.Body(func(raw []byte) error {
		value, err := body.Parse(raw)
		if err != nil {
			return err
		}
		if found := against.Check(value); len(found) > 0 {
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
