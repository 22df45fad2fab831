// Package access decides who may call: it knows what a key looks like, which keys there are, what each may do and how
// often. It asks the database for nothing while a request waits.
package access

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"strings"
	"time"

	"seamwright/store/keys"
)

// A key reads seam_secret_<id>_<256 random bits> or seam_public_<id>_<256 random bits>.
const (
	secretStart = "seam_secret_"
	publicStart = "seam_public_"
	idBytes     = 10
	secretBytes = 32
)

var letters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// Scopes are what a secret key can be allowed.
func Scopes() []string {
	return []string{"estimate", "catalogue:read", "catalogue:write", "prices:write", "quotes:read", "quotes:write",
		"keys:admin"}
}

// New makes a key of that kind. Its text is nowhere else and cannot be had again.
func New(kind keys.Kind) (text string, key keys.Key) {
	var random [idBytes + secretBytes]byte
	_, _ = rand.Read(random[:]) // never fails: it ends the program instead
	id := letters.EncodeToString(random[:idBytes])
	start := secretStart
	if kind == keys.Publishable {
		start = publicStart
	}
	text = start + id + "_" + letters.EncodeToString(random[idBytes:])
	return text, keys.Key{ID: id, Kind: kind, Hash: hash(text)}
}

// Successor makes a key with the rights of another, made now by the one named.
func Successor(old *keys.Key, now time.Time, by string) (text string, key keys.Key) {
	text, key = New(old.Kind)
	key.Name, key.Scopes, key.Origins, key.CreatedAt, key.CreatedBy, key.Test = old.Name, old.Scopes, old.Origins, now, by, old.Test
	return text, key
}

// hash is what is kept of a key. A plain SHA-256 is right for 256 random bits: there is nothing to guess, so that
// nothing has to make guessing slow.
func hash(text string) []byte {
	sum := sha256.Sum256([]byte(text))
	return sum[:]
}

// longest is the length of a key's text.
var longest = len(secretStart) + letters.EncodedLen(idBytes) + 1 + letters.EncodedLen(secretBytes)

// LooksPublishable tells whether a text has the form of a publishable key; whether there is such a key is another
// question. It keeps secret keys out of places that everybody reads.
func LooksPublishable(text string) bool {
	return strings.HasPrefix(text, publicStart) && idOf(text) != ""
}

// idOf takes the id out of a key's text; empty when the text is no key's.
func idOf(text string) string {
	rest, secret := strings.CutPrefix(text, secretStart)
	if !secret {
		var public bool
		if rest, public = strings.CutPrefix(text, publicStart); !public {
			return ""
		}
	}
	id, _, found := strings.Cut(rest, "_")
	if len(text) != longest || !found || len(id) != letters.EncodedLen(idBytes) {
		return ""
	}
	return id
}

// ended says whether a key is no longer good at that time.
func ended(k *keys.Key, now time.Time) bool {
	return k.RevokedAt != nil || k.ExpiresAt != nil && !now.Before(*k.ExpiresAt)
}
