package shelf

import (
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
	// answerWithin is how long the database may take to tell the revision before it counts as lost.
	answerWithin = 5 * time.Second
	// loadWithin is the same for reading the whole catalogue.
	loadWithin = 60 * time.Second
	// firstPause and longestPause bound the pause between attempts to reach the database again.
	firstPause   = 100 * time.Millisecond
	longestPause = 5 * time.Second
)

// Catalogue is the catalogue as this process knows it, kept up to date by Watch.
type Catalogue struct {
	store    *Store
	snapshot atomic.Pointer[catalogue.Snapshot]
	status   atomic.Pointer[Status] // written by one goroutine only
	tried    int64                  // revision last read, whether it could be used or not
	invalid  string                 // why that one could not be used; empty: it is in use
	wake     chan struct{}          // holds something when somebody waits for a revision that is not in use yet

	mu    sync.Mutex
	newer chan struct{} // closed, and made anew, when another snapshot is in use
}

// Status is how well the catalogue is known.
type Status struct {
	DatabaseReachable bool
	Since             time.Time // since when it is, or is not, reachable
	Revision          int64     // of the snapshot in use
	LoadedAt          time.Time // when it was read
	LastError         string    // why the newest catalogue is not in use, or the database is not reachable; empty: all is well
}

// Snapshot returns the newest catalogue that could be read. It never waits and never returns nil.
func (c *Catalogue) Snapshot() *catalogue.Snapshot { return c.snapshot.Load() }

// Status returns how well the catalogue is known. It never waits.
func (c *Catalogue) Status() Status { return *c.status.Load() }

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
		select {
		case c.wake <- struct{}{}:
		default:
		}
		select {
		case <-newer:
		case <-ctx.Done():
			return
		}
	}
}

// Watch reads the catalogue and follows its changes until the context or the store ends. It uses one connection
// of its own. A change is there within a second. When the database goes away, or holds a catalogue that breaks
// a rule, the last good snapshot stays and Status says so; the database is looked for until it is back, and the
// catalogue is then read again.
//
// It fails when the first catalogue cannot be read.
func (s *Store) Watch(ctx context.Context) (*Catalogue, error) {
	c := &Catalogue{store: s, wake: make(chan struct{}, 1), newer: make(chan struct{})}
	c.status.Store(&Status{})
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
		c.lost(err)
		conn = c.again(ctx)
	}
}

// listen opens a connection that hears of changes. Whatever changes from here on is heard of.
func (c *Catalogue) listen(ctx context.Context) (*pgx.Conn, error) {
	conn, err := c.store.db.Dial(ctx, map[string]string{"application_name": "seamwright catalogue"})
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
		c.lost(err)
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
	patience, cancel := context.WithTimeout(ctx, c.store.look)
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
				return nil // nothing heard for a while, or waited for: look
			}
			return err
		}
		if revision, err := strconv.ParseInt(n.Payload, 10, 64); err == nil && revision <= c.tried {
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
	soon, cancel := context.WithTimeout(ctx, answerWithin)
	defer cancel()
	revision, err := db.Revision(soon, conn)
	if err != nil {
		return fmt.Errorf("read catalogue revision: %w", err)
	}
	if revision != c.tried {
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
		c.tried, c.invalid = invalid.revision, err.Error()
		c.note(func(s *Status) { s.LastError = c.invalid })
		c.store.db.Log.Error("catalogue is not valid, keeping the last one", "error", err)
		return nil
	case err != nil:
		return err
	}
	c.tried, c.invalid = snapshot.Revision, ""
	c.use(snapshot)
	now := time.Now()
	c.note(func(s *Status) { s.Revision, s.LoadedAt, s.LastError = snapshot.Revision, now, "" })
	c.store.db.Log.Info("catalogue loaded", "revision", snapshot.Revision, "took", now.Sub(started))
	return nil
}

// use takes a snapshot into use and tells those who wait for it.
func (c *Catalogue) use(snapshot *catalogue.Snapshot) {
	c.snapshot.Store(snapshot)
	c.mu.Lock()
	defer c.mu.Unlock()
	close(c.newer)
	c.newer = make(chan struct{})
}

// note changes the status.
func (c *Catalogue) note(change func(*Status)) {
	next := *c.status.Load()
	change(&next)
	c.status.Store(&next)
}

// reached notes that the database answers. What was wrong with the connection is over; what is wrong with the
// catalogue is not.
func (c *Catalogue) reached() {
	if c.Status().DatabaseReachable {
		return
	}
	now := time.Now()
	c.note(func(s *Status) { s.DatabaseReachable, s.Since, s.LastError = true, now, c.invalid })
}

// lost notes that the database does not answer.
func (c *Catalogue) lost(err error) {
	was := c.Status()
	now := time.Now()
	c.note(func(s *Status) {
		s.DatabaseReachable, s.LastError = false, err.Error()
		if was.DatabaseReachable {
			s.Since = now
		}
	})
	if was.DatabaseReachable {
		c.store.db.Log.Warn("database lost, keeping the last catalogue", "error", err)
	}
}
