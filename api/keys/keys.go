// Package keys makes, shows, rotates and revokes access keys.
package keys

import (
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"time"

	"seamwright/api/access"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/store/keys"
)

// room keeps the access keys.
type room struct{ *web.Server }

// Open adds the operations about access keys.
func Open(w *web.Server) {
	s := &room{w}
	s.Serve("GET /v1/keys", s.listKeys)
	s.Serve("POST /v1/keys", s.postKey)
	s.Serve("GET /v1/keys/:id", s.getKey)
	s.Serve("DELETE /v1/keys/:id", s.deleteKey)
	s.Serve("POST /v1/keys/:id/rotate", s.postKeyRotation)
	s.Serve("GET /v1/access-refusals", s.listRefusals)
}

func (s *room) listKeys(c *web.Call) error {
	list, err := s.Store.Keys.List(c.Ctx(), c.After(), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(k *keys.Key) string { return k.ID }, wire.Item(shownKey)))
}

func (s *room) getKey(c *web.Call) error {
	k, err := s.Store.Keys.Key(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(shownKey(&k)))
}

// postKey makes a key and shows it, this once.
func (s *room) postKey(c *web.Call) error {
	entry, err := web.Read(c, readKey)
	if err != nil {
		return err
	}
	now := s.Now()
	if err := Check(&entry, now); err != nil {
		return err
	}
	text, k := access.New(entry.Kind)
	k.Name, k.Scopes, k.Origins, k.ExpiresAt, k.CreatedAt, k.CreatedBy, k.Test = entry.Name, entry.Scopes,
		entry.Origins, entry.ExpiresAt, now, c.Actor(), entry.Test
	if err := s.Store.Keys.Add(c.Ctx(), &k); err != nil {
		return err
	}
	return sendNewKey(c, &k, text)
}

func readKey(o *wire.Object) keys.Key {
	k := keys.Key{Kind: keys.Secret, Name: o.Text("name"), Scopes: o.Words("scopes"), Origins: o.Words("origins"), Test: o.Flag("test")}
	if kind := o.Text("kind"); kind != "" {
		k.Kind = keys.Kind(kind)
	}
	if o.Has("expires_at") {
		at, err := time.Parse(time.RFC3339, o.Text("expires_at"))
		if err != nil {
			o.Wrong("expires_at", "Must be a time such as 2027-01-31T00:00:00Z.")
		}
		k.ExpiresAt = &at
	}
	return k
}

// Check says everything that is wrong with a key that is to be made: its kind, scopes, origins and end.
func Check(k *keys.Key, now time.Time) error {
	var wrong fault.List
	bad := func(pointer, detail string) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: detail})
	}
	if !wire.PlainText(k.Name, 60) {
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

func (s *room) deleteKey(c *web.Call) error {
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
func (s *room) postKeyRotation(c *web.Call) error {
	overlap, err := web.Read(c, web.ReadOverlap)
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
func sendNewKey(c *web.Call, k *keys.Key, text string) error {
	c.Made("/v1/keys/" + k.ID)
	shown := shownKey(k)
	shown.Key = text
	return c.Send(http.StatusCreated, web.Value(shown))
}

// accessKey is a key as answers show it.
type accessKey struct {
	ID         string    `json:"id"`
	Kind       keys.Kind `json:"kind"`
	Name       string    `json:"name"`
	Scopes     []string  `json:"scopes"`
	Origins    []string  `json:"origins"`
	CreatedAt  string    `json:"created_at"`
	CreatedBy  string    `json:"created_by"`
	ExpiresAt  *string   `json:"expires_at"`
	RevokedAt  *string   `json:"revoked_at"`
	LastUsedAt *string   `json:"last_used_at"`
	Successor  *string   `json:"successor"`
	Test       bool      `json:"test"`
	Key        string    `json:"key,omitempty"` // the key itself, when it has just been made
}

func shownKey(k *keys.Key) accessKey {
	return accessKey{k.ID, k.Kind, k.Name, wire.Listed(k.Scopes), wire.Listed(k.Origins), wire.Moment(k.CreatedAt),
		k.CreatedBy,
		wire.MaybeMoment(k.ExpiresAt), wire.MaybeMoment(k.RevokedAt), wire.MaybeMoment(k.LastUsedAt), k.Successor, k.Test, ""}
}

// listRefusals lists what was refused, newest first. The cursor holds the row after which a page starts.
func (s *room) listRefusals(c *web.Call) error {
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
	return c.Current(web.Page(c, list, refusalPlace, wire.Item(shownRefusal)))
}

// refusalPlace writes where a page ended.
func refusalPlace(r *keys.Refusal) string {
	raw, err := json.Marshal(r)
	if err != nil {
		panic(err) // cannot be: the type has nothing that JSON cannot say
	}
	return string(raw)
}

// refusal is a refusal as answers show it.
type refusal struct {
	Minute    string  `json:"minute"`
	Reason    string  `json:"reason"`
	Operation string  `json:"operation"`
	Key       *string `json:"key"`
	Address   string  `json:"address"`
	Count     int64   `json:"count"`
}

func shownRefusal(r *keys.Refusal) refusal {
	return refusal{wire.Moment(r.Minute), r.Reason, r.Route, wire.Maybe(r.Key), r.Address, r.Count}
}
