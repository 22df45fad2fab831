package api

import (
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/access"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/keys"
)

var (
	keyForm      = formOf("KeyEntry")
	rotationForm = formOf("KeyRotation")
)

func (s *Server) keyRoutes() {
	s.echo.GET("/v1/keys", s.listKeys)
	s.echo.POST("/v1/keys", s.postKey)
	s.echo.GET("/v1/keys/:id", s.getKey)
	s.echo.DELETE("/v1/keys/:id", s.deleteKey)
	s.echo.POST("/v1/keys/:id/rotate", s.rotateKey)
	s.echo.GET("/v1/access-refusals", s.listRefusals)
}

func (s *Server) listKeys(c echo.Context) error {
	const path = "keys"
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(path)
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Keys.List(c.Request().Context(), after, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		cursor = cursorAfter(path, list[limit-1].ID)
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(k *keys.Key) { w.open(); w.accessKey(k); w.close() })
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) getKey(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	k, err := s.config.Store.Keys.Key(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	return s.sendKey(c, http.StatusOK, &k, "")
}

// postKey makes a key and shows it, this once.
func (s *Server) postKey(c echo.Context) error {
	q := queryOf(c)
	about, err := writingOf(c, q)
	if err != nil {
		return err
	}
	var entry keys.Key
	err = s.withBody(c, func(raw []byte) (err error) {
		entry, err = bind(raw, keyForm, readKey)
		return err
	})
	if err != nil {
		return err
	}
	now := s.config.Now()
	if err := CheckKey(&entry, now); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	text, k := access.New(entry.Kind)
	k.Name, k.Scopes, k.Origins, k.ExpiresAt, k.CreatedAt, k.CreatedBy = entry.Name, entry.Scopes, entry.Origins, entry.ExpiresAt, now, about.actor
	if err := s.config.Store.Keys.Add(c.Request().Context(), &k); err != nil {
		return s.reached(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, "/v1/keys/"+k.ID)
	return s.sendKey(c, http.StatusCreated, &k, text)
}

func readKey(o *object) keys.Key {
	k := keys.Key{Kind: keys.Secret, Name: o.text("name"), Scopes: o.words("scopes"), Origins: o.words("origins")}
	if kind := o.text("kind"); kind != "" {
		k.Kind = kind
	}
	if o.has("expires_at") {
		at, err := time.Parse(time.RFC3339, o.text("expires_at"))
		if err != nil {
			o.wrong("expires_at", "Must be a time such as 2027-01-31T00:00:00Z.")
		}
		k.ExpiresAt = &at
	}
	return k
}

// words returns a list of texts.
func (o *object) words(key string) (list []string) {
	raw, _ := field[[]any](o, key)
	for _, one := range raw {
		if text, ok := one.(string); ok {
			list = append(list, text)
		} else {
			o.reader.misfit++
		}
	}
	return list
}

// CheckKey says everything that is wrong with a key that is to be made: its kind, scopes, origins and end.
func CheckKey(k *keys.Key, now time.Time) error {
	var wrong fault.List
	bad := func(pointer, detail string) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: detail})
	}
	if !plainText(k.Name, 60) {
		bad("/name", "Give the key a name of 1 to 60 visible characters, by which the trail will know it.")
	}
	if k.Kind == keys.Publishable {
		if len(k.Scopes) > 0 {
			bad("/scopes", "A publishable key has no scopes: it is for the order form only.")
		}
		if len(k.Origins) == 0 {
			bad("/origins", "A publishable key needs the origins of the pages that use it, such as https://shop.example.")
		}
	} else {
		if len(k.Scopes) == 0 {
			bad("/scopes", "A secret key needs at least one scope.")
		}
		if len(k.Origins) > 0 {
			bad("/origins", "Only a publishable key is bound to origins.")
		}
	}
	for i, scope := range k.Scopes {
		if !slices.Contains(access.Scopes(), scope) {
			bad("/scopes/"+strconv.Itoa(i), "There is no such scope.")
		}
	}
	for i, origin := range k.Origins {
		if err := access.CheckOrigin(origin); err != nil {
			bad("/origins/"+strconv.Itoa(i), err.Error()+".")
		}
	}
	if k.ExpiresAt != nil && !k.ExpiresAt.After(now) {
		bad("/expires_at", "Must lie in the future.")
	}
	return wrong.Err()
}

func (s *Server) deleteKey(c echo.Context) error {
	q := queryOf(c)
	if _, err := writingOf(c, q); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	id := c.Param("id")
	if _, err := s.config.Store.Keys.Key(c.Request().Context(), id); err != nil {
		return s.reached(err)
	}
	if err := s.config.Store.Keys.Revoke(c.Request().Context(), id, s.config.Now()); err != nil {
		return s.reached(err)
	}
	return c.NoContent(http.StatusNoContent)
}

// defaultOverlap is how long a rotated key stays good beside its successor.
const defaultOverlap = 24

// rotateKey makes a successor with the same rights and lets the key end after an overlap.
func (s *Server) rotateKey(c echo.Context) error {
	q := queryOf(c)
	about, err := writingOf(c, q)
	if err != nil {
		return err
	}
	hours := defaultOverlap
	err = s.withBody(c, func(raw []byte) (err error) {
		hours, err = bind(raw, rotationForm, readOverlap)
		return err
	})
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	old, err := s.config.Store.Keys.Key(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	now := s.config.Now()
	text, k := access.Successor(&old, now, about.actor)
	if err := s.config.Store.Keys.Rotate(c.Request().Context(), old.ID, &k, now.Add(time.Duration(hours)*time.Hour)); err != nil {
		return s.reached(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, "/v1/keys/"+k.ID)
	return s.sendKey(c, http.StatusCreated, &k, text)
}

// readOverlap reads how many hours a key or a secret stays good beside its successor.
func readOverlap(o *object) int {
	n, there := field[json.Number](o, "overlap_hours")
	if !there {
		return defaultOverlap
	}
	whole, err := strconv.Atoi(string(n))
	if err != nil {
		o.wrong("overlap_hours", "Must be a whole number, written plainly.")
	}
	return whole
}

// sendKey answers with a key; with its text when it has just been made.
func (s *Server) sendKey(c echo.Context, status int, k *keys.Key, text string) error {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.accessKey(k)
	if text != "" {
		w.text("key", text)
	}
	w.close()
	return send(c, status, echo.MIMEApplicationJSON, w.buf)
}

func (w *writer) accessKey(k *keys.Key) {
	w.text("id", k.ID)
	w.text("kind", k.Kind)
	w.text("name", k.Name)
	w.texts("scopes", k.Scopes)
	w.texts("origins", k.Origins)
	w.momentOrNull("created_at", &k.CreatedAt)
	w.text("created_by", k.CreatedBy)
	w.momentOrNull("expires_at", k.ExpiresAt)
	w.momentOrNull("revoked_at", k.RevokedAt)
	w.momentOrNull("last_used_at", k.LastUsedAt)
	if k.Successor == nil {
		w.null("successor")
	} else {
		w.text("successor", *k.Successor)
	}
}

const refusalsPath = "access-refusals"

// listRefusals lists what was refused, newest first. The cursor holds the row after which a page starts.
func (s *Server) listRefusals(c echo.Context) error {
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(refusalsPath)
	var before *keys.Refusal
	if after != "" {
		before = &keys.Refusal{}
		if err := json.Unmarshal([]byte(after), before); err != nil || before.Minute.IsZero() {
			q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Keys.Refusals(c.Request().Context(), before, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		last, err := json.Marshal(list[limit-1])
		if err != nil {
			return err
		}
		cursor = cursorAfter(refusalsPath, string(last))
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(r *keys.Refusal) {
			w.open()
			w.text("minute", r.Minute.UTC().Format(time.RFC3339))
			w.text("reason", r.Reason)
			w.text("operation", r.Route)
			w.textOrNull("key", r.Key)
			w.text("address", r.Address)
			w.int("count", r.Count)
			w.close()
		})
		w.textOrNull("next_cursor", cursor)
	})
}
