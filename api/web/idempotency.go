package web

import (
	"bytes"
	"context"
	"crypto/aes"
	"crypto/cipher"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/store/answers"
	"seamwright/store/db"
)

const (
	replayedHeader = "Idempotency-Replayed"
	testHeader     = "Test-Call"
)

// lendFunc lends what a transaction begins on.
type lendFunc = func(ctx context.Context, use func(db.Starter) error) error

// onceFunc does a write under a key at most once, as answers.Store.Once does.
type onceFunc = func(ctx context.Context, id [32]byte, work answers.Work) error

// idempotent answers a write that carries an Idempotency-Key at most once, and the same write with the first answer.
// Only success is kept. A refusal wrote nothing, so that asking again is safe and may by then be answered better.
// The answer goes out after the commit that holds both the write and the answer.
//
// What a test key writes goes the same way, with an Idempotency-Key or without, and is taken back: nothing is kept, so that
// nothing is replayed.
func (s *Server) idempotent(next echo.HandlerFunc, lend lendFunc, largest int64) echo.HandlerFunc {
	soon, once, rehearse := largest == 0 && lend == nil, s.Store.Answers.Once, s.Store.Answers.Rehearse
	if lend != nil {
		once = func(ctx context.Context, id [32]byte, work answers.Work) error {
			return lend(ctx, func(on db.Starter) error { return answers.OnceOn(ctx, on, id, work) })
		}
		rehearse = func(ctx context.Context, work answers.Work) error {
			return lend(ctx, func(on db.Starter) error { return answers.RehearseOn(ctx, on, work) })
		}
	}
	rehearsal := func(ctx context.Context, _ [32]byte, work answers.Work) error {
		return rehearse(ctx, work)
	}
	return func(c echo.Context) error {
		key, do := "", once
		keys := c.Request().Header.Values(keyHeader)
		if CallerOf(c).Test {
			do = rehearsal
		} else if len(keys) == 0 {
			return next(c)
		}
		if len(keys) > 1 {
			return &fault.Fault{Kind: fault.Invalid, Parameter: keyHeader, Detail: "Give it once."}
		}
		for _, key = range keys {
			if !wire.PlainText(key, longestKey) {
				return next(c) // which refuses it, with all else that is wrong
			}
		}
		raw, whole, err := wholeBody(c.Request(), max(s.BodyLimit, largest))
		if err != nil {
			return err
		}
		if !whole {
			return next(c) // which refuses it for its size
		}
		if soon {
			return within(keyedWithin, func(c echo.Context) error { return s.once(c, do, next, key, raw) })(c)
		}
		return s.once(c, do, next, key, raw)
	}
}

// wholeBody reads the body of a write; whole is false when it is larger than the operation takes. The request's body can
// be read again.
func wholeBody(r *http.Request, limit int64) (raw []byte, whole bool, err error) {
	if r.ContentLength > limit {
		return nil, false, nil
	}
	rest := r.Body
	if raw, err = io.ReadAll(io.LimitReader(rest, limit+1)); err != nil {
		return nil, false, &fault.Fault{Kind: fault.Invalid, Detail: "The body ended before all of it had arrived."}
	}
	r.Body = io.NopCloser(io.MultiReader(bytes.NewReader(raw), rest))
	return raw, int64(len(raw)) <= limit, nil
}

func (s *Server) once(c echo.Context, do onceFunc, next echo.HandlerFunc, key string, raw []byte) error {
	request, answer := c.Request(), c.Response()
	sender, header := answer.Writer, answer.Header()
	before, unread := header.Clone(), request.Body
	print := fingerprint(request, raw)
	seal, err := newSeal(request, key, raw)
	if err != nil {
		return err
	}
	var kept *unsent
	defer func() { answer.Writer = sender }()
	// The scope of a key is the access key that it came with; without access keys there is one caller.
	id := sha256.Sum256([]byte(CallerOf(c).ID + "\x00" + key))
	err = do(request.Context(), id, func(ctx context.Context, known *answers.Answer) (*answers.Answer, error) {
		clear(header)
		maps.Copy(header, before.Clone())
		kept = &unsent{ResponseWriter: sender}
		if known != nil {
			return nil, kept.replay(request, known, print[:], seal)
		}
		request.Body = unread
		if len(raw) > 0 {
			request.Body = io.NopCloser(bytes.NewReader(raw))
		}
		c.SetRequest(request.WithContext(ctx))
		answer.Writer, answer.Committed, answer.Size, answer.Status = kept, false, 0, http.StatusOK
		defer func() { answer.Writer, answer.Committed, answer.Size, answer.Status = sender, false, 0, http.StatusOK }()
		if err := next(c); err != nil {
			return nil, err
		}
		if kept.status < 200 || kept.status > 299 {
			return nil, nil // nothing to keep, but an answer
		}
		return &answers.Answer{Fingerprint: print[:], Status: kept.status, ContentType: header.Get(echo.HeaderContentType),
			Location: header.Get(echo.HeaderLocation), ETag: header.Get("ETag"), Body: seal.close(kept.body), About: aboutOf(c)}, nil
	})
	c.SetRequest(request)
	if err != nil && kept != nil && kept.status != 0 { // an answer that was given, and could not be kept
		clear(header)
		maps.Copy(header, before)
	}
	switch {
	case errors.Is(err, db.ErrKeyInUse):
		header.Set(echo.HeaderRetryAfter, "1")
		return Refuse(KeyInUse, "A request with this Idempotency-Key is being worked on. Send it again in a moment.")
	case err != nil:
		return s.Reached(err)
	}
	answer.WriteHeader(kept.status)
	if len(kept.body) == 0 {
		return nil
	}
	if _, err := answer.Write(kept.body); err != nil {
		return errors.Join(ErrNotSent, err)
	}
	return nil
}

const aboutKey = "about"

// About says which quote the answer shows. When the customer of that is erased, no kept answer shows it again.
func (c *Call) About(quote string) { c.Set(aboutKey, quote) }

func aboutOf(c echo.Context) string {
	quote, _ := c.Get(aboutKey).(string)
	return quote
}

// fingerprint tells requests apart: method, path, query and body, each with its length before it.
func fingerprint(r *http.Request, raw []byte) [32]byte {
	sum := sha256.New()
	for _, part := range [][]byte{[]byte(r.Method), []byte(r.URL.EscapedPath()), []byte(r.URL.RawQuery), raw} {
		_, _ = fmt.Fprintf(sum, "%d:", len(part)) // a hash takes everything
		_, _ = sum.Write(part)
	}
	return [32]byte(sum.Sum(nil))
}

// replay makes the answer the one that was given before, if it was given to the same request.
func (u *unsent) replay(r *http.Request, known *answers.Answer, print []byte, s seal) (err error) {
	if !bytes.Equal(known.Fingerprint, print) {
		return Refuse(KeyReused, "This Idempotency-Key was sent with another method, path, query or body before. Give every write a key of its own.")
	}
	if len(known.Body) == 0 { // it showed a customer who was erased since
		u.Header().Set(appliedHeader, returnMinimal)
	} else if u.body, err = s.open(known.Body); err != nil {
		return Refuse(KeyReused, "This Idempotency-Key was used with another access key, which alone can read the answer again. Give the write a key of its own.")
	}
	if u.status = known.Status; len(u.body) == 0 && prefersMinimal(r.Header) && known.ETag != "" {
		u.Header().Set(appliedHeader, returnMinimal)
	}
	for name, value := range map[string]string{echo.HeaderContentType: known.ContentType,
		echo.HeaderLocation: known.Location, "ETag": known.ETag, replayedHeader: "true"} {
		if value != "" {
			u.Header().Set(name, value)
		}
	}
	return nil
}

// seal closes an answer so that only who sends the same request with the same access key can read it: an answer may
// show a new access key, of which the database keeps only a hash.
type seal struct{ cipher.AEAD }

func newSeal(r *http.Request, key string, raw []byte) (seal, error) {
	sum := sha256.New()
	for _, part := range [][]byte{[]byte("answer"), []byte(r.Header.Get(echo.HeaderAuthorization)), []byte(key), raw} {
		_, _ = fmt.Fprintf(sum, "%d:", len(part)) // a hash takes everything
		_, _ = sum.Write(part)
	}
	block, err := aes.NewCipher(sum.Sum(nil))
	if err != nil {
		return seal{}, err
	}
	aead, err := cipher.NewGCMWithRandomNonce(block)
	return seal{aead}, err
}

func (s seal) close(plain []byte) []byte { return s.Seal(nil, nil, plain, nil) }

func (s seal) open(closed []byte) ([]byte, error) { return s.Open(nil, nil, closed, nil) }
