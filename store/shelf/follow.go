package shelf

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/store/db"
)

const (
	// quiet is how long a change may be followed by others before the catalogue is read.
	quiet = 50 * time.Millisecond
	// listenWithin is how long it may take to open the connection that hears of changes.
	listenWithin = 5 * time.Second
	// loadWithin is how long it may take to read the whole catalogue.
	loadWithin = 60 * time.Second
	// firstPause and longestPause bound the pause between attempts to reach the database again.
	firstPause   = 100 * time.Millisecond
	longestPause = time.Second
)

// Catalogue is the catalogue as this process knows it, kept up to date by Watch.
type Catalogue struct {
	store    *Store
	snapshot atomic.Pointer[catalogue.Snapshot]
	tried    atomic.Int64 // revision last read, whether it could be used or not
	// holds something when the database has a revision that is not in use yet, or somebody waits for one
	wake chan struct{}

	mu     sync.Mutex
	newer  chan struct{} // closed, and made anew, when another snapshot is in use
	status Status        // LastError is why the database is not reachable
	wrong  string        // why the revision last read is not in use; empty: it is

	presence presence
}

// Status is how well the catalogue is known.
type Status struct {
	DatabaseReachable bool
	Since             time.Time // since when it is, or is not, reachable
	Revision          int64     // of the snapshot in use
	LoadedAt          time.Time // when it was read
	// why the newest catalogue is not in use, or the database is not reachable; empty: all is well
	LastError string
}

// Snapshot returns the newest catalogue that could be read. It never waits and never returns nil.
func (c *Catalogue) Snapshot() *catalogue.Snapshot { return c.snapshot.Load() }

// Status returns how well the catalogue is known. It never waits.
func (c *Catalogue) Status() Status {
	c.mu.Lock()
	defer c.mu.Unlock()
	s := c.status
	s.LastError = cmp.Or(s.LastError, c.wrong)
	return s
}

// Reach waits until a revision of the catalogue or a later one is in use, or the context ends. Meanwhile the catalogue
// is looked at without delay.
func (c *Catalogue) Reach(ctx context.Context, revision int64) {
	for {
		c.mu.Lock()
		newer := c.newer
		c.mu.Unlock()
		if c.Snapshot().Revision >= revision {
			return
		}
		c.look()
		select {
		case <-newer:
		case <-ctx.Done():
			return
		}
	}
}

// look lets the catalogue be looked at without delay.
func (c *Catalogue) look() {
	select {
	case c.wake <- struct{}{}:
	default:
	}
}

// Watch reads the catalogue and follows its changes until the context or the store ends. It uses two connections of its
// own: one hears of changes and reads them, the other asks whether the database answers (see feel). A change is there
// within a second. When the database goes away, or holds a catalogue that breaks a rule, the last good snapshot stays and
// Status says so; the database is looked for until it is back, and the catalogue is then read again.
//
// It fails when the first catalogue cannot be read.
func (s *Store) Watch(ctx context.Context) (*Catalogue, error) {
	c := &Catalogue{store: s, wake: make(chan struct{}, 1), newer: make(chan struct{})}
	conn, err := c.listen(ctx)
	if err != nil {
		return nil, err
	}
	if err := c.refresh(ctx, conn); err != nil {
		db.HangUp(conn)
		return nil, err
	}
	if c.Snapshot() == nil {
		db.HangUp(conn)
		return nil, errors.New(c.Status().LastError)
	}
	ctx, cancel := context.WithCancel(ctx)
	stop := context.AfterFunc(s.closing, cancel)
	s.watches.Go(func() {
		defer cancel()
		defer stop()
		c.run(ctx, conn)
	})
	s.watches.Go(func() { c.feel(ctx) })
	return c, nil
}

// run follows the catalogue, over as many connections as it takes.
func (c *Catalogue) run(ctx context.Context, conn *pgx.Conn) {
	for conn != nil {
		err := c.follow(ctx, conn)
		db.HangUp(conn)
		if ctx.Err() != nil {
			return
		}
		c.store.db.Log.Warn("changes of the catalogue are not heard of, connecting again", "error", err)
		conn = c.again(ctx)
	}
}

// listen opens a connection that hears of changes. Whatever changes from here on is heard of.
func (c *Catalogue) listen(ctx context.Context) (*pgx.Conn, error) {
	ctx, cancel := context.WithTimeout(ctx, listenWithin)
	defer cancel()
	conn, err := c.store.db.Dial(ctx, "seamwright catalogue", db.ForLoading)
	if err != nil {
		return nil, err
	}
	if _, err := conn.Exec(ctx, `LISTEN catalogue`); err != nil {
		db.HangUp(conn)
		return nil, fmt.Errorf("listen for changes of the catalogue: %w", err)
	}
	return conn, nil
}

// again tries until the database is back and its catalogue was read. It returns nil when the context ends.
func (c *Catalogue) again(ctx context.Context) *pgx.Conn {
	for pause := firstPause; ; pause = min(2*pause, longestPause) {
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(pause):
		}
		conn, err := c.listen(ctx)
		if err == nil {
			if err = c.refresh(ctx, conn); err == nil {
				return conn
			}
			db.HangUp(conn)
		}
		if ctx.Err() != nil {
			return nil
		}
	}
}

// follow waits for changes and reads them, until the connection fails.
func (c *Catalogue) follow(ctx context.Context, conn *pgx.Conn) error {
	for {
		if err := c.await(ctx, conn); err != nil {
			return err
		}
		if err := c.refresh(ctx, conn); err != nil {
			return err
		}
	}
}

// await returns when there may be a revision that was not read yet, or somebody waits for one.
func (c *Catalogue) await(ctx context.Context, conn *pgx.Conn) error {
	patience, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() {
		select {
		case <-c.wake:
			cancel()
		case <-patience.Done():
		}
	}()
	for {
		n, err := conn.WaitForNotification(patience)
		if err != nil {
			if patience.Err() != nil && ctx.Err() == nil && !conn.IsClosed() {
				return nil // waited for: look
			}
			return err
		}
		if revision, err := strconv.ParseInt(n.Payload, 10, 64); err == nil && revision <= c.tried.Load() {
			continue // heard of late: it was read with a later one
		}
		select {
		case <-time.After(quiet):
		case <-patience.Done(): // waited for
		}
		return nil
	}
}

// refresh reads the catalogue if its revision is another than the one read last. A catalogue that breaks a rule
// is no error of the connection: Status tells.
func (c *Catalogue) refresh(ctx context.Context, conn *pgx.Conn) error {
	soon, cancel := context.WithTimeout(ctx, beatWithin)
	defer cancel()
	revision, err := db.Revision(soon, conn)
	if err != nil {
		return fmt.Errorf("read catalogue revision: %w", err)
	}
	if revision != c.tried.Load() {
		soon, cancel := context.WithTimeout(ctx, loadWithin)
		defer cancel()
		if err := c.reload(soon, conn); err != nil {
			return err
		}
	}
	c.reached()
	return nil
}

func (c *Catalogue) reload(ctx context.Context, conn *pgx.Conn) error {
	started := time.Now()
	snapshot, err := c.store.load(c.store.db.Politely(ctx), conn)
	var invalid *invalidError
	switch {
	case errors.As(err, &invalid):
		c.tried.Store(invalid.revision)
		c.mu.Lock()
		c.wrong = err.Error()
		c.mu.Unlock()
		c.store.db.Log.Error("catalogue is not valid, keeping the last one", "error", err)
		return nil
	case err != nil:
		return err
	}
	c.tried.Store(snapshot.Revision)
	c.use(snapshot, c.store.db.Now())
	c.store.db.Log.Info("catalogue loaded", "revision", snapshot.Revision, "took", time.Since(started))
	return nil
}

// use takes a snapshot into use and tells those who wait for it.
func (c *Catalogue) use(snapshot *catalogue.Snapshot, now time.Time) {
	c.snapshot.Store(snapshot)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.status.Revision, c.status.LoadedAt, c.wrong = snapshot.Revision, now, ""
	close(c.newer)
	c.newer = make(chan struct{})
}

// reached notes that the database answers. What was wrong with the connection is over; what is wrong with the
// catalogue is not.
func (c *Catalogue) reached() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.status.DatabaseReachable {
		return
	}
	c.status.DatabaseReachable, c.status.Since, c.status.LastError = true, c.store.db.Now(), ""
	c.presence.back()
}

// lost notes that the database does not answer.
func (c *Catalogue) lost(err error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.status.LastError = err.Error()
	if !c.status.DatabaseReachable {
		return
	}
	c.status.DatabaseReachable, c.status.Since = false, c.store.db.Now()
	c.presence.lost()
	c.store.db.Log.Warn("database lost, keeping the last catalogue", "error", err)
	c.store.db.Pool.Reset() // its connections lead where nobody answers
}
