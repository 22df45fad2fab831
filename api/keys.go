package api

import (
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"time"

	"seamwright/api/access"
	"seamwright/service/fault"
	"seamwright/store/keys"
)

// keyRoom keeps the access keys.
type keyRoom struct{ *webServer }

// openKeys adds the operations about access keys.
func openKeys(w *webServer) {
	s := &keyRoom{w}
	s.serve("GET /v1/keys", s.listKeys)
	s.serve("POST /v1/keys", s.postKey)
	s.serve("GET /v1/keys/:id", s.getKey)
	s.serve("DELETE /v1/keys/:id", s.deleteKey)
	s.serve("POST /v1/keys/:id/rotate", s.postKeyRotation)
	s.serve("GET /v1/access-refusals", s.listRefusals)
}

func (s *keyRoom) listKeys(c *Call) error {
	list, err := s.Store.Keys.List(c.Ctx(), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, list, func(k *keys.Key) string { return k.ID }, func(w *writer, k *keys.Key) { w.accessKey(k, "") }))
}

func (s *keyRoom) getKey(c *Call) error {
	k, err := s.Store.Keys.Key(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *writer) { w.accessKey(&k, "") })
}

// postKey makes a key and shows it, this once.
func (s *keyRoom) postKey(c *Call) error {
	entry, err := readBody(c, readKey)
	if err != nil {
		return err
	}
	now := s.Now()
	if err := CheckKey(&entry, now); err != nil {
		return err
	}
	text, k := access.New(entry.Kind)
	k.Name, k.Scopes, k.Origins, k.ExpiresAt, k.CreatedAt, k.CreatedBy = entry.Name, entry.Scopes, entry.Origins, entry.ExpiresAt, now, c.Actor()
	if err := s.Store.Keys.Add(c.Ctx(), &k); err != nil {
		return err
	}
	return sendNewKey(c, &k, text)
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

func (s *keyRoom) deleteKey(c *Call) error {
	id := c.Param("id")
	if _, err := s.Store.Keys.Key(c.Ctx(), id); err != nil {
		return err
	}
	if err := s.Store.Keys.Revoke(c.Ctx(), id, s.Now()); err != nil {
		return err
	}
	return c.Gone()
}

// postKeyRotation makes a successor with the same rights and lets the key end after an overlap.
func (s *keyRoom) postKeyRotation(c *Call) error {
	overlap, err := readBody(c, readOverlap)
	if err != nil {
		return err
	}
	old, err := s.Store.Keys.Key(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	now := s.Now()
	text, k := access.Successor(&old, now, c.Actor())
	if err := s.Store.Keys.Rotate(c.Ctx(), old.ID, &k, now.Add(overlap)); err != nil {
		return err
	}
	return sendNewKey(c, &k, text)
}

// sendNewKey answers with a key that has just been made, and its text.
func sendNewKey(c *Call, k *keys.Key, text string) error {
	c.Made("/v1/keys/" + k.ID)
	return c.Send(http.StatusCreated, func(w *writer) { w.accessKey(k, text) })
}

// accessKey writes a key; with its text when it has just been made.
func (w *writer) accessKey(k *keys.Key, text string) {
	w.open()
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
	w.textIfThere("successor", k.Successor)
	if text != "" {
		w.text("key", text)
	}
	w.close()
}

// listRefusals lists what was refused, newest first. The cursor holds the row after which a page starts.
func (s *keyRoom) listRefusals(c *Call) error {
	var before *keys.Refusal
	if after := c.After(); after != "" {
		before = &keys.Refusal{}
		if err := json.Unmarshal([]byte(after), before); err != nil || before.Minute.IsZero() {
			return c.NoCursor()
		}
	}
	list, err := s.Store.Keys.Refusals(c.Ctx(), before, c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, list, refusalPlace, (*writer).refusal))
}

// refusalPlace writes where a page ended.
func refusalPlace(r *keys.Refusal) string {
	raw, err := json.Marshal(r)
	if err != nil {
		panic(err) // cannot be: the type has nothing that JSON cannot say
	}
	return string(raw)
}

func (w *writer) refusal(r *keys.Refusal) {
	w.open()
	w.text("minute", r.Minute.UTC().Format(time.RFC3339))
	w.text("reason", r.Reason)
	w.text("operation", r.Route)
	w.textOrNull("key", r.Key)
	w.text("address", r.Address)
	w.int("count", r.Count)
	w.close()
}
