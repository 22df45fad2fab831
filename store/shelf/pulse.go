package shelf

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
)

const (
	// beatEvery is how often the database is asked whether it answers, and beatWithin how long it may take: together, with
	// the time to open another connection, less than the two seconds in which a loss is promised to be noticed.
	beatEvery  = 400 * time.Millisecond
	beatWithin = time.Second
)

// errReadOnly says that the database can be read and not written, as a former primary after a failover.
var errReadOnly = errors.New("the database is read-only")

// selectBeat is a question that a healthy database answers from memory. What time it has is heard of along the way.
const selectBeat = `SELECT revision, current_setting('transaction_read_only')::boolean, clock_timestamp() FROM catalogue_revision`

// feel asks the database again and again, over a connection that nobody else uses, until the context ends. A server that is
// stopped, a link that swallows everything and a database that nobody may write count as lost, until an answer comes. It
// finds a revision, too, of which the connection that should hear of it heard nothing.
func (c *Catalogue) feel(ctx context.Context) {
	tick := time.NewTicker(beatEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		revision, err := c.beat(ctx)
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			c.lost(err)
			continue
		}
		c.reached()
		if revision != c.tried.Load() {
			c.look()
		}
	}
}

func (c *Catalogue) beat(ctx context.Context) (revision int64, err error) {
	soon, cancel := context.WithTimeout(ctx, beatWithin)
	defer cancel()
	err = c.store.beat.Ask(soon, func(conn *pgx.Conn) error {
		var stuck bool
		var theirs time.Time
		asked := time.Now()
		if err := conn.QueryRow(soon, selectBeat).Scan(&revision, &stuck, &theirs); err != nil {
			return err
		}
		c.store.db.Said(theirs, asked)
		if stuck {
			return errReadOnly
		}
		return nil
	})
	return revision, err
}
