package main

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// hearer is an endpoint of webhooks that checks what it hears as the Standard Webhooks specification tells receivers to, by a clock
// that is right: signature, and a timestamp that is no further off than tolerance.
type hearer struct {
	address string
	server  *http.Server

	mu     sync.Mutex
	secret []byte
	refuse bool           // the next call is answered with 500
	heard  map[string]int // good calls by webhook-id
	bad    []string       // why a call was none
	off    time.Duration  // the furthest that a timestamp was off
}

// tolerance is what receivers usually bear of a timestamp (libraries by the specification's makers).
const tolerance = 5 * time.Minute

func listen() (*hearer, error) {
	at, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	h := &hearer{address: "http://" + at.Addr().String() + "/", heard: map[string]int{}}
	h.server = &http.Server{Handler: h, ReadHeaderTimeout: tooSlow}
	go func() { _ = h.server.Serve(at) }() // which says that it was closed
	return h, nil
}

func (h *hearer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	h.mu.Lock()
	defer h.mu.Unlock()
	id, said := r.Header.Get("webhook-id"), r.Header.Get("webhook-timestamp")
	seconds, notNumber := strconv.ParseInt(said, 10, 64)
	mac := hmac.New(sha256.New, h.secret)
	_, _ = fmt.Fprintf(mac, "%s.%s.%s", id, said, body) // a hash never fails
	signed := slices.Contains(strings.Fields(r.Header.Get("webhook-signature")), "v1,"+base64.StdEncoding.EncodeToString(mac.Sum(nil)))
	off := time.Since(time.Unix(seconds, 0)).Abs()
	switch {
	case err != nil || notNumber != nil || !signed:
		h.bad = append(h.bad, fmt.Sprint("not signed, or not whole: ", err, notNumber))
		w.WriteHeader(http.StatusBadRequest)
	case off > tolerance:
		h.bad = append(h.bad, fmt.Sprintf("its timestamp is %s off", off.Round(time.Second)))
		w.WriteHeader(http.StatusBadRequest)
	case h.refuse:
		h.refuse = false
		w.WriteHeader(http.StatusInternalServerError)
	default:
		h.heard[id]++
		h.off = max(h.off, off)
	}
}

// tally is how many events were heard, how many of them more than once, why calls were bad, and how far timestamps were off.
func (h *hearer) tally() (events, twice int, bad []string, off time.Duration) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, n := range h.heard {
		if n > 1 {
			twice++
		}
	}
	return len(h.heard), twice, slices.Clone(h.bad), h.off
}

// know tells it the secret that calls are signed with.
func (h *hearer) know(secret []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.secret = secret
}

// refuseNext has it refuse the next good call.
func (h *hearer) refuseNext() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.refuse = true
}
