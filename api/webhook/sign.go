// Package webhook tells other programs of events: it signs what is sent, sends it, and says when to try again.
package webhook

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"strconv"
	"strings"
	"time"
)

// secretLength is that of the HMAC's own result; the open specification Standard Webhooks asks for 24 to 64 bytes.
const secretLength = 32

// secretPrefix makes a secret known for what it is, in the form of Standard Webhooks.
const secretPrefix = "whsec_"

// NewSecret makes a secret.
func NewSecret() []byte {
	secret := make([]byte, secretLength)
	rand.Read(secret) // which never fails
	return secret
}

// SecretText writes a secret as receivers keep it.
func SecretText(secret []byte) string {
	return secretPrefix + base64.StdEncoding.EncodeToString(secret)
}

// signature is the value of webhook-signature: for each secret `v1,` and the base64 of HMAC-SHA256 over identifier,
// timestamp in seconds and body, joined by full stops. Source: Standard Webhooks specification, "Signature scheme".
func signature(id string, at time.Time, body []byte, secrets ...[]byte) string {
	signed := id + "." + strconv.FormatInt(at.Unix(), 10) + "." + string(body)
	list := make([]string, len(secrets))
	for i, secret := range secrets {
		sum := hmac.New(sha256.New, secret)
		sum.Write([]byte(signed))
		list[i] = "v1," + base64.StdEncoding.EncodeToString(sum.Sum(nil))
	}
	return strings.Join(list, " ")
}
