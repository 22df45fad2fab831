package access

import (
	"context"
	"crypto/subtle"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"seamwright/store/keys"
)

const (
	// look is how often the version of the keys is looked at: a key that was revoked elsewhere is refused within this
	// time and that of one small query.
	look = 400 * time.Millisecond
	// note is how often uses and refusals are written down.
	note = 5 * time.Second
	// answer is how long the database may take to write these down, and told how long to tell the keys.
	answer = 3 * time.Second
	told   = time.Second
)

// Trust is for how long keys are trusted, unless something else is said, that the database could not be asked about: one
// that was revoked elsewhere may be among them.
const Trust = 15 * time.Minute

// Ring is the keys that are good, as this process knows them.
type Ring struct {
	store *keys.Store
	log   *slog.Logger
	now   func() time.Time
	keys  atomic.Pointer[map[string]*keys.Key]

	looking sync.Mutex             // one looks at a time
	version int64                  // of the keys, under looking
	asked   atomic.Pointer[moment] // when the database last told
	trust   time.Duration

	mu       sync.Mutex
	used     map[string]time.Time
	refusals map[keys.Refusal]int64 // Count is zero in the keys
	dropped  int64
}

// mostRefusals bounds how many sorts of refusal are kept in memory between two writings.
const mostRefusals = 2000

// Watch reads the keys and follows them until the context ends. When the database goes away, the keys last read stay
// good for as long as they are trusted (see Stale); their expiry is checked by the clock. Wait for done after the context
// ended: the last uses are written then.
func Watch(ctx context.Context, s *keys.Store, log *slog.Logger, now func() time.Time,
	trust time.Duration) (ring *Ring, done <-chan struct{}, err error) {
	r := &Ring{store: s, log: log, now: now, trust: trust, used: map[string]time.Time{},
		refusals: map[keys.Refusal]int64{}}
	if err := r.read(ctx); err != nil {
		return nil, nil, err
	}
	var working sync.WaitGroup
	working.Go(func() { r.follow(ctx) })
	working.Go(func() { r.keepNotes(ctx) })
	end := make(chan struct{})
	go func() {
		defer close(end)
		working.Wait()
	}()
	return r, end, nil
}

// Stale reports whether the database could not be asked about the keys for longer than they are trusted.
func (r *Ring) Stale() bool {
	asked := r.asked.Load()
	return r.trust > 0 && asked != nil && present().since(*asked) > r.trust
}

// moment is a point of time by both clocks of this machine: the one that is set, and the one that only runs.
type moment struct{ set, ran time.Duration }

var started = time.Now()

func present() moment {
	now := time.Now()
	return moment{time.Duration(now.UnixNano()), now.Sub(started)}
}

// since is how long ago another moment was by the clock that says more: the one that is set may have been put back, the one that
// only runs stands still while the machine sleeps.
func (m moment) since(other moment) time.Duration { return max(m.set-other.set, m.ran-other.ran) }

// Fixed is a ring of these keys, which nothing follows and nothing is written down of.
func Fixed(now func() time.Time, list ...keys.Key) *Ring {
	r := &Ring{now: now, used: map[string]time.Time{}, refusals: map[keys.Refusal]int64{}}
	byID := make(map[string]*keys.Key, len(list))
	for i := range list {
		byID[list[i].ID] = &list[i]
	}
	r.keys.Store(&byID)
	return r
}

func (r *Ring) read(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, answer)
	defer cancel()
	began := present()
	list, version, err := r.store.Live(ctx)
	if err != nil {
		return err
	}
	r.asked.Store(&began)
	byID := make(map[string]*keys.Key, len(list))
	for i := range list {
		byID[list[i].ID] = &list[i]
	}
	r.keys.Store(&byID)
	r.version = version
	return nil
}

func (r *Ring) follow(ctx context.Context) {
	looks := time.NewTicker(look)
	defer looks.Stop()
	lost := false
	for {
		select {
		case <-ctx.Done():
			return
		case <-looks.C:
		}
		err := r.refresh(ctx)
		if err != nil && !lost && ctx.Err() == nil {
			r.log.Warn("access keys cannot be looked at, keeping those last read", "error", err, "trusted_for", r.trust)
		}
		lost = err != nil
	}
}

// keepNotes writes down uses and refusals, apart from the looks at the keys, which must not wait for that.
func (r *Ring) keepNotes(ctx context.Context) {
	notes := time.NewTicker(note)
	defer notes.Stop()
	for {
		select {
		case <-ctx.Done():
			r.write(context.WithoutCancel(ctx))
			return
		case <-notes.C:
			r.write(ctx)
		}
	}
}

// CatchUp looks at the keys now, so that whoever was answered that a key was made or revoked here finds it so here. Others look
// by themselves, within a second.
func (r *Ring) CatchUp(ctx context.Context) {
	if r.store == nil { // nothing follows these keys
		return
	}
	if err := r.refresh(ctx); err != nil {
		r.log.Warn("a change of the keys is answered before this instance has it", "error", err)
	}
}

func (r *Ring) refresh(ctx context.Context) error {
	r.looking.Lock()
	defer r.looking.Unlock()
	soon, cancel := context.WithTimeout(ctx, told)
	defer cancel()
	began := present()
	version, err := r.store.Version(soon)
	if err != nil {
		return err
	}
	if version != r.version {
		return r.read(ctx)
	}
	r.asked.Store(&began)
	return nil
}

// Find returns the key of that text if it is good now; else nil, and the id of the key if there is one.
func (r *Ring) Find(text string, now time.Time) (key *keys.Key, id string) {
	id = idOf(text)
	k := (*r.keys.Load())[id]
	if k == nil {
		return nil, ""
	}
	if subtle.ConstantTimeCompare(k.Hash, hash(text)) != 1 {
		return nil, ""
	}
	if ended(k, now) {
		return nil, id
	}
	return k, id
}

// Used notes that a key was used.
func (r *Ring) Used(id string, at time.Time) {
	r.mu.Lock()
	r.used[id] = at
	r.mu.Unlock()
}

// Refused notes that a call was refused.
func (r *Ring) Refused(reason, route, id, address string) {
	key := keys.Refusal{Minute: r.now().UTC().Truncate(time.Minute), Reason: reason, Route: route, Key: id,
		Address: address}
	r.mu.Lock()
	defer r.mu.Unlock()
	if _, there := r.refusals[key]; !there && len(r.refusals) >= mostRefusals {
		r.dropped++
		return
	}
	r.refusals[key]++
}

// Flush writes down at once what was noted; for tests and for the end.
func (r *Ring) Flush(ctx context.Context) { r.write(ctx) }

// write writes down what was noted since the last time. What cannot be written is noted again.
func (r *Ring) write(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, answer)
	defer cancel()
	r.mu.Lock()
	used, refusals, dropped := r.used, r.refusals, r.dropped
	r.used, r.refusals, r.dropped = map[string]time.Time{}, map[keys.Refusal]int64{}, 0
	r.mu.Unlock()
	if len(used) > 0 {
		if err := r.store.NoteUse(ctx, used); err != nil {
			r.again(used, nil)
			r.log.Debug("uses of keys not written down yet", "error", err)
		}
	}
	if dropped > 0 {
		r.log.Warn("more sorts of refused calls than are kept", "left_out", dropped)
	}
	if len(refusals) == 0 {
		return
	}
	list := make([]keys.Refusal, 0, len(refusals))
	for refusal, count := range refusals {
		refusal.Count = count
		list = append(list, refusal)
	}
	if err := r.store.NoteRefusals(ctx, list, r.now()); err != nil {
		r.again(nil, refusals)
		r.log.Debug("refused calls not written down yet", "error", err)
	}
}

func (r *Ring) again(used map[string]time.Time, refusals map[keys.Refusal]int64) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for id, at := range used {
		if _, later := r.used[id]; !later {
			r.used[id] = at
		}
	}
	for refusal, count := range refusals {
		r.refusals[refusal] += count
	}
}
